import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { heightAt, higherOf, type Slope } from '../../../src/paths/along/slope.ts';
import { SEED } from '../../runs.ts';

const slope = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 1000 }), fc.integer({ min: -50, max: 10 })), { minLength: 1, maxLength: 8 })
  .map((knots): Slope => {
    const byPlace = new Map(knots.map(([s, z]) => [s / 10, z / 10]));
    return [...byPlace].sort(([a], [b]) => a - b).map(([s, z]) => ({ s, z }));
  });

describe('heights along a path', () => {
  it('are level outside the knots and straight between them', () => {
    const ramp: Slope = [
      { s: 2, z: 0 },
      { s: 6, z: -4 },
    ];
    expect(heightAt(ramp, -1)).toBe(0);
    expect(heightAt(ramp, 3)).toBeCloseTo(-1, 12);
    expect(heightAt(ramp, 9)).toBe(-4);
  });

  it('higherOf is the greater of both everywhere', () => {
    fc.assert(
      fc.property(slope, slope, fc.double({ min: 0, max: 100, noNaN: true }), (a, b, s) => {
        const both = higherOf(a, b, 0, 100);
        expect(heightAt(both, s)).toBeCloseTo(Math.max(heightAt(a, s), heightAt(b, s)), 6);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });

  it('higherOf drops knots that say nothing', () => {
    const level: Slope = [{ s: 0, z: -1 }];
    expect(higherOf(level, [{ s: 0, z: -2 }], 0, 50)).toHaveLength(2);
  });
});
