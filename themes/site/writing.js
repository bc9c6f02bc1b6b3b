// What only recording asks of a store, and the plain store where no database can be opened: localStorage.
import {answer} from './dom.js';

export const append = (store, make) => store.append ? store.append(make) : store.run(['recs', 'meta'], async (recs, meta) => {
  // One transaction reads the head and writes the record: two tabs never take the same place in the chain.
  const r = make(await answer(meta.get('head')) || {seq: 0, hash: ''});
  recs.add(r);
  meta.put({seq: r.seq, hash: r.hash}, 'head');
  return r;
});
export const add = (store, list) => store.add ? store.add(list) : store.run(['recs'], s => { list.forEach(r => s.put(r)); });

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
      put('recs', r.hash, r);
      put('meta', 'head', {seq: r.seq, hash: r.hash});
      return r;
    },
    add: async list => list.forEach(r => put('recs', r.hash, r)),
  };
}
// plain gives the plain store, or the database with the records of a time when only localStorage could be opened.
export async function plain(store, base) {
  const local = openLocal(base);
  if (!store) return local;
  await add(store, await local.read('recs'));
  return store;
}
