import { describe, expect, test } from 'vitest';
import { loopArea, reverseLoop, startAt } from '../../src/geometry/measure/loop.ts';
import { arc, arcFromBulge, circle, line } from '../../src/geometry/measure/segment.ts';
import { placeLoop } from '../../src/geometry/measure/transform.ts';
import type { Loop, Point } from '../../src/geometry/types.ts';
import { type Defect, validateLoop } from '../../src/geometry/validate.ts';
import { law, loops, p, plate } from './helpers.ts';

const kinds = (loop: Loop): Defect['kind'][] => validateLoop(loop).map((d) => d.kind);
const polygon = (...xy: readonly (readonly [number, number])[]): Loop => {
  const corners = xy.map(([x, y]) => p(x, y));
  return corners.map((a, i) => line(a, corners[(i + 1) % corners.length]!));
};
const square = polygon([0, 0], [10, 0], [10, 10], [0, 10]);

describe('sound loops have no defects', () => {
  test('square, circle, slot, lens of two arcs, plate', () => {
    const slot = [
      line(p(0, -1), p(4, -1)),
      arcFromBulge(p(4, -1), p(4, 1), 1),
      line(p(4, 1), p(0, 1)),
      arcFromBulge(p(0, 1), p(0, -1), 1),
    ];
    const lens = [arcFromBulge(p(0, 0), p(4, 0), 0.3), arcFromBulge(p(4, 0), p(0, 0), 0.4)];
    for (const loop of [square, [circle(p(3, 3), 2)], slot, lens, plate().outer])
      expect(validateLoop(loop)).toEqual([]);
  });

  test('any star-shaped loop, turned, mirrored, begun elsewhere', () => {
    law(
      loops,
      (loop) => {
        // Deep bulges can reach over to their neighbours: such loops are for the other tests.
        if (validateLoop(loop).length > 0) return;
        expect(validateLoop(placeLoop({ at: p(5, 6), turn: 1, mirror: true }, loop))).toEqual([]);
        expect(validateLoop(startAt(loop, 1.2345))).toEqual([]);
        expect(kinds(reverseLoop(loop))).toEqual(['clockwise']);
      },
      500,
    );
  });
});

describe('each defect is found, with its place', () => {
  test('nothing, and figures that are not numbers', () => {
    expect(kinds([])).toEqual(['empty']);
    expect(validateLoop([...square.slice(0, 3), line(p(0, 10), p(Number.NaN, 0))])).toEqual([
      { kind: 'not finite', index: 3 },
    ]);
  });

  test('open: where, and how wide', () => {
    const open = [...square.slice(0, 3), line(p(0, 10), p(0, 0.25))];
    expect(validateLoop(open)).toEqual([
      { kind: 'open', index: 3, next: 0, from: p(0, 0.25), to: p(0, 0), size: 0.25 },
    ]);
    expect(kinds([arc(p(0, 0), 3, 0, Math.PI)])).toEqual(['open']);
  });

  test('pieces of no length', () => {
    const d = validateLoop([...square.slice(0, 2), line(p(10, 10), p(10, 10)), ...square.slice(2)]);
    expect(d).toEqual([{ kind: 'short piece', index: 2, at: p(10, 10), length: 0 }]);
  });

  test('an arc whose end is not on its circle', () => {
    const s = arc(p(0, 0), 5, 0, Math.PI);
    const bent: Loop = [{ ...s, b: p(-5.02, 0) }, line(p(-5.02, 0), s.a)];
    expect(validateLoop(bent)).toMatchObject([{ kind: 'bad arc', index: 0, error: expect.closeTo(0.02, 9) }]);
    expect(kinds([{ ...circle(p(0, 0), 2), radius: -2 }])).toContain('bad arc');
  });

  test('a figure of eight crosses itself, and encloses nothing', () => {
    const d = validateLoop(polygon([0, 0], [10, 10], [10, 0], [0, 10]));
    expect(d).toEqual([{ kind: 'crossing', first: 0, second: 2, at: p(5, 5) }, { kind: 'no area' }]);
  });

  test('arcs that reach over the far side cross twice', () => {
    const d = validateLoop([
      line(p(0, 0), p(10, 0)),
      line(p(10, 0), p(10, 4)),
      arcFromBulge(p(10, 4), p(0, 4), -0.9),
      line(p(0, 4), p(0, 0)),
    ]);
    expect(d.map((x) => x.kind)).toEqual(['crossing', 'crossing']);
    expect((d[0] as { at: Point }).at.x + (d[1] as { at: Point }).at.x).toBeCloseTo(10, 9);
  });

  test('crossing exactly at a corner is a crossing, told once; a corner that only touches is a touch', () => {
    expect(kinds(polygon([0, 0], [5, 5], [10, 10], [10, 0], [5, 5], [0, 10]))).toEqual(['crossing', 'no area']);
    expect(kinds(polygon([0, 0], [10, 0], [5, 5], [10, 10], [0, 10], [5, 5]))).toEqual(['touching']);
    expect(kinds(polygon([0, 0], [10, 0], [10, 10], [5, 0], [0, 10]))).toEqual(['touching']);
  });

  test('an arc that touches the far side from within', () => {
    const loop: Loop = [
      line(p(-8, 0), p(8, 0)),
      line(p(8, 0), p(5, 5)),
      arc(p(0, 5), 5, 0, -Math.PI),
      line(p(-5, 5), p(-8, 0)),
    ];
    const closed = loop.map((s, i) => ({
      ...s,
      a: [p(-8, 0), p(8, 0), p(5, 5), p(-5, 5)][i]!,
      b: [p(8, 0), p(5, 5), p(-5, 5), p(-8, 0)][i]!,
    }));
    expect(validateLoop(closed)).toMatchObject([
      { kind: 'touching', first: 0, second: 2, at: { x: expect.closeTo(0, 9), y: expect.closeTo(0, 9) } },
    ]);
  });

  test('doubling back: spike, the corner passed twice, and the stretch that runs along itself', () => {
    const d = validateLoop(polygon([0, 0], [10, 0], [10, 5], [15, 5], [10, 5], [10, 10], [0, 10]));
    expect(d.map((x) => x.kind)).toEqual(['spike', 'touching', 'overlap']);
    expect(d[0]).toMatchObject({ index: 2, next: 3, at: p(15, 5) });
    const cusp: Loop = [arc(p(0, 5), 5, -Math.PI / 2, Math.PI / 2), arc(p(3, 5), 2, 0, -Math.PI)];
    expect(validateLoop(cusp).some((x) => x.kind === 'spike')).toBe(true);
  });

  test('clockwise, with its area', () => {
    expect(validateLoop(reverseLoop(square))).toEqual([{ kind: 'clockwise', area: -100 }]);
  });

  test('ten thousand pieces, sound and spoiled: every pair tried would take minutes', () => {
    const n = 10_000;
    const corners = Array.from({ length: n }, (_, i) => {
      const r = 100 + 3 * Math.sin((2 * Math.PI * i * 37) / n);
      return p(r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n));
    });
    const big = corners.map((a, i) => line(a, corners[(i + 1) % n]!));
    const start = performance.now();
    expect(validateLoop(big)).toEqual([]);
    expect(performance.now() - start).toBeLessThan(10_000);
    expect(loopArea(big)).toBeGreaterThan(3e4);
    corners[5000] = p(150, 0);
    expect(kinds(corners.map((a, i) => line(a, corners[(i + 1) % n]!)))).toContain('crossing');
  });
});
