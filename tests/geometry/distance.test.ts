import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { closestApproach, RegionEdge } from '../../src/geometry/measure/approach.ts';
import { distanceToLoop, loopGap, segmentGap } from '../../src/geometry/measure/distance.ts';
import { greatestDistance } from '../../src/geometry/measure/farthest.ts';
import { SegmentIndex } from '../../src/geometry/measure/index.ts';
import { whereIs, windingOf } from '../../src/geometry/measure/inside.ts';
import { reverseLoop, startAt } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import {
  arc,
  arcFromBulge,
  circle,
  line,
  nearestOn,
  pointAt,
  segmentLength,
} from '../../src/geometry/measure/segment.ts';
import type { Loop, Region, Segment } from '../../src/geometry/types.ts';
import { inPolygon, law, loops, p, plate, points, polygonOf, sample, seeded, segments } from './helpers.ts';
import { signedDistance } from './oracle.ts';

describe('inside', () => {
  test('agrees with a dense polygon away from the edge', () => {
    const seen = { inside: 0, outside: 0 };
    law(fc.tuple(loops, points, fc.nat()), ([loop, q, i]) => {
      // Half the points are drawn close to the loop, where the answer is not obvious.
      const edge = polygonOf(loop, 7);
      const near = edge[i % edge.length]!;
      const at = i % 2 === 0 ? q : p(near.x + q.x / 20, near.y + q.y / 20);
      fc.pre(distanceToLoop(loop, at) > 0.02);
      const where = whereIs(loop, at);
      seen[where as 'inside' | 'outside']++;
      expect(where).toBe(inPolygon(polygonOf(loop, 60), at) ? 'inside' : 'outside');
      expect(whereIs(reverseLoop(loop), at)).toBe(where);
      expect(whereIs(startAt(loop, i % 97), at)).toBe(where);
    });
    expect(seen.inside).toBeGreaterThan(20);
    expect(seen.outside).toBeGreaterThan(20);
  });

  test('level with corners, on chords and on the far side of major arcs: the cases that fool a ray', () => {
    // Three quarters of a disc: the chord of the arc cuts through the middle of the area.
    const pac: Loop = [arc(p(0, 0), 5, Math.PI / 2, 1.5 * Math.PI), line(p(5, 0), p(0, 0)), line(p(0, 0), p(0, 5))];
    expect(pac[0]!.b.x).toBeCloseTo(5, 12);
    const closed: Loop = [{ ...pac[0]!, b: p(5, 0), a: p(0, 5) }, pac[1]!, pac[2]!];
    for (const [x, y] of [
      [-1, 0],
      [-4.9, 0],
      [0, -1],
      [-2, 5 - 2e-1 - 1],
      [-3, 3],
      [4, -1],
      [0, -4.99],
    ] as const)
      expect([x, y, whereIs(closed, p(x, y))]).toEqual([x, y, 'inside']);
    for (const [x, y] of [
      [1, 1],
      [2.5, 2.5],
      [4.9, 0.1],
      [0.1, 4.9],
      [-5, 5],
      [6, 0],
      [-6, 0],
      [0, 6],
      [3, 5],
    ] as const)
      expect([x, y, whereIs(closed, p(x, y))]).toEqual([x, y, 'outside']);
    for (const [x, y] of [
      [2, 0],
      [0, 2],
      [0, 0],
      [-5, 0],
      [0, -5],
      [5, 0],
    ] as const)
      expect([x, y, whereIs(closed, p(x, y))]).toEqual([x, y, 'edge']);
  });

  test('points exactly on a chord of every direction belong to the cap or the rest, once', () => {
    let seen = 0;
    for (let k = 0; k < 16; k++) {
      for (const bulge of [-0.9, -0.3, 0.3, 0.9]) {
        const a = p(Math.round(8 * Math.cos((k * Math.PI) / 8)), Math.round(8 * Math.sin((k * Math.PI) / 8)));
        const b = p(-a.x, -a.y);
        const far = p(-3 * a.y, 3 * a.x);
        // Chord a-b passes exactly through 0,0; the third corner is to the left.
        const loop = [arcFromBulge(a, b, bulge), line(b, p(-far.x, -far.y)), line(p(-far.x, -far.y), a)];
        const wanted = inPolygon(polygonOf(loop, 501), p(0, 0)) ? 'inside' : 'outside';
        expect([k, bulge, whereIs(loop, p(0, 0))]).toEqual([k, bulge, wanted]);
        seen++;
      }
    }
    expect(seen).toBe(64);
  });

  test('winding counts turns and sense', () => {
    const once = [circle(p(0, 0), 2)];
    expect(windingOf(once, p(0, 0))).toBe(1);
    expect(windingOf(reverseLoop(once), p(1, 1))).toBe(-1);
    expect(windingOf([...once, ...once], p(0, 0))).toBe(2);
    expect(windingOf([], p(0, 0))).toBe(0);
  });

  test('tolerance decides what is on the edge', () => {
    const disc = [circle(p(0, 0), 2)];
    expect(whereIs(disc, p(2 + 0.9e-7, 0))).toBe('edge');
    expect(whereIs(disc, p(2 + 2e-7, 0))).toBe('outside');
    expect(whereIs(disc, p(0, 1.95), 0.1)).toBe('edge');
  });
});

describe('distance between segments', () => {
  test('closed forms', () => {
    const gaps: [Segment, Segment, number][] = [
      [circle(p(0, 0), 1), circle(p(5, 0), 2), 2],
      [circle(p(0, 0), 10), circle(p(3, 0), 2), 5],
      [circle(p(0, 0), 10), circle(p(0, 0), 4), 6],
      [circle(p(0, 0), 2), circle(p(3, 0), 2), 0],
      [line(p(-5, 3), p(5, 3)), circle(p(0, 0), 1), 2],
      [line(p(-1, 0), p(1, 0)), circle(p(0, 0), 3), 2],
      [line(p(-9, 0), p(9, 0)), circle(p(0, 0), 3), 0],
      [line(p(0, 0), p(4, 0)), line(p(7, 4), p(9, 9)), 5],
      [line(p(0, 0), p(4, 0)), line(p(2, -1), p(2, 5)), 0],
      [line(p(0, 0), p(4, 0)), line(p(6, 0), p(9, 0)), 2],
      [line(p(0, 0), p(4, 0)), line(p(1, 2), p(3, 2)), 2],
      // Half circle over the x axis: the lower half of the circle is not there.
      [arc(p(0, 0), 3, 0, Math.PI), line(p(-9, -4), p(9, -4)), 4],
      [arc(p(0, 0), 3, 0, Math.PI), line(p(-9, 5), p(9, 5)), 2],
      [arc(p(0, 0), 5, 0, Math.PI / 2), arc(p(0, 0), 3, Math.PI, Math.PI / 2), Math.sqrt(34)],
    ];
    for (const [s, t, wanted] of gaps) {
      expect(segmentGap(s, t).distance).toBeCloseTo(wanted, 12);
      expect(segmentGap(t, s).distance).toBeCloseTo(wanted, 12);
    }
  });

  test('it is symmetric, its points lie on both, and no sampled pair is nearer', () => {
    law(
      fc.tuple(segments, segments),
      ([s, t]) => {
        const g = segmentGap(s, t);
        expect(segmentGap(t, s).distance).toBeCloseTo(g.distance, 9);
        expect(dist(g.p, g.q)).toBeCloseTo(g.distance, 9);
        expect(nearestOn(s, g.p).distance).toBeLessThan(1e-9);
        expect(nearestOn(t, g.q).distance).toBeLessThan(1e-9);
        const sampled = Math.min(...sample(s, 200).map((q) => nearestOn(t, q).distance));
        expect(g.distance).toBeLessThanOrEqual(sampled + 1e-10);
        expect(g.distance).toBeGreaterThanOrEqual(sampled - segmentLength(s) / 200 - 1e-12);
      },
      5000,
    );
  });

  test('the greatest distance of a path from an edge is that of dense samples', () => {
    law(
      fc.tuple(segments, segments),
      ([s, t]) => {
        const sampled = Math.max(...sample(s, 400).map((q) => nearestOn(t, q).distance));
        expect(greatestDistance(s, t)).toBeGreaterThanOrEqual(sampled - 1e-10);
        expect(greatestDistance(s, t)).toBeLessThanOrEqual(sampled + segmentLength(s) / 400 + 1e-12);
      },
      5000,
    );
  });

  test('loops: the least of all pairs', () => {
    const ring = [circle(p(10, 0), 3)];
    const slot = [
      line(p(0, -1), p(4, -1)),
      arcFromBulge(p(4, -1), p(4, 1), 1),
      line(p(4, 1), p(0, 1)),
      arcFromBulge(p(0, 1), p(0, -1), 1),
    ];
    expect(loopGap(ring, slot).distance).toBeCloseTo(2, 12);
    expect(loopGap([], slot).distance).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('segment index', () => {
  test('answers as if every segment had been tried', () => {
    law(fc.tuple(fc.array(segments, { minLength: 1, maxLength: 60 }), points, segments), ([all, q, path]) => {
      const index = new SegmentIndex(all);
      const each = all.map((s) => nearestOn(s, q).distance);
      const n = index.nearest(q)!;
      expect(n.distance).toBe(Math.min(...each));
      expect(n.index).toBe(each.indexOf(n.distance));
      expect(index.near(q, 5)).toEqual(each.flatMap((d, i) => (d <= 5 ? [i] : [])));
      expect(index.gap(path).distance).toBe(Math.min(...all.map((s) => segmentGap(path, s).distance)));
    });
  });

  test('an empty set has no nearest, nothing within, and an infinite gap', () => {
    const none = new SegmentIndex([]);
    expect(none.nearest(p(0, 0))).toBeUndefined();
    expect(none.within({ minX: -9, minY: -9, maxX: 9, maxY: 9 })).toEqual([]);
    expect(none.gap(line(p(0, 0), p(1, 0)))).toMatchObject({ index: -1, distance: Number.POSITIVE_INFINITY });
  });
});

/** Signed distance by trying everything: the comparison for the prepared edge. */
function leastOfSamples(path: Segment, region: Region, n: number): number {
  return Math.min(...sample(path, n).map((q) => signedDistance(region, q)));
}

describe('closest approach of a moving cutter', () => {
  const disc: Region = { outer: [circle(p(0, 0), 10)], holes: [] };
  const bar: Region = {
    outer: [line(p(0, 0), p(60, 0)), line(p(60, 0), p(60, 10)), line(p(60, 10), p(0, 10)), line(p(0, 10), p(0, 0))],
    holes: [],
  };

  test('closed forms outside', () => {
    expect(closestApproach(line(p(-20, 12), p(20, 12)), disc)).toMatchObject({
      distance: expect.closeTo(2, 12),
      t: expect.closeTo(0.5, 12),
      within: 0,
    });
    expect(closestApproach(arc(p(0, 0), 13, 0, 1), disc).distance).toBeCloseTo(3, 12);
    expect(closestApproach(line(p(70, 5), p(64, 5)), bar)).toMatchObject({ distance: 4, t: 1 });
    expect(closestApproach(line(p(61, 14), p(64, 11)), bar).distance).toBeCloseTo(Math.sqrt(12.5), 12);
  });

  test('closed forms inside: the deepest point, not the entry', () => {
    const cut = closestApproach(line(p(-20, 3), p(20, 3)), disc);
    expect(cut.distance).toBeCloseTo(-7, 8);
    expect(cut.at.x).toBeCloseTo(0, 3);
    expect(cut.within).toBeLessThanOrEqual(1e-9);
    // Straight through the bar: deepest half-way, where two sides are equally near.
    expect(closestApproach(line(p(30, -5), p(30, 15)), bar).distance).toBeCloseTo(-5, 8);
    // Along its middle: the same depth over a whole stretch.
    expect(closestApproach(line(p(-5, 5), p(70, 5)), bar).distance).toBeCloseTo(-5, 8);
    expect(closestApproach(line(p(10, 3), p(50, 3)), bar).distance).toBeCloseTo(-3, 8);
    expect(closestApproach(arc(p(0, 0), 4, 0, 2 * Math.PI), disc).distance).toBeCloseTo(-6, 8);
  });

  test('riding on the edge, or touching it, is zero', () => {
    expect(closestApproach(line(p(5, 10), p(50, 10)), bar).distance).toBeCloseTo(0, 8);
    expect(closestApproach(line(p(-20, 10), p(20, 10)), disc).distance).toBeCloseTo(0, 8);
    expect(closestApproach(circle(p(0, 0), 10), disc).distance).toBeCloseTo(0, 8);
  });

  test('inside an opening the cutter is outside the material', () => {
    const region = plate();
    expect(closestApproach(circle(p(36, 10), 2.5), region).distance).toBeCloseTo(1.5, 12);
    expect(closestApproach(line(p(8, 6), p(20, 6)), region).distance).toBeCloseTo(2, 12);
  });

  test('agrees with dense samples on a plate with openings, in and out', () => {
    const region = plate();
    const edge = new RegionEdge(region);
    const seen = { in: 0, out: 0 };
    const shift = (s: Segment): Segment =>
      s.kind === 'line'
        ? line(p(s.a.x + 20, s.a.y + 10), p(s.b.x + 20, s.b.y + 10))
        : arc(p(s.centre.x / 2 + 20, s.centre.y / 2 + 10), s.radius / 4, 0.3, s.sweep);
    law(
      segments.map(shift),
      (path) => {
        const a = edge.closestApproach(path);
        const least = leastOfSamples(path, region, 300);
        expect(a.distance - a.within).toBeLessThanOrEqual(least + 1e-9);
        expect(a.distance).toBeGreaterThanOrEqual(least - segmentLength(path) / 300 - 1e-12);
        expect(a.distance).toBeCloseTo(signedDistance(region, a.at), 9);
        expect(dist(a.at, pointAt(path, a.t))).toBeLessThan(1e-8);
        expect(dist(a.at, a.edge)).toBeCloseTo(Math.abs(a.distance), 9);
        expect(a.within).toBeLessThanOrEqual(1e-9);
        if (a.distance < 0) seen.in++;
        else seen.out++;
      },
      2000,
    );
    expect(Math.min(seen.in, seen.out)).toBeGreaterThan(10);
  });

  test('the prepared edge gives the same signed distance as trying everything', () => {
    const region = plate();
    const edge = new RegionEdge(region);
    const next = seeded();
    for (let i = 0; i < 2000; i++) {
      // A quarter on whole coordinates: level with corners and ends of chords.
      const at =
        i % 4 === 0 ? p(Math.round(next() * 50 - 5), Math.round(next() * 30 - 5)) : p(next() * 50 - 5, next() * 30 - 5);
      const d = signedDistance(region, at);
      if (Math.abs(d) > 1e-9) expect([at, edge.signedDistance(at)]).toEqual([at, d]);
    }
  });

  test('a region without edge is infinitely far', () => {
    expect(closestApproach(line(p(0, 0), p(1, 1)), { outer: [], holes: [] }).distance).toBe(Number.POSITIVE_INFINITY);
    expect(signedDistance({ outer: [], holes: [] }, p(0, 0))).toBe(Number.POSITIVE_INFINITY);
  });
});
