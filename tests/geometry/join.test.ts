import { describe, expect, test } from 'vitest';
import { flattenChain, flattenLoop } from '../../src/geometry/flatten.ts';
import { intersect, type JoinOutcome, subtract, unite } from '../../src/geometry/join.ts';
import { loopArea, regionArea } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { circle, fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Region } from '../../src/geometry/types.ts';
import { random, runs, SEED } from '../runs.ts';
import { p, seeded, shoelace } from './helpers.ts';
import { randomRegion } from './outlines.ts';

function disc(x: number, y: number, radius: number): Region {
  const c = circle(p(x, y), 2 * radius);
  if (!c.ok) throw new Error('no circle');
  return { outer: c.value, holes: [] };
}

function polygon(...v: OutlineVertex[]): Region {
  const l = fromVertices(v);
  if (!l.ok) throw new Error('no polygon');
  return { outer: l.value, holes: [] };
}

const rect = (x: number, y: number, w: number, h: number) => polygon([x, y], [x + w, y], [x + w, y + h], [x, y + h]);

function regions(o: JoinOutcome): readonly Region[] {
  if (o.kind === 'failed') throw new Error(o.reason);
  return o.kind === 'empty' ? [] : o.regions;
}

const area = (o: JoinOutcome): number => regions(o).reduce((s, g) => s + regionArea(g), 0);

describe('two discs of radius 5, centres 5 apart: lens 2 r^2 acos(d / 2r) - d/2 sqrt(4 r^2 - d^2) (textbook)', () => {
  const lens = 50 * Math.acos(0.5) - 2.5 * Math.sqrt(75);
  const [a, b] = [disc(0, 0, 5), disc(5, 0, 5)];

  test('areas', () => {
    expect(area(intersect(a, b))).toBeCloseTo(lens, 10);
    expect(area(unite([a, b]))).toBeCloseTo(50 * Math.PI - lens, 10);
    expect(area(subtract(a, [b]))).toBeCloseTo(25 * Math.PI - lens, 10);
  });

  test('arcs keep centre and radius, and cross in (2.5, +-sqrt 18.75)', () => {
    const outer = regions(unite([a, b]))[0]!.outer;
    expect(outer).toHaveLength(2);
    for (const s of outer) {
      expect(s).toMatchObject({ kind: 'arc', radius: 5 });
      expect(Math.min(dist(s.a, p(2.5, Math.sqrt(18.75))), dist(s.a, p(2.5, -Math.sqrt(18.75))))).toBeLessThan(1e-12);
    }
  });
});

describe('edges that touch or run along each other', () => {
  test('tiles become one without a seam; tiles apart stay apart; tiles that touch at a corner too', () => {
    const row = regions(unite([rect(0, 0, 2, 2), rect(2, 0, 2, 2), rect(4, 0, 2, 2)]));
    expect(row).toHaveLength(1);
    expect(row[0]!.outer).toHaveLength(4);
    expect(regions(unite([rect(0, 0, 2, 2), rect(3, 0, 2, 2)]))).toHaveLength(2);
    expect(regions(unite([rect(0, 0, 2, 2), rect(2, 2, 2, 2)]))).toHaveLength(2);
    const frame = regions(unite([rect(0, 0, 6, 2), rect(0, 4, 6, 2), rect(0, 0, 2, 6), rect(4, 0, 2, 6)]));
    expect(frame.map((g) => [g.outer.length, g.holes.map((h) => loopArea(h))])).toEqual([[4, [-4]]]);
  });

  test('the same twice; nothing left; a hole; discs that touch', () => {
    const d = disc(0, 0, 5);
    expect(area(unite([d, d]))).toBeCloseTo(25 * Math.PI, 10);
    expect(subtract(d, [d]).kind).toBe('empty');
    expect(intersect(d, disc(20, 0, 5)).kind).toBe('empty');
    expect(unite([]).kind).toBe('empty');
    const ring = regions(subtract(d, [disc(0, 0, 3)]));
    expect(ring[0]!.holes).toHaveLength(1);
    expect(area(subtract(ring[0]!, [rect(-6, -6, 6, 12)]))).toBeCloseTo(8 * Math.PI, 10);
    expect(regions(unite([d, disc(10, 0, 5)]))).toHaveLength(2);
    expect(area(subtract(d, [disc(2, 0, 3)]))).toBeCloseTo(16 * Math.PI, 9);
  });

  test('bad numbers are a named outcome', () => {
    const bad: Region = { outer: [{ kind: 'line', a: p(NaN, 0), b: p(1, 0) }], holes: [] };
    expect(unite([bad]).kind).toBe('failed');
    expect(subtract(bad, []).kind).toBe('failed');
    expect(intersect(disc(0, 0, 1), bad).kind).toBe('failed');
  });
});

describe('laws on random areas', () => {
  test('A or B and A and B together have the area of A and B; A without B and A and B make A', () => {
    const r = random(SEED + 9);
    let crossing = 0;
    for (let n = 0; n < runs(300); n++) {
      const [a, b] = [randomRegion(r), randomRegion(r)];
      const [both, either, rest] = [area(intersect(a, b)), area(unite([a, b])), area(subtract(a, [b]))];
      const [areaA, areaB] = [regionArea(a), regionArea(b)];
      if (both > 0) crossing++;
      expect(Math.abs(either + both - areaA - areaB), `outline ${n}`).toBeLessThan(1e-4);
      expect(Math.abs(rest + both - areaA), `outline ${n}`).toBeLessThan(1e-4);
    }
    expect(crossing).toBeGreaterThan(10);
  });

  test('random sets of tiles: the area of their number, whatever runs along what', () => {
    const r = seeded();
    for (let n = 0; n < runs(100); n++) {
      const tiles: Region[] = [];
      for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) if (r() < 0.6) tiles.push(rect(2 * i, 2 * j, 2, 2));
      expect(area(unite(tiles))).toBeCloseTo(4 * tiles.length, 9);
    }
  });
});

describe('flattening', () => {
  test('points on the curve, chords within the tolerance, area from below', () => {
    const c = disc(0, 0, 10).outer;
    for (const chord of [0.1, 0.01, 0.001]) {
      const points = flattenLoop(c, chord);
      for (const q of points) expect(dist(q, p(0, 0))).toBeCloseTo(10, 12);
      const rise = 10 - dist(p((points[0]!.x + points[1]!.x) / 2, (points[0]!.y + points[1]!.y) / 2), p(0, 0));
      expect(rise).toBeLessThanOrEqual(chord * (1 + 1e-9));
      expect(rise).toBeGreaterThan(chord * 0.5);
      expect(shoelace(points)).toBeLessThan(100 * Math.PI);
    }
    expect(flattenLoop(c, 100)).toHaveLength(4);
    expect(flattenLoop(c, 0).length).toBeLessThan(20_000);
    expect(flattenChain([], 1)).toEqual([]);
    expect(flattenChain(rect(0, 0, 1, 1).outer.slice(0, 2), 1)).toHaveLength(3);
  });
});
