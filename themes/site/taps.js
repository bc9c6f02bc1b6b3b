// The script that records is a file of its own, fetched when a finger or the keyboard comes near a control that records, so
// that it is there when the finger lifts. A tap that was quicker waits for it.
import {el} from './dom.js';
import {tr} from './words.js';
import {lapwork, tablet} from './tablet.js';
import {say} from './status.js';

const own = document.currentScript.src; // of this script; in a single file it has none, and nothing is fetched
const there = lapwork.there = new Set(), coming = {};
// bring says whether one of the other scripts is there. One that could not be loaded is fetched again when it is wanted again.
export async function bring(name) {
  if (!there.has(name)) await (coming[name] ||= new Promise(done => {
    const s = el('script');
    s.onload = s.onerror = done;
    s.src = own.replace(/pack.js$/, name + '.js');
    document.head.append(s);
  }));
  delete coming[name];
  return there.has(name);
}
export const more = () => bring('record');
const soon = act => there.has('record') ? act() : more().then(ok => ok && act());
const near = ev => { if (ev.target.closest?.(':enabled,.pad')) more(); };

// once does what was asked for at a control, and not a second time while that goes on: a double tap makes one record.
const busy = new Set();
async function once(control, act) {
  if (busy.has(control)) return;
  busy.add(control);
  try {
    if (await more()) await act();
    else say(tr('Not kept: a file of the pack is missing. Open the pack again, or write it on paper.'));
  } finally { busy.delete(control); }
}
const keyed = e => e.closest('[data-check],[data-key]');
function click(ev) {
  const b = ev.target.closest('[data-do]'), a = ev.target.closest('a[data-defect]');
  if (ev.target.closest('.nextup') && lapwork.next) { ev.preventDefault(); lapwork.next.scrollIntoView(); }
  if (a) try { sessionStorage.setItem('lapwork-place', a.dataset.defect); } catch (e) { /* no session storage: the place is typed */ }
  if (b && !b.disabled) once(b, () => lapwork.acts[b.dataset.do](b, keyed(b)));
}
function submit(ev) {
  if (ev.target.closest('dialog')) return;
  ev.preventDefault();
  once(ev.target, () => lapwork.submit(ev.target));
}
// What is typed into a search or a reading before the start is answered at once.
function typed(ev) {
  const f = ev.target.form;
  if (f?.matches('.maywe,.find')) soon(() => lapwork.typed(f));
}
// touch begins a stroke of a signature by finger, and keeps what comes of it until the script that draws is there.
function touch(pad, ev) {
  const stroke = [ev];
  pad.setPointerCapture(ev.pointerId);
  pad.onpointermove = m => stroke.push(m);
  pad.onpointerup = pad.onpointercancel = () => { pad.onpointermove = null; };
  soon(() => lapwork.draw(pad, stroke));
}
export function listen() {
  const on = (type, act) => document.addEventListener(type, act);
  ['pointerdown', 'focusin', 'keydown'].forEach(type => on(type, near));
  on('click', click);
  on('submit', submit);
  on('input', typed);
  on('change', ({target: input}) => {
    const file = input.files?.[0]; // each for itself: another may be chosen while this one is made smaller
    if (file) once(file, () => lapwork.taken(file, input, keyed(input)));
  });
  on('pointerdown', ev => {
    const pad = ev.target.closest('.pad');
    if (pad && tablet.store) touch(pad, ev);
  });
}
