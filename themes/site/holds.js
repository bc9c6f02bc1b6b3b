// Hold points: what lies behind one that nobody released is marked.
import {$, each, el, write} from './dom.js';
import {tr} from './words.js';
import {fresh} from './records.js';
import {when} from './status.js';

// releases are the signatures that a hold wants, each as it was given or nothing.
function releases(stop) {
  const begin = stop.dataset.begin.split(' ');
  return stop.dataset.hold.split(' ').map((key, i) => fresh(key, 'sign', begin[i]));
}
export const released = stop => releases(stop).map(r => ({done: !!r}));

export function holds(section) {
  const closed = [];
  each('.act, .before > .stop', section, a => {
    const title = $('h3', a), text = closed.length ? tr('behind %s', closed.join(', ')) : '';
    let mark = $('h3 .behind', a);
    if (title && text && !mark) { mark = el('b', '', 'behind'); title.append(' ', mark); }
    if (mark) write(mark, text);
    const stop = a.matches('[data-hold]') ? a : $('[data-hold]', a);
    if (!stop) return;
    const wanted = releases(stop), given = wanted.filter(Boolean), done = given.length === wanted.length, names = given.map(r => r.name).join(', '), span = $('span', stop);
    stop.dataset.says ||= span.textContent;
    write(span, done ? tr('Released by %s, %s.', names, given.map(when).sort().pop()) : stop.dataset.says + (names && ' ' + tr('signed %s', names)));
    stop.classList.toggle('is-done', done);
    if (!done) closed.push($('.hold', stop).textContent);
  });
}
