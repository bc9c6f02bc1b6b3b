// Search: every word must stand in an entry.
import {$, data, el} from './dom.js';
import {D, lapwork, tr} from './kit.js';

let entries = null;
function link(p) {
  const [page, id] = p.split('#');
  if (D.build === 'single') return '#' + page.replace(/\.html$/, '') + (id ? ':' + id : '');
  return '../'.repeat(lapwork.section.dataset.path.split('/').length - 1) + page + (D.silo || '') + (id ? '#' + id : '');
}
function hit(e) {
  const li = el('li'), a = el('a', e.t);
  a.href = link(e.p);
  li.append(a, el('span', ' ' + e.k, 'q'));
  return li;
}
export function find(f) {
  entries = entries || data('search-data');
  const words = $('input', f).value.toLowerCase().split(/\s+/).filter(Boolean);
  const hits = words.length ? entries.filter(e => words.every(w => e.t.toLowerCase().includes(w))) : [];
  f.nextElementSibling.replaceChildren(...hits.slice(0, 40).map(hit), ...(words.length && !hits.length ? [el('li', tr('Nothing found.'))] : []));
}
