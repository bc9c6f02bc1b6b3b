// How far every room and every hold is: counted by the index of checks that the overview carries.
import {all, data} from './dom.js';
import {stateOf, tr} from './kit.js';

let index = null;
function checks() {
  if (!index) {
    index = [];
    data('checks-data').forEach(([from, ...run]) => run.forEach((x, i) => { index[from + i] = x; }));
  }
  return index;
}
export function counts(section) {
  all('[data-keys]', section).forEach(c => {
    let total = 0;
    const list = c.dataset.keys.split(' ').filter(Boolean).flatMap(run => {
      const [a, b = a] = run.split('-').map(Number);
      total += b - a + 1;
      return checks().slice(a, b + 1);
    });
    const st = list.map(x => stateOf(x[0], x[1], x[2].split(' '), x[3], x[4])), n = k => st.filter(s => s.cls === k).length;
    c.textContent = (list.length < total ? tr('%d of %d here', n('done'), list.length) : tr('%d of %d', n('done'), list.length)) + (n('stop') ? tr(', %d stopped', n('stop')) : '') + (n('old') ? tr(', %d superseded', n('old')) : '');
  });
}
