// What a tablet does with a pack: it keeps ticks, readings, photos, notes, defects and signatures, and gives them out as one
// file. No dependency, no request but where the server that gave out the page asks for the records.
import {lapwork, tablet} from './kit.js';
import {canon, hashOf, sha256} from './hash.js';
import {acts as ofChecks} from './acts.js';
import {acts as ofPlaces} from './places.js';
import {acts as ofLook} from './look.js';
import {draw} from './sign.js';
import {plain} from './writing.js';
import {submit} from './forms.js';
import {mayWe} from './start.js';
import {find} from './search.js';
import {cards} from './cards.js';
import {photo, room} from './photo.js';
import {give, post} from './export.js';
import {take} from './import.js';
import {verify} from './verify.js';

Object.assign(lapwork, {
  acts: Object.assign({export: give, verify, cards}, ofChecks, ofPlaces, ofLook),
  submit,
  typed: f => f.matches('.find') ? find(f) : mayWe(f),
  taken: (file, input, e) => input.id === 'import' ? take(file, input) : photo(file, input, e),
  draw, plain, room, post, canon, hashOf, sha256,
});
lapwork.there.add('record');
if (tablet.store) room();
