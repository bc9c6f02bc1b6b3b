// What the records mean: which of them hold, and how a check stands.
import {cmp} from './dom.js';
import {tr} from './words.js';
import {tablet} from './tablet.js';

// derive finds what holds now. Inside one tablet the chain gives the order, between tablets their clocks do.
export function derive() {
  const devs = {}, list = [], t = tablet;
  t.recs.forEach(r => (devs[r.dev] ||= []).push(r));
  for (const own of Object.values(devs)) {
    let clock = 0;
    own.sort((a, b) => a.seq - b.seq || cmp(a.hash, b.hash)).forEach(r => { clock = Math.max(clock, Date.parse(r.at) || 0); list.push([clock, r]); });
  }
  list.sort((a, b) => a[0] - b[0] || cmp(a[1].dev, b[1].dev) || a[1].seq - b[1].seq);
  t.recs = list.map(x => x[1]);
  t.gone = new Set(t.recs.filter(r => r.kind === 'void').map(r => r.of));
  t.latest = new Map();
  t.said = {};
  for (const r of t.recs) {
    if (!r.check || t.gone.has(r.id) || ['note', 'void', 'defect'].includes(r.kind)) continue;
    t.latest.set(r.check, {...t.latest.get(r.check), [r.kind]: r});
    const k = r.check + '\n' + r.kind;
    (t.said[k] ||= {})[r.dev] = r.value;
  }
}

export const at = key => tablet.latest.get(key) || {};
// fresh is the record of a kind that carries the seal which stands now.
const begins = (r, seal) => (r.seal || '').startsWith(seal || '');
export const fresh = (key, kind, seal) => { const r = at(key)[kind]; return r && begins(r, seal) ? r : null; };
export const inside = (v, low, high) => !(low && +v < +low) && !(high && +v > +high);

// stateOf says how a check stands: needs is what has to be recorded, seal the statement (or its first digits) it must carry,
// in any of the pack's languages.
const sealIn = (seal, r) => seal.split(' ').some(s => begins(r, s));
const answer = v => v === 'yes' ? tr('yes') : v === 'no' ? tr('no') : v;
export function stateOf(key, seal, needs, low, high) {
  const now = at(key), words = [];
  let done = 0, bad = false, old = false, last = null;
  for (const kind of needs.includes('tick') || !now.tick ? needs : ['tick', ...needs]) {
    const r = now[kind];
    if (!r) continue;
    last = !last || cmp(last.at, r.at) < 0 ? r : last;
    if (!sealIn(seal, r)) {
      const by = now.stand;
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
    if (kind === 'tick' || kind === 'meas') for (const v of Object.values(tablet.said[key + '\n' + kind])) if (v !== r.value) words.push(tr('another tablet: %s', answer(v)));
  }
  const cls = bad ? 'stop' : old ? 'old' : done >= needs.length ? 'done' : done ? 'part' : 'none';
  return {cls, last, done: cls === 'done', text: cls === 'none' ? tr('open') : (old ? tr('superseded') : words.join(', ')) + (cls === 'part' ? tr(', not complete') : '')};
}
export function ofElement(e) {
  const d = e.dataset;
  return stateOf(d.check, `${d.seal || ''} ${d.also || ''}`.trim(), d.rec.split(' '), d.low, d.high);
}
