// Where a tablet keeps records: IndexedDB, or localStorage where that cannot be opened. All local files of a browser may
// share it, so its name holds the pack's.
(function () {
'use strict';
const answer = q => new Promise((yes, no) => { q.onsuccess = () => yes(q.result); q.onerror = () => no(q.error); });
async function openDB(name) {
  const q = indexedDB.open(name, 1);
  q.onupgradeneeded = () => { q.result.createObjectStore('recs', {keyPath: 'hash'}); q.result.createObjectStore('photos'); q.result.createObjectStore('meta'); };
  const db = await answer(q);
  db.onversionchange = () => db.close();
  const run = async (names, act) => {
    const t = db.transaction(names, 'readwrite', {durability: 'strict'});
    const end = new Promise((yes, no) => { t.oncomplete = yes; t.onabort = () => no(t.error || new Error('not written')); });
    end.catch(() => 0);
    const out = await act(...names.map(n => t.objectStore(n)));
    await end;
    return out;
  };
  const read = (name, key) => { const s = db.transaction(name).objectStore(name); return answer(key === undefined ? s.getAll() : s.get(key)); };
  return {
    read,
    set: (name, key, v) => run([name], s => answer(s.put(v, key))),
    claim: (key, v) => run(['meta'], async s => { const old = await answer(s.get(key)); if (old === undefined) s.put(v, key); return old === undefined ? v : old; }),
    // One transaction reads the head and writes the record: two tabs never take the same place in the chain.
    append: make => run(['recs', 'meta'], async (recs, meta) => {
      const r = make(await answer(meta.get('head')) || {seq: 0, hash: ''});
      recs.add(r); meta.put({seq: r.seq, hash: r.hash}, 'head');
      return r;
    }),
    add: list => run(['recs'], s => { list.forEach(r => s.put(r)); }),
  };
}
function openLocal(base) {
  const at = (name, key) => base + '/' + name + '/' + key, get = k => { const t = localStorage.getItem(k); return t === null ? undefined : JSON.parse(t); };
  const put = (name, key, v) => localStorage.setItem(at(name, key), JSON.stringify(v instanceof ArrayBuffer ? {bytes: [...new Uint8Array(v)]} : v));
  const back = v => v && v.bytes ? new Uint8Array(v.bytes).buffer : v;
  return {
    read: async (name, key) => key !== undefined ? back(get(at(name, key))) : Object.keys(localStorage).filter(k => k.startsWith(at(name, ''))).map(get),
    set: async (name, key, v) => put(name, key, v),
    claim: async (key, v) => { const old = get(at('meta', key)); if (old === undefined) put('meta', key, v); return old === undefined ? v : old; },
    append: async make => {
      const r = make(get(at('meta', 'head')) || {seq: 0, hash: ''});
      put('recs', r.hash, r); put('meta', 'head', {seq: r.seq, hash: r.hash});
      return r;
    },
    add: async list => list.forEach(r => put('recs', r.hash, r)),
  };
}
// open gives the store. Records from a time when only localStorage could be opened are taken along.
window.lapwork.open = async name => {
  const plain = openLocal(name);
  let db = null;
  try { db = await openDB(name); } catch (e) { return plain; }
  try { await db.add(await plain.read('recs')); } catch (e) { /* no localStorage: nothing to take along */ }
  return db;
};
})();
