/** Values of functions to 50 digits by whole numbers, from the definitions (series and Machin's formula), and how far a double is from them. */

const BITS = 200n;
const ONE = 1n << BITS;

/** Rounded towards nothing, so that a series with changing signs ends. */
const times = (a: bigint, b: bigint) => (a * b) / ONE;
const over = (a: bigint, b: bigint) => (a << BITS) / b;

/** A double as a fraction of 2^200; what is below that is dropped. */
export function exactly(x: number): bigint {
  let n = 0;
  let m = x;
  while (!Number.isInteger(m)) {
    m *= 2;
    n++;
  }
  return (BigInt(m) << BITS) / (1n << BigInt(n));
}

function root(a: bigint): bigint {
  if (a === 0n) return 0n;
  const square = a << BITS;
  let x = 1n << BigInt((square.toString(2).length + 1) >> 1);
  for (;;) {
    const next = (x + square / x) >> 1n;
    if (next >= x) return x;
    x = next;
  }
}

/** Sum of x^k / k! with the signs and steps of the series. */
function factorials(x: bigint, first: bigint, from: number, step: number, sign: bigint): bigint {
  let term = first;
  let sum = 0n;
  for (let k = from; term !== 0n; k += step) {
    sum += term;
    for (let i = 1; i <= step; i++) term = times(term, x) / BigInt(k + i);
    term *= sign;
  }
  return sum;
}

export const sineOf = (x: bigint): bigint => factorials(x, x, 1, 2, -1n);
export const cosineOf = (x: bigint): bigint => factorials(x, ONE, 0, 2, -1n);
export const tangentOf = (x: bigint): bigint => over(sineOf(x), cosineOf(x));
export const exponentialOf = (x: bigint): bigint => factorials(x, ONE, 0, 1, 1n);

function series(x: bigint, sign: bigint): bigint {
  const square = times(x, x);
  let power = x;
  let sum = 0n;
  for (let n = 1n; power !== 0n; n += 2n) {
    sum += power / n;
    power = times(power, square) * sign;
  }
  return sum;
}

/** Halved until the series is short. */
export function arctangentOf(x: bigint): bigint {
  let t = x;
  let doubled = 0n;
  while (t > ONE / 20n || t < -ONE / 20n) {
    t = over(t, ONE + root(ONE + times(t, t)));
    doubled++;
  }
  return series(t, -1n) << doubled;
}

/** Machin, 1706: pi/4 = 4 atan(1/5) - atan(1/239). */
const PI = 16n * series(ONE / 5n, -1n) - 4n * series(ONE / 239n, -1n);

export function directionOf(y: bigint, x: bigint): bigint {
  if (x === 0n) return y > 0n ? PI / 2n : -PI / 2n;
  const a = arctangentOf(over(y, x));
  return x > 0n ? a : y < 0n ? a - PI : a + PI;
}

export const arcsineOf = (x: bigint): bigint => directionOf(x, root(ONE - times(x, x)));
export const arccosineOf = (x: bigint): bigint => directionOf(root(ONE - times(x, x)), x);

export function logarithmOf(x: bigint): bigint {
  let m = x;
  let doubled = 1n;
  while (m > (ONE * 11n) / 10n || m < (ONE * 10n) / 11n) {
    m = root(m);
    doubled *= 2n;
  }
  return 2n * doubled * series(over(m - ONE, m + ONE), 1n);
}

export const powerOf = (x: bigint, y: bigint): bigint => exponentialOf(times(y, logarithmOf(x)));

export function hyperbolicTangentOf(x: bigint): bigint {
  const grown = exponentialOf(2n * x);
  return over(grown - ONE, grown + ONE);
}

/** How far a double is from the true value, in units in its last place. */
export function ulpsOff(got: number, wanted: bigint): number {
  const off = Number(exactly(got) - wanted);
  return Math.abs(off) / (2 ** Number(BITS) * unitInLastPlace(got));
}

function unitInLastPlace(x: number): number {
  return 2 ** (Math.floor(Math.log2(Math.max(Math.abs(x), 1e-300))) - 52);
}

/** The worst of many draws, in units in the last place. */
export function worstOf(
  runs: number,
  draw: () => number,
  tried: (x: number) => number,
  wanted: (x: number) => bigint,
): number {
  let worst = 0;
  for (let i = 0; i < runs; i++) {
    const x = draw();
    worst = Math.max(worst, ulpsOff(tried(x), wanted(x)));
  }
  return worst;
}
