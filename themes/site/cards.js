// Wall cards: the surfaces of a room together, two on a sheet.
import {$, all} from './dom.js';
import {html, lapwork} from './kit.js';

export function cards() {
  const room = lapwork.section.dataset.room;
  all('section.page').forEach(s => s.classList.toggle('held', s.dataset.room === room && !!$('.card', s)));
  html.classList.add('cards');
  print();
}
addEventListener('afterprint', () => html.classList.remove('cards'));
