// What a tablet does with a pack: it keeps ticks, readings, photos, notes, defects and signatures, and gives them out as one
// file. No dependency, no request. Without it every page can still be read, and ticked on paper.
(function () {
'use strict';
if ('still' in document.documentElement.dataset) return; // a preview keeps nothing
const html = document.documentElement, D = html.dataset, PACK = D.pack, SINGLE = D.build === 'single', lapwork = window.lapwork;
const {sha256, canon, hashOf, say, decimal, tr} = lapwork;
const $ = (sel, at) => (at || document).querySelector(sel);
const all = (sel, at) => [...(at || document).querySelectorAll(sel)];
const el = (tag, text, cls) => { const e = document.createElement(tag); e.textContent = text || ''; if (cls) e.className = cls; return e; };
const data = id => { const e = document.getElementById(id); return e ? JSON.parse(e.textContent) : []; };
const cmp = (a, b) => a < b ? -1 : a > b ? 1 : 0;
const fold = s => s.replace(/[ \t\n\r\f]+/g, ' ').replace(/^ | $/g, '');
const unhashed = r => { const c = Object.assign({}, r); delete c.hash; return c; };
const random = () => [...crypto.getRandomValues(new Uint8Array(12))].map(b => b.toString(16).padStart(2, '0')).join('');
// bounded keeps a text short and free of half characters, which no two programs write alike.
const bounded = s => (s = s.slice(0, 2000), s.toWellFormed ? s.toWellFormed() : s);

// ---- Records
const NAME = 'lapwork-' + PACK;
let store = null, dev = '', who = '', recs = [], exported = {seq: 0, at: ''}, latest = new Map(), said = {}, closed = new Set(), gone = new Set();
const channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel(NAME) : null;
function now() {
  const d = new Date(), z = -d.getTimezoneOffset(), p = n => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return new Date(d.getTime() + z * 60000).toISOString().slice(0, 19) + (z < 0 ? '-' : '+') + p(z / 60) + ':' + p(z % 60);
}
// keep appends one record, reads it back, and only then shows it.
async function keep(fields) {
  if (!store) return say(tr('Not recording: nothing was kept.'));
  if (!who && !await askWho()) return say(tr('Not kept: a record needs a name.'));
  try {
    if (told[fields.seal]) await store.set('meta', wordsAt(fields.seal), told[fields.seal]);
    const r = await store.append(head => {
      const r = {v: 1, id: random(), pack: PACK, rev: D.rev, lang: html.lang, dev, seq: head.seq + 1, prev: head.hash, at: now(), who, job: D.job};
      Object.assign(r, fields);
      for (const k of Object.keys(r)) {
        if (typeof r[k] === 'string') r[k] = bounded(r[k]);
        if (r[k] === undefined || r[k] === '' || typeof r[k] === 'object' && !Object.keys(r[k]).length) delete r[k];
      }
      r.hash = hashOf(r);
      return r;
    });
    const back = await store.read('recs', r.hash);
    if (!back || canon(back) !== canon(r)) throw new Error(tr('it does not read back'));
    if (!recs.some(x => x.hash === r.hash)) recs.push(r); // another tab's news may have brought it already
    if (channel) channel.postMessage('kept');
    derive(); post();
    return r;
  } catch (e) { say(tr('NOT KEPT: %s. Export what there is, and write this one on paper.', e.message)); }
}
// derive finds what holds now. Inside one tablet the chain gives the order, between tablets their clocks do.
function derive() {
  const devs = {}, list = [];
  recs.forEach(r => (devs[r.dev] = devs[r.dev] || []).push(r));
  for (const own of Object.values(devs)) {
    let t = 0;
    own.sort((a, b) => a.seq - b.seq || cmp(a.hash, b.hash)).forEach(r => { t = Math.max(t, Date.parse(r.at) || 0); list.push([t, r]); });
  }
  list.sort((a, b) => a[0] - b[0] || cmp(a[1].dev, b[1].dev) || a[1].seq - b[1].seq);
  gone = new Set(recs.filter(r => r.kind === 'void').map(r => r.of));
  closed = new Set(recs.filter(r => r.kind === 'defect' && r.of && !gone.has(r.id)).map(r => r.of));
  latest = new Map(); said = {};
  recs = list.map(x => x[1]);
  for (const r of recs) {
    if (!r.check || gone.has(r.id) || r.kind === 'note' || r.kind === 'void' || r.kind === 'defect') continue;
    latest.set(r.check, Object.assign({}, latest.get(r.check), {[r.kind]: r}));
    const k = r.check + '\n' + r.kind;
    (said[k] = said[k] || {})[r.dev] = r.value;
  }
  paint();
}
const inside = (v, low, high) => !(low && +v < +low) && !(high && +v > +high);
const when = r => r.at.slice(0, 16).replace('T', ' ');
// stateOf says how a check stands: needs is what has to be recorded, seal the statement (or its first digits) it must carry,
// in any of the pack's languages.
const sealIn = (seal, r) => !seal || seal.split(' ').some(s => (r.seal || '').startsWith(s));
const answer = v => v === 'yes' ? tr('yes') : v === 'no' ? tr('no') : v;
function stateOf(key, seal, needs, low, high) {
  const at = latest.get(key) || {}, words = [];
  let done = 0, bad = false, old = false, last = null;
  for (const kind of needs.includes('tick') || !at.tick ? needs : ['tick', ...needs]) {
    const r = at[kind];
    if (!r) continue;
    last = !last || cmp(last.at, r.at) < 0 ? r : last;
    if (!sealIn(seal, r)) {
      const by = at.stand;
      if (!by || !sealIn(seal, by) || !by.covers.includes(r.hash)) { old = true; continue; }
      if (last !== by) words.push(tr('still true as built: %s, %s', by.reason, by.name));
      last = by;
    }
    if (kind === 'tick') {
      words.push(r.value === 'na' ? tr('n/a: %s', r.reason) : r.but ? tr('all but %s', r.but.join(', ')) : answer(r.value));
      if (r.value === 'no' || r.but) bad = true; else done += r.value === 'na' ? needs.length : 1;
    } else if (kind === 'meas') {
      words.push(r.value + (r.unit ? ' ' + r.unit : ''));
      if (inside(r.value, low, high)) done++; else { bad = true; words.push(tr('out of range')); }
    } else { done++; words.push(kind === 'sign' ? tr('signed %s', r.name) : tr('photo')); }
    if (kind === 'tick' || kind === 'meas') for (const v of Object.values(said[key + '\n' + kind])) if (v !== r.value) words.push(tr('another tablet: %s', answer(v)));
  }
  const cls = bad ? 'stop' : old ? 'old' : done >= needs.length ? 'done' : done ? 'part' : 'none';
  return {cls, last, done: cls === 'done', text: cls === 'none' ? tr('open') : (old ? tr('superseded') : words.join(', ')) + (cls === 'part' ? tr(', not complete') : '')};
}
const ofElement = e => stateOf(e.dataset.check, [e.dataset.seal || '', e.dataset.also || ''].join(' ').trim(), e.dataset.rec.split(' '), e.dataset.low, e.dataset.high);

// ---- Showing
// furnish gives a check its controls: those of the page's template that it records.
function furnish(e) {
  if ($('.st', e)) return;
  const rec = e.dataset.rec.split(' '), c = $('#controls').content.cloneNode(true), words = e.closest('[data-yes]'), text = name => { const x = wordOf(e, name); return x ? fold(x.textContent) : ''; };
  const places = rec.includes('tick') ? text('places').split(', ') : [];
  all('[data-for]', c).forEach(x => { if (!rec.includes(x.dataset.for)) x.remove(); });
  if (words) $('[data-do=na]', c).remove();
  if (words && $('[data-do=yes]', c)) { $('[data-do=yes]', c).textContent = words.dataset.yes; $('[data-do=no]', c).textContent = words.dataset.no; }
  if (rec.join() === 'sign') $('.do', c).remove();
  if (places.length > 1) {
    $('[data-do=yes]', c).textContent += tr(', all %d', places.length);
    $('.but .do', c).prepend(...places.map(at => { const l = el('label', '', 'b'), i = el('input'); i.type = 'checkbox'; i.value = at; i.disabled = true; l.append(i, at); return l; }));
  } else $('.but', c).remove();
  if (e.dataset.unit && $('.num span', c)) $('.num span', c).textContent = e.dataset.unit;
  site.tools(e, c);
  if ($('.sign', c)) { $('.role', c).value = text('who'); $('.finger', c).open = !!$('[data-s=hold]', e); }
  if (store) all(':disabled', c).forEach(x => { x.disabled = false; });
  e.append(c);
  e.classList.add('set');
}
const tally = (list, into) => { if (into) into.textContent = list.length ? tr('%d of %d', list.filter(x => x.done).length, list.length) : ''; };
function paint() {
  const section = lapwork.section;
  const states = new Map();
  all('[data-check]', section).forEach(e => {
    furnish(e);
    const s = ofElement(e), st = $('.st', e);
    states.set(e.dataset.check, s);
    const at = latest.get(e.dataset.check) || {}, more = added(e, s), shown = [!!store, s.cls, s.text, s.last && s.last.hash, at.photo && at.photo.hash, more].join();
    if (e.shown === shown) return; // nothing of it has changed
    e.shown = shown;
    st.className = 'st is-' + s.cls;
    st.firstElementChild.textContent = s.text + (s.last ? (s.text.endsWith(s.last.who) ? ' ' : ' · ' + (s.last.who || '') + ' ') + when(s.last) : '') + more;
    all('button[data-do=undo],img', st).forEach(b => b.remove());
    if (s.last) { const b = el('button', tr('Undo')); b.type = 'button'; b.dataset.do = 'undo'; st.append(b); }
    if (store) site.again(e, s);
    all('[data-do=yes],[data-do=no],[data-do=na]', e).forEach(b => b.setAttribute('aria-pressed', !!at.tick && s.cls !== 'old' && at.tick.value === b.dataset.do && !at.tick.but));
    if (at.photo) thumb(st, at.photo.value);
    if (at.sign && $('.ink', e)) { $('.ink', e).setAttribute('d', path(at.sign.strokes || [])); $('.name', e).value = at.sign.name; if (at.sign.strokes) $('.finger', e).open = true; }
  });
  all('.act', section).forEach(a => tally(all('[data-check]', a).map(e => states.get(e.dataset.check)), $('.count', a)));
  const todo = $('.todo', section);
  if (todo) {
    tally([...states.values(), ...all('.act [data-hold]', section).flatMap(site.released)], $('.count', todo)); // as many as the overview counts
    // What has no check cannot be known to be done: it is next as long as the first check after it is open.
    const list = all('.act', section), checked = list.map(a => all('[data-check]', a));
    let i = checked.findIndex(c => c.some(e => !states.get(e.dataset.check).done));
    while (i > 0 && !checked[i - 1].length) i--;
    const next = lapwork.next = list[i], up = $('.nextup', todo), after = $('.phases [aria-current] + a', section);
    up.dataset.first = up.dataset.first || up.getAttribute('href');
    up.setAttribute('href', !next && after ? after.getAttribute('href') : up.dataset.first);
    if (next) up.textContent = $('h3', next).firstChild.textContent.trim();
    else if (after) up.textContent = after.firstChild.textContent.trim();
    else if (states.size) up.textContent = tr('sign off');
  }
  const index = all('[data-keys]', section).length ? checks() : [];
  all('[data-keys]', section).forEach(c => {
    let total = 0;
    const list = c.dataset.keys.split(' ').filter(Boolean).flatMap(run => { const [a, b] = run.split('-').map(Number); total += (b === undefined ? a : b) - a + 1; return index.slice(a, (b === undefined ? a : b) + 1); });
    const st = list.map(x => stateOf(x[0], x[1], x[2].split(' '), x[3], x[4])), n = k => st.filter(s => s.cls === k).length;
    c.textContent = (list.length < total ? tr('%d of %d here', n('done'), list.length) : tr('%d of %d', n('done'), list.length)) + (n('stop') ? tr(', %d stopped', n('stop')) : '') + (n('old') ? tr(', %d superseded', n('old')) : '');
  });
  all('.kept:not(.defects)', section).forEach(u => u.replaceChildren(...recs.filter(r => r.kind === 'note' && !gone.has(r.id) && r.place === u.closest('form').dataset.note).map(r => line(r, tr('Undo'), 'undo'))));
  const open = recs.filter(r => r.kind === 'defect' && !r.of && !gone.has(r.id)), log = $('.defects', section);
  if (log && open.length) log.replaceChildren(...open.map(r => line(r, closed.has(r.id) ? '' : tr('Put right'), 'close')));
  if (store) site.paint(section);
  status();
}
let index = null;
function checks() {
  if (!index) { index = []; data('checks-data').forEach(([at, ...run]) => run.forEach((x, i) => { index[at + i] = x; })); }
  return index;
}
function line(r, word, act) {
  const li = el('li', (r.kind === 'defect' ? (closed.has(r.id) ? tr('✓ put right: ') : tr('■ open: ')) : '') + [r.place, r.value, r.severity, r.cause, r.text].filter(Boolean).join(', ') + ' · ' + (r.who || '') + ' ' + when(r) + ' ');
  if (word) { const b = el('button', word); b.type = 'button'; b.dataset.do = act; b.dataset.id = r.id; li.append(b); }
  return li;
}
function added(e, s) {
  const r = s.last, group = e.closest('.group');
  if (!r || r.kind !== 'sign' || !group) return '';
  const n = covered(group, e).filter(h => !(r.covers || []).includes(h)).length;
  return n ? tr(', %d added after signing', n) : '';
}
// A release stands for the checks before it, not for what others sign beside it.
const isRelease = e => !!$('[data-s=hold]', e);
const covered = (group, sign) => [...new Set(all('[data-check]', group).filter(e => e !== sign && !isRelease(e)).flatMap(e => Object.values(latest.get(e.dataset.check) || {}).map(r => r.hash)))].sort();
async function thumb(into, hash) {
  const bytes = await store.read('photos', hash);
  if (!bytes || $('img', into)) return;
  const img = el('img'); img.alt = tr('Photo kept'); img.src = URL.createObjectURL(new Blob([bytes], {type: 'image/jpeg'}));
  img.onload = () => URL.revokeObjectURL(img.src);
  into.append(img);
}
function status() {
  const mine = recs.filter(r => r.dev === dev), unsent = mine.filter(r => r.seq > exported.seq).length;
  $('.saved span').textContent = !store ? tr('not recording') : unsent ? tr('%d not exported', unsent) : recs.length ? tr('all exported') : tr('recording');
  $('.saved').classList.toggle('due', !store || unsent > 0);
  if (!store) return;
  $('.tally').textContent = [tr('%d records kept in this browser, %d of them not exported.', recs.length, unsent), exported.at ? tr('Last export %s.', exported.at.slice(0, 16).replace('T', ' ')) : '', tr('Tablet %s.', dev.slice(0, 6)), used].filter(Boolean).join(' ');
  $('[data-do=who]').textContent = tr('Name: %s', who || tr('not given'));
}

// ---- Acts
function ask(label, value) {
  const d = $('#ask'), input = $('input', d);
  $('#ask-t').textContent = label; input.value = value || ''; d.returnValue = '';
  d.showModal();
  return new Promise(yes => { d.onclose = () => yes(d.returnValue === 'ok' ? input.value.trim() : ''); });
}
async function askWho() {
  const name = await ask(tr('Your name, as it stands in the records'), who);
  if (name) { who = name; await store.set('meta', 'who', who); status(); }
  return who;
}
const keyOf = e => e.dataset.check || e.dataset.key;
// words are the sealed words of one check or entry, in the order they are sealed in. What checks share stands once, above them.
const shared = ['title', 'method', 'who'], order = ['title', 'hold', 'accept', 'method', 'who', 'places'];
const wordOf = (e, name) => $('[data-s=' + name + ']', e) || shared.includes(name) && e.closest('.same') && $('[data-s=' + name + ']', e.closest('.same'));
const words = e => e.dataset.check ? order.map(name => wordOf(e, name)).filter(Boolean) : all('[data-s]', e);
const lines = root => (root.matches('[data-check],[data-key]') ? [root] : all('[data-check],[data-key]', root)).flatMap(e => words(e).map(w => ({key: keyOf(e) + '#' + w.dataset.s, text: fold(w.textContent), unit: w.dataset.unit || ''}))).filter(l => l.text);
const told = {}; // words by seal: they are kept and exported with what is recorded against them
const wordsAt = seal => 'words ' + seal;
// sealed gives the seal of the words on the page, and refuses to record against words that are not those the pack was issued
// with. Begin is the seal's first digits, as the page carries them.
function sealed(root, begin) {
  const said = lines(root), seal = hashOf(said);
  if (seal.startsWith(begin || '')) { told[seal] = said; return seal; }
  say(tr('Refused: the words on this page are not those it was issued with. Open the pack again from its own file.'));
}
const sealOf = e => sealed(e, e.dataset.seal);
const keepFor = (e, fields) => { const seal = sealOf(e); return seal && keep(Object.assign({check: keyOf(e), seal}, fields)); };
// placeOf is where a check that speaks of one place is; of several, what it is called by.
const placeOf = e => { const at = $('[data-s=places]', e), [scope, , ...object] = e.dataset.check.split('/'); return at && !at.textContent.includes(',') ? fold(at.textContent) : object.join('/') || scope; };
const defect = (e, text, but) => keepFor(e, {kind: 'defect', value: 'from a check', place: but || placeOf(e), text: (wordOf(e, 'title') || $('b', e)).textContent + ': ' + text});
async function back(r) {
  const reason = r && await ask(tr('Take it back because'));
  if (reason) await keep({kind: 'void', of: r.id, check: r.check, reason});
}
const site = lapwork.site({keep, ask, sealOf, ofElement, thumb, back, when, latest: () => latest, gone: () => gone, records: () => recs, sent: () => ({dev, seq: exported.seq}), who: () => who, open: () => store, path: x => path(x), room: () => room(), keepFor: (e, x) => keepFor(e, x)});
const acts = Object.assign({
  who: askWho,
  export: () => give(),
  yes: (b, e) => keepFor(e, {kind: 'tick', value: 'yes'}),
  async no(b, e) {
    const reason = await ask(tr('What is not right?'));
    if (reason && await keepFor(e, {kind: 'tick', value: 'no', reason})) await defect(e, reason);
  },
  async na(b, e) { const reason = await ask(tr('Not applicable because')); if (reason) await keepFor(e, {kind: 'tick', value: 'na', reason}); },
  async but(b, e) {
    const but = all('.but input:checked', e).map(i => i.value).sort();
    if (!but.length) return say(tr('Mark the places that are not right first.'));
    const reason = await ask(tr('What is not right at %s?', but.join(', ')));
    if (!reason || !await keepFor(e, {kind: 'tick', value: 'yes', but, reason})) return;
    for (const place of but) await defect(e, reason, place);
    all('.but input', e).forEach(i => { i.checked = false; });
  },
  async num(b, e) {
    const input = $('.num input', e), value = decimal(input.value), unit = e.dataset.unit || '';
    if (!value) return say(tr('Enter a number, such as 85 or 85,5.'));
    if (!await keepFor(e, Object.assign({kind: 'meas', value, unit}, site.toolIn(e)))) return;
    input.value = '';
    if (inside(value, e.dataset.low, e.dataset.high)) return;
    await defect(e, tr('%s %s is out of range', value, unit));
    say(tr('Out of range: a defect was opened.'));
  },
  async sign(b, e) {
    const name = $('.name', e).value.trim(), strokes = e.strokes || [], group = e.closest('.group'), root = e.closest('section.page'), page = $('[data-page-seal]', root);
    if (!name) return say(tr('Type the name first. Strokes by finger are extra.'));
    if (page && !sealed(root, page.dataset.pageSeal)) return;
    const left = group ? all('[data-check]', group).filter(x => x !== e && !isRelease(x) && !ofElement(x).done).length : 0;
    const reason = left ? await ask(tr('%d checks are not done. Sign all the same because', left)) : '';
    if (left && !reason) return say(tr('Not signed.'));
    who = who || name;
    const seals = page ? {[root.dataset.path]: page.dataset.pageSeal} : undefined;
    if (await keepFor(e, {kind: 'sign', name, role: $('.role', e).value.trim(), strokes, reason, seals, covers: group ? covered(group, e) : []})) say(tr('Signed and kept.'));
  },
  wipe: (b, e) => { e.strokes = []; $('.ink', e).setAttribute('d', ''); },
  async undo(b, e) {
    await back(e ? ofElement(e).last : recs.find(x => x.id === b.dataset.id));
  },
  async close(b) {
    const r = recs.find(x => x.id === b.dataset.id), text = await ask(tr('What was done?'));
    if (text) await keep({kind: 'defect', of: r.id, value: 'closed', check: r.check, place: r.place, text});
  },
}, site.acts);
document.addEventListener('click', ev => {
  const b = ev.target.closest('[data-do]'), a = ev.target.closest('a[data-defect]');
  if (a) try { sessionStorage.setItem('lapwork-place', a.dataset.defect); } catch (e) { say(tr('Fill in the place yourself.')); }
  if (b && !b.disabled && acts[b.dataset.do]) acts[b.dataset.do](b, b.closest('[data-check],[data-key]'));
});
document.addEventListener('submit', async ev => {
  const f = ev.target, t = $('textarea', f);
  if (f.closest('dialog')) return;
  ev.preventDefault();
  if (f.matches('.book') && t.value.trim() && await keep({kind: 'note', place: f.dataset.note, text: t.value.trim()})) t.value = '';
  if (f.matches('.defect')) {
    const v = Object.fromEntries([...new FormData(f)].map(([k, x]) => [k, x.trim()]));
    if (!v.place || !v.text) return say(tr('Place and what is wrong are needed.'));
    if (await keep(Object.assign({kind: 'defect'}, v))) { t.value = ''; say(tr('Defect kept.')); }
  }
  if (f.matches('.maywe,.goods,.work,.day')) await site.submit(f);
});
let used = '';
async function room() {
  if (!navigator.storage || !navigator.storage.estimate) return;
  const {quota, usage} = await navigator.storage.estimate();
  used = tr('%s MB of storage used, %s MB free.', (usage / 1e6).toFixed(1), Math.floor((quota - usage) / 1e6));
  status();
  if (quota - usage < 5e7) say(tr('Storage is almost full: export now, then take photos with another device.'));
}
const path = strokes => strokes.map(s => 'M' + s.join(' ')).join('');
document.addEventListener('change', ev => {
  const i = ev.target;
  if (i.id === 'import') take(i.files[0]).then(say, err => say(tr('Refused: %s', err.message))).then(() => { i.value = ''; });
  else if (i.type === 'file') site.photo(i, i.closest('[data-check],[data-key]'));
});
// ---- Out and in
const base64 = bytes => new Promise((yes, no) => { const f = new FileReader(); f.onload = () => yes(f.result.split(',')[1]); f.onerror = () => no(f.error); f.readAsDataURL(new Blob([bytes])); });
// bundle builds export files of at most about 20 MB; every part holds all records and photos room by room.
async function bundle(list) {
  const words = {};
  for (const seal of new Set(list.map(r => r.seal).filter(Boolean))) { const w = await store.read('meta', wordsAt(seal)); if (w) words[seal] = w; }
  const head = JSON.stringify({v: 1, form: 'lapwork-records', pack: PACK, rev: D.rev, dev, at: now()}).slice(0, -1) + ',"records":[\n' + list.map(r => JSON.stringify(r)).join(',\n') + '\n],"words":' + JSON.stringify(words) + ',"photos":{';
  const parts = [[head]];
  let size = 0;
  for (const r of list.filter(r => r.kind === 'photo').sort((a, b) => cmp(a.check, b.check))) {
    const bytes = await store.read('photos', r.value);
    if (!bytes) continue;
    const text = await base64(bytes);
    if (size && size + text.length > 2e7) { parts.push([head]); size = 0; }
    parts[parts.length - 1].push((size ? ',' : '') + '\n"' + r.value + '":"' + text + '"');
    size += text.length;
  }
  return parts.map(p => new Blob([...p, '}}\n'], {type: 'application/json'}));
}
const sent = async seq => { exported = {seq, at: now()}; await store.set('meta', 'exported', exported); paint(); };
const head = () => Math.max(0, ...recs.filter(r => r.dev === dev).map(r => r.seq));
async function give() {
  const seq = head(), blobs = await bundle(recs), stem = PACK + '-' + dev.slice(0, 6) + '-' + seq;
  const names = blobs.map((b, i) => stem + (blobs.length > 1 ? '-part' + (i + 1) : '') + '.json');
  const files = blobs.map((b, i) => new File([b], names[i] + '.txt', {type: 'text/plain'}));
  if (navigator.canShare && matchMedia('(pointer: coarse)').matches && navigator.canShare({files})) {
    try { await navigator.share({files}); } catch (e) { return say(tr('Not exported: %s', e.message)); }
  } else blobs.forEach((b, i) => {
    const a = el('a'); a.href = URL.createObjectURL(b); a.download = names[i];
    a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 60000);
  });
  await sent(seq);
  say(tr('Exported: %s. Check that the file arrived.', names.join(', ')));
}
// post hands records to a server in reach that gave out this page, and tries again with the next one.
let posting = false, refused = '';
async function post() {
  const seq = head();
  if (!D.post || posting || seq <= exported.seq) return;
  posting = true;
  try {
    for (const b of await bundle(recs.filter(r => r.dev === dev && r.seq > exported.seq))) {
      const answer = await fetch(D.post, {method: 'POST', body: b});
      if (!answer.ok) throw Object.assign(new Error(await site.wordsOf(answer)), {refused: true});
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
// take reads another tablet's export: all of it, or nothing where a single value was changed.
async function take(file) {
  const x = JSON.parse(await file.text()), fresh = [], known = new Set(recs.map(r => r.hash)), ends = {};
  if (x.form !== 'lapwork-records' || x.v !== 1) throw new Error(tr('this is no export of a pack'));
  if (x.pack !== PACK) throw new Error(tr('it belongs to pack %s', x.pack));
  for (const r of x.records.slice().sort((a, b) => cmp(a.dev, b.dev) || a.seq - b.seq)) {
    if (hashOf(unhashed(r)) !== r.hash) throw new Error(tr('record %s of tablet %s was changed', r.seq, String(r.dev).slice(0, 6)));
    const e = ends[r.dev];
    if (e && r.seq === e.seq + 1 && r.prev !== e.hash) throw new Error(tr('record %s does not follow the one before it', r.seq));
    ends[r.dev] = r;
    if (!known.has(r.hash)) fresh.push(r);
  }
  for (const [hash, text] of Object.entries(x.photos || {})) {
    const bytes = Uint8Array.from(atob(text), c => c.charCodeAt(0));
    if (sha256(bytes) !== hash) throw new Error(tr('a photo was changed'));
    await store.set('photos', hash, bytes.buffer);
  }
  for (const [seal, said] of Object.entries(x.words || {})) {
    if (hashOf(said) !== seal) throw new Error(tr('the words of a check were changed'));
    await store.set('meta', wordsAt(seal), said);
  }
  await store.add(fresh);
  recs.push(...fresh); derive();
  if (channel) channel.postMessage('kept');
  return tr('%d new records taken in.', fresh.length);
}

// ---- Start
// A browser that gives each local file a storage of its own would scatter the records over the pages of a folder.
async function alone() {
  if (SINGLE || location.protocol !== 'file:') return false;
  const s = new URLSearchParams(location.search).get('s');
  return !!s && s !== await store.read('meta', 'dev');
}
const carry = () => { D.silo = SINGLE || location.protocol !== 'file:' ? '' : '?s=' + dev; if (D.silo) all('a[href]').forEach(a => { if (a.protocol === 'file:' && a.pathname !== location.pathname) a.search = D.silo; }); };
async function begin() {
  try {
    store = await lapwork.open(NAME);
    const probe = random();
    await store.set('meta', 'probe', probe);
    if (await store.read('meta', 'probe') !== probe) throw new Error('storage does not read back');
    if (await alone()) {
      $('#warn').textContent = tr('Not recording: this browser gives every file of the folder a storage of its own. Use the single file, or start again from the first page.');
      throw new Error('one storage per file');
    }
    dev = await store.claim('dev', random());
    [recs, who, exported] = [await store.read('recs'), await store.read('meta', 'who') || '', await store.read('meta', 'exported') || exported];
  } catch (e) { store = null; status(); return; }
  all(':disabled').forEach(b => { b.disabled = false; });
  $('#warn').hidden = true;
  html.classList.add('recording');
  derive(); carry(); room(); post();
  const again = async () => {
    const list = await store.read('recs'), known = new Set(recs.map(r => r.hash));
    recs.push(...list.filter(r => !known.has(r.hash)));
    [who, exported] = [await store.read('meta', 'who') || who, await store.read('meta', 'exported') || exported];
    derive();
  };
  if (channel) channel.onmessage = again;
  addEventListener('storage', e => { if (e.key && e.key.startsWith(NAME)) again(); });
}
addEventListener('online', post);
Object.assign(lapwork, {paint, lines, records: () => recs});
paint();
begin();
})();
