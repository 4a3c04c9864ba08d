/** Lines of a text are the same however it comes in pieces, and no line needs more memory than its limit. */
import { expect, it } from 'vitest';
import { eachLine, eachLineOf } from '../../../../src/check/language/text/lines.ts';
import { random, runs, SEED } from '../../../runs.ts';

function linesOf(by: (read: (text: string, start: number, end: number) => boolean) => void): string[] {
  const lines: string[] = [];
  by((text, start, end) => lines.push(text.slice(start, end)) > 0);
  return lines;
}

it('pieces cut anywhere give the lines of the whole', () => {
  const draw = random(SEED);
  let seen = 0;
  for (let run = 0; run < runs(2000); run++) {
    const text = Array.from({ length: Math.floor(draw() * 40) }, () => 'ab\n\r\r\n'[Math.floor(draw() * 6)]).join('');
    const pieces: string[] = [];
    for (let at = 0; at < text.length; ) {
      const next = at + Math.floor(draw() * 6);
      pieces.push(text.slice(at, next));
      at = next;
    }
    const whole = linesOf((read) => eachLine(text, read));
    expect(linesOf((read) => eachLineOf(pieces, read))).toEqual(whole);
    // The ends are those of every other reader of lines: the last end closes a line and opens none.
    expect(whole).toEqual(text === '' ? [] : text.replace(/(\r\n|\n|\r)$/, '').split(/\r\n|\n|\r/));
    seen += whole.length;
  }
  expect(seen).toBeGreaterThan(runs(2000));
});

it('a line of many megabytes is handed out short, and what follows is read', () => {
  const pieces = [...Array.from({ length: 20 }, () => '['.repeat(500_000)), '\nG0 X1\r', '\nM2'];
  const lines = linesOf((read) => eachLineOf(pieces, read));
  expect(lines[0]!.length).toBeGreaterThan(256);
  expect(lines[0]!.length).toBeLessThan(2_000_000);
  expect(lines.slice(1)).toEqual(['G0 X1', 'M2']);
});

it('stops when no more is wanted', () => {
  let seen = 0;
  eachLineOf(['a\nb\n', 'c\n'], () => ++seen < 2);
  expect(seen).toBe(2);
});
