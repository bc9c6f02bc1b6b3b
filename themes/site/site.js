// What a site keeps beside its checks: strips as measured, waits that run, spots settled on site, what is still true as built
// after a new issue, today's readings, goods taken in and the day's sheet. The pack's script calls this one and keeps the
// records.
(function () {
'use strict';
const lapwork = window.lapwork, html = document.documentElement, {say, decimal, tr} = lapwork;
const $ = (sel, at) => (at || document).querySelector(sel);
const all = (sel, at) => [...(at || document).querySelectorAll(sel)];
const el = (tag, text, cls) => { const e = document.createElement(tag); e.textContent = text || ''; if (cls) e.className = cls; return e; };
const today = () => { const d = new Date(); return new Date(d.getTime() - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10); };
const moment = t => new Date(t).toLocaleString(html.lang, {weekday: 'short', day: 'numeric', month: 'short', hour: '2-digit', minute: '2-digit', hour12: false});
const filled = (f, names) => Object.fromEntries(names.map(n => [n, f.elements[n] ? f.elements[n].value.trim().slice(0, 2000) : '']).filter(x => x[1]));

// wordsOf says what a server's refusal means for whoever holds the tablet. Nothing is lost by one: the records stay here.
async function wordsOf(answer) {
  const what = {401: tr('This tablet is not let in. Scan the code on the computer again.'), 403: tr('The computer does not take records at this address.'), 413: tr('The file is too large for it. Use Export records.'), 422: tr('The computer refused the records. Use Export records and hand the file in.'), 429: tr('The computer is busy. It is tried again.'), 507: tr('The computer could not write them. Tell whoever runs it.')}[answer.status] || tr('The computer answered %s.', answer.status);
  let says = [];
  try { says = JSON.parse(await answer.text()).says || []; } catch (e) { /* no words came with it */ }
  return [tr('Not sent; kept on this tablet.'), what, says.length ? tr('It says: %s', says.join(' ')) : ''].filter(Boolean).join(' ');
}

lapwork.site = kit => {
const at = key => kit.latest().get(key) || {};
const fresh = (key, kind, seal) => { const r = at(key)[kind]; return r && (r.seal || '').startsWith(seal || '') ? r : null; };

// ---- As measured: the cut is the clear length and what the drawing adds to it, the next whole millimetre up
function cuts(section) {
  const more = {};
  all('[data-cut]', section).forEach(e => {
    if (!$('output', e)) { e.append($('#measured').content.cloneNode(true)); e.classList.add('set'); if (kit.open()) all(':disabled', e).forEach(x => { x.disabled = false; }); }
    const d = e.dataset, any = at(d.key).cut, r = fresh(d.key, 'cut', d.seal), out = $('output', e);
    if (r && +r.value + +d.add > +d.was) more[d.roll] = (more[d.roll] || 0) + +r.value + +d.add - d.was;
    const undo = $('[data-do=uncut]', e);
    undo.hidden = !r;
    if (!r) { out.className = any ? 'is-old' : ''; out.textContent = any ? tr('Measured %s mm against another drawing: measure again.', any.value) : ''; return; }
    const cut = +r.value + +d.add;
    out.className = cut > d.most ? 'is-stop' : 'is-done';
    out.textContent = tr('Cut %s mm: measured %s + %s, %s %s', cut, r.value, d.add, r.who || '', kit.when(r)) + (cut > d.most ? tr('. Longer than any roll: join it on a stud and ask the site lead.') : '');
  });
  all('[data-cut]', section).forEach(e => {
    const d = e.dataset, r = fresh(d.key, 'cut', d.seal), out = $('output', e);
    if (!r || +r.value + +d.add <= +d.was || !(more[d.roll] > +d.left) || out.className === 'is-stop') return;
    out.className = 'is-part';
    out.textContent += tr('. Roll %s has %s mm left and %s mm more are wanted: cut this one from another roll.', d.roll, d.left, more[d.roll]);
  });
}

// ---- Waits: each runs from the last thing that was placed, here or, by the checks named in from, on an earlier page of the room
function placed(act, d) {
  const before = (d.from || '').split(' ').flatMap(key => Object.values(at(key))).filter(r => r.value !== 'no' && !r.but);
  const times = [at(d.key).tick, ...before].filter(Boolean).map(r => r.at);
  if (act) all('[data-check]', act).forEach(e => {
    const s = kit.ofElement(e);
    if (s.last && (s.cls === 'done' || s.cls === 'part')) times.push(s.last.at);
  });
  return times.length ? Math.max(...times.map(Date.parse)) : 0;
}
function clocks(section) {
  const waits = [], held = {}, now = Date.now();
  all('.clock', section).forEach(p => {
    const d = p.dataset, start = placed(p.closest('.act'), d), end = start + d.wait * 60000, span = $('span', p);
    p.classList.toggle('runs', start > 0 && end > now);
    if (!start) { span.textContent = tr('%s: the wait of %s h begins when it is placed.', d.what, d.wait / 60); return; }
    span.textContent = end > now ? tr('%s, placed %s: %s from %s.', d.what, moment(start), d.use, moment(end)) : tr('%s, placed %s: %s since %s.', d.what, moment(start), d.use, moment(end));
    if (end <= now) return;
    waits.push([end, span.textContent]);
    (d.holds || '').split(' ').filter(Boolean).forEach(a => { held[a] = Math.max(held[a] || 0, end); });
  });
  all('.act .until', section).forEach(p => p.remove());
  all('.act', section).forEach(a => {
    const end = held[a.dataset.act];
    if (end) $('h3', a).after(el('p', tr('Not before %s: what lies under it still cures.', moment(end)), 'until is-stop'));
  });
  const list = $('.waits', section);
  waits.sort((a, b) => a[0] - b[0]);
  if (list) list.previousElementSibling.textContent = waits.length ? tr('%s waits run, the first to %s', waits.length, moment(waits[0][0])) : tr('No wait runs.');
  if (list) list.replaceChildren(...waits.map(w => el('li', w[1])));
}

// ---- Hold points: what lies behind one that nobody released is marked
// releases are the signatures that a hold wants, each as it was given or nothing.
const releases = stop => { const begin = stop.dataset.begin.split(' '); return stop.dataset.hold.split(' ').map((key, i) => fresh(key, 'sign', begin[i])); };
function holds(section) {
  const closed = [];
  all('.act, .before > .stop', section).forEach(a => {
    const head = $('h3', a), text = closed.length ? tr('behind %s', closed.join(', ')) : '';
    let mark = $('h3 .behind', a);
    if (head && text && !mark) { mark = el('b', '', 'behind'); head.append(mark); }
    if (mark && mark.textContent !== text) mark.textContent = text;
    const stop = a.matches('[data-hold]') ? a : $('[data-hold]', a);
    if (!stop) return;
    const given = releases(stop).filter(Boolean), done = given.length === stop.dataset.hold.split(' ').length, names = given.map(r => r.name).join(', ');
    if (!stop.dataset.says) stop.dataset.says = $('span', stop).textContent;
    $('span', stop).textContent = done ? tr('Released by %s, %s.', names, given.map(kit.when).sort().pop()) : [stop.dataset.says, ...(names ? [tr('signed %s', names)] : [])].join(' ');
    stop.classList.toggle('is-done', done);
    if (!done) closed.push($('.hold', stop).textContent);
  });
}

// ---- Spots without a method, and what is still true as built
function spots(section) {
  all('[data-spot]', section).forEach(e => {
    const d = e.dataset, r = fresh(d.key, 'settle', d.seal), any = at(d.key).settle, out = $('output', e);
    out.className = r ? 'is-done' : any ? 'is-old' : '';
    out.textContent = r ? tr('Settled by %s, %s: %s', [r.name, r.role].filter(Boolean).join(', '), kit.when(r), r.text) : any ? tr('Settled by %s to other words: settle it again.', any.name) : tr('Blocked, this spot only. The rest of the room goes on.');
    const shot = at(d.key).photo;
    if (shot) kit.thumb(out, shot.value);
    $('[data-do=unsettle]', e).hidden = !r;
  });
}
function again(e, s) {
  all('[data-do=stand]', e).forEach(b => b.remove());
  if (s.cls !== 'old') return;
  const b = el('button', tr('Still true as built')); b.type = 'button'; b.dataset.do = 'stand';
  $('.st', e).append(b);
}

// ---- Lists of what stands for itself
const says = {
  start: r => (r.fields || {}).answer || '',
  goods: r => [r.place, r.value && tr('batch %s', r.value), r.fields && r.fields.useby && tr('use by %s', r.fields.useby) + (r.fields.useby < r.at.slice(0, 10) ? tr(' ■ past its date') : ''), r.fields && r.fields.amount, r.text].filter(Boolean).join(', '),
  work: r => [r.place, [...document.querySelectorAll('.work [name=kind] option')].filter(o => o.value === (r.fields || {}).kind).map(o => o.textContent)[0] || (r.fields || {}).kind, r.fields && r.fields.places && tr('places: %s', r.fields.places), r.value + ' min'].filter(Boolean).join(', '),
  day: r => [r.value, ...Object.entries(r.fields || {}).map(x => x[0] + ': ' + x[1]), tr('signed %s', r.name)].filter(Boolean).join('; '),
};
function lists(section) {
  all('[data-list]', section).forEach(u => {
    const kind = u.dataset.list, list = kit.records().filter(r => r.kind === kind && !kit.gone().has(r.id)).reverse();
    u.replaceChildren(...list.slice(0, 60).map(r => {
      const li = el('li', says[kind](r) + (r.tool ? tr(', with %s', r.tool) : '') + ' · ' + (r.who || '') + ' ' + kit.when(r) + ' '), b = el('button', tr('Undo'));
      b.type = 'button'; b.dataset.do = 'undo'; b.dataset.id = r.id; li.append(b);
      return li;
    }));
  });
}
// own lists what this tablet recorded, newest first, with what its last export held.
function own(section) {
  const list = $('[data-own]', section), {dev, seq} = kit.sent();
  if (!list) return;
  const mine = kit.records().filter(r => r.dev === dev).sort((a, b) => b.seq - a.seq);
  list.replaceChildren(...mine.slice(0, 400).map(r => el('li', (r.seq > seq ? tr('■ not exported') : tr('✓ exported')) + ' · ' + [r.seq, kit.when(r), r.kind, r.check || r.place, r.value].filter(Boolean).join(' · '))));
}
// verify works the seals of this file's checks and the chain of the records out again.
function verify(b) {
  const wrong = [], checks = all('[data-check][data-seal],[data-key][data-seal]'), records = kit.records().slice().sort((x, y) => x.dev < y.dev ? -1 : x.dev > y.dev ? 1 : x.seq - y.seq);
  checks.forEach(e => { if (!lapwork.hashOf(lapwork.lines(e)).startsWith(e.dataset.seal)) wrong.push(e.dataset.check || e.dataset.key); });
  records.forEach((r, i) => {
    const body = Object.assign({}, r), before = records[i - 1];
    delete body.hash;
    if (lapwork.hashOf(body) !== r.hash || before && before.dev === r.dev && before.seq === r.seq - 1 && before.hash !== r.prev) wrong.push(tr('record %s of tablet %s', r.seq, r.dev.slice(0, 6)));
  });
  const out = $('output', b.closest('.verify'));
  out.className = wrong.length ? 'is-stop' : 'is-done';
  out.textContent = wrong.length ? tr('Changed: %s', wrong.join(', ')) : tr('%s statements and %s records are as they were sealed. Revision %s.', checks.length, records.length, html.dataset.rev);
}
// tools adds the job's instruments to a check whose number is read with one.
function tools(e, c) {
  if (!e.dataset.tools || !$('.num', c)) return;
  const l = el('label', '', 'num with'), s = el('select', '', 'tool');
  s.append(...[['', ''], ...e.dataset.tools.split(' ').map(t => t.split('='))].map(t => { const o = el('option', t[0] || tr('not named')); o.value = t[0]; o.dataset.due = t[1]; return o; }));
  s.disabled = !kit.open();
  l.append(el('span', tr('Read with')), s);
  $('.num', c).after(l);
}
// toolIn gives the instrument chosen beside a reading. One past its calibration date is kept, and flagged here and in the pack.
function toolIn(within) {
  const s = $('select.tool', within), o = s && s.selectedOptions[0];
  if (!o || !o.value) return {};
  if (o.dataset.due && o.dataset.due < today()) say(tr('%s is past its calibration date %s: the reading is kept and flagged.', o.value, o.dataset.due));
  return {v: 2, tool: o.value};
}

// Photos are made smaller before they are kept: the longest side 1600 px, JPEG 0.8. That also drops what the camera wrote about the place.
async function photo(input, e) {
  const file = input.files[0];
  input.value = '';
  if (!file || !kit.sealOf(e)) return;
  try {
    const img = new Image();
    img.src = URL.createObjectURL(file);
    await img.decode();
    const f = Math.min(1, 1600 / Math.max(img.naturalWidth, img.naturalHeight)), c = el('canvas');
    c.width = Math.round(img.naturalWidth * f); c.height = Math.round(img.naturalHeight * f);
    c.getContext('2d').drawImage(img, 0, 0, c.width, c.height);
    URL.revokeObjectURL(img.src);
    const bytes = await (await new Promise(yes => c.toBlob(yes, 'image/jpeg', 0.8))).arrayBuffer(), value = lapwork.sha256(new Uint8Array(bytes));
    await kit.open().set('photos', value, bytes);
    if (await kit.keepFor(e, {kind: 'photo', value})) kit.room();
  } catch (err) { say(tr('The photo was not kept: %s', err.message)); }
}
// A signature by finger: whole numbers in a box of 1000 by 300.
document.addEventListener('pointerdown', ev => {
  const pad = ev.target.closest('.pad');
  if (!pad || !kit.open()) return;
  const e = pad.closest('[data-check]'), box = pad.getBoundingClientRect(), now = [];
  (e.strokes = e.strokes || []).push(now);
  const put = m => { now.push(Math.round((m.clientX - box.left) / box.width * 1000), Math.round((m.clientY - box.top) / box.height * 300)); $('.ink', e).setAttribute('d', kit.path(e.strokes)); };
  pad.setPointerCapture(ev.pointerId); put(ev);
  pad.onpointermove = put;
  pad.onpointerup = pad.onpointercancel = () => { pad.onpointermove = null; };
});

const acts = {
  async cut(b, e) {
    const input = $('input', e), t = decimal(input.value), clear = Math.ceil(+t);
    if (!t || clear < 1 || clear > 200000) return say(tr('Enter the clear length in millimetres, such as 2412.'));
    const seal = kit.sealOf(e);
    if (seal && await kit.keep({v: 2, kind: 'cut', check: e.dataset.key, seal, place: e.dataset.cut, value: String(clear), unit: 'mm'})) input.value = '';
  },
  verify,
  uncut: (b, e) => kit.back(at(e.dataset.key).cut),
  placed: (b, e) => kit.keep({kind: 'tick', check: e.dataset.key, value: 'yes'}),
  async settle(b, e) {
    const seal = kit.sealOf(e);
    if (!seal) return;
    const text = await kit.ask(tr('What is to be done at %s?', e.dataset.spot));
    const name = text && await kit.ask(tr('Who decided it?'));
    const role = name && await kit.ask(tr('That person\'s part in the job'), tr('designer'));
    if (!name) return say(tr('Not settled: it needs what is to be done and who decided.'));
    await kit.keep({v: 2, kind: 'settle', check: e.dataset.key, seal, place: e.dataset.spot, text, name, role});
  },
  unsettle: (b, e) => kit.back(at(e.dataset.key).settle),
  async stand(b, e) {
    const now = at(e.dataset.check), seal = kit.sealOf(e);
    if (!seal) return;
    const covers = e.dataset.rec.split(' ').concat('tick').map(k => now[k]).filter(r => r && !(seal + ' ' + (e.dataset.also || '')).includes((r.seal || '?').slice(0, 8))).map(r => r.hash);
    const reason = await kit.ask(tr('It is still true as built because'));
    const name = reason && await kit.ask(tr('Who says so?'), kit.who());
    if (!name) return say(tr('Not kept: it needs a reason and a name.'));
    await kit.keep({v: 2, kind: 'stand', check: e.dataset.check, seal, name, reason, covers: [...new Set(covers)].sort()});
  },
};
async function submit(f) {
  const v = n => f.elements[n].value.trim();
  if (f.matches('.maywe')) {
    const fields = {answer: lapwork.mayWe(f)};
    for (const n of ['air', 'rh', 'surface', 'timber']) if (decimal(v(n))) fields[n] = decimal(v(n));
    return kit.keep(Object.assign({v: 2, kind: 'start', fields}, toolIn(f)));
  }
  if (f.matches('.goods')) {
    if (!v('place')) return say(tr('Say what came.'));
    if (await kit.keep({v: 2, kind: 'goods', place: v('place'), value: v('batch'), text: v('text'), fields: filled(f, ['useby', 'amount'])})) f.reset();
  }
  if (f.matches('.work')) {
    const minutes = decimal(v('minutes')), fields = filled(f, ['kind', 'places']);
    if (!v('room') || !fields.kind) return say(tr('Say in which room and what work.'));
    if (!minutes || minutes.startsWith('-') || fields.places && !/^[1-9][0-9]{0,3}$/.test(fields.places)) return say(tr('Minutes are a number, places a whole one.'));
    if (await kit.keep({v: 2, kind: 'work', place: v('room'), value: minutes, unit: 'min', fields})) { f.reset(); say(tr('The time is kept.')); }
  }
  if (f.matches('.day')) {
    if (!v('date') || !v('name')) return say(tr('A day\'s sheet needs its date and who signs it.'));
    const fields = filled(f, ['crew', 'hours', 'climate', 'done', 'blocked', 'minutes']);
    for (const n of ['hours', 'minutes']) if (fields[n] && !(fields[n] = decimal(fields[n]))) return say(tr('Hours and minutes are numbers.'));
    if (await kit.keep({v: 2, kind: 'day', value: v('date'), name: v('name'), fields})) { f.reset(); say(tr('The day\'s sheet is kept.')); }
  }
}
function paint(section) { cuts(section); clocks(section); holds(section); spots(section); lists(section); own(section); const d = $('.day [name=date]', section); if (d && !d.value) d.value = today(); }
setInterval(() => { if (lapwork.section) clocks(lapwork.section); }, 30000);
return {paint, again, released: e => releases(e).map(r => ({done: !!r})), acts, submit, tools, toolIn, wordsOf, photo};
};
})();
