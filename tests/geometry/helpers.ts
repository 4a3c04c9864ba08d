import fc from 'fast-check';
import { arc, arcFromBulge, line, pointAt } from '../../src/geometry/measure/segment.ts';
import type { Loop, Point, Region, Segment } from '../../src/geometry/types.ts';
import { random, runs, SEED } from '../runs.ts';

export const p = (x: number, y: number): Point => ({ x, y });

/** One seed for all laws; the failing seed and path are printed by fast-check. */
export function law<T>(arbitrary: fc.Arbitrary<T>, holds: (value: T) => void, full = 2000): void {
  let seen = 0;
  fc.assert(
    fc.property(arbitrary, (value) => {
      seen++;
      holds(value);
    }),
    { seed: SEED, numRuns: runs(full), endOnFailure: true },
  );
  if (seen === 0) throw new Error('the law was never tried');
}

/** Picometres: no figure of a drawing is finer, and nothing underflows when squared. */
const coordinate = fc.double({ min: -40, max: 40, noNaN: true }).map((v) => Math.round(v * 1e9) / 1e9 + 0);
export const points: fc.Arbitrary<Point> = fc.record({ x: coordinate, y: coordinate });
/** Points of a coarse grid: collinear, tangent and coincident cases come up often. */
export const gridPoints: fc.Arbitrary<Point> = fc.record({
  x: fc.integer({ min: -4, max: 4 }),
  y: fc.integer({ min: -4, max: 4 }),
});

const lines = fc.tuple(points, points).map(([a, b]) => line(a, b));
const arcs = fc
  .tuple(
    points,
    fc.double({ min: 0.1, max: 30, noNaN: true }),
    fc.double({ min: -4, max: 4, noNaN: true }),
    fc.double({ min: 0.05, max: 6.28, noNaN: true }),
    fc.boolean(),
  )
  .map(([c, r, start, sweep, cw]) => arc(c, r, start, cw ? -sweep : sweep));
const circles = fc
  .tuple(points, fc.double({ min: 0.1, max: 30, noNaN: true }), fc.boolean())
  .map(([c, r, cw]) => arc(c, r, 0, cw ? -2 * Math.PI : 2 * Math.PI));
const gridLines = fc.tuple(gridPoints, gridPoints).map(([a, b]) => line(a, b));
const gridArcs = fc
  .tuple(
    gridPoints,
    fc.integer({ min: 1, max: 4 }),
    fc.integer({ min: -4, max: 4 }),
    fc.constantFrom(-4, -3, -2, -1, 1, 2, 3, 4),
  )
  .map(([c, r, start, quarters]) => arc(c, r, (start * Math.PI) / 2, (quarters * Math.PI) / 2));

export const segments: fc.Arbitrary<Segment> = fc.oneof(lines, arcs, circles, gridLines, gridArcs);

/** Star-shaped loops of lines and arcs about 0,0, counter-clockwise: simple as long as the bulges are small. */
export const loops: fc.Arbitrary<Loop> = fc
  .tuple(
    fc.array(
      fc.tuple(
        fc.double({ min: 5, max: 20, noNaN: true }),
        fc.double({ min: -0.15, max: 0.35, noNaN: true }),
        fc.boolean(),
      ),
      { minLength: 4, maxLength: 14 },
    ),
    points,
  )
  .map(([spokes, at]) => {
    const corners = spokes.map(([r], i) => {
      const angle = (2 * Math.PI * i) / spokes.length;
      return p(at.x + r * Math.cos(angle), at.y + r * Math.sin(angle));
    });
    return corners.map((a, i) => {
      const b = corners[(i + 1) % corners.length]!;
      const [, bulge, straight] = spokes[i]!;
      return straight ? line(a, b) : arcFromBulge(a, b, bulge);
    });
  });

/** Points along a segment, ends included. */
export function sample(s: Segment, n: number): Point[] {
  return Array.from({ length: n + 1 }, (_, i) => pointAt(s, i / n));
}

export function polygonOf(loop: Loop, n: number): Point[] {
  return loop.flatMap((s) => sample(s, n).slice(0, -1));
}

/** Shoelace formula, for comparison with the exact area. */
export function shoelace(polygon: readonly Point[]): number {
  return polygon.reduce((sum, a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    return sum + (a.x * b.y - a.y * b.x) / 2;
  }, 0);
}

/** Crossing-number test on a polygon, for comparison (the textbook ray test; from memory). */
export function inPolygon(polygon: readonly Point[], q: Point): boolean {
  let inside = false;
  for (const [i, a] of polygon.entries()) {
    const b = polygon[(i + 1) % polygon.length]!;
    if (a.y > q.y !== b.y > q.y && q.x < a.x + ((q.y - a.y) * (b.x - a.x)) / (b.y - a.y)) inside = !inside;
  }
  return inside;
}

/** A plate with a bore and a slot: the fixed region of the laws on regions. */
export function plate(): Region {
  const outer = [
    line(p(0, 0), p(40, 0)),
    arcFromBulge(p(40, 0), p(40, 20), 0.4),
    line(p(40, 20), p(20, 16)),
    arcFromBulge(p(20, 16), p(6, 20), -0.5),
    line(p(6, 20), p(0, 14)),
    line(p(0, 14), p(0, 0)),
  ];
  const bore = [arc(p(36, 10), 4, 0, -2 * Math.PI)];
  const slot = [
    arcFromBulge(p(8, 4), p(8, 8), -1),
    line(p(8, 8), p(20, 8)),
    arcFromBulge(p(20, 8), p(20, 4), -1),
    line(p(20, 4), p(8, 4)),
  ];
  return { outer, holes: [bore, slot] };
}

export function seeded(): () => number {
  return random(SEED);
}
