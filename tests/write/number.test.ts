/** Spelling of numbers in a program. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spell } from '../../src/write/number.ts';
import { runs, SEED } from '../runs.ts';

describe('a number of a program', () => {
  it.each([
    [0, 4, '0'],
    [-0, 4, '0'],
    [3, 4, '3'],
    [-3, 4, '-3'],
    [12.5, 4, '12.5'],
    [0.1 + 0.2, 4, '0.3'],
    [-0.00001, 4, '0'],
    [0.00005, 4, '0.0001'],
    [-0.00006, 4, '-0.0001'],
    [100, 0, '100'],
    [1200, 0, '1200'],
    [99.99999, 4, '100'],
    [1e-7, 5, '0'],
    [123456.78901, 5, '123456.78901'],
    [1 / 3, 5, '0.33333'],
    [2 / 3, 0, '1'],
  ])('%d with %d decimals is %s', (value, decimals, text) => {
    expect(spell(value, decimals)).toBe(text);
  });

  it.each([Number.NaN, Number.POSITIVE_INFINITY, -Number.POSITIVE_INFINITY, 1e9, 1e21])('%d is refused', (value) => {
    expect(() => spell(value, 4)).toThrow(RangeError);
  });

  it('reads back within half of its last digit; no exponent, no -0, no comma, no idle zeros', () => {
    const value = fc.oneof(
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      fc.double({ min: -1e-3, max: 1e-3, noNaN: true }),
      fc.double({ min: -9e8, max: 9e8, noNaN: true }),
    );
    fc.assert(
      fc.property(value, fc.integer({ min: 0, max: 6 }), (v, decimals) => {
        const text = spell(v, decimals);
        // Half of the last digit, and the room of one rounding of the value itself.
        expect(Math.abs(Number(text) - v)).toBeLessThanOrEqual(0.5 * 10 ** -decimals + Math.abs(v) * Number.EPSILON);
        expect(text).toMatch(/^(0|-?[1-9]\d*|-?(0|[1-9]\d*)\.\d*[1-9])$/);
        expect((text.split('.')[1] ?? '').length).toBeLessThanOrEqual(decimals);
        expect(spell(Number(text), decimals)).toBe(text);
      }),
      { seed: SEED, numRuns: runs(20_000) },
    );
  });
});
