// Before layout: the look that was chosen on this device, and in a single file only the page asked for. If the pack's
// script is not ready after three seconds, every page shows again, in order.
(function () {
  'use strict';
  const html = document.documentElement;
  try {
    html.dataset.look = localStorage.getItem('lapwork-look') || '';
    html.dataset.gloves = localStorage.getItem('lapwork-gloves') || '';
  } catch (e) { html.dataset.look = ''; }
  if (html.dataset.build !== 'single') return;
  html.classList.add('one');
  setTimeout(function () { if (!html.classList.contains('ready')) html.classList.remove('one'); }, 3000);
})();
