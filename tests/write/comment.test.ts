/** Comments a control can read. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commentLines, commentText, LONGEST_LINE } from '../../src/write/comment.ts';
import { runs, SEED } from '../runs.ts';

describe('comments', () => {
  it.each([
    ['Ø 5 × 3 – 2 µm', 'dia  5 x 3 - 2 um'],
    ['hole (through)', 'hole [through]'],
    ['Rückerhebel', 'Ruckerhebel'],
    ['a\nb\tc', 'a b c'],
    ['45° ± 0.5°', '45 deg +/- 0.5 deg'],
  ])('%j is written %j', (text, written) => {
    expect(commentText(text)).toBe(written);
  });

  it('are broken between words, the prefix on every line', () => {
    const text = 'Fit cutter 8 and touch it off on the frame that no operation ever cuts, then lower the guard again';
    const lines = commentLines(text, 'MSG,');
    expect(lines).toHaveLength(2);
    for (const line of lines) expect(line).toMatch(/^\(MSG, \S.*\S\)$/);
    expect(lines.map((l) => l.slice(6, -1)).join(' ')).toBe(text);
  });

  it('are ASCII, without brackets inside, at most 80 characters, and lose no letter of plain text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 300 }), fc.constantFrom('', 'MSG,'), (text, prefix) => {
        for (const line of commentLines(text, prefix)) {
          expect(line.length).toBeLessThanOrEqual(LONGEST_LINE);
          expect(line).toMatch(/^\([ -'*-~]+\)$/);
        }
      }),
      { seed: SEED, numRuns: runs(3000) },
    );
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-zA-Z0-9.,:;]{1,120}$/), { maxLength: 20 }), (words) => {
        const told = commentLines(words.join(' '), 'MSG,').map((l) => l.slice(6, -1));
        expect(told.join('').replaceAll(' ', '')).toBe(words.join(''));
      }),
      { seed: SEED, numRuns: runs(2000) },
    );
  });
});
