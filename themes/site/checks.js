// The checks of a page and how far it is, painted from what holds.
import {$, all, button, each, write} from './dom.js';
import {tr} from './words.js';
import {lapwork, tablet} from './tablet.js';
import {at, ofElement} from './records.js';
import {furnish} from './controls.js';
import {released} from './holds.js';
import {when} from './status.js';

// paintChecks gives how each check of the page stands, by its name.
function paintChecks(section) {
  const states = new Map();
  each('[data-check]', section, e => {
    furnish(e);
    const s = ofElement(e), now = at(e.dataset.check), more = lapwork.added?.(e, s);
    states.set(e.dataset.check, s);
    const shown = [!!tablet.store, !!lapwork.detail, s.cls, s.text, s.last?.hash, now.photo?.hash, more].join();
    if (e.shown === shown) return; // nothing of it has changed
    e.shown = shown;
    paintCheck(e, s, now, more || '');
  });
  return states;
}
function paintCheck(e, s, now, more) {
  const st = $('.st', e), r = s.last;
  st.className = 'st is-' + s.cls;
  write(st.firstElementChild, s.text + (r ? (s.text.endsWith(r.who) ? ' ' : ' · ' + (r.who || '') + ' ') + when(r) : '') + more);
  each('button,img', st, b => b.remove());
  if (r) st.append(button(tr('Undo'), 'undo'));
  ['yes', 'no', 'na'].forEach(v => each('[data-do=' + v + ']', e, b => b.setAttribute('aria-pressed', !!now.tick && s.cls !== 'old' && now.tick.value === v && !now.tick.but)));
  lapwork.detail?.(e, st, s, now);
}

const tally = (list, into) => { if (into) write(into, list.length ? tr('%d of %d', list.filter(x => x.done).length, list.length) : ''); };
function progress(section, states) {
  const list = all('.act', section), checked = list.map(a => all('[data-check]', a).map(e => states.get(e.dataset.check))), todo = $('.todo', section);
  list.forEach((a, i) => tally(checked[i], $('.count', a)));
  if (!todo) return;
  tally([...states.values(), ...all('.act [data-hold]', section).flatMap(released)], $('.count', todo)); // as many as the overview counts
  // What has no check cannot be known to be done: it is next as long as the first check after it is open.
  let i = checked.findIndex(c => c.some(s => !s.done));
  while (i > 0 && !checked[i - 1].length) i--;
  const next = lapwork.next = list[i], up = $('.nextup', todo), after = $('.phases [aria-current] + a', section);
  up.dataset.first ||= up.getAttribute('href');
  up.setAttribute('href', next ? up.dataset.first : (after || $('.go', section) || up).getAttribute('href'));
  write(up, next ? $('h3', next).firstChild.textContent.trim() : after ? after.firstChild.textContent.trim() : states.size ? tr('sign off') : up.textContent);
}

export const paintChecked = section => progress(section, paintChecks(section));
