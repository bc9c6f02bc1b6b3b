// Where a tablet keeps records: IndexedDB. All local files of a browser may share it, so its name holds the pack's.
import {answer} from './dom.js';

// openDB gives what every page asks of the store; run is what more is made of (writing.js).
export async function openDB(name) {
  const q = indexedDB.open(name, 1);
  q.onupgradeneeded = () => {
    const db = q.result;
    db.createObjectStore('recs', {keyPath: 'hash'});
    db.createObjectStore('photos');
    db.createObjectStore('meta');
  };
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
  return {
    run,
    read: (name, key) => { const s = db.transaction(name).objectStore(name); return answer(key === undefined ? s.getAll() : s.get(key)); },
    set: (name, key, v) => run([name], s => answer(s.put(v, key))),
    claim: (key, v) => run(['meta'], async s => { const old = await answer(s.get(key)); if (old === undefined) s.put(v, key); return old === undefined ? v : old; }),
  };
}
