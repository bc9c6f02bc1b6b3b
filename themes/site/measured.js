// Strips as measured: the cut is the clear length and what the drawing adds to it, the next whole millimetre up.
import {$, each} from './dom.js';
import {at, fresh, tr, when} from './kit.js';

// furnish gives a strip what is measured with: the page's template for it.
function furnish(e) {
  if ($('output', e)) return;
  const c = $('#measured').content.cloneNode(true);
  each(':disabled', c, x => { x.disabled = false; });
  e.append(c);
  e.classList.add('set');
}
export function cuts(section) {
  const more = {};
  each('[data-cut]', section, e => {
    furnish(e);
    const d = e.dataset, any = at(d.key).cut, r = fresh(d.key, 'cut', d.seal), out = $('output', e);
    if (r && +r.value + +d.add > +d.was) more[d.roll] = (more[d.roll] || 0) + +r.value + +d.add - d.was;
    $('[data-do=uncut]', e).hidden = !r;
    if (!r) {
      out.className = any ? 'is-old' : '';
      out.textContent = any ? tr('Measured %s mm against another drawing: measure again.', any.value) : '';
      return;
    }
    const cut = +r.value + +d.add;
    out.className = cut > d.most ? 'is-stop' : 'is-done';
    out.textContent = tr('Cut %s mm: measured %s + %s, %s %s', cut, r.value, d.add, r.who || '', when(r)) + (cut > d.most ? tr('. Longer than any roll: join it on a stud and ask the site lead.') : '');
  });
  each('[data-cut]', section, e => {
    const d = e.dataset, r = fresh(d.key, 'cut', d.seal), out = $('output', e);
    if (!r || +r.value + +d.add <= +d.was || !(more[d.roll] > +d.left) || out.className === 'is-stop') return;
    out.className = 'is-part';
    out.textContent += tr('. Roll %s has %s mm left and %s mm more are wanted: cut this one from another roll.', d.roll, d.left, more[d.roll]);
  });
}
