// The controls of a check: those of the page's template that it records. They are of use once the store is open.
import {$, each, el, fold} from './dom.js';
import {tr} from './words.js';
import {tablet} from './tablet.js';

// What checks share stands once, above them.
const shared = ['title', 'method', 'who'];
export const wordOf = (e, name) => {
  const same = e.closest('.same'), is = '[data-s=' + name + ']';
  return $(is, e) || same && shared.includes(name) && $(is, same);
};
const textOf = (e, name) => fold(wordOf(e, name)?.textContent || '');

export function furnish(e) {
  if ($('.st', e)) return;
  const rec = e.dataset.rec.split(' '), c = $('#controls').content.cloneNode(true), asked = e.closest('[data-yes]'), yes = $('[data-do=yes]', c);
  const places = rec.includes('tick') ? textOf(e, 'places').split(', ') : [];
  each('[data-for]', c, x => { if (!rec.includes(x.dataset.for)) x.remove(); });
  if (asked) {
    $('[data-do=na]', c).remove();
    yes.textContent = asked.dataset.yes;
    const no = $('[data-do=no]', c);
    if (no) no.textContent = asked.dataset.no;
  }
  if (rec.join() === 'sign') $('.do', c).remove();
  if (places.length > 1) {
    yes.textContent += tr(', all %d', places.length);
    $('.but .do', c).prepend(...places.map(at => {
      const l = el('label', '', 'b'), i = el('input');
      i.type = 'checkbox'; i.value = at; i.disabled = true;
      l.append(i, at);
      return l;
    }));
  } else $('.but', c).remove();
  const number = $('.num', c);
  if (number && e.dataset.unit) $('span', number).textContent = e.dataset.unit;
  if (number && e.dataset.tools) number.after(tools(e.dataset.tools));
  if ($('.sign', c)) { $('.role', c).value = textOf(e, 'who'); $('.finger', c).open = isRelease(e); }
  if (tablet.store) each(':disabled', c, x => { x.disabled = false; });
  e.append(c);
  e.classList.add('set');
}
// tools are the job's instruments, beside a number that is read with one.
function tools(list) {
  const l = el('label', '', 'num with'), s = el('select', '', 'tool');
  s.append(...['', ...list.split(' ')].map(t => {
    const [id, due] = t.split('='), o = el('option', id || tr('not named'));
    o.value = id;
    o.dataset.due = due || '';
    return o;
  }));
  s.disabled = true;
  l.append(el('span', tr('Read with')), s);
  return l;
}
// A release stands for the checks before it, not for what others sign beside it.
export const isRelease = e => !!$('[data-s=hold]', e);
