import { describe, expect, test } from 'vitest';
import { bossesAndWebs } from '../../../src/geometry/bosses.ts';
import { loopArea, loopLength, regionArea, reverseLoop } from '../../../src/geometry/measure/loop.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { placeRegion } from '../../../src/geometry/measure/transform.ts';
import { type OffsetOutcome, offsetRegion } from '../../../src/geometry/offset/offset.ts';
import { circle, fromVertices, type OutlineVertex, slot } from '../../../src/geometry/shapes.ts';
import type { Loop, Region, Segment } from '../../../src/geometry/types.ts';
import { random, runs, SEED } from '../../runs.ts';
import { p, sample } from '../helpers.ts';
import { offsetLoop } from '../oracle.ts';

function loop(vertices: readonly OutlineVertex[]): Loop {
  const made = fromVertices(vertices);
  if (!made.ok) throw new Error(made.problems[0]?.found);
  return made.value;
}

function regionsOf(o: OffsetOutcome): readonly Region[] {
  if (o.kind !== 'regions') throw new Error(`wanted regions, got ${JSON.stringify(o)}`);
  return o.regions;
}

function only(o: OffsetOutcome): Loop {
  const [first, ...more] = regionsOf(o);
  expect(more).toHaveLength(0);
  expect(first!.holes).toHaveLength(0);
  return first!.outer;
}

function value<T>(o: { ok: boolean; value?: T }): T {
  if (!o.ok || o.value === undefined) throw new Error('not made');
  return o.value;
}

const kinds = (l: Loop): string => l.map((s) => (s.kind === 'line' ? 'L' : 'A')).join('');
const radii = (l: Loop): number[] => l.flatMap((s) => (s.kind === 'arc' ? [s.radius] : [])).sort((a, b) => a - b);
const square = loop([
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
]);

describe('a lever of two bosses: closed-form distance to the hull of two circles', () => {
  const bosses = [
    { at: p(0, 0), radius: 12 },
    { at: p(60, 0), radius: 6 },
  ] as const;
  const lever = value(bossesAndWebs({ bosses }));

  test.each([3, 0.05, -3, -5.9])('offset %d is exactly two lines and two arcs of the same centres', (d) => {
    const moved = only(offsetLoop(lever, d));
    expect(kinds(moved)).toBe('LALA');
    expect(radii(moved)[0]).toBeCloseTo(6 + d, 12);
    expect(radii(moved)[1]).toBeCloseTo(12 + d, 12);
    // Offset of a hull of discs is the hull of discs that are larger by d: the tangent points are known.
    const wanted = value(bossesAndWebs({ bosses: bosses.map((b) => ({ at: b.at, radius: b.radius + d })) }));
    for (const [i, s] of moved.entries()) expect(dist(s.a, wanted[i]!.a)).toBeLessThan(0.0001 / 1e6);
  });

  test('past the small boss: two lines that meet, one arc; at the large radius: nothing', () => {
    const tip = only(offsetLoop(lever, -7));
    expect(kinds([...tip].sort((a, b) => (a.kind < b.kind ? -1 : 1)))).toBe('ALL');
    // The lines meet where the tangent cone has radius 7: 60 mm less for 6 mm of radius, so at x = (12 - 7) 10.
    expect(Math.max(...tip.map((s) => s.a.x))).toBeCloseTo(50, 9);
    expect(offsetLoop(lever, -12).kind).toBe('vanished');
    expect(offsetLoop(lever, -100).kind).toBe('vanished');
  });

  test('out and back, ten times over, is the same lever to a nanometre', () => {
    let l = lever;
    for (let k = 1; k <= 10; k++) l = only(offsetLoop(only(offsetLoop(l, k / 3)), -k / 3));
    expect(kinds(l)).toBe('LALA');
    for (const [i, s] of l.entries()) expect(dist(s.a, lever[i]!.a)).toBeLessThan(1e-9);
  });
});

describe('closed forms', () => {
  test('a bone of two r 10 ends and two hollow r 60 waists keeps its arcs, and parts where the waist is too narrow', () => {
    // Ends at x = +-c touch the waist circles about (0, +-h) from outside: c^2 + h^2 = 70^2. Half waist is h - 60.
    const h = 64;
    const c = Math.sqrt(70 * 70 - h * h);
    const t = 10 / 70;
    const [x, y] = [c * (1 - t), h * t];
    const waist = -Math.tan(Math.asin(x / 60) / 2);
    const cap = Math.tan((2 * Math.PI - 2 * Math.atan2(y, x - c)) / 4);
    const bone = loop([
      [-x, -y, waist],
      [x, -y, 1 / cap > 0 ? Math.tan(Math.atan2(y, x - c) / 2) : cap],
      [x, y, waist],
      [-x, y, Math.tan(Math.atan2(y, x - c) / 2)],
    ]);
    expect(radii(bone)).toEqual([10, 10, 60, 60].map((r) => expect.closeTo(r, 9)));
    expect(radii(only(offsetLoop(bone, 3)))).toEqual([13, 13, 57, 57].map((r) => expect.closeTo(r, 9)));
    expect(radii(only(offsetLoop(bone, -3.999)))).toEqual(
      [6.001, 6.001, 63.999, 63.999].map((r) => expect.closeTo(r, 9)),
    );
    for (const d of [-4, -4.001]) {
      const halves = regionsOf(offsetLoop(bone, d));
      expect(halves).toHaveLength(2);
      for (const g of halves) expect(kinds(g.outer)).toBe('AAA');
    }
  });

  test('straight neck: wider than 2d stays one, exactly 2d and narrower parts into two, the same each time', () => {
    const plates = loop([
      [0, 0],
      [10, 0],
      [10, 4],
      [14, 4],
      [14, 0],
      [24, 0],
      [24, 10],
      [14, 10],
      [14, 6],
      [10, 6],
      [10, 10],
      [0, 10],
    ]);
    expect(regionsOf(offsetLoop(plates, -0.9999))).toHaveLength(1);
    const exact = offsetLoop(plates, -1);
    expect(regionsOf(exact)).toHaveLength(2);
    expect(offsetLoop(plates, -1)).toEqual(exact);
    expect(regionsOf(offsetLoop(plates, -1.0001))).toHaveLength(2);
    // A slot of exactly 2d closes over when the outside grows.
    expect(regionsOf(offsetRegion({ outer: plates, holes: [] }, 2))[0]!.holes).toHaveLength(0);
  });

  test('squares: corners become quarter circles outward and stay sharp inward; half the width vanishes', () => {
    const grown = only(offsetLoop(square, 2));
    expect(kinds(grown)).toBe('LALALALA');
    expect(loopArea(grown)).toBeCloseTo(100 + 80 + 4 * Math.PI, 12);
    expect(loopArea(only(offsetLoop(square, -2)))).toBeCloseTo(36, 12);
    expect(loopArea(only(offsetLoop(square, -4.999)))).toBeCloseTo(0.002 ** 2, 12);
    expect(offsetLoop(square, -5).kind).toBe('vanished');
    expect(offsetLoop(value(slot(p(0, 0), p(9, 0), 4)), -2).kind).toBe('vanished');
  });

  test('a circle stays two half circles; a ring thins from both sides and vanishes', () => {
    const disc = value(circle(p(3, 4), 10));
    expect(kinds(only(offsetLoop(disc, -1)))).toBe('AA');
    expect(radii(only(offsetLoop(disc, -1)))).toEqual([4, 4]);
    expect(offsetLoop(disc, -5).kind).toBe('vanished');
    const ring: Region = { outer: disc, holes: [reverseLoop(value(circle(p(3, 4), 4)))] };
    expect(regionArea(regionsOf(offsetRegion(ring, -1))[0]!)).toBeCloseTo(Math.PI * (16 - 9), 12);
    expect(offsetRegion(ring, -1.5).kind).toBe('vanished');
    expect(regionsOf(offsetRegion(ring, 2))[0]!.holes).toHaveLength(0);
  });

  test('growing may close a mouth: the hollow behind it becomes an opening', () => {
    const c = loop([
      [0, 0],
      [20, 0],
      [20, 9],
      [18, 9],
      [18, 2],
      [2, 2],
      [2, 18],
      [18, 18],
      [18, 11],
      [20, 11],
      [20, 20],
      [0, 20],
    ]);
    const [one, ...more] = regionsOf(offsetLoop(c, 1.5));
    expect(more).toHaveLength(0);
    expect(one!.holes).toHaveLength(1);
    // The hollow of 16 by 16 loses 1.5 all round, and keeps the cusp between the arcs about the two lips, 2 apart.
    const cusp = 2 * (1.5 - (Math.sqrt(1.5 ** 2 - 1) + 1.5 ** 2 * Math.asin(1 / 1.5)) / 2);
    expect(Math.abs(loopArea(one!.holes[0]!))).toBeCloseTo(13 * 13 + cusp, 9);
  });
});

describe("Steiner's formula for convex outlines (area + perimeter d + pi d^2; perimeter + 2 pi d; textbook)", () => {
  test('random convex outlines, and offset by a then b is offset by a + b', () => {
    const r = random(SEED);
    let tried = 0;
    for (let n = 0; n < runs(300); n++) {
      const size = 3 + Math.floor(r() * 40);
      const angles = Array.from({ length: size }, () => 2 * Math.PI * r()).sort((a, b) => a - b);
      if (angles.some((a, i) => i > 0 && a - angles[i - 1]! < 0.01)) continue;
      const k = 0.3 + r();
      const hull = fromVertices(angles.map((a): OutlineVertex => [20 * Math.cos(a), 20 * k * Math.sin(a)]));
      if (!hull.ok) continue;
      tried++;
      const [a, b] = [0.1 + 5 * r(), 0.1 + 5 * r()];
      const once = only(offsetLoop(hull.value, a + b));
      const twice = only(offsetLoop(only(offsetLoop(hull.value, a)), b));
      const d = a + b;
      for (const l of [once, twice]) {
        expect(loopArea(l)).toBeCloseTo(loopArea(hull.value) + loopLength(hull.value) * d + Math.PI * d * d, 6);
        expect(loopLength(l)).toBeCloseTo(loopLength(hull.value) + 2 * Math.PI * d, 6);
      }
      expect(twice).toHaveLength(once.length);
    }
    expect(tried).toBeGreaterThan(10);
  });
});

describe('equivariance', () => {
  const part: Region = {
    outer: loop([
      [0, 0],
      [30, 0, 0.4],
      [34, 12],
      [20, 10, -0.3],
      [8, 14],
      [8, 20],
      [0, 20],
    ]),
    holes: [reverseLoop(value(circle(p(5, 5), 4)))],
  };
  const points = (o: OffsetOutcome) =>
    regionsOf(o).flatMap((g) => [g.outer, ...g.holes].flatMap((l) => l.flatMap((s: Segment) => sample(s, 3))));

  test.each([
    { at: p(100, -40), turn: 1, mirror: false },
    { at: p(0, 0), turn: Math.PI / 2, mirror: true },
    { at: p(-7, 3), turn: -2.5, mirror: true },
  ])('turned, mirrored, moved: the same edge (%o)', (place) => {
    for (const d of [1.3, -1.3, -2.4]) {
      const before = regionsOf(offsetRegion(part, d)).map((g) => placeRegion(place, g));
      const after = points(offsetRegion(placeRegion(place, part), d));
      const wanted = points({ kind: 'regions', regions: before });
      expect(after).toHaveLength(wanted.length);
      for (const q of after) expect(Math.min(...wanted.map((w) => dist(w, q)))).toBeLessThan(1e-9);
    }
  });

  test('inches: scaled by 25.4, the offset scales by 25.4', () => {
    const scale = (l: Loop): Loop =>
      l.map((s): Segment => {
        const [a, b] = [p(s.a.x / 25.4, s.a.y / 25.4), p(s.b.x / 25.4, s.b.y / 25.4)];
        if (s.kind === 'line') return { kind: 'line', a, b };
        return { ...s, a, b, centre: p(s.centre.x / 25.4, s.centre.y / 25.4), radius: s.radius / 25.4 };
      });
    const small = { outer: scale(part.outer), holes: part.holes.map(scale) };
    const inch = points(offsetRegion(small, -1.3 / 25.4));
    const mm = points(offsetRegion(part, -1.3));
    expect(inch).toHaveLength(mm.length);
    for (const [i, q] of mm.entries()) expect(dist(q, p(inch[i]!.x * 25.4, inch[i]!.y * 25.4))).toBeLessThan(1e-9);
  });
});

describe('input that cannot be offset has a named outcome', () => {
  test.each([
    ['NaN', [{ ...square[0]!, a: p(NaN, 0) }, ...square.slice(1)] as Loop, 1],
    ['infinite', [{ ...square[0]!, a: p(Infinity, 0) }, ...square.slice(1)] as Loop, 1],
    ['open', square.slice(1), 1],
    ['empty', [], 1],
    ['NaN offset', square, NaN],
    ['endless offset', square, Infinity],
  ] as const)('%s', (_, l, d) => {
    const result = offsetLoop(l as Loop, d as number);
    expect(result.kind).toBe('failed');
    expect(result.kind === 'failed' && result.reason.length).toBeGreaterThan(10);
  });

  test('a clockwise outline, doubled points and no offset at all are put right', () => {
    expect(loopArea(only(offsetLoop(reverseLoop(square), 1)))).toBeCloseTo(100 + 40 + Math.PI, 9);
    const doubled = [square[0]!, { kind: 'line', a: square[0]!.b, b: square[0]!.b } as const, ...square.slice(1)];
    expect(only(offsetLoop(doubled, 1))).toHaveLength(8);
    expect(loopArea(only(offsetLoop(square, 0)))).toBeCloseTo(100, 12);
  });
});
