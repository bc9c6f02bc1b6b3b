// What every page of a pack loads: it opens the store, shows how each check stands, and waits for a tap. Whatever records or
// handles files is in record.js. Without scripts every page can still be read, and ticked on paper.
import {$, all, each, write} from './dom.js';
import {tr} from './words.js';
import {D, NAME, SINGLE, channel, head, html, lapwork, random, tablet} from './tablet.js';
import {openDB} from './store.js';
import {at, derive, fresh, inside, ofElement, stateOf} from './records.js';
import {isRelease, wordOf} from './controls.js';
import {paintChecked} from './checks.js';
import {holds} from './holds.js';
import {say, status, when} from './status.js';
import {show, switches} from './pages.js';
import {bring, listen, more} from './taps.js';

const still = 'still' in D; // a preview keeps nothing
const painters = [holds]; // of an open store

function paint() {
  if (still) return;
  const section = lapwork.section;
  paintChecked(section);
  if (tablet.store) painters.forEach(p => p(section));
  status();
}
function update() {
  derive();
  paint();
  rest();
}
// rest has the script fetched that shows the rest of what is recorded, where the page has such.
async function rest() {
  if (!lapwork.detail && tells() && !await bring('shown')) say(tr('A file of the pack is missing: not all that is recorded shows. Open the pack again.'));
}
// tells is whether the page has more to show than how its checks stand: of a record that is about something on it, or that it lists.
function tells() {
  const {section} = lapwork, names = new Set(all('[data-check],[data-key],[data-note]', section).flatMap(({dataset: d}) => [...Object.values(d), ...(d.from || '').split(' ')]));
  const lists = $('[data-own],[data-keys],[data-list],.defects', section);
  return $('[data-cut],.defect,.day', section) || tablet.recs.some(r => lists || names.has(r.check) || names.has(r.place));
}

// A browser that gives each local file a storage of its own would scatter the records over the pages of a folder.
const folder = !SINGLE && location.protocol === 'file:';
async function alone(store) {
  const s = folder && new URLSearchParams(location.search).get('s');
  return !!s && s !== await store.read('meta', 'dev');
}
function carry() {
  D.silo = folder ? '?s=' + tablet.dev : '';
  if (folder) each('a[href]', html, a => { if (a.protocol === 'file:' && a.pathname !== location.pathname) a.search = D.silo; });
}
async function read(store) {
  const list = await store.read('recs'), known = new Set(tablet.recs.map(r => r.hash)); // in this order: a tap may keep one meanwhile
  tablet.recs.push(...list.filter(r => !known.has(r.hash)));
  tablet.who = await store.read('meta', 'who') || tablet.who;
  tablet.sent = await store.read('meta', 'exported') || tablet.sent;
}
// news takes in what another tab has kept.
async function news() {
  await read(tablet.store);
  update();
}
// open gives the store. What to do where no database can be opened, and with records from a time when none could, the script
// that records knows.
const plain = () => { try { return Object.keys(localStorage).some(k => k.startsWith(NAME + '/')); } catch (e) { return false; } };
async function open() {
  const store = await openDB(NAME).catch(() => null);
  if (store && !plain()) return store;
  await more();
  return lapwork.plain(store, NAME);
}
// begin calls a store the tablet's once it was read back: until then the page says that it does not record.
async function begin() {
  try {
    const store = await open(), probe = random();
    await store.set('meta', 'probe', probe);
    if (await store.read('meta', 'probe') !== probe) return;
    if (await alone(store)) {
      write($('#warn'), tr('Not recording: this browser gives every file of the folder a storage of its own. Use the single file, or start again from the first page.'));
      return;
    }
    tablet.dev = await store.claim('dev', random());
    await read(store);
    derive();
    await rest();
    tablet.store = store;
  } catch (e) { return; }
  each(':disabled', html, b => { b.disabled = false; });
  $('#warn').hidden = true;
  html.classList.add('recording');
  paint();
  carry();
  lapwork.room?.();
  post();
  if (channel) channel.onmessage = news;
  addEventListener('storage', e => { if (e.key?.startsWith(NAME)) news(); });
}
// post hands what a server has not yet to it.
const post = () => { if (D.post && tablet.store && head() > tablet.sent.seq) more().then(ok => ok && lapwork.post()); };

Object.assign(lapwork, {
  build: BUILD, tr, tablet, channel, random, head, painters, paint, update, begin, show, switches, status, say, when, more,
  at, fresh, inside, ofElement, stateOf, isRelease, wordOf, records: () => tablet.recs,
});
listen();
addEventListener('online', post);
// A tablet may leave the reach of its server, and then could fetch nothing: there the other scripts come by themselves, behind
// the page.
if (location.protocol !== 'file:') addEventListener('load', () => { bring('record'); bring('shown'); });
each('[data-look],[data-do=gloves],[data-do=cards],.find input,.maywe input', html, b => { b.disabled = false; });
switches();
if (!SINGLE) { // a single file is begun by its last script
  lapwork.section = $('section.page');
  show();
  if (!still) begin();
}
