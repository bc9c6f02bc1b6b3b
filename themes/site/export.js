// The way out: an export file, or a server in reach.
import {el, cmp} from './dom.js';
import {D, head, paint, say, tablet, tr} from './kit.js';
import {now, wordsAt} from './keep.js';

const base64 = bytes => new Promise((yes, no) => { const f = new FileReader(); f.onload = () => yes(f.result.split(',')[1]); f.onerror = () => no(f.error); f.readAsDataURL(new Blob([bytes])); });
// bundle builds export files of at most about 20 MB; every part holds all records and photos room by room.
async function bundle(list) {
  const {store, dev} = tablet, words = {};
  for (const seal of new Set(list.map(r => r.seal).filter(Boolean))) {
    const w = await store.read('meta', wordsAt(seal));
    if (w) words[seal] = w;
  }
  const start = JSON.stringify({v: 1, form: 'lapwork-records', pack: D.pack, rev: D.rev, dev, at: now()}).slice(0, -1) + ',"records":[\n' + list.map(r => JSON.stringify(r)).join(',\n') + '\n],"words":' + JSON.stringify(words) + ',"photos":{';
  const parts = [[start]];
  let size = 0;
  for (const r of list.filter(r => r.kind === 'photo').sort((a, b) => cmp(a.check, b.check))) {
    const bytes = await store.read('photos', r.value);
    if (!bytes) continue;
    const text = await base64(bytes);
    if (size && size + text.length > 2e7) { parts.push([start]); size = 0; }
    parts[parts.length - 1].push((size ? ',' : '') + '\n"' + r.value + '":"' + text + '"');
    size += text.length;
  }
  return parts.map(p => new Blob([...p, '}}\n'], {type: 'application/json'}));
}
async function sent(seq) {
  tablet.sent = {seq, at: now()};
  await tablet.store.set('meta', 'exported', tablet.sent);
  paint();
}
export async function give() {
  const seq = head(), blobs = await bundle(tablet.recs), stem = D.pack + '-' + tablet.dev.slice(0, 6) + '-' + seq;
  const names = blobs.map((b, i) => stem + (blobs.length > 1 ? '-part' + (i + 1) : '') + '.json');
  const files = blobs.map((b, i) => new File([b], names[i] + '.txt', {type: 'text/plain'}));
  if (navigator.canShare && matchMedia('(pointer: coarse)').matches && navigator.canShare({files})) {
    try { await navigator.share({files}); } catch (e) { return say(tr('Not exported: %s', e.message)); }
  } else blobs.forEach((b, i) => {
    const a = el('a');
    a.href = URL.createObjectURL(b);
    a.download = names[i];
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
  });
  await sent(seq);
  say(tr('Exported: %s. Check that the file arrived.', names.join(', ')));
}

// post hands records to a server in reach that gave out this page, and tries again with the next one.
let posting = false, refused = '';
export async function post() {
  const seq = head();
  if (!D.post || posting || seq <= tablet.sent.seq) return;
  posting = true;
  try {
    for (const b of await bundle(tablet.recs.filter(r => r.dev === tablet.dev && r.seq > tablet.sent.seq))) {
      const answer = await fetch(D.post, {method: 'POST', body: b});
      if (!answer.ok) throw Object.assign(new Error(await wordsOf(answer)), {refused: true});
    }
    await sent(seq);
    refused = '';
  } catch (e) {
    if (e.refused && e.message !== refused) say(refused = e.message);
    setTimeout(post, 20000);
  }
  posting = false;
  if (head() > seq) post();
}
// wordsOf says what a server's refusal means for whoever holds the tablet. Nothing is lost by one: the records stay here.
async function wordsOf(answer) {
  const what = {401: tr('This tablet is not let in. Scan the code on the computer again.'), 403: tr('The computer does not take records at this address.'), 413: tr('The file is too large for it. Use Export records.'), 422: tr('The computer refused the records. Use Export records and hand the file in.'), 429: tr('The computer is busy. It is tried again.'), 507: tr('The computer could not write them. Tell whoever runs it.')}[answer.status] || tr('The computer answered %s.', answer.status);
  let says = [];
  try { says = JSON.parse(await answer.text()).says || []; } catch (e) { /* no words came with it */ }
  return [tr('Not sent; kept on this tablet.'), what, says.length ? tr('It says: %s', says.join(' ')) : ''].filter(Boolean).join(' ');
}
