import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Coverage, spansWithin } from '../../../src/check/exact/coverage.ts';
import { Uncut } from '../../../src/check/exact/uncut.ts';
import { arc, line, nearestOn, pointAt, segmentBox } from '../../../src/geometry/measure/segment.ts';
import type { Segment } from '../../../src/geometry/types.ts';
import { runs, SEED } from '../../runs.ts';

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const segment: fc.Arbitrary<Segment> = fc.oneof(
  fc
    .tuple(number(0, 10), number(0, 10), number(0, 10), number(0, 10))
    .map(([x, y, u, v]) => line({ x, y }, { x: u, y: v })),
  fc
    .tuple(number(0, 10), number(0, 10), number(0.2, 5), number(-3.2, 3.2), number(-6.28, 6.28))
    .filter(([, , , , w]) => Math.abs(w) > 0.05)
    .map(([x, y, r, s, w]) => arc({ x, y }, r, s, w)),
);

describe('stretches of an edge within reach of a path', () => {
  it('agree with the distance at every point tried', () => {
    let inside = 0;
    let outside = 0;
    fc.assert(
      fc.property(segment, segment, number(0.1, 4), (piece, path, reach) => {
        const spans = spansWithin(piece, path, reach);
        for (let i = 0; i <= 100; i++) {
          const t = i / 100;
          const d = nearestOn(path, pointAt(piece, t)).distance;
          if (Math.abs(d - reach) < 1e-6) continue;
          const covered = spans.some(([a, b]) => t >= a - 1e-12 && t <= b + 1e-12);
          if (covered !== d < reach) throw new Error(`at ${t}: distance ${d}, reach ${reach}, covered ${covered}`);
          if (covered) inside++;
          else outside++;
        }
      }),
      { numRuns: runs(3000), seed: SEED },
    );
    expect(inside).toBeGreaterThan(1000);
    expect(outside).toBeGreaterThan(1000);
  });

  it('a gap between two cuts is found to its ends', () => {
    const edge = line({ x: 0, y: 0 }, { x: 20, y: 0 });
    const c = new Coverage([edge], [segmentBox(edge)]);
    const a = line({ x: -5, y: 3 }, { x: 8, y: 3 });
    const b = line({ x: 12, y: 3 }, { x: 25, y: 3 });
    c.add(a, segmentBox(a), 3, 0.01);
    c.add(b, segmentBox(b), 3, 0.01);
    const gaps = c.gaps();
    expect(gaps).toHaveLength(1);
    // Beyond the end of a path the disc reaches sqrt((3 + 0.01)^2 - 3^2) along the edge.
    const more = Math.sqrt(3.01 ** 2 - 9);
    expect(gaps[0]!.from * 20).toBeCloseTo(8 + more, 9);
    expect(gaps[0]!.to * 20).toBeCloseTo(12 - more, 9);
    const uncut = new Uncut(gaps[0]!);
    for (const path of [a, b]) uncut.add({ path, radius: 3 }, segmentBox(path));
    for (const [i, p] of uncut.points.entries()) {
      const off = Math.min(Math.abs(p.x - 8), Math.abs(p.x - 12));
      expect(uncut.left[i]).toBeCloseTo(Math.hypot(off, 3) - 3, 9);
    }
    expect(uncut.points.length).toBeGreaterThan(50);
  });
});
