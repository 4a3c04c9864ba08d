/**
 * Exponential, logarithm and powers from +, -, *, / and the square root, which IEEE 754 fixes to the last bit, so that every engine
 * gives the same (angles.ts says why). Errors as tests/base/powers.test.ts measures them: `exponential` and `logarithm` under 1 unit in the last place (ulp),
 * `hyperbolicTangent` under 5, `power` of a fraction under 1 ulp, of a whole exponent n under |n| + 1 ulp, `tenToThe` the nearest double.
 */

import { productRest, sumRest } from './series.ts';

/** ln 2 in two pieces: the first has 42 bits, so that its product with an exponent of two is exact. */
const LN2_A = 0.6931471805598903;
const LN2_B = 5.497923018708371e-14;
const ROUND_BY = 6755399441055744;

/** e^x. Past what a double holds it is 0 or Infinity. */
export function exponential(x: number): number {
  return raised(x, 0);
}

/** e^(x + rest), the rest far smaller than x. */
function raised(x: number, rest: number): number {
  if (!(x > -745.2 && x < 709.79)) return x >= 709.79 ? Number.POSITIVE_INFINITY : x <= -745.2 ? 0 : Number.NaN;
  const n = x / Math.LN2 + ROUND_BY - ROUND_BY;
  const a = x - n * LN2_A;
  const b = n * LN2_B;
  const r = a - b;
  const sum = 1 + r;
  const value = sum + (1 - sum + r + (curved(r) + (a - r - b + rest) * sum));
  if (n > LEAST_TWO && n < -LEAST_TWO) return value * twoToThe(n);
  // In two steps: 2^1024 is no double, and what is smaller than the least normal one is not in the table.
  const half = n > 0 ? Math.floor(n / 2) : Math.ceil(n / 2);
  return value * twoToThe(half) * twoToThe(n - half);
}

/** e^r - 1 - r by Taylor's series to r^14: 2e-18 is left out at ln(2)/2. */
function curved(r: number): number {
  const high =
    1 / 40320 +
    r *
      (1 / 362880 +
        r * (1 / 3628800 + r * (1 / 39916800 + r * (1 / 479001600 + r * (1 / 6227020800 + r / 87178291200)))));
  return r * r * (1 / 2 + r * (1 / 6 + r * (1 / 24 + r * (1 / 120 + r * (1 / 720 + r * (1 / 5040 + r * high))))));
}

/** 2^n of whole n from -1022 to 1023, exact. */
const LEAST_TWO = -1022;
const TWOS: readonly number[] = Array.from({ length: 2046 }, (_, i) =>
  wholePower(2, i < 1022 ? 1022 - i : i - 1022),
).map((two, i) => (i < 1022 ? 1 / two : two));

function twoToThe(n: number): number {
  return TWOS[n - LEAST_TWO]!;
}

/** The least double with all its digits. */
const LEAST_NORMAL = 2.2250738585072014e-308;
/** 2^1023. */
const MOST_NORMAL = 8.98846567431158e307;

/** The natural logarithm; of 0 it is -Infinity, of less NaN. */
export function logarithm(x: number): number {
  if (!(x > 0 && x < Number.POSITIVE_INFINITY)) return x === 0 ? Number.NEGATIVE_INFINITY : x > 0 ? x : Number.NaN;
  if (x > MOST_NORMAL) return logarithm(x * twoToThe(-54)) + 54 * Math.LN2;
  if (x < LEAST_NORMAL) return logarithm(x * twoToThe(54)) - 54 * Math.LN2;
  const two = exponentOfTwo(x);
  const f = x / twoToThe(two) - 1;
  const s = f / (2 + f);
  const z = s * s;
  // ln(1 + f) = 2 artanh(s) and 2 s = f - s f, with s f = f f/2 - s f f/2.
  const series = artanhSeries(z);
  const square = (f * f) / 2;
  return two * LN2_A - (square - (s * (square + series) + two * LN2_B) - f);
}

/** 2 artanh(s)/s - 2 by its series in z = s s. */
function artanhSeries(z: number): number {
  return (
    z *
    (2 / 3 +
      z *
        (2 / 5 +
          z *
            (2 / 7 +
              z * (2 / 9 + z * (2 / 11 + z * (2 / 13 + z * (2 / 15 + z * (2 / 17 + z * (2 / 19 + z * (2 / 21))))))))))
  );
}

/** The whole n for which x / 2^n is between about 0.7 and 1.4. */
function exponentOfTwo(x: number): number {
  if (x >= Math.SQRT1_2 && x <= Math.SQRT2) return 0;
  let n = 0;
  let rest = x;
  for (let step = x < 2e-10 || x > 4e9 ? 512 : 16; step >= 1; step /= 2) {
    if (rest >= twoToThe(step)) {
      rest *= twoToThe(-step);
      n += step;
    } else if (rest < twoToThe(-step)) {
      rest *= twoToThe(step);
      n -= step;
    }
  }
  return rest > Math.SQRT2 ? n + 1 : rest < Math.SQRT1_2 ? n - 1 : n;
}

/** x^y. Whole exponents by products, halves by the square root; of others x may not be negative. */
export function power(x: number, y: number): number {
  if (Number.isInteger(y)) return y < 0 ? 1 / wholePower(x, -y) : wholePower(x, y);
  if (y === 0.5) return Math.sqrt(x);
  if (x === 0) return y > 0 ? 0 : Number.POSITIVE_INFINITY;
  return toFraction(x, y);
}

/** With the logarithm in two pieces, since its error grows with the exponent: ln(1 + f) = 2 (s + s^3/3 + ...), s = f/(2 + f). */
function toFraction(x: number, y: number): number {
  if (!(x >= LEAST_NORMAL && x <= MOST_NORMAL)) return exponential(y * logarithm(x));
  const two = exponentOfTwo(x);
  const f = x / twoToThe(two) - 1;
  const under = 2 + f;
  const s = f / under;
  const back = s * under;
  const sRest = (f - back - productRest(s, under, back) - s * sumRest(2, f, under)) / under;
  const whole = two * LN2_A;
  const main = whole + 2 * s;
  const less = sumRest(whole, 2 * s, main) + (two * LN2_B + 2 * sRest + s * artanhSeries(s * s));
  const log = main + less;
  const product = y * log;
  return raised(product, productRest(y, log, product) + y * (main - log + less));
}

export function cube(x: number): number {
  return x * x * x;
}

/** x^n for a whole n from 0 on. */
function wholePower(x: number, n: number): number {
  let value = 1;
  let square = x;
  for (let left = n; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) value *= square;
    square *= square;
  }
  return value;
}

/** 10^n of a whole n, exact up to 22, else the nearest double: 10^-n is read as the decimal that it is. */
export function tenToThe(n: number): number {
  return Number(`1e${n}`);
}

/** The largest whole n for which 10^n is not more than x, which is over 0. */
export function powerOfTenIn(x: number): number {
  return Number(x.toExponential().split('e')[1]);
}

export function hyperbolicTangent(x: number): number {
  if (Math.abs(x) > 20) return Math.sign(x);
  if (Math.abs(x) > 0.7) return 1 - 2 / (exponential(2 * x) + 1);
  if (Math.abs(x) > 0.17) {
    const half = hyperbolicTangent(x / 2);
    return (2 * half) / (1 + half * half);
  }
  const grown = 2 * x + curved(2 * x);
  return grown / (grown + 2);
}
