// A defect reported from a page takes its place along to the page where defects are kept.
import {$} from './dom.js';

export function arrive() {
  try {
    const place = sessionStorage.getItem('lapwork-place'), i = $('.defect [name=place]');
    if (place && i && !i.value) i.value = place;
  } catch (e) { /* no session storage: the place is typed */ }
}
