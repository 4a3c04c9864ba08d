/**
 * How many seeded runs a law makes: all of them under `npm run laws` (LAWS=full), a tenth in `npm test`.
 * One seed for everything unless SEED is given, so that a failure can be repeated.
 */
export function runs(full: number): number {
  return FULL ? full : Math.max(1, Math.ceil(full / 10));
}

/** `npm run laws`. */
export const FULL: boolean = process.env['LAWS'] === 'full';

export const SEED: number = Number(process.env['SEED'] ?? 20260301);

/** Small deterministic generator for tests that draw many cases by hand (mulberry32, public domain). */
export function random(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (s + 0x6d2b79f5) >>> 0;
    let t = s;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
