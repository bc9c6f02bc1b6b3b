// Lists of what stands for itself: notes, defects, goods, days, times, and this tablet's own records.
import {$, all, button, el} from './dom.js';
import {tablet, today, tr, when} from './kit.js';

const standing = kind => tablet.recs.filter(r => r.kind === kind && !tablet.gone.has(r.id));
const signed = r => ' · ' + (r.who || '') + ' ' + when(r) + ' ';
function line(text, r, word, act) {
  const li = el('li', text + signed(r));
  if (word) li.append(button(word, act, r.id));
  return li;
}
function notes(section) {
  all('.kept:not(.defects)', section).forEach(u => {
    const place = u.closest('form').dataset.note;
    u.replaceChildren(...standing('note').filter(r => r.place === place).map(r => line([place, r.text].filter(Boolean).join(', '), r, tr('Undo'), 'undo')));
  });
}
function defects(section) {
  const log = $('.defects', section), list = standing('defect').filter(r => !r.of), closed = new Set(standing('defect').map(r => r.of));
  if (!log || !list.length) return;
  log.replaceChildren(...list.map(r => {
    const right = closed.has(r.id), text = [r.place, r.value, r.severity, r.cause, r.text].filter(Boolean).join(', ');
    const li = line((right ? tr('✓ put right: ') : tr('■ open: ')) + text, r, right ? '' : tr('Put right'), 'close'), a = wayTo(r.place);
    if (a) li.append(' ', a);
    return li;
  }));
}
// wayTo is a link to the room of a place, as the strip of rooms has it.
function wayTo(place) {
  const a = all('.strip a').find(a => a.textContent === (place || '').split('-')[0])?.cloneNode(true);
  if (a) a.className = 'b';
  return a;
}

// kindOf is a kind of work in the words of the form that offers it.
const kindOf = kind => { const o = all('.work [name=kind] option').find(o => o.value === kind); return o ? o.textContent : kind; };
const says = {
  start: (r, f) => [f.answer || ''],
  goods: (r, f) => [r.place, r.value && tr('batch %s', r.value), f.useby && tr('use by %s', f.useby) + (f.useby < r.at.slice(0, 10) ? tr(' ■ past its date') : ''), f.amount, r.text],
  work: (r, f) => [r.place, kindOf(f.kind), f.places && tr('places: %s', f.places), r.value + ' min'],
  day: (r, f) => [[r.value, ...Object.entries(f).map(x => x[0] + ': ' + x[1]), tr('signed %s', r.name)].filter(Boolean).join('; ')],
};
function sheets(section) {
  all('[data-list]', section).forEach(u => {
    const kind = u.dataset.list;
    u.replaceChildren(...standing(kind).reverse().slice(0, 60).map(r => line(says[kind](r, r.fields || {}).filter(Boolean).join(', ') + (r.tool ? tr(', with %s', r.tool) : ''), r, tr('Undo'), 'undo')));
  });
  const d = $('.day [name=date]', section);
  if (d && !d.value) d.value = today();
}
// own lists what this tablet recorded, newest first, with what its last export held.
function own(section) {
  const list = $('[data-own]', section), {dev, sent} = tablet;
  if (!list) return;
  const mine = tablet.recs.filter(r => r.dev === dev).sort((a, b) => b.seq - a.seq);
  list.replaceChildren(...mine.slice(0, 400).map(r => el('li', (r.seq > sent.seq ? tr('■ not exported') : tr('✓ exported')) + ' · ' + [r.seq, when(r), r.kind, r.check || r.place, r.value].filter(Boolean).join(' · '))));
}
export function lists(section) {
  notes(section);
  defects(section);
  sheets(section);
  own(section);
}
