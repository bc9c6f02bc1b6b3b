// A signature by finger: whole numbers in a box of 1000 by 300.
import {$, path} from './dom.js';

// draw puts what the finger has drawn of a stroke, and what is to come of it.
export function draw(pad, begun) {
  const e = pad.closest('[data-check]'), box = pad.getBoundingClientRect(), stroke = [];
  (e.strokes ||= []).push(stroke);
  const put = m => {
    stroke.push(Math.round((m.clientX - box.left) / box.width * 1000), Math.round((m.clientY - box.top) / box.height * 300));
    $('.ink', e).setAttribute('d', path(e.strokes));
  };
  begun.forEach(put);
  if (pad.onpointermove) pad.onpointermove = put;
}
