import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { edgeOf } from '../../../src/check/wanted/edge.ts';
import { discHull, webHull } from '../../../src/check/wanted/hull.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { nearestOn, pointAt } from '../../../src/geometry/measure/segment.ts';
import type { Point } from '../../../src/geometry/types.ts';
import type { Outline } from '../../../src/part/part.ts';
import { random, runs, SEED } from '../../runs.ts';

type Boss = { at: Point; radius: number };

function bossesOf(o: Outline): Boss[] {
  return o.source.kind === 'bosses' ? [...o.source.bosses] : [];
}

function outline(bosses: Boss[], webs: [number, number][], fillet = 0): Outline {
  return { loop: [], inner: [], source: { kind: 'bosses', bosses, webs, fillet } };
}

/** Distance to the hull of two discs, by walking along the line of centres: no tangent is used. */
function slowHull(p: Point, a: Boss, b: Boss): number {
  const f = (t: number) =>
    Math.hypot(p.x - a.at.x - (b.at.x - a.at.x) * t, p.y - a.at.y - (b.at.y - a.at.y) * t) -
    a.radius -
    (b.radius - a.radius) * t;
  let lo = 0;
  let hi = 1;
  // The distance is convex in t, so thirds close in on the least.
  for (let i = 0; i < 60; i++) {
    const u = lo + (hi - lo) / 3;
    const v = hi - (hi - lo) / 3;
    if (f(u) < f(v)) hi = v;
    else lo = u;
  }
  return f((lo + hi) / 2);
}

const point = fc.record({
  x: fc.double({ min: -30, max: 30, noNaN: true }),
  y: fc.double({ min: -30, max: 30, noNaN: true }),
});
const boss = fc.record({ at: point, radius: fc.double({ min: 1, max: 8, noNaN: true }) });

describe('a web', () => {
  it('its distance is the least over all discs between its two bosses', () => {
    fc.assert(
      fc.property(boss, boss, point, (a, b, p) => {
        expect(webHull(a, b).distance(p)).toBeCloseTo(slowHull(p, a, b), 6);
      }),
      { numRuns: runs(2000), seed: SEED },
    );
  });

  it('its edge closes, and every point of it is at distance nought', () => {
    fc.assert(
      fc.property(boss, boss, fc.double({ min: 0, max: 1, noNaN: true }), (a, b, t) => {
        fc.pre(Math.abs(dist(a.at, b.at) - Math.abs(a.radius - b.radius)) > 0.01);
        const h = webHull(a, b);
        for (const [i, s] of h.edge.entries()) {
          expect(dist(s.b, h.edge[(i + 1) % h.edge.length]!.a)).toBeLessThan(1e-9);
          expect(Math.abs(h.distance(pointAt(s, t)))).toBeLessThan(1e-6);
        }
      }),
      { numRuns: runs(1000), seed: SEED },
    );
  });

  it('a disc inside the other adds nothing', () => {
    const big = { at: { x: 0, y: 0 }, radius: 5 };
    const h = webHull(big, { at: { x: 1, y: 0 }, radius: 2 });
    expect(h.edge).toEqual(discHull(big).edge);
  });
});

describe('the edge of several webs', () => {
  const elbow = outline(
    [
      { at: { x: 0, y: 0 }, radius: 5 },
      { at: { x: 25, y: 0 }, radius: 4 },
      { at: { x: 25, y: 20 }, radius: 3 },
    ],
    [
      [0, 1],
      [1, 2],
    ],
    2,
  );

  it('without fillets, inside is inside one of the webs', () => {
    const plain = outline(
      [...bossesOf(elbow)],
      [
        [0, 1],
        [1, 2],
      ],
    );
    const e = edgeOf(plain);
    const next = random(SEED);
    let seen = 0;
    for (let i = 0; i < 3000; i++) {
      const p = { x: 40 * next() - 8, y: 36 * next() - 8 };
      const b = bossesOf(plain);
      const d = Math.min(slowHull(p, b[0]!, b[1]!), slowHull(p, b[1]!, b[2]!));
      if (Math.abs(d) < 1e-6) continue;
      seen++;
      expect(e.inside(p)).toBe(d < 0);
      if (d > 0) expect(Math.min(...e.pieces.map((s) => nearestOn(s, p).distance))).toBeCloseTo(d, 6);
    }
    expect(seen).toBeGreaterThan(2900);
  });

  it('a fillet is the closing of the figure by a disc of its radius', () => {
    const e = edgeOf(elbow);
    const b = bossesOf(elbow);
    // The webs' own distances are proved above; the slow ones would take minutes here.
    const hulls = [webHull(b[0]!, b[1]!), webHull(b[1]!, b[2]!)];
    const union = (p: Point) => Math.min(...hulls.map((h) => h.distance(p)));
    // A point is outside the closing when some disc of the radius holds it and stays clear of the webs.
    const outside = (p: Point) => {
      if (union(p) >= 2) return true;
      for (let i = 0; i < 72; i++) {
        for (const r of [1, 1.7, 2]) {
          const c = { x: p.x + r * Math.cos((i * Math.PI) / 36), y: p.y + r * Math.sin((i * Math.PI) / 36) };
          if (union(c) >= 2) return true;
        }
      }
      return false;
    };
    let corner = 0;
    for (let x = 15; x < 24; x += 0.3) {
      for (let y = 3; y < 12; y += 0.3) {
        const p = { x, y };
        if (Math.abs(Math.min(...e.pieces.map((s) => nearestOn(s, p).distance))) < 0.08) continue;
        expect(e.inside(p)).toBe(!outside(p));
        if (union(p) > 0 && e.inside(p)) corner++;
      }
    }
    expect(corner).toBeGreaterThan(3);
    expect(e.pieces.some((s) => s.kind === 'arc' && Math.abs(s.radius - 2) < 1e-12)).toBe(true);
  });

  it('a boss that two webs share has no fillet on its far side', () => {
    const fork = outline(
      [
        { at: { x: 0, y: 0 }, radius: 6 },
        { at: { x: 28, y: 6 }, radius: 3.5 },
        { at: { x: -14, y: 10 }, radius: 4 },
      ],
      [
        [0, 1],
        [0, 2],
      ],
      3,
    );
    const e = edgeOf(fork);
    const b = bossesOf(fork);
    const hulls = [webHull(b[0]!, b[1]!), webHull(b[0]!, b[2]!)];
    const next = random(SEED);
    let filled = 0;
    for (let i = 0; i < 4000; i++) {
      const p = { x: 60 * next() - 24, y: 40 * next() - 15 };
      const d = Math.min(...hulls.map((h) => h.distance(p)));
      // The one fillet lies above the boss, near x 1, y 6 to 7.
      const inCorner = Math.abs(p.x - 1) < 2 && p.y > 5 && p.y < 8;
      if (!inCorner) expect(e.inside(p)).toBe(d < 0);
      else if (d > 0 && e.inside(p)) filled++;
    }
    expect(filled).toBeGreaterThan(0);
  });

  it('every end of a piece meets another: the edge is closed', () => {
    const e = edgeOf(elbow);
    const ends = e.pieces.flatMap((s) => [s.a, s.b]);
    for (const p of ends) expect(ends.filter((q) => dist(p, q) < 1e-6).length).toBeGreaterThanOrEqual(2);
    expect(e.pieces.length).toBeGreaterThan(6);
  });
});
