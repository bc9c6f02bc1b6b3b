// A defect reported from a page takes its place along to the page where defects are kept.
import {$} from './dom.js';

export function arrive(section) {
  try {
    const place = sessionStorage.getItem('lapwork-place'), i = $('.defect [name=place]', section);
    if (!place || !i) return;
    i.value = place;
    sessionStorage.removeItem('lapwork-place');
  } catch (e) { /* no session storage: the place is typed */ }
}
