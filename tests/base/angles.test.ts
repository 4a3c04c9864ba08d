/** The functions of angles against values to 50 digits, over arguments of our size and at corners. */
import { expect, it } from 'vitest';
import { arccosine, arcsine, arctangent, arctangent2, cosine, sine, tangent } from '../../src/base/angles.ts';
import { random, runs, SEED } from '../runs.ts';
import {
  arccosineOf,
  arcsineOf,
  arctangentOf,
  cosineOf,
  directionOf,
  exactly,
  sineOf,
  tangentOf,
  worstOf,
} from './high-precision.ts';

const draw = random(SEED);
const RUNS = runs(20_000);
const anAngle = () => (draw() - 0.5) * [1e-3, 2, 13, 200][Math.floor(draw() * 4)]!;
const aShare = () => (draw() < 0.3 ? 1 - draw() * 1e-4 : draw() * 2 - 1);
const aPlace = () => (draw() < 0.3 ? (draw() - 0.5) * 1e-3 : Math.round((draw() - 0.5) * 4e6) / 1e4);

it(`sine, cosine and tangent, seed ${SEED}`, () => {
  expect(worstOf(RUNS, anAngle, sine, (x) => sineOf(exactly(x)))).toBeLessThan(0.9);
  expect(worstOf(RUNS, anAngle, cosine, (x) => cosineOf(exactly(x)))).toBeLessThan(0.9);
  expect(worstOf(RUNS, anAngle, tangent, (x) => tangentOf(exactly(x)))).toBeLessThan(2);
});

it(`arcsine, arccosine and the arctangents, seed ${SEED}`, () => {
  expect(worstOf(RUNS, aShare, arcsine, (x) => arcsineOf(exactly(x)))).toBeLessThan(1.6);
  expect(worstOf(RUNS, aShare, arccosine, (x) => arccosineOf(exactly(x)))).toBeLessThan(1.6);
  expect(worstOf(RUNS, anAngle, arctangent, (x) => arctangentOf(exactly(x)))).toBeLessThan(0.9);
  let y = 0;
  const xs = () => {
    y = aPlace();
    return aPlace() || 1;
  };
  const worst = worstOf(
    RUNS,
    xs,
    (x) => arctangent2(y, x),
    (x) => directionOf(exactly(y), exactly(x)),
  );
  expect(worst).toBeLessThan(0.9);
});

it('turns of a quarter are as near as doubles are, and signs of zero as in IEEE 754', () => {
  for (const [x, sin, cos] of [
    [0, 0, 1],
    [Math.PI / 6, 0.49999999999999994, 0.8660254037844387],
    [Math.PI / 2, 1, 6.123233995736766e-17],
    [Math.PI, 1.2246467991473532e-16, -1],
    [-Math.PI / 2, -1, 6.123233995736766e-17],
  ] as const) {
    expect(sine(x)).toBe(sin);
    expect(cosine(x)).toBe(cos);
  }
  expect(sine(-0)).toBe(-0);
  for (const [y, x, angle] of [
    [0, 1, 0],
    [-0, 1, -0],
    [0, -1, Math.PI],
    [-0, -1, -Math.PI],
    [0, 0, 0],
    [1, 0, Math.PI / 2],
    [-3, 0, -Math.PI / 2],
    [2, 2, Math.PI / 4],
    [2, -2, (3 * Math.PI) / 4],
    [-2, -2, (-3 * Math.PI) / 4],
  ] as const)
    expect(arctangent2(y, x), `${y} ${x}`).toBe(angle);
  expect([arcsine(1), arcsine(-1), arccosine(1), arccosine(-1), arccosine(0)]).toEqual([
    Math.PI / 2,
    -Math.PI / 2,
    0,
    Math.PI,
    Math.PI / 2,
  ]);
  expect([arcsine(1.1), arccosine(-1.1), sine(Number.POSITIVE_INFINITY), cosine(Number.NaN)]).toEqual(
    [0, 0, 0, 0].map(() => Number.NaN),
  );
});

/** Abramowitz and Stegun, Handbook of Mathematical Functions, tables 4.6 and 4.14 (values from memory). */
it('table values', () => {
  expect(sine(1)).toBe(0.8414709848078965);
  expect(cosine(1)).toBe(0.5403023058681398);
  expect(tangent(1)).toBeCloseTo(1.5574077246549023, 15);
  expect(arctangent(0.5)).toBe(0.4636476090008061);
});
