// May we start: the dew point of a room's air against its coldest surface (EN ISO 13788, annex E).
import {$} from './dom.js';
import {decimal, lapwork, tr} from './kit.js';

const psat = t => t < 0 ? 610.5 * Math.exp(21.875 * t / (265.5 + t)) : 610.5 * Math.exp(17.269 * t / (237.3 + t));
function dewPoint(t, rh) {
  const x = Math.log(psat(t) * rh / 100 / 610.5);
  return x < 0 ? 265.5 * x / (21.875 - x) : 237.3 * x / (17.269 - x);
}
export function mayWe(f) {
  const v = n => { const t = decimal(f.elements[n].value); return t === '' ? NaN : +t; }, air = v('air'), rh = v('rh'), surface = v('surface'), timber = v('timber'), d = f.dataset, no = [];
  const out = $('output', f);
  if (isNaN(air + rh + surface) || rh <= 0 || rh > 100 || Math.abs(air) > 60) return out.textContent = tr('Enter air, humidity and the coldest surface.');
  const dew = dewPoint(air, rh), margin = surface - dew;
  if (d.surface && surface < +d.surface) no.push(tr('surface below %s °C', d.surface));
  if (d.margin && margin < +d.margin) no.push(tr('less than %s K above the dew point', d.margin));
  if (d.humidity && rh > +d.humidity) no.push(tr('humidity above %s %%', d.humidity));
  if (d.timber && isNaN(timber)) no.push(tr('timber not measured'));
  if (d.timber && timber > +d.timber) no.push(tr('timber above %s %%', d.timber));
  const limits = d.surface || d.margin || d.humidity || d.timber;
  out.className = limits ? no.length ? 'is-stop' : 'is-done' : '';
  const dewy = dew.toFixed(1), room = margin.toFixed(1);
  const read = isNaN(timber) ? tr('Air %s °C, %s %%, surface %s °C: dew point %s °C, margin %s K.', air, rh, surface, dewy, room) : tr('Air %s °C, %s %%, surface %s °C, timber %s %%: dew point %s °C, margin %s K.', air, rh, surface, timber, dewy, room);
  return out.textContent = (limits ? (no.length ? tr('No: %s.', no.join(', ')) : tr('Yes.')) + ' ' : '') + read;
}
Object.assign(lapwork, {psat, dewPoint});
