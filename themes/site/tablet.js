// What this tablet knows, in one place for both scripts of a pack.
export const html = document.documentElement, D = html.dataset, SINGLE = D.build === 'single', NAME = 'lapwork-' + D.pack;

export const tablet = {
  store: null, // null: not recording
  dev: '', // this tablet
  who: '', // whoever holds it
  recs: [], // all records, in the order that holds
  sent: {seq: 0, at: ''}, // the last export: its last record of this tablet, and when
  latest: new Map(), // by check: its latest record of each kind
  said: {}, // by check and kind: the latest value of each tablet
  gone: new Set(), // ids of the records taken back
  used: '', // how full the storage is, in words
};

// The page that shows. In a single file it changes, so it stands where everybody looks it up.
export const lapwork = window.lapwork = {};

export const random = () => [...crypto.getRandomValues(new Uint8Array(12))].map(b => b.toString(16).padStart(2, '0')).join('');
// head is the number of the last record of this tablet.
export const head = () => Math.max(0, ...tablet.recs.filter(r => r.dev === tablet.dev).map(r => r.seq));
// Tabs of one browser tell each other that something was kept.
export const channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel(NAME) : null;
