// What the controls of a check do.
import {$, all, fold} from './dom.js';
import {at, decimal, inside, isRelease, ofElement, say, tablet, tr, wordOf} from './kit.js';
import {ask, askWho, back, keep, keepFor, sealOf, sealed} from './keep.js';
import {covered} from './covered.js';
import {toolIn} from './tools.js';

// placeOf is where a check that speaks of one place is; of several or none, the room, storey or zone it belongs to.
function placeOf(e) {
  const at = $('[data-s=places]', e);
  return at && !at.textContent.includes(',') ? fold(at.textContent) : e.dataset.check.split('/')[0];
}
const defect = (e, text, place) => keepFor(e, {kind: 'defect', value: 'from a check', place: place || placeOf(e), text: (wordOf(e, 'title') || $('b', e)).textContent + ': ' + text});

async function but(b, e) {
  const but = all('.but input:checked', e).map(i => i.value).sort();
  if (!but.length) return say(tr('Mark the places that are not right first.'));
  const reason = await ask(tr('What is not right at %s?', but.join(', ')));
  if (!reason || !await keepFor(e, {kind: 'tick', value: 'yes', but, reason})) return;
  for (const place of but) await defect(e, reason, place);
  all('.but input', e).forEach(i => { i.checked = false; });
}
async function num(b, e) {
  const input = $('.num input', e), value = decimal(input.value), unit = e.dataset.unit || '';
  if (!value) return say(tr('Enter a number, such as 85 or 85,5.'));
  if (!await keepFor(e, Object.assign({kind: 'meas', value, unit}, toolIn(e)))) return;
  input.value = '';
  if (inside(value, e.dataset.low, e.dataset.high)) return;
  await defect(e, tr('%s %s is out of range', value, unit));
  say(tr('Out of range: a defect was opened.'));
}
async function sign(b, e) {
  const name = $('.name', e).value.trim(), strokes = e.strokes || [], group = e.closest('.group'), root = e.closest('section.page'), page = $('[data-page-seal]', root);
  if (!name) return say(tr('Type the name first. Strokes by finger are extra.'));
  if (page && !sealed(root, page.dataset.pageSeal)) return;
  const left = group ? all('[data-check]', group).filter(x => x !== e && !isRelease(x) && !ofElement(x).done).length : 0;
  const reason = left ? await ask(tr('%d checks are not done. Sign all the same because', left)) : '';
  if (left && !reason) return say(tr('Not signed.'));
  tablet.who = tablet.who || name;
  const seals = page ? {[root.id + '.html']: page.dataset.pageSeal} : undefined;
  if (await keepFor(e, {kind: 'sign', name, role: $('.role', e).value.trim(), strokes, reason, seals, covers: group ? covered(group, e) : []})) say(tr('Signed and kept.'));
}
// stand says that what was recorded before the words changed is still true as built.
async function stand(b, e) {
  const now = at(e.dataset.check), seal = sealOf(e);
  if (!seal) return;
  const known = seal + ' ' + (e.dataset.also || ''), covers = e.dataset.rec.split(' ').concat('tick').map(k => now[k]).filter(r => r && !known.includes((r.seal || '?').slice(0, 8))).map(r => r.hash);
  const reason = await ask(tr('It is still true as built because'));
  const name = reason && await ask(tr('Who says so?'), tablet.who);
  if (!name) return say(tr('Not kept: it needs a reason and a name.'));
  await keep({v: 2, kind: 'stand', check: e.dataset.check, seal, name, reason, covers: [...new Set(covers)].sort()});
}
const byId = id => tablet.recs.find(x => x.id === id);

export const acts = {
  who: askWho,
  yes: (b, e) => keepFor(e, {kind: 'tick', value: 'yes'}),
  async no(b, e) {
    const reason = await ask(tr('What is not right?'));
    if (reason && await keepFor(e, {kind: 'tick', value: 'no', reason})) await defect(e, reason);
  },
  async na(b, e) {
    const reason = await ask(tr('Not applicable because'));
    if (reason) await keepFor(e, {kind: 'tick', value: 'na', reason});
  },
  but, num, sign, stand,
  wipe(b, e) {
    e.strokes = [];
    $('.ink', e).setAttribute('d', '');
  },
  undo: (b, e) => back(e ? ofElement(e).last : byId(b.dataset.id)),
  async close(b) {
    const r = byId(b.dataset.id), text = await ask(tr('What was done?'));
    if (text) await keep({kind: 'defect', of: r.id, value: 'closed', check: r.check, place: r.place, text});
  },
  placed: (b, e) => keep({kind: 'tick', check: e.dataset.key, value: 'yes'}),
};
