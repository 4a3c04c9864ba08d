import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { loopArea, loopCentroid, loopLength, positionOf, regionArea } from '../../src/geometry/measure/loop.ts';
import { dist, sub } from '../../src/geometry/measure/point.ts';
import { arc, pointAt, segmentLength } from '../../src/geometry/measure/segment.ts';
import {
  inversePlacement,
  NO_PLACEMENT,
  type Placement,
  placeLoop,
  placePoint,
  placeRegion,
  placeSegment,
  placeVector,
  unplacePoint,
} from '../../src/geometry/measure/transform.ts';
import { law, loops, p, plate, points, segments } from './helpers.ts';
import { signedDistance } from './oracle.ts';

const placements: fc.Arbitrary<Placement> = fc.record({
  at: points,
  turn: fc.oneof(
    fc.constantFrom(0, 0.5, 1, 1.5, -1, -0.5).map((q) => q * Math.PI),
    fc.double({ min: -7, max: 7, noNaN: true }).map((v) => Math.round(v * 1e9) / 1e9),
  ),
  mirror: fc.boolean(),
});

describe('the rule of the contract: mirror, then turn, then move', () => {
  test('worked by hand', () => {
    const place = { at: p(100, 50), turn: Math.PI / 2, mirror: true };
    // 3,1 mirrored is -3,1; a quarter turn makes it -1,-3; moved it is 99,47.
    expect(placePoint(place, p(3, 1))).toEqual(p(99, 47));
    expect(placePoint({ ...place, mirror: false }, p(3, 1))).toEqual(p(99, 53));
    expect(placePoint({ ...place, turn: 0 }, p(3, 1))).toEqual(p(97, 51));
    expect(placeVector(place, p(1, 0))).toEqual(p(0, -1));
    expect(placePoint(NO_PLACEMENT, p(3, 1))).toEqual(p(3, 1));
  });

  test('quarter turns are exact: no digit of a round coordinate is lost', () => {
    for (const [turn, x, y] of [
      [90, -0.1, 32.7],
      [180, -32.7, -0.1],
      [270, 0.1, -32.7],
      [-90, 0.1, -32.7],
      [360, 32.7, 0.1],
    ] as const) {
      expect(placePoint({ at: p(0, 0), turn: (turn * Math.PI) / 180, mirror: false }, p(32.7, 0.1))).toEqual(p(x, y));
    }
  });

  test('a mirrored arc turns the other way', () => {
    const s = placeSegment({ at: p(0, 0), turn: 0, mirror: true }, arc(p(1, 0), 2, 0, 1));
    expect(s).toMatchObject({ sweep: -1, radius: 2, a: p(-3, 0) });
    expect(s.kind === 'arc' && s.centre.x).toBe(-1);
  });
});

describe('laws of placing', () => {
  test('there and back is the same point, by the inverse and by unplacing', () => {
    law(fc.tuple(placements, points), ([place, q]) => {
      const placed = placePoint(place, q);
      expect(dist(unplacePoint(place, placed), q)).toBeLessThan(1e-12);
      expect(dist(placePoint(inversePlacement(place), placed), q)).toBeLessThan(1e-12);
    });
  });

  test('a placed segment passes through the placed points', () => {
    law(fc.tuple(placements, segments, fc.double({ min: 0, max: 1, noNaN: true })), ([place, s, t]) => {
      const placed = placeSegment(place, s);
      expect(dist(pointAt(placed, t), placePoint(place, pointAt(s, t)))).toBeLessThan(1e-11);
      expect(segmentLength(placed)).toBeCloseTo(segmentLength(s), 11);
    });
  });

  test('a placed loop keeps length, area with its sign, centre, closure and order of material', () => {
    law(fc.tuple(placements, loops), ([place, loop]) => {
      const placed = placeLoop(place, loop);
      expect(loopLength(placed)).toBeCloseTo(loopLength(loop), 9);
      expect(loopArea(placed)).toBeCloseTo(loopArea(loop), 8);
      expect(dist(loopCentroid(placed)!, placePoint(place, loopCentroid(loop)!))).toBeLessThan(1e-9);
      for (const [i, s] of placed.entries()) expect(s.b).toEqual(placed[(i + 1) % placed.length]!.a);
      expect(positionOf(placed, placePoint(place, loop[0]!.a))!.distance).toBeLessThan(1e-10);
    });
  });

  test('signed distance to a placed region is that of the part', () => {
    const region = plate();
    law(fc.tuple(placements, points), ([place, q]) => {
      const d = signedDistance(region, q);
      fc.pre(Math.abs(d) > 1e-9);
      expect(signedDistance(placeRegion(place, region), placePoint(place, q))).toBeCloseTo(d, 10);
    });
    expect(regionArea(placeRegion({ at: p(3, 4), turn: 1, mirror: true }, region))).toBeCloseTo(regionArea(region), 9);
  });

  test('vectors turn but do not move', () => {
    law(fc.tuple(placements, points, points), ([place, q, r]) => {
      const moved = sub(placePoint(place, q), placePoint(place, r));
      expect(dist(moved, placeVector(place, sub(q, r)))).toBeLessThan(1e-11);
    });
  });
});
