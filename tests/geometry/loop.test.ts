import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  chainBetween,
  EMPTY_BOX,
  loopArea,
  loopBox,
  loopCentroid,
  loopLength,
  orient,
  pointAlong,
  positionOf,
  regionArea,
  reverseLoop,
  startAt,
  takeLength,
} from '../../src/geometry/measure/loop.ts';
import { dist, unit } from '../../src/geometry/measure/point.ts';
import { arc, arcFromBulge, circle, line } from '../../src/geometry/measure/segment.ts';
import type { Loop } from '../../src/geometry/types.ts';
import { law, loops, p, plate, points, polygonOf, shoelace } from './helpers.ts';

const along = fc.double({ min: -200, max: 200, noNaN: true }).map((v) => Math.round(v * 1e6) / 1e6 + 0);

describe('area and centre, closed forms', () => {
  test('circle and ring: pi r^2', () => {
    expect(loopArea([circle(p(7, -3), 5)])).toBeCloseTo(25 * Math.PI, 12);
    expect(loopArea([arc(p(7, -3), 5, 1, -2 * Math.PI)])).toBeCloseTo(-25 * Math.PI, 12);
    expect(regionArea({ outer: [circle(p(0, 0), 5)], holes: [[circle(p(1, 0), 2)]] })).toBeCloseTo(21 * Math.PI, 12);
    expect(loopCentroid([circle(p(7, -3), 5)])).toMatchObject({ x: expect.closeTo(7, 12), y: expect.closeTo(-3, 12) });
  });

  test('half disc: centre of area at 4 r / (3 pi) (Machinery handbooks, properties of sections; from memory)', () => {
    const half: Loop = [arc(p(0, 0), 3, 0, Math.PI), line(p(-3, 0), p(3, 0))];
    const c = loopCentroid(half)!;
    expect(c.x).toBeCloseTo(0, 12);
    expect(c.y).toBeCloseTo((4 * 3) / (3 * Math.PI), 12);
    expect(loopArea(half)).toBeCloseTo(4.5 * Math.PI, 12);
  });

  test('quarter disc: centre of area at 4 r / (3 pi) from both edges', () => {
    const c = loopCentroid([line(p(0, 0), p(2, 0)), arc(p(0, 0), 2, 0, Math.PI / 2), line(p(0, 2), p(0, 0))])!;
    expect(c).toMatchObject({ x: expect.closeTo(8 / (3 * Math.PI), 12), y: expect.closeTo(8 / (3 * Math.PI), 12) });
  });

  test('a very flat cap keeps its digits: 2/3 chord times rise', () => {
    const rise = 1e-5;
    const s = arcFromBulge(p(0, 0), p(10, 0), (2 * rise) / 10);
    expect(loopArea([s, line(p(10, 0), p(0, 0))]) / ((2 / 3) * 10 * rise)).toBeCloseTo(1, 8);
  });
});

describe('laws of every loop', () => {
  test('area and centre are the limit of a dense polygon', () => {
    law(
      loops,
      (loop) => {
        const coarse = shoelace(polygonOf(loop, 100));
        const fine = shoelace(polygonOf(loop, 200));
        // The chord error falls with the square of the spacing: one step of Richardson's extrapolation.
        expect(loopArea(loop)).toBeCloseTo(fine + (fine - coarse) / 3, 5);
      },
      500,
    );
  });

  test('reversed: same length, box and centre, opposite area', () => {
    law(loops, (loop) => {
      const r = reverseLoop(loop);
      expect(loopLength(r)).toBeCloseTo(loopLength(loop), 10);
      expect(loopArea(r)).toBeCloseTo(-loopArea(loop), 9);
      expect(loopBox(r)).toEqual(loopBox(loop));
      expect(dist(loopCentroid(r)!, loopCentroid(loop)!)).toBeLessThan(1e-9);
      expect(orient(r, 'ccw')).toEqual(loop);
      expect(orient(loop, 'ccw')).toBe(loop);
      expect(loopArea(orient(loop, 'cw'))).toBeLessThan(0);
    });
  });

  test('begun elsewhere: same length, area and centre, and closed bit for bit', () => {
    law(fc.tuple(loops, along), ([loop, s]) => {
      const again = startAt(loop, s);
      expect(loopLength(again)).toBeCloseTo(loopLength(loop), 9);
      expect(loopArea(again)).toBeCloseTo(loopArea(loop), 8);
      expect(dist(loopCentroid(again)!, loopCentroid(loop)!)).toBeLessThan(1e-8);
      for (const [i, seg] of again.entries()) expect(seg.b).toEqual(again[(i + 1) % again.length]!.a);
      expect(dist(again[0]!.a, pointAlong(loop, s)!.point)).toBeLessThan(1e-10);
    });
  });

  test('a place along the loop is found again, and lies between the ends of its piece', () => {
    law(fc.tuple(loops, along), ([loop, s]) => {
      const total = loopLength(loop);
      const spot = pointAlong(loop, s)!;
      const back = positionOf(loop, spot.point)!;
      expect(back.distance).toBeLessThan(1e-10);
      const apart = Math.abs(back.s - (s - total * Math.floor(s / total)));
      expect(Math.min(apart, total - apart)).toBeLessThan(1e-8);
      expect(dist(spot.direction, unit(spot.direction))).toBeLessThan(1e-12);
    });
  });

  test('a piece from s0 to s1 and the piece from s1 to s0 make the whole', () => {
    law(fc.tuple(loops, along, along), ([loop, s0, s1]) => {
      const total = loopLength(loop);
      const there = chainBetween(loop, s0, s1);
      const back = chainBetween(loop, s1, s0);
      if (there.length === 0 && back.length === 0) return;
      expect(loopLength(there) + loopLength(back)).toBeCloseTo(total, 8);
      if (there.length > 0) expect(dist(there.at(-1)!.b, pointAlong(loop, s1)!.point)).toBeLessThan(1e-9);
    });
  });

  test('the nearest place of a loop is no farther than any sample', () => {
    law(
      fc.tuple(loops, points),
      ([loop, q]) => {
        const sampled = Math.min(...polygonOf(loop, 60).map((x) => dist(x, q)));
        expect(positionOf(loop, q)!.distance).toBeLessThanOrEqual(sampled + 1e-11);
      },
      500,
    );
  });
});

describe('degenerate loops have a named outcome', () => {
  test('empty', () => {
    expect(loopLength([])).toBe(0);
    expect(loopArea([])).toBe(0);
    expect(loopCentroid([])).toBeUndefined();
    expect(loopBox([])).toEqual(EMPTY_BOX);
    expect(pointAlong([], 3)).toBeUndefined();
    expect(positionOf([], p(0, 0))).toBeUndefined();
    expect(startAt([], 3)).toEqual([]);
    expect(chainBetween([], 0, 1)).toEqual([]);
  });

  test('no length, no area', () => {
    const dot = [line(p(1, 1), p(1, 1))];
    expect(pointAlong(dot, 1)).toBeUndefined();
    expect(loopCentroid([line(p(0, 0), p(5, 0)), line(p(5, 0), p(0, 0))])).toBeUndefined();
  });

  test('a piece of no length is empty; a chain shorter than asked is given whole', () => {
    const { outer } = plate();
    expect(chainBetween(outer, 5, 5)).toEqual([]);
    expect(takeLength(outer, 1e9)).toEqual(outer);
    expect(takeLength(outer, 0)).toEqual([]);
  });
});
