import { describe, expect, test } from 'vitest';
import { type BossesAndWebs, bossesAndWebs } from '../../src/geometry/bosses.ts';
import { whereIs } from '../../src/geometry/measure/inside.ts';
import { loopArea, loopLength } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { directionAt } from '../../src/geometry/measure/segment.ts';
import { circle, fromVertices, type OutlineVertex, slot } from '../../src/geometry/shapes.ts';
import type { Arc, Loop } from '../../src/geometry/types.ts';
import { validateLoop } from '../../src/geometry/validate.ts';
import { random, runs, SEED } from '../runs.ts';
import { p } from './helpers.ts';

function made(o: ReturnType<typeof bossesAndWebs>): Loop {
  if (!o.ok) throw new Error(o.problems.map((q) => q.found).join());
  return o.value;
}

const codes = (o: ReturnType<typeof bossesAndWebs>): string[] => o.problems.map((q) => q.code);
const arcs = (l: Loop): Arc[] => l.filter((s) => s.kind === 'arc');
const boss = (x: number, y: number, radius: number) => ({ at: p(x, y), radius });

describe('bosses and webs', () => {
  test('two bosses: two lines, two arcs; length and area of the hull of two circles (open belt formula, textbook)', () => {
    const lever = made(bossesAndWebs({ bosses: [boss(0, 0, 12), boss(60, 0, 6)] }));
    expect(lever.map((s) => s.kind)).toEqual(['line', 'arc', 'line', 'arc']);
    const tangent = Math.sqrt(60 ** 2 - 6 ** 2);
    const a = Math.asin(6 / 60);
    expect(loopLength(lever)).toBeCloseTo(2 * tangent + 12 * (Math.PI + 2 * a) + 6 * (Math.PI - 2 * a), 10);
    expect(loopArea(lever)).toBeCloseTo(tangent * 18 + 72 * (Math.PI + 2 * a) + 18 * (Math.PI - 2 * a), 9);
    expect(made(bossesAndWebs({ bosses: [boss(0, 0, 12), boss(60, 0, 6)], fillet: 3 }))).toEqual(lever);
  });

  test('one boss is a circle; bosses of one radius in line make a slot', () => {
    expect(loopArea(made(bossesAndWebs({ bosses: [boss(1, 2, 7)] })))).toBeCloseTo(49 * Math.PI, 10);
    const bar = made(bossesAndWebs({ bosses: [boss(0, 0, 4), boss(10, 0, 4), boss(20, 0, 4)] }));
    expect(bar).toHaveLength(4);
    expect(loopArea(bar)).toBeCloseTo(160 + 16 * Math.PI, 10);
  });

  test('fillet: an arc of exactly that radius, tangent to both webs; every other arc keeps its very numbers', () => {
    const shape = {
      bosses: [boss(0, 0, 6), boss(32, 0, 4), boss(10, 20, 3)],
      webs: [
        [0, 1],
        [0, 2],
      ],
    } as const;
    const sharp = made(bossesAndWebs(shape));
    const round = made(bossesAndWebs({ ...shape, fillet: 3 }));
    expect(round).toHaveLength(sharp.length + 1);
    const i = round.findIndex((s) => s.kind === 'arc' && s.sweep < 0);
    const fillet = round[i] as Arc;
    expect(fillet.radius).toBe(3);
    const before = round[(i + round.length - 1) % round.length]!;
    const after = round[(i + 1) % round.length]!;
    for (const [u, v] of [
      [directionAt(before, 1), directionAt(fillet, 0)],
      [directionAt(fillet, 1), directionAt(after, 0)],
    ] as const) {
      expect(u.x * v.y - u.y * v.x).toBeCloseTo(0, 12);
      expect(u.x * v.x + u.y * v.y).toBeCloseTo(1, 12);
    }
    for (const s of arcs(round)) if (s !== fillet) expect(arcs(sharp)).toContainEqual(s);
  });

  test('random chains and stars of bosses: the edge is where circles, tangents and fillets say', () => {
    const r = random(SEED + 5);
    let built = 0;
    for (let n = 0; n < runs(300); n++) {
      const count = 2 + Math.floor(4 * r());
      const bosses = Array.from({ length: count }, (_, i) => boss(i * 18 + 6 * r(), 30 * r(), 3 + 5 * r()));
      const webs = bosses.slice(1).map((_, i) => [r() < 0.5 ? i : 0, i + 1] as const);
      const fillet = 0.5 + 2 * r();
      const shape: BossesAndWebs = { bosses, webs };
      const sharp = bossesAndWebs(shape);
      const round = bossesAndWebs({ ...shape, fillet });
      if (!sharp.ok || !round.ok) {
        // Crossing webs may enclose an opening, and a fillet may close a mouth: refused, never anything else.
        for (const code of [...codes(sharp), ...codes(round)]) expect(code).toBe('webs-enclose-opening');
        continue;
      }
      built++;
      expect(validateLoop(round.value)).toEqual([]);
      expect(loopArea(round.value)).toBeGreaterThanOrEqual(loopArea(sharp.value) - 1e-9);
      for (const s of arcs(round.value)) {
        const own = bosses.some((b) => dist(b.at, s.centre) < 1e-9 && Math.abs(b.radius - s.radius) < 1e-9);
        expect(own ? s.sweep > 0 : s.sweep < 0 && Math.abs(s.radius - fillet) < 1e-9).toBe(true);
      }
      for (const b of bosses) expect(whereIs(round.value, b.at)).toBe('inside');
    }
    expect(built).toBeGreaterThan(10);
  });

  test.each<[string, BossesAndWebs]>([
    ['no-bosses', { bosses: [] }],
    ['not-a-length', { bosses: [boss(NaN, 0, 5)] }],
    ['not-a-length', { bosses: [boss(0, 0, Infinity)] }],
    ['no-size', { bosses: [boss(0, 0, 0)] }],
    ['no-size', { bosses: [boss(0, 0, 5), boss(20, 0, -5)] }],
    ['no-size', { bosses: [boss(0, 0, 5), boss(20, 0, 5)], fillet: -1 }],
    ['boss-inside-another', { bosses: [boss(0, 0, 6), boss(2, 0, 4)] }],
    ['boss-inside-another', { bosses: [boss(0, 0, 6), boss(0, 0, 6)] }],
    ['web-unknown-boss', { bosses: [boss(0, 0, 6), boss(20, 0, 4)], webs: [[0, 2]] }],
    ['web-to-itself', { bosses: [boss(0, 0, 6), boss(20, 0, 4)], webs: [[1, 1]] }],
    ['bosses-apart', { bosses: [boss(0, 0, 6), boss(20, 0, 4), boss(50, 0, 4)], webs: [[0, 1]] }],
    [
      'webs-enclose-opening',
      {
        bosses: [boss(0, 0, 4), boss(30, 0, 4), boss(15, 25, 4)],
        webs: [
          [0, 1],
          [1, 2],
          [2, 0],
        ],
      },
    ],
  ])('refused: %s', (code, shape) => {
    const o = bossesAndWebs(shape);
    expect(o.ok).toBe(false);
    expect(codes(o)).toContain(code);
  });
});

describe('vertices, circle, slot', () => {
  test('bulge: tan of a quarter of the included angle (DXF reference, LWPOLYLINE code 42)', () => {
    const d = fromVertices([
      [0, 0],
      [10, 0, 1],
      [10, 6],
      [0, 6],
    ]);
    expect(d.ok && loopArea(d.value)).toBeCloseTo(60 + (9 * Math.PI) / 2, 10);
    const lens = fromVertices([
      [0, 0, Math.SQRT2 - 1],
      [10, 0, Math.SQRT2 - 1],
    ]);
    // Two quarter-circle segments on a chord of 10: r^2 (pi/2 - 1), r^2 = 50.
    expect(lens.ok && loopArea(lens.value)).toBeCloseTo(50 * (Math.PI / 2 - 1), 10);
  });

  test('clockwise and closed twice over: turned round, the double point left out', () => {
    const o = fromVertices([
      [0, 0],
      [0, 5],
      [5, 5],
      [5, 0],
      [0, 0],
    ]);
    expect(o.ok && o.value).toHaveLength(4);
    expect(o.ok && loopArea(o.value)).toBe(25);
  });

  test('circle: two half circles; slot: four pieces', () => {
    const c = circle(p(1, 2), 10);
    expect(c.ok && c.value.map((s) => s.kind === 'arc' && s.sweep)).toEqual([Math.PI, Math.PI]);
    const s = slot(p(0, 0), p(3, 4), 2);
    expect(s.ok && loopArea(s.value)).toBeCloseTo(10 + Math.PI, 12);
  });

  test.each<[string, OutlineVertex[]]>([
    [
      'not-a-length',
      [
        [0, 0],
        [NaN, 1],
        [2, 2],
      ],
    ],
    [
      'not-a-length',
      [
        [0, 0],
        [1, 1, Infinity],
        [2, 2],
      ],
    ],
    [
      'not-a-length',
      [
        [0, 0],
        [1e9, 1],
        [2, 2],
      ],
    ],
    [
      'not-a-length',
      [
        [0, 0, 1e12],
        [1, 1],
        [2, 0],
      ],
    ],
    [
      'too-few-points',
      [
        [0, 0],
        [1, 1],
      ],
    ],
    [
      'too-few-points',
      [
        [0, 0],
        [0, 0],
        [0, 0],
      ],
    ],
    ['too-few-points', []],
    [
      'no-area',
      [
        [0, 0],
        [1, 1],
        [2, 2],
      ],
    ],
  ])('refused: %s', (code, vertices) => {
    const o = fromVertices(vertices);
    expect(o.ok).toBe(false);
    expect(o.problems[0]!.code).toBe(code);
  });

  test('refused: circle and slot without size', () => {
    for (const o of [circle(p(0, 0), 0), circle(p(0, 0), -1), slot(p(1, 1), p(1, 1), 2), slot(p(0, 0), p(1, 0), 0)]) {
      expect(o.problems[0]?.code).toBe('no-size');
    }
    for (const o of [circle(p(NaN, 0), 1), circle(p(0, 0), NaN), slot(p(0, 0), p(Infinity, 0), 1)]) {
      expect(o.problems[0]?.code).toBe('not-a-length');
    }
  });
});
