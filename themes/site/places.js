// What is recorded of a place rather than a check: a strip as measured, a spot without a method that is settled.
import {$} from './dom.js';
import {at, decimal, say, tr} from './kit.js';
import {ask, back, keep, sealOf} from './keep.js';

export const acts = {
  async cut(b, e) {
    const input = $('input', e), t = decimal(input.value), clear = Math.ceil(+t);
    if (!t || clear < 1 || clear > 200000) return say(tr('Enter the clear length in millimetres, such as 2412.'));
    const seal = sealOf(e);
    if (seal && await keep({v: 2, kind: 'cut', check: e.dataset.key, seal, place: e.dataset.cut, value: String(clear), unit: 'mm'})) input.value = '';
  },
  uncut: (b, e) => back(at(e.dataset.key).cut),
  async settle(b, e) {
    const seal = sealOf(e);
    if (!seal) return;
    const text = await ask(tr('What is to be done at %s?', e.dataset.spot));
    const name = text && await ask(tr('Who decided it?'));
    const role = name && await ask(tr('That person\'s part in the job'), tr('designer'));
    if (!name) return say(tr('Not settled: it needs what is to be done and who decided.'));
    await keep({v: 2, kind: 'settle', check: e.dataset.key, seal, place: e.dataset.spot, text, name, role});
  },
  unsettle: (b, e) => back(at(e.dataset.key).settle),
};
