// Canonical text (RFC 8785 for objects, arrays, strings and whole numbers) and SHA-256 (FIPS 180-4). Browsers lend their own
// SHA-256 only to secure pages, and a site cabin's plain http is none.
const utf8 = s => new TextEncoder().encode(s);
export function canon(v) {
  if (Array.isArray(v)) return '[' + v.map(canon).join() + ']';
  if (v && typeof v === 'object') return '{' + Object.keys(v).sort().map(k => JSON.stringify(k) + ':' + canon(v[k])).join() + '}';
  return JSON.stringify(v);
}
const K = [], H = [];
for (let n = 2; K.length < 64; n++) {
  let prime = true;
  for (let d = 2; d * d <= n; d++) if (n % d === 0) prime = false;
  if (!prime) continue;
  if (H.length < 8) H.push((Math.sqrt(n) % 1) * 4294967296 | 0);
  K.push((Math.cbrt(n) % 1) * 4294967296 | 0);
}
export function sha256(bytes) {
  const n = bytes.length, buf = new Uint8Array((n + 72 >> 6) << 6), view = new DataView(buf.buffer), h = H.slice(), w = new Int32Array(64);
  const rot = (x, k) => x >>> k | x << 32 - k;
  buf.set(bytes); buf[n] = 128;
  view.setUint32(buf.length - 8, n / 536870912); view.setUint32(buf.length - 4, n << 3);
  for (let at = 0; at < buf.length; at += 64) {
    for (let i = 0; i < 64; i++) {
      if (i < 16) { w[i] = view.getInt32(at + 4 * i); continue; }
      const a = w[i - 15], b = w[i - 2];
      w[i] = w[i - 16] + (rot(a, 7) ^ rot(a, 18) ^ a >>> 3) + w[i - 7] + (rot(b, 17) ^ rot(b, 19) ^ b >>> 10);
    }
    const s = h.slice();
    for (let i = 0; i < 64; i++) {
      const [a, b, c, , e, f, g] = s;
      const t = s[7] + (rot(e, 6) ^ rot(e, 11) ^ rot(e, 25)) + (e & f ^ ~e & g) + K[i] + w[i] | 0;
      s.unshift(t + (rot(a, 2) ^ rot(a, 13) ^ rot(a, 22)) + (a & b ^ a & c ^ b & c) | 0); s.pop(); s[4] = s[4] + t | 0;
    }
    for (let i = 0; i < 8; i++) h[i] = h[i] + s[i] | 0;
  }
  return h.map(x => (x >>> 0).toString(16).padStart(8, '0')).join('');
}
export const hashOf = v => sha256(utf8(canon(v)));
