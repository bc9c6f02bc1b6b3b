// What a signature stands for.
import {all} from './dom.js';
import {at, isRelease} from './kit.js';

// covered are the records that a signature stands for: those of its group.
export const covered = (group, sign) => [...new Set(all('[data-check]', group).filter(e => e !== sign && !isRelease(e)).flatMap(e => Object.values(at(e.dataset.check)).map(r => r.hash)))].sort();
