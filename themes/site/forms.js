// Forms: notes, defects, readings before the start, goods in, times and the day's sheet.
import {$} from './dom.js';
import {decimal, say, tr} from './kit.js';
import {keep} from './keep.js';
import {mayWe} from './start.js';
import {toolIn} from './tools.js';

const filled = (f, names) => Object.fromEntries(names.map(n => [n, f.elements[n] ? f.elements[n].value.trim().slice(0, 2000) : '']).filter(x => x[1]));
const value = (f, n) => f.elements[n].value.trim();

const forms = {
  async book(f) {
    const t = $('textarea', f), text = t.value.trim();
    if (text && await keep({kind: 'note', place: f.dataset.note, text})) t.value = '';
  },
  async defect(f) {
    const v = Object.fromEntries([...new FormData(f)].map(([k, x]) => [k, x.trim()]));
    if (!v.place || !v.text) return say(tr('Place and what is wrong are needed.'));
    if (await keep(Object.assign({kind: 'defect'}, v))) { $('textarea', f).value = ''; say(tr('Defect kept.')); }
  },
  async maywe(f) {
    const fields = {answer: mayWe(f)};
    for (const n of ['air', 'rh', 'surface', 'timber']) if (decimal(value(f, n))) fields[n] = decimal(value(f, n));
    await keep(Object.assign({v: 2, kind: 'start', fields}, toolIn(f)));
  },
  async goods(f) {
    if (!value(f, 'place')) return say(tr('Say what came.'));
    if (await keep({v: 2, kind: 'goods', place: value(f, 'place'), value: value(f, 'batch'), text: value(f, 'text'), fields: filled(f, ['useby', 'amount'])})) f.reset();
  },
  async work(f) {
    const minutes = decimal(value(f, 'minutes')), fields = filled(f, ['kind', 'places']);
    if (!value(f, 'room') || !fields.kind) return say(tr('Say in which room and what work.'));
    if (!minutes || minutes.startsWith('-') || fields.places && !/^[1-9][0-9]{0,3}$/.test(fields.places)) return say(tr('Minutes are a number, places a whole one.'));
    if (await keep({v: 2, kind: 'work', place: value(f, 'room'), value: minutes, unit: 'min', fields})) { f.reset(); say(tr('The time is kept.')); }
  },
  async day(f) {
    if (!value(f, 'date') || !value(f, 'name')) return say(tr('A day\'s sheet needs its date and who signs it.'));
    const fields = filled(f, ['crew', 'hours', 'climate', 'done', 'blocked', 'minutes']);
    for (const n of ['hours', 'minutes']) if (fields[n] && !(fields[n] = decimal(fields[n]))) return say(tr('Hours and minutes are numbers.'));
    if (await keep({v: 2, kind: 'day', value: value(f, 'date'), name: value(f, 'name'), fields})) { f.reset(); say(tr('The day\'s sheet is kept.')); }
  },
};
export function submit(f) {
  const name = Object.keys(forms).find(name => f.classList.contains(name));
  return name && forms[name](f);
}
