/** A backing that only pushes: one spring in closed form, and the conditions of contact for any body and load. */
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { backed } from '../../../src/mechanics/elastic/contact.ts';

it('takes its share of one load downwards and none upwards', () => {
  const one = (load: number) =>
    backed({ compliance: Float64Array.of(0.01), rows: 1, springs: [{ row: 0, stiffness: 300 }], load: [load] });
  // Body of 100 N/mm beside a spring of 300 N/mm.
  expect(one(-8)).toMatchObject({ kind: 'backed' });
  const down = one(-8);
  const up = one(8);
  if (down.kind !== 'backed' || up.kind !== 'backed') throw new Error('unsettled');
  expect(down.movement[0]).toBeCloseTo(-0.02, 12);
  expect(down.pushes[0]).toBeCloseTo(6, 12);
  expect(up.movement[0]).toBeCloseTo(0.08, 12);
  expect(up.pushes[0]).toBe(0);
});

it('pushes only where the body sinks, by as much as it sinks', () => {
  const n = 8;
  let touched = 0;
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n * n, maxLength: n * n }),
      fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: n, maxLength: n }),
      (g, load) => {
        // G G^T with something on the diagonal is a body's compliance.
        const compliance = new Float64Array(n * n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            for (let k = 0; k < n; k++) compliance[i * n + j]! += g[i * n + k]! * g[j * n + k]!;
          }
          compliance[i * n + i]! += 1;
        }
        const springs = Array.from({ length: n }, (_, row) => ({ row, stiffness: 5 }));
        const found = backed({ compliance, rows: n, springs, load });
        if (found.kind !== 'backed') throw new Error('unsettled');
        found.pushes.forEach((p, i) => {
          if (p > 0) touched++;
          expect(Math.abs(p - 5 * Math.max(0, -found.movement[i]!))).toBeLessThan(1e-8);
        });
      },
    ),
    { numRuns: 100 },
  );
  expect(touched).toBeGreaterThan(100);
});
