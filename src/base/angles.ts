/**
 * Sine, cosine and the rest from +, -, *, / and the square root, which IEEE 754 fixes to the last bit. The language lets each engine
 * approximate its own, and they do differ in the last digit; with these one job gives the same bytes in every engine.
 * Errors in units in the last place (ulp), as tests/base/angles.test.ts measures them: sine, cosine and the arctangents under 0.9,
 * arcsine and arccosine under 1.6, tangent under 2; of angles up to 100000.
 */
import { productRest, sumRest } from './series.ts';

/** Half of pi in pieces: the first two have 33 bits, so that their product with a whole number of 20 bits is exact. */
const QUARTER_A = 1.5707963267341256;
const QUARTER_B = 6.077100506303966e-11;
const QUARTER_C = 2.0222662487959506e-21;
/** Half of pi, and what the nearest double leaves out. */
const QUARTER = Math.PI / 2;
const QUARTER_REST = 6.123233995736766e-17;
const ROUND_BY = 6755399441055744;

export function sine(x: number): number {
  return x === 0 ? x : atQuarters(x, 0);
}

export function cosine(x: number): number {
  return atQuarters(x, 1);
}

export function tangent(x: number): number {
  return sine(x) / cosine(x);
}

/** sin(x + quarters pi/2). */
function atQuarters(x: number, quarters: number): number {
  const n = Math.abs(x) <= Math.PI / 4 ? 0 : x * (2 / Math.PI) + ROUND_BY - ROUND_BY;
  const a = x - n * QUARTER_A;
  const b = n * QUARTER_B;
  const r = a - b;
  const rest = sumRest(a, -b, r) - n * QUARTER_C;
  const turn = n + quarters;
  const value = (turn & 1) === 0 ? sineNear0(r, rest) : cosineNear0(r, rest);
  return (turn & 2) === 0 ? value : -value;
}

/** Taylor's series to x^17: 8e-20 of the value is left out at pi/4. */
function sineNear0(x: number, rest: number): number {
  const z = x * x;
  const tail =
    -1 / 6 +
    z *
      (1 / 120 +
        z *
          (-1 / 5040 +
            z *
              (1 / 362880 +
                z * (-1 / 39916800 + z * (1 / 6227020800 + z * (-1 / 1307674368000 + z / 355687428096000))))));
  return x + (x * z * tail + rest * (1 - z / 2));
}

/** To x^18. */
function cosineNear0(x: number, rest: number): number {
  const z = x * x;
  const half = z / 2;
  const tail =
    1 / 24 +
    z *
      (-1 / 720 +
        z *
          (1 / 40320 +
            z *
              (-1 / 3628800 +
                z * (1 / 479001600 + z * (-1 / 87178291200 + z * (1 / 20922789888000 - z / 6402373705728000))))));
  const first = 1 - half;
  return first + (1 - first - half + (z * z * tail - x * rest));
}

export function arctangent(x: number): number {
  return arctangent2(x, 1);
}

/** Out of -1 to 1 it is NaN. */
export function arcsine(x: number): number {
  return arctangent2(x, Math.sqrt((1 - x) * (1 + x)));
}

export function arccosine(x: number): number {
  return arctangent2(Math.sqrt((1 - x) * (1 + x)), x);
}

/** The direction of (x, y) from -pi to pi; with a zero as IEEE 754 has it. Coordinates without end are not for this. */
export function arctangent2(y: number, x: number): number {
  const up = Math.abs(y);
  const along = Math.abs(x);
  const isLeft = x < 0 || Object.is(x, -0);
  const upper =
    up <= along ? (isLeft ? angle(up, along, -1, 2) : angle(up, along, 1, 0)) : angle(along, up, isLeft ? 1 : -1, 1);
  return y < 0 || Object.is(y, -0) ? -upper : upper;
}

/** Arctangents of 0, 1/8 to 1, and what each nearest double leaves out. */
const EIGHTHS: readonly number[] = [
  0, 0.12435499454676144, 0.24497866312686414, 0.35877067027057225, 0.4636476090008061, 0.5585993153435624,
  0.6435011087932844, 0.7188299996216245, 0.7853981633974483,
];
const EIGHTHS_REST: readonly number[] = [
  0, -3.1253241424539383e-18, 1.0698755618734451e-17, -2.4623815582638635e-17, 2.2698777452961687e-17,
  -5.4556305485916264e-18, 1.5834785051444286e-17, -2.1478388444456983e-17, 3.061616997868383e-17,
];

/**
 * quarters pi/2 + sign atan(n/d), with 0 <= n <= d. From the nearest eighth c on: atan(n/d) = atan(c) + atan((n - c d)/(d + c n)).
 */
function angle(n: number, d: number, sign: number, quarters: number): number {
  if (n === 0) return quarters * QUARTER;
  const eighth = Math.round((8 * n) / d);
  const c = eighth / 8;
  const cd = c * d;
  const top = n - cd;
  const topRest = sumRest(n, -cd, top) - productRest(c, d, cd);
  const cn = c * n;
  const bottom = d + cn;
  const q = top / bottom;
  const back = q * bottom;
  const bottomRest = sumRest(d, cn, bottom) + productRest(c, n, cn);
  const rest = (top - back - productRest(q, bottom, back) + topRest - q * bottomRest) / bottom;
  const z = q * q;
  const tail = q * z * (-1 / 3 + z * (1 / 5 + z * (-1 / 7 + z * (1 / 9 + z * (-1 / 11 + z / 13)))));
  const start = quarters * QUARTER;
  const far = sign * EIGHTHS[eighth]!;
  const sum = start + far;
  const rests = sumRest(start, far, sum) + quarters * QUARTER_REST + sign * (EIGHTHS_REST[eighth]! + rest + tail);
  const value = sum + sign * q;
  return value + (sumRest(sum, sign * q, value) + rests);
}
