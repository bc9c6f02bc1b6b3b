// What the script that every page loads lends to this one. Of another issue of the pack it would be no help: then nothing is
// recorded, and the page says that a file is missing.
const lapwork = window.lapwork;
if (lapwork.build !== BUILD) throw new Error('a script of another issue');

export {lapwork};
export const {tr, tablet, channel, random, head, paint, update, status, say, when, at, fresh, inside, ofElement, stateOf, isRelease, wordOf} = lapwork;
export const decimal = t => { t = t.trim().replace(',', '.').replace(/^\+/, ''); return /^-?\d{1,8}(\.\d{1,4})?$/.test(t) ? t : ''; };
export const html = document.documentElement, D = html.dataset;
export function today() {
  const d = new Date();
  return new Date(d.getTime() - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}
