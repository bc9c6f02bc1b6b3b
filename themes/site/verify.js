// Has anything changed? The seals of this file's checks and the chain of the records are worked out again.
import {$, all, cmp} from './dom.js';
import {hashOf} from './hash.js';
import {D, tablet, tr} from './kit.js';
import {unhashed} from './import.js';
import {lines} from './keep.js';

export function verify(b) {
  const wrong = [], checks = all('[data-check][data-seal],[data-key][data-seal]'), records = tablet.recs.slice().sort((x, y) => cmp(x.dev, y.dev) || x.seq - y.seq);
  checks.forEach(e => { if (!hashOf(lines(e)).startsWith(e.dataset.seal)) wrong.push(e.dataset.check || e.dataset.key); });
  records.forEach((r, i) => {
    const before = records[i - 1];
    if (hashOf(unhashed(r)) !== r.hash || before && before.dev === r.dev && before.seq === r.seq - 1 && before.hash !== r.prev) wrong.push(tr('record %s of tablet %s', r.seq, r.dev.slice(0, 6)));
  });
  const out = $('output', b.closest('.verify'));
  out.className = wrong.length ? 'is-stop' : 'is-done';
  out.textContent = wrong.length ? tr('Changed: %s', wrong.join(', ')) : tr('%s statements and %s records are as they were sealed. Revision %s.', checks.length, records.length, D.rev);
}
