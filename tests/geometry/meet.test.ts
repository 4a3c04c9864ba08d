import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { circleCircle, crossings, lineCircle } from '../../src/geometry/measure/crossing.ts';
import { segmentGap } from '../../src/geometry/measure/distance.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import {
  arc,
  arcFromBulge,
  circle,
  line,
  nearestOn,
  pointAt,
  reverseSegment,
  segmentLength,
  subSegment,
} from '../../src/geometry/measure/segment.ts';
import { placeSegment, unplacePoint } from '../../src/geometry/measure/transform.ts';
import { type Meet, meet, meetCarriers, meetPoints } from '../../src/geometry/meet.ts';
import type { Point, Segment } from '../../src/geometry/types.ts';
import { law, p, points, segments } from './helpers.ts';

function at(m: Meet): Point[] {
  if (m.kind === 'none') return [];
  return m.kind === 'overlap' ? m.stretches.flatMap((s) => [s.from.point, s.to.point]) : m.points.map((c) => c.point);
}

function expectMeet(
  s: Segment,
  t: Segment,
  kind: Meet['kind'],
  wanted: readonly (readonly [number, number])[],
  digits = 9,
): void {
  const m = meet(s, t);
  expect(m.kind).toBe(kind);
  const found = at(m);
  expect(found.length).toBe(wanted.length);
  for (const [i, [x, y]] of wanted.entries()) {
    expect(found[i]!.x).toBeCloseTo(x, digits);
    expect(found[i]!.y).toBeCloseTo(y, digits);
  }
}

describe('line and line', () => {
  test('cross, meet at ends, miss', () => {
    expectMeet(line(p(0, 0), p(4, 4)), line(p(0, 4), p(4, 0)), 'one', [[2, 2]]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(4, 0), p(4, 5)), 'one', [[4, 0]]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(2, 0), p(3, 5)), 'one', [[2, 0]]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(5, -1), p(5, 1)), 'none', []);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(0, 1), p(4, 1)), 'none', []);
  });

  test('in one line: overlap in either sense, end to end a touch, apart none', () => {
    expectMeet(line(p(0, 0), p(4, 0)), line(p(2, 0), p(9, 0)), 'overlap', [
      [2, 0],
      [4, 0],
    ]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(3, 0), p(1, 0)), 'overlap', [
      [1, 0],
      [3, 0],
    ]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(4, 0), p(9, 0)), 'touch', [[4, 0]]);
    expectMeet(line(p(0, 0), p(4, 0)), line(p(4.1, 0), p(9, 0)), 'none', []);
  });

  test('no length: a point on the line or off it', () => {
    expect(meet(line(p(1, 0), p(1, 0)), line(p(0, 0), p(4, 0))).kind).toBe('touch');
    expect(meet(line(p(1, 1), p(1, 1)), line(p(0, 0), p(4, 0))).kind).toBe('none');
    expect(meet(line(p(1, 1), p(1, 1)), line(p(1, 1), p(1, 1))).kind).toBe('touch');
  });

  test('ends that miss by less than the tolerance meet, by more do not', () => {
    expect(meet(line(p(0, 0), p(4, 0)), line(p(2, 0.9e-7), p(2, 3))).kind).toBe('one');
    expect(meet(line(p(0, 0), p(4, 0)), line(p(2, 2e-7), p(2, 3))).kind).toBe('none');
  });

  test('nearly parallel lines cross where they should: 4 micrometres of slope over 100 mm', () => {
    const m = meet(line(p(0, 0), p(100, 0)), line(p(0, -2e-3), p(100, 2e-3)));
    expect(m.kind).toBe('one');
    expect(at(m)[0]!.x).toBeCloseTo(50, 6);
  });
});

describe('line and arc', () => {
  test('closed forms', () => {
    expectMeet(line(p(-9, 3), p(9, 3)), circle(p(0, 0), 5), 'two', [
      [-4, 3],
      [4, 3],
    ]);
    expectMeet(line(p(0, 3), p(9, 3)), circle(p(0, 0), 5), 'one', [[4, 3]]);
    expectMeet(line(p(-9, 3), p(9, 3)), arc(p(0, 0), 5, 0, 1), 'one', [[4, 3]]);
    expectMeet(line(p(-9, 3), p(9, 3)), arc(p(0, 0), 5, Math.PI, Math.PI), 'none', []);
    expectMeet(line(p(-1, 1), p(1, 1)), circle(p(0, 0), 5), 'none', []);
    expectMeet(line(p(-9, 5), p(9, 5)), circle(p(0, 0), 5), 'touch', [[0, 5]]);
    expectMeet(line(p(-9, 6), p(9, 6)), circle(p(0, 0), 5), 'none', []);
  });

  test('tangent within the tolerance, from either side, is one touch at the foot', () => {
    for (const off of [-0.9e-7, -1e-9, 0, 1e-9, 0.9e-7])
      expectMeet(line(p(-9, 5 + off), p(9, 5 + off)), circle(p(0, 0), 5), 'touch', [[0, 5]], 6);
    expect(meet(line(p(-9, 5 + 3e-7), p(9, 5 + 3e-7)), circle(p(0, 0), 5)).kind).toBe('none');
    expect(meet(line(p(-9, 5 - 3e-7), p(9, 5 - 3e-7)), circle(p(0, 0), 5)).kind).toBe('two');
  });

  test('a fillet: line runs into the arc at its tangent point, which is kept bit for bit', () => {
    const s = line(p(0, 0), p(10, 0));
    const fillet = { ...arc(p(10, 3), 3, -Math.PI / 2, Math.PI / 2), a: p(10, 0) };
    const m = meet(s, fillet);
    expect(m).toMatchObject({ kind: 'touch', points: [{ t: 1, u: 0, tangent: true, point: p(10, 0) }] });
  });
});

describe('arc and arc', () => {
  test('two circles, textbook: radii 5 and 5, 6 apart, meet 4 above and below the middle', () => {
    expectMeet(arc(p(0, 0), 5, -1.5, 3), arc(p(6, 0), 5, Math.PI - 1.5, 3), 'two', [
      [3, -4],
      [3, 4],
    ]);
    expectMeet(arc(p(0, 0), 5, 0, 1.5), arc(p(6, 0), 5, Math.PI - 1.5, 3), 'one', [[3, 4]]);
    expect(circleCircle(p(0, 0), 13, p(14, 0), 15)).toMatchObject([
      { x: expect.closeTo(5, 12), y: expect.closeTo(12, 12) },
      { x: expect.closeTo(5, 12), y: expect.closeTo(-12, 12) },
    ]);
  });

  test('outer and inner tangent circles touch once; concentric and far ones do not meet', () => {
    expectMeet(circle(p(0, 0), 2), circle(p(5, 0), 3), 'touch', [[2, 0]]);
    expectMeet(circle(p(0, 0), 5), circle(p(3, 0), 2), 'touch', [[5, 0]]);
    expectMeet(circle(p(3, 0), 2), circle(p(0, 0), 5), 'touch', [[5, 0]]);
    expectMeet(circle(p(0, 3), 2), circle(p(0, 0), 5), 'touch', [[0, 5]]);
    expectMeet(circle(p(0, 0), 5), circle(p(0, 0), 4), 'none', []);
    expectMeet(circle(p(0, 0), 5), circle(p(20, 0), 4), 'none', []);
    expectMeet(circle(p(0, 0), 5), circle(p(0.5, 0), 1), 'none', []);
    for (const off of [-0.9e-7, 0.9e-7]) {
      expectMeet(circle(p(0, 0), 2), circle(p(5 + off, 0), 3), 'touch', [[2, 0]], 6);
      expectMeet(circle(p(0, 0), 5), circle(p(3 + off, 0), 2), 'touch', [[5, 0]], 6);
      expectMeet(circle(p(3 + off, 0), 2), circle(p(0, 0), 5), 'touch', [[5, 0]], 6);
    }
  });

  test('on one circle: overlap once or twice, ends only, whole', () => {
    expectMeet(arc(p(0, 0), 2, 0, Math.PI), arc(p(0, 0), 2, Math.PI / 2, Math.PI), 'overlap', [
      [0, 2],
      [-2, 0],
    ]);
    expectMeet(arc(p(0, 0), 2, 0, 1.5 * Math.PI), arc(p(0, 0), 2, Math.PI, 1.5 * Math.PI), 'overlap', [
      [2, 0],
      [0, 2],
      [-2, 0],
      [0, -2],
    ]);
    expectMeet(arc(p(0, 0), 2, 0, Math.PI), arc(p(0, 0), 2, Math.PI, Math.PI), 'two', [
      [2, 0],
      [-2, 0],
    ]);
    expectMeet(circle(p(0, 0), 2), circle(p(0, 0), 2), 'overlap', [
      [2, 0],
      [2, 0],
    ]);
    expectMeet(arc(p(0, 0), 2, 0, 1), arc(p(0, 0), 2, 1.5, 1), 'none', []);
    // Over the start of a whole circle: one stretch, from below to above.
    expectMeet(circle(p(0, 0), 2), arc(p(0, 0), 2, -Math.PI / 2, Math.PI), 'overlap', [
      [0, -2],
      [0, 2],
    ]);
  });

  test('equal circles 0.1 micrometre apart: the points are where they should be', () => {
    const [a, b] = circleCircle(p(0, 0), 10, p(1e-4, 0), 10);
    expect(a).toMatchObject({ x: expect.closeTo(5e-5, 9), y: expect.closeTo(10, 9) });
    expect(b).toMatchObject({ x: expect.closeTo(5e-5, 9), y: expect.closeTo(-10, 9) });
  });

  test('near tangency keeps its digits: half chord of depth d in a circle is sqrt(2 r d)', () => {
    const depth = 1e-9;
    const [t, u] = lineCircle(p(0, 10 - depth), p(1, 0), p(0, 0), 10);
    expect((u! - t!) / (2 * Math.sqrt(2 * 10 * depth))).toBeCloseTo(1, 6);
  });
});

/** Two places are one contact when they coincide, or when both segments stay together (within the tolerance) half-way between. */
function sameContact(s: Segment, t: Segment, q: Point, r: Point): boolean {
  const middle = p((q.x + r.x) / 2, (q.y + r.y) / 2);
  return dist(q, r) < 1e-6 || Math.max(nearestOn(s, middle).distance, nearestOn(t, middle).distance) < 1.1e-7;
}

/** Circles that part by micrometres run together over millimetres: where contacts merge is a matter of the last digit. */
function nearlyOneCircle(s: Segment, t: Segment): boolean {
  if (s.kind === 'line' || t.kind === 'line') return false;
  const apart = dist(s.centre, t.centre);
  return apart > 1e-12 && apart + Math.abs(s.radius - t.radius) < 1e-3;
}

describe('laws of meeting', () => {
  const kinds = new Map<string, number>();

  test('every point lies on both within the tolerance, and at the fractions given', () => {
    law(
      fc.tuple(segments, segments),
      ([s, t]) => {
        const m = meet(s, t);
        kinds.set(m.kind, (kinds.get(m.kind) ?? 0) + 1);
        for (const c of meetPoints(s, t)) {
          expect(nearestOn(s, c.point).distance).toBeLessThan(1.01e-7);
          expect(nearestOn(t, c.point).distance).toBeLessThan(1.01e-7);
          expect(dist(pointAt(s, c.t), c.point)).toBeLessThan(2.1e-7);
          expect(dist(pointAt(t, c.u), c.point)).toBeLessThan(2.1e-7);
        }
      },
      20000,
    );
    for (const kind of ['none', 'one', 'touch', 'two', 'overlap'])
      expect([kind, kinds.get(kind) ?? 0]).not.toEqual([kind, 0]);
  });

  test('they meet exactly if the distance between them vanishes', () => {
    law(
      fc.tuple(segments, segments),
      ([s, t]) => {
        const { distance } = segmentGap(s, t);
        fc.pre(distance < 0.5e-7 || distance > 1.1e-7);
        expect(meet(s, t).kind === 'none').toBe(distance > 1e-7);
      },
      20000,
    );
  });

  test('the other way round, reversed, turned and mirrored: the same kind at the same places', () => {
    const place = { at: p(3, -7), turn: 0.7, mirror: true };
    law(
      fc.tuple(segments, segments),
      ([s, t]) => {
        // Pieces of the size of the tolerance itself are all overlap or all end, as one likes.
        fc.pre(segmentLength(s) > 1e-4 && segmentLength(t) > 1e-4 && !nearlyOneCircle(s, t));
        const m = meet(s, t);
        const others: [Meet, (r: Point) => Point][] = [
          [meet(t, s), (r) => r],
          [meet(reverseSegment(s), t), (r) => r],
          [meet(placeSegment(place, s), placeSegment(place, t)), (r) => unplacePoint(place, r)],
        ];
        for (const [other, back] of others) {
          expect(other.kind).toBe(m.kind);
          const there = at(other);
          for (const q of at(m)) expect(there.some((r) => sameContact(s, t, q, back(r)))).toBe(true);
        }
      },
      10000,
    );
  });

  test('pieces of one segment meet in a touch where they were cut, or overlap', () => {
    law(
      fc.tuple(
        segments,
        fc.double({ min: 0.2, max: 0.5, noNaN: true }),
        fc.double({ min: 0.55, max: 0.8, noNaN: true }),
      ),
      ([s, t0, t1]) => {
        fc.pre(segmentLength(s) > 0.1);
        const first = subSegment(s, 0, t0);
        expect(meet(first, subSegment(s, t0, t1))).toMatchObject({ kind: 'touch', points: [{ t: 1, u: 0 }] });
        expect(meet(first, subSegment(s, t1, 0.9)).kind).toBe('none');
        expect(meet(subSegment(s, 0, t1), subSegment(s, t0, 1)).kind).toBe('overlap');
      },
    );
  });

  test('a line through two points of a circle meets it there', () => {
    law(
      fc.tuple(
        points,
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: 0, max: 6, noNaN: true }),
        fc.double({ min: 0.3, max: 3, noNaN: true }),
      ),
      ([c, r, start, apart]) => {
        const s = arc(c, r, start, apart);
        const far = { x: 2 * s.b.x - s.a.x, y: 2 * s.b.y - s.a.y };
        const near = { x: 2 * s.a.x - s.b.x, y: 2 * s.a.y - s.b.y };
        const found = crossings(line(near, far), circle(c, r));
        expect(found.length).toBe(2);
        expect(dist(found[0]!.point, s.a)).toBeLessThan(1e-10);
        expect(dist(found[1]!.point, s.b)).toBeLessThan(1e-10);
      },
    );
  });
});

describe('carriers: endless lines and whole circles', () => {
  test('meet beyond the ends of the segments', () => {
    expect(meetCarriers(line(p(0, 0), p(1, 0)), line(p(5, 1), p(5, 2)))).toEqual({ kind: 'one', points: [p(5, 0)] });
    expect(meetCarriers(line(p(0, 3), p(1, 3)), arc(p(0, 0), 5, 3, 0.1))).toMatchObject({ kind: 'two' });
    expect(meetCarriers(arc(p(0, 0), 2, 3, 0.1), line(p(0, 2), p(1, 2)))).toMatchObject({
      kind: 'touch',
      points: [{ x: expect.closeTo(0, 9), y: 2 }],
    });
    expect(meetCarriers(line(p(0, 0), p(1, 0)), line(p(5, 1), p(9, 1))).kind).toBe('none');
    expect(meetCarriers(line(p(0, 0), p(1, 0)), line(p(5, 0), p(9, 0))).kind).toBe('same');
    expect(meetCarriers(arc(p(0, 0), 2, 0, 1), arc(p(0, 0), 2, 3, 1)).kind).toBe('same');
    expect(meetCarriers(arc(p(0, 0), 2, 0, 1), arc(p(0, 0), 3, 3, 1)).kind).toBe('none');
    expect(meetCarriers(arc(p(0, 0), 2, 3, 0.1), arcFromBulge(p(3, 1), p(3, -1), 1)).kind).toBe('touch');
    expect(meetCarriers(line(p(0, 0), p(0, 0)), circle(p(0, 0), 1)).kind).toBe('none');
  });
});
