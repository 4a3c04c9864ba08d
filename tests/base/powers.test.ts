/** Exponential, logarithm and powers against values to 50 digits. */
import { expect, it } from 'vitest';
import {
  cube,
  exponential,
  hyperbolicTangent,
  logarithm,
  power,
  powerOfTenIn,
  tenToThe,
} from '../../src/base/powers.ts';
import { random, runs, SEED } from '../runs.ts';
import {
  exactly,
  exponentialOf,
  hyperbolicTangentOf,
  logarithmOf,
  powerOf,
  ulpsOff,
  worstOf,
} from './high-precision.ts';

const draw = random(SEED);
const RUNS = runs(10_000);
const anExponent = () => (draw() - 0.5) * (draw() < 0.5 ? 2 : 50);
const aSize = () => (draw() < 0.5 ? draw() * 2 + 1e-6 : Math.round(draw() * 1e7 + 1) / 1e4);

it(`exponential, logarithm and hyperbolic tangent, seed ${SEED}`, () => {
  expect(worstOf(RUNS, anExponent, exponential, (x) => exponentialOf(exactly(x)))).toBeLessThan(1);
  expect(worstOf(RUNS, aSize, logarithm, (x) => logarithmOf(exactly(x)))).toBeLessThan(1);
  const small = () => (draw() - 0.5) * 6;
  expect(worstOf(RUNS, small, hyperbolicTangent, (x) => hyperbolicTangentOf(exactly(x)))).toBeLessThan(5);
});

it(`powers with the exponents of the force law, seed ${SEED}`, () => {
  for (let i = 0; i < RUNS; i++) {
    const x = aSize();
    const y = Math.round((draw() - 0.5) * 400) / 100 || 0.25;
    const off = ulpsOff(power(x, y), powerOf(exactly(x), exactly(y)));
    const most = Number.isInteger(y) ? Math.abs(y) + 1 : 1;
    expect(off, `${x} ^ ${y}`).toBeLessThan(most);
  }
});

it('whole powers, corners and ends of the range', () => {
  expect([power(2, 10), power(-2, 3), power(0.5, -2), power(7, 0), power(0, 0), power(9, 0.5), cube(-3)]).toEqual([
    1024, -8, 4, 1, 1, 3, -27,
  ]);
  expect([power(0, 0.75), power(0, -0.25), power(-1, 0.3)]).toEqual([0, Number.POSITIVE_INFINITY, Number.NaN]);
  expect([exponential(0), exponential(1000), exponential(-1000)]).toEqual([1, Number.POSITIVE_INFINITY, 0]);
  expect([logarithm(1), logarithm(10), logarithm(0), logarithm(-1), logarithm(Number.POSITIVE_INFINITY)]).toEqual([
    0,
    Math.LN10,
    Number.NEGATIVE_INFINITY,
    Number.NaN,
    Number.POSITIVE_INFINITY,
  ]);
  expect(exponential(1)).toBeCloseTo(Math.E, 14);
  expect(exponential(-740) / 4.2e-322).toBeCloseTo(1, 1);
  expect(exponential(709.7) / 1.65e308).toBeCloseTo(1, 1);
  expect(logarithm(5e-324)).toBeCloseTo(-744.4400719213812, 10);
  expect(logarithm(1.7e308)).toBeCloseTo(709.7268, 3);
  expect([hyperbolicTangent(0), hyperbolicTangent(30), hyperbolicTangent(-30)]).toEqual([0, 1, -1]);
});

it('powers of ten are the decimals that they say', () => {
  for (let n = 0; n <= 22; n++) {
    expect(tenToThe(n)).toBe(Number(`1${'0'.repeat(n)}`));
    expect(tenToThe(-n)).toBe(1 / Number(`1${'0'.repeat(n)}`));
    expect(powerOfTenIn(tenToThe(n))).toBe(n);
    expect(powerOfTenIn(9.99 * tenToThe(-n)) + n).toBe(0);
  }
  expect(tenToThe(-4)).toBe(0.0001);
});
