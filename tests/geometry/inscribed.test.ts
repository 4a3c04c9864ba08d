import { describe, expect, test } from 'vitest';
import { largestInscribed } from '../../src/geometry/inscribed.ts';
import { loopBox } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { arc, arcFromBulge, circle, line } from '../../src/geometry/measure/segment.ts';
import { placePoint, placeRegion } from '../../src/geometry/measure/transform.ts';
import type { Loop, Point, Region } from '../../src/geometry/types.ts';
import { law, loops, p, plate, seeded } from './helpers.ts';
import { signedDistance } from './oracle.ts';

const solid = (outer: Loop): Region => ({ outer, holes: [] });

function circleIn(region: Region): { centre: Point; radius: number; within: number } {
  const found = largestInscribed(region);
  if (found.kind !== 'circle') throw new Error('no circle found');
  return found;
}

function expectCircle(region: Region, radius: number, centre?: Point): void {
  const c = circleIn(region);
  expect(c.radius).toBeLessThanOrEqual(radius + 1e-9);
  expect(c.radius).toBeGreaterThanOrEqual(radius - 1e-4 - 1e-9);
  expect(c.within).toBeLessThanOrEqual(1e-4);
  // Where the best place is flat, the centre is known only to the root of the tolerance on the radius.
  if (centre !== undefined) expect(dist(c.centre, centre)).toBeLessThan(0.1);
}

describe('closed forms', () => {
  test('the 3-4-5 triangle has an inscribed circle of radius 1 (Euclid IV.4; r = area / half perimeter)', () => {
    expectCircle(solid([line(p(0, 0), p(4, 0)), line(p(4, 0), p(0, 3)), line(p(0, 3), p(0, 0))]), 1, p(1, 1));
  });

  test('circle, ring, half disc', () => {
    expectCircle(solid([circle(p(3, 4), 7)]), 7, p(3, 4));
    expectCircle({ outer: [circle(p(0, 0), 10)], holes: [[circle(p(0, 0), 4)]] }, 3);
    expectCircle({ outer: [circle(p(0, 0), 10)], holes: [[circle(p(2, 0), 4)]] }, 4, p(-6, 0));
    expectCircle(solid([arc(p(0, 0), 6, 0, Math.PI), line(p(-6, 0), p(6, 0))]), 3, p(0, 3));
  });

  test('slot and rectangle: any of a line of centres, the width decides', () => {
    expectCircle(
      solid([
        line(p(0, -1), p(80, -1)),
        arcFromBulge(p(80, -1), p(80, 1), 1),
        line(p(80, 1), p(0, 1)),
        arcFromBulge(p(0, 1), p(0, -1), 1),
      ]),
      1,
    );
    expectCircle(
      solid([line(p(0, 0), p(60, 0)), line(p(60, 0), p(60, 10)), line(p(60, 10), p(0, 10)), line(p(0, 10), p(0, 0))]),
      5,
    );
  });

  test('a lever of two bosses: the larger boss', () => {
    // Hull of circles of radius 6 at 0,0 and 4 at 32,0; tangent points from sin = 2/32.
    const s = 2 / 32;
    const c = Math.sqrt(1 - s * s);
    const [a, b, d, e] = [p(32 + 4 * s, -4 * c), p(32 + 4 * s, 4 * c), p(6 * s, 6 * c), p(6 * s, -6 * c)];
    const sweep = Math.PI - 2 * Math.asin(s);
    const lever: Loop = [
      { ...arc(p(32, 0), 4, -sweep / 2, sweep), a, b },
      line(b, d),
      { ...arc(p(0, 0), 6, sweep / 2, 2 * Math.PI - sweep), a: d, b: e },
      line(e, a),
    ];
    expectCircle(solid(lever), 6, p(0, 0));
  });
});

describe('laws', () => {
  test('the circle fits, and no random circle is larger', () => {
    const next = seeded();
    law(
      loops,
      (loop) => {
        const region = solid(loop);
        const c = circleIn(region);
        expect(-signedDistance(region, c.centre)).toBeCloseTo(c.radius, 12);
        const box = loopBox(loop);
        for (let i = 0; i < 200; i++) {
          const q = p(box.minX + next() * (box.maxX - box.minX), box.minY + next() * (box.maxY - box.minY));
          expect(-signedDistance(region, q)).toBeLessThanOrEqual(c.radius + c.within);
        }
      },
      300,
    );
  });

  test('the same circle when asked again; the placed one when the region is placed', () => {
    const region = plate();
    expect(largestInscribed(region)).toEqual(largestInscribed(plate()));
    const place = { at: p(11, 7), turn: 2, mirror: true };
    const moved = circleIn(placeRegion(place, region));
    expect(moved.radius).toBeCloseTo(circleIn(region).radius, 3);
    expect(dist(moved.centre, placePoint(place, circleIn(region).centre))).toBeLessThan(0.05);
  });

  test('no area, no circle', () => {
    expect(largestInscribed(solid([]))).toEqual({ kind: 'none' });
    expect(largestInscribed(solid([line(p(0, 0), p(5, 0)), line(p(5, 0), p(0, 0))]))).toEqual({ kind: 'none' });
    expect(largestInscribed({ outer: [circle(p(0, 0), 3)], holes: [[circle(p(0, 0), 5)]] })).toEqual({ kind: 'none' });
  });
});
