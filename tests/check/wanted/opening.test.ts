/** How deep each cutter may go in a blind hole: what its recipe needs, and never out of the lower face. */
import { describe, expect, it } from 'vitest';
import { toolOf } from '../../../src/check/strokes/stroke.ts';
import { excess, holeSpace } from '../../../src/check/wanted/opening.ts';
import type { Hole } from '../../../src/part/part.ts';
import { cutter, leverJob } from '../lever.ts';

const plain = leverJob().part.holes[0]!;
const reamer = cutter(5, 'reamer', 4, { lead: 1.5 });

const tapped: Hole = {
  ...plain,
  diameter: 4.2,
  depth: 3,
  make: { kind: 'tap', thread: 'M5', major: 5, pitch: 0.8, engagement: null },
};
const reamed: Hole = { ...plain, diameter: 4, depth: 3, make: { kind: 'ream', nominal: 4, fit: 'H7' } };

function over(hole: Hole, c: ReturnType<typeof cutter>, z: number, thickness = 8): number {
  return excess(holeSpace(hole, 0, { x: 0, y: 0 }, { thickness, chamfer: 0 }, [reamer]), toolOf(c), z, thickness);
}

describe('blind holes', () => {
  const drill = cutter(3, 'drill', 4.2, { pointDeg: 118 });
  const point = 2.1 / Math.tan((59 * Math.PI) / 180);

  it('a tapping drill has the run-out of the thread, and stays above the lower face', () => {
    expect(over(tapped, drill, -(3 + 4 + point), 12)).toBeLessThan(0.02);
    expect(over(tapped, drill, -(3 + 4.5 + point), 12)).toBeGreaterThan(0.1);
    expect(over(tapped, drill, -7.85)).toBeLessThan(0.02);
    expect(over(tapped, drill, -8)).toBe(Infinity);
    expect(over(tapped, drill, -8.1)).toBe(Infinity);
  });

  it('the drill before a reamer has the room of its lead', () => {
    const before = cutter(4, 'drill', 3.9, { pointDeg: 118 });
    const tip = 1.95 / Math.tan((59 * Math.PI) / 180);
    expect(over(reamed, before, -(5 + tip))).toBeLessThan(0.005);
    expect(over(reamed, before, -(6 + tip))).toBeGreaterThan(0.1);
  });

  it('reamer, tap and mill go no deeper than their leads', () => {
    expect(over(reamed, reamer, -4.5)).toBeLessThan(0.005);
    expect(over(reamed, reamer, -4.6)).toBeGreaterThan(0.1);
    expect(over(reamed, reamer, -5.9)).toBeGreaterThan(0.1);
    expect(over(reamed, cutter(1, 'end mill', 3), -3)).toBeLessThan(0.005);
    expect(over(reamed, cutter(1, 'end mill', 3), -3.5)).toBeGreaterThan(0.1);
    expect(over(tapped, cutter(6, 'tap', 4.2, { lead: 2 }), -5.1)).toBeGreaterThan(0.1);
  });
});
