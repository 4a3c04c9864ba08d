import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cross, dist, dot, fromAngle, rot90, sub } from '../../../src/geometry/measure/point.ts';
import { directionAt } from '../../../src/geometry/measure/segment.ts';
import { leadIn, leadOut } from '../../../src/paths/along/lead.ts';
import { SEED } from '../../runs.ts';

const place = fc.record({
  x: fc.double({ min: -50, max: 50, noNaN: true }),
  y: fc.double({ min: -50, max: 50, noNaN: true }),
  angle: fc.double({ min: -3.1, max: 3.1, noNaN: true }),
  side: fc.constantFrom(1 as const, -1 as const),
  aside: fc.double({ min: 0.05, max: 1, noNaN: true }),
  radius: fc.double({ min: 0.05, max: 5, noNaN: true }),
});

describe('leads', () => {
  it('touch the path along its direction and begin as far aside as asked, on the free side', () => {
    fc.assert(
      fc.property(place, ({ x, y, angle, side, aside, radius }) => {
        const point = { x, y };
        const direction = fromAngle(angle);
        const [on] = leadIn(point, direction, side, aside, radius);
        expect(dist(on!.b, point)).toBeLessThan(1e-9);
        const end = directionAt(on!, 1);
        expect(cross(end, direction)).toBeCloseTo(0, 6);
        expect(dot(end, direction)).toBeGreaterThan(0);
        expect(dot(sub(on!.a, point), rot90(direction)) * side).toBeCloseTo(aside, 6);
        const [off] = leadOut(point, direction, side, aside, radius);
        expect(dist(off!.a, point)).toBeLessThan(1e-9);
        expect(cross(directionAt(off!, 0), direction)).toBeCloseTo(0, 6);
        expect(dot(sub(off!.b, point), rot90(direction)) * side).toBeCloseTo(aside, 6);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });

  it('the way off is the way on, turned round', () => {
    const on = leadIn({ x: 0, y: 0 }, { x: 1, y: 0 }, 1, 0.2, 2);
    const off = leadOut({ x: 0, y: 0 }, { x: 1, y: 0 }, 1, 0.2, 2);
    expect(on[0]!.a.x).toBeCloseTo(-off[0]!.b.x, 12);
    expect(on[0]!.a.y).toBeCloseTo(off[0]!.b.y, 12);
  });
});
