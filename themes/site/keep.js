// Keeping: one record at a time, sealed by the words it is about, chained to the one before it.
import {$, all, fold} from './dom.js';
import {canon, hashOf} from './hash.js';
import {D, at, channel, html, lapwork, random, say, status, tablet, tr, update, wordOf} from './kit.js';
import {post} from './export.js';
import {append} from './writing.js';

// bounded keeps a text short and free of half characters, which no two programs write alike.
const bounded = s => (s = s.slice(0, 2000), s.toWellFormed ? s.toWellFormed() : s);
export function now() {
  const d = new Date(), z = -d.getTimezoneOffset(), p = n => String(Math.trunc(Math.abs(n))).padStart(2, '0');
  return new Date(d.getTime() + z * 60000).toISOString().slice(0, 19) + (z < 0 ? '-' : '+') + p(z / 60) + ':' + p(z % 60);
}
// keep appends one record, reads it back, and only then shows it.
export async function keep(fields) {
  const {store} = tablet;
  if (!store) return say(tr('Not recording: nothing was kept.'));
  try {
    if (!tablet.who && !await named()) return say(tr('Not kept: a record needs a name.'));
    if (told[fields.seal]) await store.set('meta', wordsAt(fields.seal), told[fields.seal]);
    const r = await append(store, last => made(fields, last)), back = await store.read('recs', r.hash);
    if (!back || canon(back) !== canon(r)) throw new Error(tr('it does not read back'));
    if (!tablet.recs.some(x => x.hash === r.hash)) tablet.recs.push(r); // another tab's news may have brought it already
    $('#said').classList.remove('on'); // what was refused before is kept now
    if (channel) channel.postMessage('kept');
    update();
    post();
    return r;
  } catch (e) { say(tr('NOT KEPT: %s. Export what there is, and write this one on paper.', e.message)); }
}
function made(fields, last) {
  const r = {v: 1, id: random(), pack: D.pack, rev: D.rev, lang: html.lang, dev: tablet.dev, seq: last.seq + 1, prev: last.hash, at: now(), who: tablet.who, job: D.job};
  Object.assign(r, fields);
  for (const k of Object.keys(r)) {
    if (typeof r[k] === 'string') r[k] = bounded(r[k]);
    if (r[k] === undefined || r[k] === '' || typeof r[k] === 'object' && !Object.keys(r[k]).length) delete r[k];
  }
  r.hash = hashOf(r);
  return r;
}

// ask puts one question at a time: what was tapped while this script was on its way may ask together.
let asking = Promise.resolve();
export const ask = (label, value) => asking = asking.catch(() => 0).then(() => question(label, value));
function question(label, value) {
  const d = $('#ask'), input = $('input', d);
  $('#ask-t').textContent = label;
  input.value = value || '';
  d.returnValue = '';
  d.showModal();
  return new Promise(yes => { d.onclose = () => yes(d.returnValue === 'ok' ? input.value.trim() : ''); });
}
export async function askWho() {
  const name = await ask(tr('Your name, as it stands in the records'), tablet.who);
  if (name) {
    tablet.who = name;
    await tablet.store.set('meta', 'who', name);
    status();
  }
  return tablet.who;
}
// named asks for the name once, however many records wait for it.
let naming = null;
const named = () => naming = naming || askWho().finally(() => { naming = null; });

// ---- Sealing
const keyOf = e => e.dataset.check || e.dataset.key;
// words are the sealed words of one check or entry, in the order they are sealed in.
const order = ['title', 'hold', 'accept', 'method', 'who', 'places'];
const words = e => e.dataset.check ? order.map(name => wordOf(e, name)).filter(Boolean) : all('[data-s]', e);
export const lines = root => (root.matches('[data-check],[data-key]') ? [root] : all('[data-check],[data-key]', root)).flatMap(e => words(e).map(w => ({key: keyOf(e) + '#' + w.dataset.s, text: fold(w.textContent), unit: w.dataset.unit || ''}))).filter(l => l.text);
const told = {}; // words by seal: they are kept and exported with what is recorded against them
export const wordsAt = seal => 'words ' + seal;
// sealed gives the seal of the words on the page, and refuses to record against words that are not those the pack was issued
// with. Begin is the seal's first digits, as the page carries them.
export function sealed(root, begin) {
  const said = lines(root), seal = hashOf(said);
  if (seal.startsWith(begin || '')) { told[seal] = said; return seal; }
  say(tr('Refused: the words on this page are not those it was issued with. Open the pack again from its own file.'));
}
export const sealOf = e => sealed(e, e.dataset.seal);
export function keepFor(e, fields) {
  const seal = sealOf(e);
  return seal && keep(Object.assign({check: keyOf(e), seal}, fields));
}
export async function back(r) {
  const reason = r && await ask(tr('Take it back because'));
  if (reason) await keep({kind: 'void', of: r.id, check: r.check, reason});
}
Object.assign(lapwork, {lines});
