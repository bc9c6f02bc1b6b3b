// The instrument that a number was read with.
import {$} from './dom.js';
import {say, today, tr} from './kit.js';

// toolIn gives the instrument chosen beside a reading. One past its calibration date is kept, and flagged here and in the pack.
export function toolIn(within) {
  const s = $('select.tool', within), o = s && s.selectedOptions[0];
  if (!o || !o.value) return {};
  if (o.dataset.due && o.dataset.due < today()) say(tr('%s is past its calibration date %s: the reading is kept and flagged.', o.value, o.dataset.due));
  return {v: 2, tool: o.value};
}
