import { describe, expect, test } from 'vitest';
import { loopArea, loopBox } from '../../src/geometry/measure/loop.ts';
import { fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';
import { p, sample } from './helpers.ts';
import { offsetLoop, signedDistance } from './oracle.ts';

/**
 * Kinds of trouble that users of polygon offsetting have reported in public (AngusJohnson/Clipper2 on GitHub, by number).
 * The shapes are our own, made from the descriptions, not the reporters' data.
 */

function loop(...vertices: OutlineVertex[]): Loop {
  const made = fromVertices(vertices);
  if (!made.ok) throw new Error(made.problems[0]?.found);
  return made.value;
}

/** Regions at distance d, every point of their edges measured against the source. */
function measured(l: Loop, d: number, within = 1e-9): readonly Region[] {
  const o = offsetLoop(l, d);
  if (o.kind !== 'regions') throw new Error(JSON.stringify(o));
  const edges = o.regions.flatMap((g) => [g.outer, ...g.holes].flat());
  for (const q of edges.flatMap((s) => sample(s, 6))) {
    expect(Math.abs(signedDistance({ outer: l, holes: [] }, q) - d)).toBeLessThan(within);
  }
  return o.regions;
}

const arcs = (regions: readonly Region[]) => regions.flatMap((g) => g.outer.filter((s) => s.kind === 'arc'));

describe('reports about polygon offsetting, as kinds', () => {
  test('#724, distance violated where outlines have arcs: lobes and hollows of many radii keep theirs', () => {
    const flower = Array.from({ length: 12 }, (_, i): OutlineVertex => {
      const [x, y] = [Math.cos((i * Math.PI) / 6), Math.sin((i * Math.PI) / 6)];
      return [20 * x, 20 * y, i % 2 ? 0.7 : -0.25];
    });
    for (const d of [5, 1, 0.01, -0.01, -1, -2]) measured(loop(...flower), d);
  });

  test('#934, spikes: a sliver of a thousandth of a degree grows by d and no further', () => {
    const sliver = loop([0, 0], [100, -0.001], [100, 0.001]);
    const box = loopBox(measured(sliver, 2)[0]!.outer);
    expect(box.minX).toBeCloseTo(-2, 9);
    expect(box.maxX).toBeCloseTo(102, 9);
    expect(offsetLoop(sliver, -0.01).kind).toBe('vanished');
    const slit = loop([0, 0], [20, 0], [20, 10], [10.0005, 10], [10, 1], [9.9995, 10], [0, 10]);
    measured(slit, 1);
    expect(measured(slit, -1)).toHaveLength(2);
  });

  test.each([1e-2, 1e-4, 1e-6])('#1105, a corner cut off by %d mm changes nothing that can be seen', (c) => {
    const cut = loop([0, 0], [10, 0], [10, 10 - c], [10 - c, 10], [0, 10]);
    for (const d of [3, -3]) {
      const [one] = measured(cut, d, 1e-6);
      expect(Math.abs(loopArea(one!.outer) - (d > 0 ? 220 + 9 * Math.PI : 16))).toBeLessThan(10 * c + 1e-6);
    }
  });

  test('#1060, an inside corner is rounded when the area shrinks, an outside one when it grows', () => {
    const angle = loop([0, 0], [20, 0], [20, 8], [8, 8], [8, 20], [0, 20]);
    expect(arcs(measured(angle, -2))).toEqual([expect.objectContaining({ radius: 2, centre: p(8, 8) })]);
    expect(arcs(measured(angle, 2))).toHaveLength(5);
  });

  test('#617, a point or a hair: no thousands of vertices, but a named outcome', () => {
    const dot: Loop = [{ kind: 'line', a: p(1, 1), b: p(1, 1) }];
    expect(offsetLoop(dot, 5).kind).toBe('failed');
    const hair: Loop = [
      { kind: 'line', a: p(0, 0), b: p(10, 0) },
      { kind: 'line', a: p(10, 0), b: p(0, 0) },
    ];
    expect(offsetLoop(hair, 5).kind).toBe('failed');
    const arc = loop([0, 0, 0.4], [10, 0, 0.4]);
    expect(measured(arc, 50)[0]!.outer.length).toBeLessThanOrEqual(4);
  });
});
