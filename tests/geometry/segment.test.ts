import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  add,
  angleOf,
  cross,
  dist,
  dot,
  isZero,
  len,
  lerp,
  positiveAngle,
  rot90,
  rotate,
  samePoint,
  unit,
} from '../../src/geometry/measure/point.ts';
import {
  arc,
  arcFromBulge,
  arcThrough,
  bulgeOf,
  circle,
  curvatureOf,
  directionAt,
  line,
  maxDistanceFromPoint,
  nearestOn,
  pointAt,
  reverseSegment,
  segmentBox,
  segmentLength,
  splitAt,
  subSegment,
} from '../../src/geometry/measure/segment.ts';
import { arcError, isFiniteSegment } from '../../src/geometry/measure/sound.ts';
import type { Arc } from '../../src/geometry/types.ts';
import { law, p, points, sample, segments } from './helpers.ts';

const fraction = fc.double({ min: 0, max: 1, noNaN: true });

describe('points', () => {
  test('the zero vector has no direction and is given back', () => {
    expect(unit(p(0, 0))).toEqual(p(0, 0));
    expect(isZero(unit(p(0, 0)))).toBe(true);
    expect(angleOf(p(0, 0))).toBe(0);
  });

  test('a unit vector has length one, a turned vector keeps its length', () => {
    law(fc.tuple(points, fc.double({ min: -10, max: 10, noNaN: true })), ([v, angle]) => {
      if (!isZero(v)) expect(len(unit(v))).toBeCloseTo(1, 14);
      expect(len(rotate(v, angle))).toBeCloseTo(len(v), 12);
      expect(dot(v, rot90(v))).toBe(0);
      expect(cross(v, rot90(v))).toBeGreaterThanOrEqual(0);
    });
  });

  test('a blend is exact at both ends', () => {
    law(fc.tuple(points, points), ([a, b]) => {
      expect(lerp(a, b, 0)).toEqual(a);
      expect(lerp(a, b, 1)).toEqual(b);
    });
  });

  test('angles wrap into one turn, also those a hair below zero', () => {
    expect(positiveAngle(-1e-20)).toBe(0);
    expect(positiveAngle(-Math.PI / 2)).toBeCloseTo(1.5 * Math.PI, 15);
    expect(positiveAngle(2 * Math.PI)).toBe(0);
  });

  test('points within the tolerance are the same point', () => {
    expect(samePoint(p(0, 0), p(0.9e-7, 0))).toBe(true);
    expect(samePoint(p(0, 0), p(1.1e-7, 0))).toBe(false);
    expect(samePoint(p(0, 0), p(0.5, 0), 0.5)).toBe(true);
  });
});

describe('arcs by bulge (DXF: tangent of a quarter of the included angle)', () => {
  test('bulge 1 is a half circle, counter-clockwise', () => {
    const s = arcFromBulge(p(1, 0), p(-1, 0), 1) as Arc;
    expect(s.centre.x).toBeCloseTo(0, 15);
    expect(s.radius).toBeCloseTo(1, 15);
    expect(s.sweep).toBeCloseTo(Math.PI, 15);
    expect(pointAt(s, 0.5).y).toBeCloseTo(1, 15);
  });

  test('bulge tan(pi/8) is a quarter circle; negative goes clockwise', () => {
    const quarter = Math.tan(Math.PI / 8);
    expect(pointAt(arcFromBulge(p(2, 0), p(0, 2), quarter), 0.5)).toMatchObject({
      x: expect.closeTo(Math.SQRT2, 12),
      y: expect.closeTo(Math.SQRT2, 12),
    });
    const other = arcFromBulge(p(2, 0), p(0, 2), -quarter) as Arc;
    expect(other.centre).toMatchObject({ x: expect.closeTo(2, 12), y: expect.closeTo(2, 12) });
  });

  test('the rise over the chord is bulge times half the chord, for any bulge; ends stay bit for bit', () => {
    law(fc.tuple(points, points, fc.double({ min: -50, max: 50, noNaN: true })), ([a, b, bulge]) => {
      fc.pre(dist(a, b) > 1e-3 && Math.abs(bulge) * dist(a, b) > 1e-6);
      const s = arcFromBulge(a, b, bulge);
      expect(s.a).toBe(a);
      expect(s.b).toBe(b);
      expect(dist(pointAt(s, 0.5), lerp(a, b, 0.5))).toBeCloseTo((Math.abs(bulge) * dist(a, b)) / 2, 7);
      expect(bulgeOf(s)).toBeCloseTo(bulge, 7);
      expect(arcError(s)).toBeLessThan(1e-9 + 4 * Number.EPSILON * (s as Arc).radius);
    });
  });

  test('no bulge, a rise too small to matter, or no chord give a line', () => {
    expect(arcFromBulge(p(0, 0), p(3, 0), 0).kind).toBe('line');
    expect(arcFromBulge(p(0, 0), p(3, 0), 1e-9).kind).toBe('line');
    expect(arcFromBulge(p(1, 1), p(1, 1), 1).kind).toBe('line');
    expect(arcFromBulge(p(0, 0), p(1, 0), Number.NaN).kind).toBe('line');
  });

  test('an arc through three points passes them in order', () => {
    law(
      fc.tuple(
        points,
        fc.double({ min: 0.5, max: 20, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.double({ min: 0.2, max: 6, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
      ),
      ([c, r, start, sweep, t]) => {
        const s = arc(c, r, start, sweep);
        const again = arcThrough(s.a, pointAt(s, t), s.b) as Arc;
        expect(again.sweep).toBeCloseTo(sweep, 7);
        expect(dist(again.centre, c)).toBeLessThan(1e-7);
      },
    );
    expect(arcThrough(p(0, 0), p(1, 0), p(2, 0)).kind).toBe('line');
  });

  test('a whole circle ends where it starts and has no bulge', () => {
    const s = circle(p(3, 4), 2);
    expect(s.a).toBe(s.b);
    expect(bulgeOf(s)).toBe(Number.POSITIVE_INFINITY);
    expect(segmentLength(s)).toBeCloseTo(4 * Math.PI, 14);
    expect(segmentBox(s)).toEqual({ minX: 1, minY: 2, maxX: 5, maxY: 6 });
  });
});

describe('laws of every segment', () => {
  test('a point along it lies on it, at the fraction asked', () => {
    law(fc.tuple(segments, fraction), ([s, t]) => {
      const n = nearestOn(s, pointAt(s, t));
      expect(n.distance).toBeLessThan(1e-11);
      expect(dist(n.point, pointAt(s, t))).toBeLessThan(1e-11);
    });
  });

  test('reversed, it is the same curve with the opposite direction', () => {
    law(fc.tuple(segments, fraction), ([s, t]) => {
      const r = reverseSegment(s);
      expect(dist(pointAt(r, 1 - t), pointAt(s, t))).toBeLessThan(1e-11);
      expect(len(add(directionAt(r, 1 - t), directionAt(s, t)))).toBeLessThan(1e-11);
      expect(segmentLength(r)).toBe(segmentLength(s));
      expect(curvatureOf(r) + curvatureOf(s)).toBe(0);
      expect(reverseSegment(r)).toEqual(s);
    });
  });

  test('the direction is the limit of the chord', () => {
    law(fc.tuple(segments, fc.double({ min: 0.01, max: 0.99, noNaN: true })), ([s, t]) => {
      fc.pre(segmentLength(s) > 0.01);
      const h = 1e-5;
      const chord = unit({
        x: pointAt(s, t + h).x - pointAt(s, t - h).x,
        y: pointAt(s, t + h).y - pointAt(s, t - h).y,
      });
      expect(dist(chord, directionAt(s, t))).toBeLessThan(1e-4);
    });
  });

  test('split pieces share their point and keep the length', () => {
    law(fc.tuple(segments, fraction), ([s, t]) => {
      const [first, second] = splitAt(s, t);
      expect(first.b).toEqual(second.a);
      expect(first.a).toEqual(s.a);
      expect(second.b).toEqual(s.b);
      expect(segmentLength(first) + segmentLength(second)).toBeCloseTo(segmentLength(s), 11);
    });
  });

  test('a piece is part of the whole', () => {
    law(fc.tuple(segments, fraction, fraction, fraction), ([s, t0, t1, t]) => {
      const piece = subSegment(s, t0, t1);
      const lo = Math.min(t0, t1);
      const hi = Math.max(t0, t1);
      expect(dist(pointAt(piece, t), pointAt(s, lo + (hi - lo) * t))).toBeLessThan(1e-10);
    });
  });

  test('the box holds every sampled point and is tight', () => {
    law(
      segments,
      (s) => {
        const box = segmentBox(s);
        const xs = sample(s, 400).map((q) => q.x);
        const ys = sample(s, 400).map((q) => q.y);
        const slack = 1e-12 + segmentLength(s) / 400;
        expect(Math.min(...xs)).toBeGreaterThanOrEqual(box.minX - 1e-11);
        expect(Math.max(...ys)).toBeLessThanOrEqual(box.maxY + 1e-11);
        expect(Math.max(...xs)).toBeGreaterThanOrEqual(box.maxX - slack);
        expect(Math.min(...ys)).toBeLessThanOrEqual(box.minY + slack);
      },
      500,
    );
  });

  test('nearest and farthest agree with samples', () => {
    law(
      fc.tuple(segments, points),
      ([s, q]) => {
        const n = nearestOn(s, q);
        expect(dist(n.point, q)).toBeCloseTo(n.distance, 10);
        expect(dist(pointAt(s, n.t), n.point)).toBeLessThan(1e-9);
        const sampled = sample(s, 300).map((x) => dist(x, q));
        const spacing = segmentLength(s) / 300;
        expect(n.distance).toBeLessThanOrEqual(Math.min(...sampled) + 1e-11);
        expect(n.distance).toBeGreaterThanOrEqual(Math.min(...sampled) - spacing);
        expect(maxDistanceFromPoint(s, q)).toBeGreaterThanOrEqual(Math.max(...sampled) - 1e-11);
        expect(maxDistanceFromPoint(s, q)).toBeLessThanOrEqual(Math.max(...sampled) + spacing);
      },
      1000,
    );
  });
});

describe('degenerate and very flat segments', () => {
  test('a line of no length is total', () => {
    const s = line(p(1, 2), p(1, 2));
    expect(segmentLength(s)).toBe(0);
    expect(directionAt(s, 0.3)).toEqual(p(0, 0));
    expect(nearestOn(s, p(4, 6))).toEqual({ point: p(1, 2), t: 0, distance: 5 });
    expect(curvatureOf(s)).toBe(0);
  });

  test('the centre of an arc is equally far from all its points: the first is given', () => {
    expect(nearestOn(arc(p(0, 0), 3, 1, 2), p(0, 0))).toMatchObject({ t: 0, distance: 3 });
  });

  test('an arc of 12 500 km radius is measured from its chord: 1 micrometre of rise on 10 mm', () => {
    const s = arcFromBulge(p(0, 0), p(10, 0), -2e-7) as Arc;
    expect(s.radius).toBeGreaterThan(1e7);
    expect(pointAt(s, 0.5).y).toBeCloseTo(1e-6, 12);
    expect(nearestOn(s, p(5, 1)).distance).toBeCloseTo(1 - 1e-6, 9);
    expect(nearestOn(s, p(5, 1)).t).toBeCloseTo(0.5, 6);
  });

  test('figures that are not finite, and arcs that disagree with themselves, are found', () => {
    expect(isFiniteSegment(line(p(0, 0), p(Number.NaN, 0)))).toBe(false);
    expect(isFiniteSegment({ ...circle(p(0, 0), 1), radius: Number.POSITIVE_INFINITY })).toBe(false);
    expect(arcError({ ...arc(p(0, 0), 2, 0, 1), a: p(2.5, 0) })).toBeCloseTo(0.5, 12);
    expect(arcError({ ...circle(p(0, 0), 1), sweep: 0 })).toBe(Number.POSITIVE_INFINITY);
    expect(arcError(line(p(0, 0), p(1, 1)))).toBe(0);
  });
});
