// Before layout: the look that was chosen on this device, and in a single file only the page asked for. If the pack's
// script is not ready after three seconds, every page shows again, in order.
(function () {
  'use strict';
  const html = document.documentElement;
  try {
    html.dataset.look = localStorage.getItem('lapwork-look') || '';
    html.dataset.gloves = localStorage.getItem('lapwork-gloves') || '';
  } catch (e) { html.dataset.look = ''; }
  // Drawings follow the scheme by class.
  const night = matchMedia('(prefers-color-scheme: dark)'), apply = function () {
    const look = html.dataset.look;
    html.classList.toggle('sun', look === 'sun');
    html.classList.toggle('dark', look === 'dark' || !look && night.matches);
  };
  apply();
  night.addEventListener('change', apply);
  html.addEventListener('look', apply);
  if (html.dataset.build !== 'single') return;
  html.classList.add('one');
  setTimeout(function () { if (!html.classList.contains('ready')) html.classList.remove('one'); }, 3000);
})();
