// Photos are made smaller before they are kept: the longest side 1600 px, JPEG 0.8. That also drops what the camera wrote about
// the place.
import {el} from './dom.js';
import {sha256} from './hash.js';
import {say, status, tablet, tr} from './kit.js';
import {keepFor, sealOf} from './keep.js';

export async function photo(file, input, e) {
  input.value = '';
  if (!sealOf(e)) return;
  try {
    const bytes = await smaller(file), value = sha256(new Uint8Array(bytes));
    await tablet.store.set('photos', value, bytes);
    if (await keepFor(e, {kind: 'photo', value})) await room();
  } catch (err) { say(tr('The photo was not kept: %s', err.message)); }
}
async function smaller(file) {
  const img = new Image();
  img.src = URL.createObjectURL(file);
  await img.decode();
  const f = Math.min(1, 1600 / Math.max(img.naturalWidth, img.naturalHeight)), c = el('canvas');
  c.width = Math.round(img.naturalWidth * f);
  c.height = Math.round(img.naturalHeight * f);
  c.getContext('2d').drawImage(img, 0, 0, c.width, c.height);
  URL.revokeObjectURL(img.src);
  return (await new Promise(yes => c.toBlob(yes, 'image/jpeg', 0.8))).arrayBuffer();
}
// room says how full the storage is, and warns while something can still be exported.
export async function room() {
  if (!navigator.storage || !navigator.storage.estimate) return;
  const {quota, usage} = await navigator.storage.estimate();
  tablet.used = tr('%s MB of storage used, %s MB free.', (usage / 1e6).toFixed(1), Math.floor((quota - usage) / 1e6));
  status();
  if (quota - usage < 5e7) say(tr('Storage is almost full: export now, then take photos with another device.'));
}
