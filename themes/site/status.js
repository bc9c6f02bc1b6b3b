// What the page says of itself: a line that comes and goes, and whether it records.
import {$, write} from './dom.js';
import {tr} from './words.js';
import {tablet} from './tablet.js';

let clearing = 0;
export function say(text) {
  const p = $('#said');
  write(p, text);
  p.classList.add('on');
  clearTimeout(clearing);
  clearing = setTimeout(() => p.classList.remove('on'), 9000);
}
export const when = r => r.at.slice(0, 16).replace('T', ' ');

// status says "recording" only where a store was opened and read back.
export function status() {
  const {store, recs, sent, dev, who, used} = tablet, unsent = recs.filter(r => r.dev === dev && r.seq > sent.seq).length;
  write($('.saved span'), !store ? tr('not recording') : unsent ? tr('%d not exported', unsent) : recs.length ? tr('all exported') : tr('recording'));
  $('.saved').classList.toggle('due', !store || unsent > 0);
  if (!store) return;
  write($('.tally'), [tr('Records kept in this browser: %d, not exported: %d.', recs.length, unsent), sent.at && tr('Last export %s.', when(sent)), tr('Tablet %s.', dev.slice(0, 6)), used].filter(Boolean).join(' '));
  write($('[data-do=who]'), tr('Name: %s', who || tr('not given')));
}
