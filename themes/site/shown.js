// What records say beside the state of a check: waits that run, photos, signatures, notes, defects, lists, strips as measured,
// spots settled on site. A page fetches it once it has something of that to show.
import {lapwork, tablet} from './kit.js';
import {added, detail} from './detail.js';
import {clocks} from './waits.js';
import {counts} from './overview.js';
import {cuts} from './measured.js';
import {lists} from './lists.js';
import {arrive} from './arrive.js';
import {spots} from './spots.js';

Object.assign(lapwork, {added, detail});
lapwork.painters.push(clocks, cuts, spots, lists, counts, arrive);
lapwork.there.add('shown');
if (tablet.store) lapwork.paint();
setInterval(() => { if (tablet.store) clocks(lapwork.section); }, 30000);
