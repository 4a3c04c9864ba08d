/** SHA-256 (FIPS 180-4) of a text in UTF-8, base64: the content policy names the page's own scripts by it. */

export function sha256Base64(text: string): string {
  const message = padded(new TextEncoder().encode(text));
  const h = Uint32Array.from(START);
  const w = new Uint32Array(64);
  for (let at = 0; at < message.byteLength; at += 64) round(h, w, message, at);
  let out = '';
  for (const word of h) for (const shift of [24, 16, 8, 0]) out += String.fromCharCode((word >>> shift) & 255);
  return btoa(out);
}

/** One bit, zeros, and the length in bits in the last eight bytes. */
function padded(bytes: Uint8Array): DataView {
  const size = Math.ceil((bytes.length + 9) / 64) * 64;
  const out = new Uint8Array(size);
  out.set(bytes);
  out[bytes.length] = 128;
  const view = new DataView(out.buffer);
  view.setUint32(size - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(size - 4, (bytes.length * 8) >>> 0);
  return view;
}

function round(h: Uint32Array, w: Uint32Array, message: DataView, at: number): void {
  for (let i = 0; i < 16; i++) w[i] = message.getUint32(at + 4 * i);
  for (let i = 16; i < 64; i++) {
    const a = w[i - 15]!;
    const b = w[i - 2]!;
    const s0 = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const s1 = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    w[i] = w[i - 16]! + s0 + w[i - 7]! + s1;
  }
  let [a, b, c, d, e, f, g, k] = h as unknown as [number, number, number, number, number, number, number, number];
  for (let i = 0; i < 64; i++) {
    const t1 = (k + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + ((e & f) ^ (~e & g)) + ROOTS[i]! + w[i]!) >>> 0;
    const t2 = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) >>> 0;
    k = g;
    g = f;
    f = e;
    e = (d + t1) >>> 0;
    d = c;
    c = b;
    b = a;
    a = (t1 + t2) >>> 0;
  }
  for (const [i, v] of [a, b, c, d, e, f, g, k].entries()) h[i] = h[i]! + v;
}

function turn(v: number, by: number): number {
  return (v >>> by) | (v << (32 - by));
}

const PRIMES = firstPrimes(64);
/** First 32 bits of the fractional parts of the square roots of the first 8 primes, and of the cube roots of the first 64. */
const START = PRIMES.slice(0, 8).map((p) => fraction(Math.sqrt(p)));
const ROOTS = PRIMES.map((p) => fraction(Math.cbrt(p)));

function fraction(v: number): number {
  return Math.floor((v - Math.floor(v)) * 2 ** 32);
}

function firstPrimes(count: number): number[] {
  const found: number[] = [];
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p !== 0)) found.push(n);
  return found;
}
