// Spots without a method, settled on site.
import {$, all} from './dom.js';
import {at, fresh, tr, when} from './kit.js';
import {thumb} from './detail.js';

export function spots(section) {
  all('[data-spot]', section).forEach(e => {
    const d = e.dataset, r = fresh(d.key, 'settle', d.seal), any = at(d.key).settle, out = $('output', e), shot = at(d.key).photo;
    out.className = r ? 'is-done' : any ? 'is-old' : '';
    out.textContent = r ? tr('Settled by %s, %s: %s', [r.name, r.role].filter(Boolean).join(', '), when(r), r.text) : any ? tr('Settled by %s to other words: settle it again.', any.name) : tr('Blocked, this spot only. The rest of the room goes on.');
    if (shot) thumb(out, shot.value);
    $('[data-do=unsettle]', e).hidden = !r;
  });
}
