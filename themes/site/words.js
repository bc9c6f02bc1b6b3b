// What scripts say, in the pack's language.
const texts = window.lapworkTexts ||= {};

// tr gives a text in the pack's language: %s and %d take the values in order, %[2]s the second. The first whole number chooses
// between plural forms. A text without a translation stays English.
export function tr(text, ...values) {
  let t = texts[text] || text, next = 0;
  if (typeof t !== 'string') {
    const n = values.find(v => Number.isInteger(v));
    t = n !== undefined && t[new Intl.PluralRules(document.documentElement.lang).select(n)] || t.other;
  }
  return t.replace(/%(?:\[(\d+)\])?([sd%])/g, (all, at, verb) => verb === '%' ? '%' : String(values[at ? at - 1 : next++]));
}
