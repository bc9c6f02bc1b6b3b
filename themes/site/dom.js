// Short words for what every file does to a page.
export const $ = (sel, at) => (at || document).querySelector(sel);
export const all = (sel, at) => [...(at || document).querySelectorAll(sel)];
export const each = (sel, at, act) => all(sel, at).forEach(act);
// write leaves a text that stands already: a page moves only where something changes.
export const write = (e, text) => { if (e.textContent !== text) e.textContent = text; };
export function el(tag, text, cls) {
  const e = document.createElement(tag);
  e.textContent = text || '';
  if (cls) e.className = cls;
  return e;
}
// button is one that a script adds: what it does goes by its act, and by the id of the record it is about.
export function button(text, act, id) {
  const b = el('button', text);
  b.type = 'button';
  b.dataset.do = act;
  if (id) b.dataset.id = id;
  return b;
}
// answer is what a request of a database gives.
export const answer = q => new Promise((yes, no) => { q.onsuccess = () => yes(q.result); q.onerror = () => no(q.error); });
// data reads what a page carries for its scripts.
export const data = id => { const e = document.getElementById(id); return e ? JSON.parse(e.textContent) : []; };
export const cmp = (a, b) => a < b ? -1 : a > b ? 1 : 0;
export const fold = s => s.replace(/[ \t\n\r\f]+/g, ' ').replace(/^ | $/g, '');
// path is the ink of a signature: strokes of whole numbers in a box of 1000 by 300.
export const path = strokes => strokes.map(s => 'M' + s.join(' ')).join('');
