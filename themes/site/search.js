// Search: every word must stand in an entry.
import {$, data, el} from './dom.js';
import {D, lapwork, tr} from './kit.js';

let entries = null;
function link(p) {
  const [page, id] = p.split('#');
  if (D.build === 'single') return '#' + page.replace(/\.html$/, '') + (id ? ':' + id : '');
  return '../'.repeat(lapwork.section.id.split('/').length - 1) + page + (D.silo || '') + (id ? '#' + id : '');
}
function hit({text, path, kind}) {
  const li = el('li'), a = el('a', text);
  a.href = link(path);
  li.append(a, el('span', ' ' + kind, 'q'));
  return li;
}
// read gives the entries, which stand by kind in the page.
const read = () => Object.entries(data('search-data')).flatMap(([kind, list]) => list.map(([text, path]) => ({text, path, kind})));
export function find(f) {
  entries = entries || read();
  const words = $('input', f).value.toLowerCase().split(/\s+/).filter(Boolean);
  const hits = words.length ? entries.filter(e => words.every(w => e.text.toLowerCase().includes(w))) : [];
  f.nextElementSibling.replaceChildren(...hits.slice(0, 40).map(hit), ...(words.length && !hits.length ? [el('li', tr('Nothing found.'))] : []));
}
