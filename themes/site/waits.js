// Waits: each runs from the last thing that was placed, here or, by the checks named in from, on an earlier page of the room.
import {$, each, el, write} from './dom.js';
import {at, html, ofElement, tr} from './kit.js';

const moment = t => new Date(t).toLocaleString(html.lang, {weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hour12: false});

function placed(act, d) {
  const before = (d.from || '').split(' ').flatMap(key => Object.values(at(key))).filter(r => r.value !== 'no' && !r.but);
  const times = [at(d.key).tick, ...before].filter(Boolean).map(r => r.at);
  if (act) each('[data-check]', act, e => {
    const s = ofElement(e);
    if (s.last && (s.cls === 'done' || s.cls === 'part')) times.push(s.last.at);
  });
  return times.length ? Math.max(...times.map(Date.parse)) : 0;
}
export function clocks(section) {
  const waits = [], held = {}, now = Date.now();
  each('.clock', section, p => {
    const d = p.dataset, start = placed(p.closest('.act'), d), end = start + d.wait * 60000, span = $('span', p);
    p.classList.toggle('runs', start > 0 && end > now);
    write(span, !start ? tr('%s: the wait of %s h begins when it is placed.', d.what, d.wait / 60) : end > now ? tr('%s, placed %s: %s from %s.', d.what, moment(start), d.use, moment(end)) : tr('%s, placed %s: %s since %s.', d.what, moment(start), d.use, moment(end)));
    if (!start || end <= now) return;
    waits.push([end, span.textContent]);
    (d.holds || '').split(' ').forEach(a => { held[a] = Math.max(held[a] || 0, end); });
  });
  each('.act .until', section, p => p.remove());
  each('.act', section, a => {
    const end = held[a.dataset.act];
    if (end) $('h3', a).after(el('p', tr('Not before %s: what lies under it still cures.', moment(end)), 'until is-stop'));
  });
  const list = $('.waits', section);
  if (!list) return;
  waits.sort((a, b) => a[0] - b[0]);
  write(list.previousElementSibling, waits.length ? tr('Waits running: %s. The first ends %s.', waits.length, moment(waits[0][0])) : tr('No wait runs.'));
  list.replaceChildren(...waits.map(w => el('li', w[1])));
}
