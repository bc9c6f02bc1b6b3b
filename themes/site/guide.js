// Finding the way in a pack: which page of a single file shows, how it looks, search, and whether work may start. Nothing
// here is kept but the look.
(function () {
'use strict';
const html = document.documentElement, D = html.dataset, SINGLE = D.build === 'single', lapwork = window.lapwork, {tr} = lapwork;
const $ = (sel, at) => (at || document).querySelector(sel);
const all = (sel, at) => [...(at || document).querySelectorAll(sel)];
const el = (tag, text, cls) => { const e = document.createElement(tag); e.textContent = text || ''; if (cls) e.className = cls; return e; };
let clearing = 0;
function say(text) { const p = $('#said'); p.textContent = text; p.classList.add('on'); clearTimeout(clearing); clearing = setTimeout(() => p.classList.remove('on'), 9000); }

// ---- Looks
const decimal = t => { t = t.trim().replace(',', '.').replace(/^\+/, ''); return /^-?\d{1,8}(\.\d{1,4})?$/.test(t) ? t : ''; };
function look(key, value) {
  D[key] = value;
  html.dispatchEvent(new Event('look'));
  try { localStorage.setItem('lapwork-' + key, value); } catch (e) { say(tr('The choice lasts until the page is left.')); }
  switches();
}
function switches() {
  all('[data-do=look]').forEach(b => b.setAttribute('aria-pressed', D.look === b.dataset.look));
  $('[data-do=gloves]').setAttribute('aria-pressed', !!D.gloves);
}

// ---- May we start, and search
const psat = t => t < 0 ? 610.5 * Math.exp(21.875 * t / (265.5 + t)) : 610.5 * Math.exp(17.269 * t / (237.3 + t));
function dewPoint(t, rh) {
  const x = Math.log(psat(t) * rh / 100 / 610.5);
  return x < 0 ? 265.5 * x / (21.875 - x) : 237.3 * x / (17.269 - x);
}
function mayWe(f) {
  const v = n => { const t = decimal(f.elements[n].value); return t === '' ? NaN : +t; }, air = v('air'), rh = v('rh'), surface = v('surface'), timber = v('timber'), d = f.dataset, no = [];
  const out = $('output', f);
  if (isNaN(air + rh + surface) || rh <= 0 || rh > 100 || Math.abs(air) > 60) return out.textContent = tr('Enter air, humidity and the coldest surface.');
  const dew = dewPoint(air, rh), margin = surface - dew;
  if (d.surface && surface < +d.surface) no.push(tr('surface below %s °C', d.surface));
  if (d.margin && margin < +d.margin) no.push(tr('less than %s K above the dew point', d.margin));
  if (d.humidity && rh > +d.humidity) no.push(tr('humidity above %s %%', d.humidity));
  if (d.timber && isNaN(timber)) no.push(tr('timber not measured'));
  if (d.timber && timber > +d.timber) no.push(tr('timber above %s %%', d.timber));
  const limits = d.surface || d.margin || d.humidity || d.timber;
  out.className = limits ? no.length ? 'is-stop' : 'is-done' : '';
  const dewy = dew.toFixed(1), room = margin.toFixed(1);
  const read = isNaN(timber) ? tr('Air %s °C, %s %%, surface %s °C: dew point %s °C, margin %s K.', air, rh, surface, dewy, room) : tr('Air %s °C, %s %%, surface %s °C, timber %s %%: dew point %s °C, margin %s K.', air, rh, surface, timber, dewy, room);
  return out.textContent = (limits ? (no.length ? tr('No: %s.', no.join(', ')) : tr('Yes.')) + ' ' : '') + read;
}
let entries = null;
const data = id => { const e = document.getElementById(id); return e ? JSON.parse(e.textContent) : []; };
const link = p => {
  const [page, id] = p.split('#');
  if (!SINGLE) return '../'.repeat(lapwork.section.dataset.path.split('/').length - 1) + page + (D.silo || '') + (id ? '#' + id : '');
  return '#' + page.replace(/\.html$/, '') + (id ? ':' + id : '');
};
function find(f) {
  entries = entries || data('search-data');
  const words = $('input', f).value.toLowerCase().split(/\s+/).filter(Boolean);
  const hits = words.length ? entries.filter(e => words.every(w => e.t.toLowerCase().includes(w))) : [];
  f.nextElementSibling.replaceChildren(...hits.slice(0, 40).map(e => { const li = el('li'), a = el('a', e.t); a.href = link(e.p); li.append(a, el('span', ' ' + e.k, 'q')); return li; }), ...(words.length && !hits.length ? [el('li', tr('Nothing found.'))] : []));
}
document.addEventListener('input', ev => {
  const f = ev.target.form;
  if (f && f.matches('.maywe')) mayWe(f);
  if (f && f.matches('.find')) find(f);
});

// ---- Wall cards: the surfaces of a room together, two on a sheet
function cards() {
  const room = lapwork.section.dataset.room;
  all('section.page').forEach(s => s.classList.toggle('held', s.dataset.room === room && !!$('.card', s)));
  html.classList.add('cards');
  print();
}
addEventListener('afterprint', () => html.classList.remove('cards'));

// ---- Pages
function show() {
  let id = location.hash.slice(1);
  try { id = decodeURIComponent(id); } catch (e) { id = ''; }
  const at = id && document.getElementById(id), page = at && at.closest('section.page');
  if (SINGLE && (!at || page || !lapwork.section)) {
    all('section.page.on').forEach(s => s.classList.remove('on'));
    const section = lapwork.section = page || $('section.page');
    section.classList.add('on');
    $('.top .where').textContent = section.dataset.where;
    all('.strip a').forEach(a => a.getAttribute('href') === '#' + section.dataset.room.replace(/\.html$/, '') ? a.setAttribute('aria-current', 'page') : a.removeAttribute('aria-current'));
  } else lapwork.section = lapwork.section || $('section.page');
  html.classList.add('ready');
  try { const p = sessionStorage.getItem('lapwork-place'), i = $('[name=place]', lapwork.section); if (p && i) i.value = p; } catch (e) { /* no session storage: the place is typed */ }
  lapwork.paint();
  if (SINGLE) { if (at && at !== lapwork.section) at.scrollIntoView(); else scrollTo(0, 0); }
  const here = $('.strip [aria-current]');
  if (here) here.parentElement.scrollLeft = here.offsetLeft - 80;
}

Object.assign(lapwork, {say, dewPoint, psat, mayWe, decimal, paint: () => 0});
addEventListener('hashchange', show);
document.addEventListener('click', ev => {
  if (ev.target.closest('.nextup') && lapwork.next) { ev.preventDefault(); lapwork.next.scrollIntoView(); }
  const b = ev.target.closest('[data-do=look],[data-do=gloves],[data-do=cards]');
  if (b && b.dataset.do === 'cards') cards();
  else if (b && b.dataset.do === 'look') look('look', b.dataset.look);
  else if (b) look('gloves', D.gloves ? '' : 'on');
});
all('[data-do=look],[data-do=gloves],[data-do=cards],.find input,.maywe input').forEach(b => { b.disabled = false; });
switches(); show();
})();
