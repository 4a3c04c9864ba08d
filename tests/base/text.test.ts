/** Numbers and near words for people. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editDistance, fixed, kebab, nearest, short } from '../../src/base/text.ts';
import { toDeg, toRad } from '../../src/base/units.ts';
import { runs, SEED } from '../runs.ts';

const law = { seed: SEED, numRuns: runs(2000) };

describe('numbers for people', () => {
  it.each([
    [2.5, 3, '2.500', '2.5'],
    [-0.00001, 3, '0.000', '0'],
    [0, 0, '0', '0'],
    [100, 0, '100', '100'],
    [1200, 2, '1200.00', '1200'],
    [1e-9, 3, '0.000', '0'],
    [-1.0005, 2, '-1.00', '-1'],
  ])('%d to %d decimals', (value, decimals, long, brief) => {
    expect(fixed(value, decimals)).toBe(long);
    expect(short(value, decimals)).toBe(brief);
  });

  it('the short spelling is the same number as the long one', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.integer({ min: 0, max: 8 }), (v, d) => {
        expect(Number(short(v, d))).toBe(Number(fixed(v, d)) + 0);
        expect(short(v, d)).toMatch(/^(0|-?[1-9]\d*|-?\d+\.\d*[1-9])$/);
      }),
      law,
    );
  });
});

describe('near words', () => {
  it.each([
    ['thicknes', 'thickness'],
    ['Thickness', 'thickness'],
    ['hieght', 'height'],
    ['diameter', 'diameter'],
  ])('%s is meant for %s', (slip, meant) => {
    expect(nearest(slip, ['width', 'height', 'thickness', 'diameter'])).toBe(meant);
  });

  it('has nothing to say about a word unlike any', () => {
    expect(nearest('colour', ['width', 'height'])).toBeUndefined();
    expect(nearest('x', [])).toBeUndefined();
  });

  // Damerau 1964 (restricted edit distance): worked examples, from memory.
  it.each([
    ['kitten', 'sitting', 3],
    ['', 'abc', 3],
    ['ab', 'ba', 1],
    ['ca', 'abc', 3],
    ['same', 'same', 0],
  ])('%s to %s is %d edits', (a, b, n) => {
    expect(editDistance(a, b)).toBe(n);
    expect(editDistance(b, a)).toBe(n);
  });

  it('one edit is never more than one', () => {
    const word = fc.stringMatching(/^[a-z]{1,12}$/);
    fc.assert(
      fc.property(word, fc.nat(), fc.stringMatching(/^[a-z]$/), (w, at, letter) => {
        const i = at % w.length;
        expect(editDistance(w, w.slice(0, i) + w.slice(i + 1))).toBe(1);
        expect(editDistance(w, w.slice(0, i) + letter + w.slice(i))).toBe(1);
        expect(editDistance(w, w.slice(0, i) + letter + w.slice(i + 1))).toBeLessThanOrEqual(1);
      }),
      law,
    );
  });
});

describe('file names', () => {
  it.each([
    ['Lifting lever', 'lifting-lever'],
    ['Rückerhebel № 2', 'ruckerhebel-no-2'],
    ['  a//b  ', 'a-b'],
    ['***', 'job'],
    ['../../etc', 'etc'],
  ])('%s becomes %s', (name, file) => {
    expect(kebab(name)).toBe(file);
  });

  it('are plain whatever the name', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (name) => {
        expect(kebab(name)).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      }),
      law,
    );
  });
});

describe('angles', () => {
  it('turn both ways', () => {
    expect(toRad(180)).toBe(Math.PI);
    expect(toDeg(Math.PI / 2)).toBe(90);
  });
});
