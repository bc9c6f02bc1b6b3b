// The page that shows, and how it looks.
import {$, each} from './dom.js';
import {D, html, lapwork} from './tablet.js';

export function switches() {
  each('[data-look]', html, b => b.setAttribute('aria-pressed', D.look === b.dataset.look));
  $('[data-do=gloves]').setAttribute('aria-pressed', !!D.gloves);
}
export function show() {
  html.classList.add('ready');
  lapwork.paint();
  const here = $('.strip [aria-current]');
  if (here) here.parentElement.scrollLeft = here.offsetLeft - 80;
}
