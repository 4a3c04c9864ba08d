/** The depth of a path inside an edge against its points, looked at one by one. */
import { describe, expect, it } from 'vitest';
import { deeperThan } from '../../../src/check/wanted/depth.ts';
import { edgeOfLoop } from '../../../src/check/wanted/edge.ts';
import { arc, line, nearestOn, pointAt } from '../../../src/geometry/measure/segment.ts';
import type { Segment } from '../../../src/geometry/types.ts';
import { random, runs, SEED } from '../../runs.ts';
import { hullLoop } from '../lever.ts';

const edge = edgeOfLoop(hullLoop(0, 6, 4, 32));

function deepest(path: Segment): number {
  let most = 0;
  for (let i = 0; i <= 2000; i++) {
    const p = pointAt(path, i / 2000);
    if (edge.inside(p)) most = Math.max(most, Math.min(...edge.pieces.map((s) => nearestOn(s, p).distance)));
  }
  return most;
}

describe('depth of a path inside an edge', () => {
  it('is told where the path only crosses, both ends outside', () => {
    expect(deeperThan(edge, line({ x: -8, y: 0 }, { x: 60, y: 0 }), 0.07)).toBeGreaterThan(1);
    expect(deeperThan(edge, line({ x: -8, y: 9 }, { x: 60, y: 9 }), 0.07)).toBe(0);
  });

  it('is nothing along the edge moved inwards by no more', () => {
    const moved = hullLoop(0, 5.9, 3.9, 32);
    for (const s of moved) {
      expect(deeperThan(edge, s, 0.1)).toBe(0);
      expect(deeperThan(edge, s, 0.09)).toBeGreaterThan(0.005);
    }
  });

  it('agrees with points of random lines and arcs', () => {
    const draw = random(SEED);
    const at = () => ({ x: 60 * draw() - 12, y: 24 * draw() - 12 });
    for (let i = 0; i < runs(300); i++) {
      const path = draw() < 0.5 ? line(at(), at()) : arc(at(), 0.5 + 20 * draw(), 7 * draw(), 12 * draw() - 6);
      const allowed = 3 * draw();
      const most = deepest(path);
      const found = deeperThan(edge, path, allowed);
      if (most > allowed + 0.002) expect(found).toBeGreaterThan(0);
      if (most < allowed) expect(found).toBe(0);
      expect(found).toBeLessThanOrEqual(Math.max(0, most - allowed) + 0.02);
    }
  });
});
