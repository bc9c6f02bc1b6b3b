// Finding the way in a single file: the page that its address names shows, the others hide.
import {$, all} from './dom.js';
import {D, lapwork} from './kit.js';

// choose takes the page that is asked for. A mark within the page that shows leaves it standing.
function choose(at, page) {
  if (at && !page && lapwork.section) return;
  all('section.page.on').forEach(s => s.classList.remove('on'));
  const section = lapwork.section = page || $('section.page'), room = '#' + section.dataset.room.replace(/\.html$/, '');
  section.classList.add('on');
  $('.top .where').textContent = section.dataset.where;
  all('.strip a').forEach(a => a.getAttribute('href') === room ? a.setAttribute('aria-current', 'page') : a.removeAttribute('aria-current'));
}
function show() {
  let id = location.hash.slice(1);
  try { id = decodeURIComponent(id); } catch (e) { id = ''; }
  const at = id && document.getElementById(id);
  choose(at, at && at.closest('section.page'));
  lapwork.show();
  if (at && at !== lapwork.section) at.scrollIntoView(); else scrollTo(0, 0);
}
addEventListener('hashchange', show);
show();
// All scripts stand in this file, this one last: where one is cut off, the page says that it does not record.
if (!('still' in D) && lapwork.there.size === 2) lapwork.begin();
