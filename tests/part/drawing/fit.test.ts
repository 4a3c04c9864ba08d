/** Biarcs against the curves they stand for, on points far closer than those the fitter itself looked at. */
import { expect, test } from 'vitest';
import { CURVE_FIT } from '../../../src/base/tolerance.ts';
import { cross, dist, dot } from '../../../src/geometry/measure/point.ts';
import { directionAt, pointAt } from '../../../src/geometry/measure/segment.ts';
import type { Point } from '../../../src/geometry/types.ts';
import { bezier, type DrawnCurve, ellipsePoint, ellipticArc } from '../../../src/part/drawing/curve/curve.ts';
import { fitCurve } from '../../../src/part/drawing/curve/fit.ts';
import { splineSpans } from '../../../src/part/drawing/curve/spline.ts';
import { random, runs, SEED } from '../../runs.ts';
import { farthestFrom } from './helpers.ts';

/** Bernstein form, not the fitter's scheme. */
function onBezier(points: readonly Point[], weights: readonly number[], t: number): Point {
  const n = points.length - 1;
  let [x, y, w, choose] = [0, 0, 0, 1];
  for (let i = 0; i <= n; i++) {
    const b = choose * t ** i * (1 - t) ** (n - i) * weights[i]!;
    x += b * points[i]!.x;
    y += b * points[i]!.y;
    w += b;
    choose = (choose * (n - i)) / (i + 1);
  }
  return { x: x / w, y: y / w };
}

function randomCurve(rnd: () => number): { curve: DrawnCurve; at: (t: number) => Point } {
  const p = () => ({ x: 60 * rnd() - 30, y: 60 * rnd() - 30 });
  if (rnd() < 0.4) {
    const [centre, turn, a, b] = [p(), 6 * rnd(), 1 + 30 * rnd(), 1 + 30 * rnd()];
    const [u, v] = [
      { x: a * Math.cos(turn), y: a * Math.sin(turn) },
      { x: -b * Math.sin(turn), y: b * Math.cos(turn) },
    ];
    const [start, sweep] = [6 * rnd(), (0.3 + 5.9 * rnd()) * (rnd() < 0.5 ? -1 : 1)];
    return { curve: ellipticArc(centre, u, v, start, sweep), at: (t) => ellipsePoint(centre, u, v, start + sweep * t) };
  }
  const points = Array.from({ length: rnd() < 0.5 ? 4 : 3 }, p);
  const weights = points.map(() => (rnd() < 0.5 ? 1 : 0.3 + 2 * rnd()));
  return { curve: bezier(points, weights), at: (t) => onBezier(points, weights, t) };
}

test('random ellipses and rational Beziers: every point within the tolerance, the error told is the error found', () => {
  const rnd = random(SEED);
  let pieces = 0;
  let most = 0;
  for (let i = 0; i < runs(600); i++) {
    const { curve, at } = randomCurve(rnd);
    const { segments, error } = fitCurve(curve, CURVE_FIT);
    const samples = Array.from({ length: 1201 }, (_, k) => at(k / 1200));
    const found = farthestFrom(segments, samples);
    expect(found, `curve ${i}`).toBeLessThanOrEqual(CURVE_FIT);
    expect(error).toBeLessThanOrEqual(CURVE_FIT);
    expect(found).toBeLessThanOrEqual(error * 1.25 + 1e-9);
    expect(dist(segments[0]!.a, at(0)) + dist(segments.at(-1)!.b, at(1))).toBeLessThan(1e-9);
    pieces += segments.length;
    most = Math.max(most, found);
  }
  expect(pieces).toBeGreaterThan(runs(600));
  // A fit that never comes near its tolerance would be cutting needlessly small.
  expect(most).toBeGreaterThan(CURVE_FIT / 4);
});

test('pieces of a fit join bit for bit and run on without a corner', () => {
  const { segments } = fitCurve(
    ellipticArc({ x: 1, y: 2 }, { x: 12, y: 0 }, { x: 0, y: 4 }, 0, 2 * Math.PI),
    CURVE_FIT,
  );
  expect(segments.length).toBeGreaterThan(10);
  for (const [i, s] of segments.entries()) {
    const next = segments[(i + 1) % segments.length]!;
    expect(s.b).toEqual(next.a);
    const [out, on] = [directionAt(s, 1), directionAt(next, 0)];
    expect(Math.abs(cross(out, on))).toBeLessThan(1e-9);
    expect(dot(out, on)).toBeGreaterThan(0);
  }
});

test('no arc strays from the curve either', () => {
  const points = [
    { x: 0, y: 0 },
    { x: 30, y: 40 },
    { x: -20, y: 40 },
    { x: 10, y: 0 },
  ];
  const { segments } = fitCurve(bezier(points), CURVE_FIT);
  const dense = Array.from({ length: 20_001 }, (_, k) => onBezier(points, [1, 1, 1, 1], k / 20_000));
  for (const s of segments) {
    for (const t of [0.25, 0.5, 0.75]) {
      const p = pointAt(s, t);
      expect(dense.reduce((best, q) => Math.min(best, dist(p, q)), Infinity)).toBeLessThan(CURVE_FIT + 0.003);
    }
  }
});

test('a coarser tolerance takes fewer pieces, a finer one more', () => {
  const curve = bezier([
    { x: 0, y: 0 },
    { x: 10, y: 20 },
    { x: 30, y: -10 },
    { x: 40, y: 5 },
  ]);
  const counts = [0.05, 0.002, 0.0001].map((t) => fitCurve(curve, t).segments.length);
  expect(counts[0]!).toBeLessThan(counts[1]!);
  expect(counts[1]!).toBeLessThan(counts[2]!);
});

test('straight Beziers are lines, circles stay arcs, cusps and doubled points are followed', () => {
  expect(
    fitCurve(
      bezier([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
        { x: 2, y: 2 },
        { x: 6, y: 6 },
      ]),
      CURVE_FIT,
    ).segments,
  ).toEqual([{ kind: 'line', a: { x: 0, y: 0 }, b: { x: 6, y: 6 } }]);
  expect(fitCurve(ellipticArc({ x: 0, y: 0 }, { x: 3, y: 4 }, { x: -4, y: 3 }, 1, 2), CURVE_FIT)).toMatchObject({
    error: 0,
    segments: [{ kind: 'arc', radius: 5, sweep: 2 }],
  });
  const cusp = [
    { x: 0, y: 0 },
    { x: 20, y: 20 },
    { x: 0, y: 20 },
    { x: 20, y: 0 },
  ];
  const doubled = [
    { x: 0, y: 0 },
    { x: 0, y: 0 },
    { x: 10, y: 10 },
    { x: 20, y: 0 },
  ];
  for (const points of [cusp, doubled]) {
    const fitted = fitCurve(bezier(points), CURVE_FIT);
    expect(
      farthestFrom(
        fitted.segments,
        Array.from({ length: 500 }, (_, k) => onBezier(points, [1, 1, 1, 1], k / 499)),
      ),
    ).toBeLessThanOrEqual(CURVE_FIT);
  }
});

test('spans of a spline meet, and a clamped cubic of one span is its own Bezier', () => {
  const points = [
    { x: 0, y: 0 },
    { x: 5, y: 9 },
    { x: 10, y: -9 },
    { x: 15, y: 0 },
  ];
  const [only] = splineSpans({ degree: 3, knots: [0, 0, 0, 0, 1, 1, 1, 1], points, weights: [1, 2, 3, 1] });
  expect(only!.points).toEqual(points);
  const long = [...points, { x: 20, y: 4 }, { x: 25, y: 0 }];
  const spans = splineSpans({
    degree: 3,
    knots: [0, 0, 0, 0, 1, 1, 2, 2, 2, 2],
    points: long,
    weights: long.map(() => 1),
  });
  expect(spans).toHaveLength(2);
  expect(spans[0]!.b).toBe(spans[1]!.a);
});
