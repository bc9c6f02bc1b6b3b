// The way in: another tablet's export, all of it, or nothing where a single value was changed.
import {cmp} from './dom.js';
import {hashOf, sha256} from './hash.js';
import {D, channel, say, tablet, tr, update} from './kit.js';
import {wordsAt} from './keep.js';
import {add} from './writing.js';

export const unhashed = r => { const c = Object.assign({}, r); delete c.hash; return c; };
export async function take(file, input) {
  try { say(await taken(file)); } catch (err) { say(tr('Refused: %s', err.message)); }
  input.value = '';
}
async function taken(file) {
  const {store} = tablet, x = JSON.parse(await file.text());
  if (x.form !== 'lapwork-records' || x.v !== 1) throw new Error(tr('this is no export of a pack'));
  if (x.pack !== D.pack) throw new Error(tr('it belongs to pack %s', x.pack));
  const fresh = unknown(x.records);
  for (const [hash, text] of Object.entries(x.photos || {})) {
    const bytes = Uint8Array.from(atob(text), c => c.charCodeAt(0));
    if (sha256(bytes) !== hash) throw new Error(tr('a photo was changed'));
    await store.set('photos', hash, bytes.buffer);
  }
  for (const [seal, said] of Object.entries(x.words || {})) {
    if (hashOf(said) !== seal) throw new Error(tr('the words of a check were changed'));
    await store.set('meta', wordsAt(seal), said);
  }
  await add(store, fresh);
  tablet.recs.push(...fresh);
  update();
  if (channel) channel.postMessage('kept');
  return tr('%d new records taken in.', fresh.length);
}
// unknown gives the records that this tablet does not have, once each is as it was hashed and follows the one before it.
function unknown(records) {
  const fresh = [], known = new Set(tablet.recs.map(r => r.hash)), ends = {};
  for (const r of records.slice().sort((a, b) => cmp(a.dev, b.dev) || a.seq - b.seq)) {
    if (hashOf(unhashed(r)) !== r.hash) throw new Error(tr('record %s of tablet %s was changed', r.seq, String(r.dev).slice(0, 6)));
    const e = ends[r.dev];
    if (e && r.seq === e.seq + 1 && r.prev !== e.hash) throw new Error(tr('record %s does not follow the one before it', r.seq));
    ends[r.dev] = r;
    if (!known.has(r.hash)) fresh.push(r);
  }
  return fresh;
}
