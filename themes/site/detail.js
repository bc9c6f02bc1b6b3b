// What a check shows beside its state: its photo, its signature, what came after that, and whether it still holds as built.
import {$, button, el, path} from './dom.js';
import {tablet, tr} from './kit.js';
import {covered} from './covered.js';

// added says how much was recorded after a signature.
export function added(e, s) {
  const r = s.last, group = e.closest('.group');
  if (r?.kind !== 'sign' || !group) return '';
  const n = covered(group, e).filter(h => !(r.covers || []).includes(h)).length;
  return n ? tr(', %d added after signing', n) : '';
}
export async function thumb(into, hash) {
  const bytes = await tablet.store.read('photos', hash);
  if (!bytes || $('img', into)) return;
  const img = el('img');
  img.alt = tr('Photo kept');
  img.src = URL.createObjectURL(new Blob([bytes], {type: 'image/jpeg'}));
  img.onload = () => URL.revokeObjectURL(img.src);
  into.append(img);
}
export function detail(e, st, s, {photo, sign}) {
  if (tablet.store && s.cls === 'old') st.append(button(tr('Still true as built'), 'stand'));
  if (photo) thumb(st, photo.value);
  const ink = $('.ink', e);
  if (!sign || !ink) return;
  ink.setAttribute('d', path(sign.strokes || []));
  $('.name', e).value = sign.name;
  if (sign.strokes) $('.finger', e).open = true;
}
