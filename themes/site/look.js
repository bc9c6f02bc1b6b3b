// How a page looks: kept for all packs of this browser.
import {D, html, lapwork, say, tr} from './kit.js';

function look(key, value) {
  D[key] = value;
  html.dispatchEvent(new Event('look'));
  try { localStorage.setItem('lapwork-' + key, value); } catch (e) { say(tr('The choice lasts until the page is left.')); }
  lapwork.switches();
}
export const acts = {
  look: b => look('look', b.dataset.look),
  gloves: () => look('gloves', D.gloves ? '' : 'on'),
};
