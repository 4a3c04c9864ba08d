/**
 * gcode-parser (another author's reader of RS-274 words) on the stored programs: the same words as the check's own reader,
 * and, walked through by a few lines that know only G0 to G3, the drilling cycles and G20/G21, the same end points.
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readProgram } from '../../src/check/language/read.ts';
import { compareReaders } from '../../src/cli/second-reader.ts';
import { parseStringSync } from '../check/language/second-reader.ts';
import { ROOT } from '../helpers.ts';

const CASES = join(ROOT, 'tests/cases');
const PROGRAMS = readdirSync(CASES, { recursive: true, encoding: 'utf8' })
  .filter((f) => f.endsWith('.ngc'))
  .sort();

/** As far as two readers of the same decimal words may differ, mm: the rounding of binary arithmetic is far below. */
const SAME_PLACE = 0.001;

interface Place {
  readonly x: number | undefined;
  readonly y: number | undefined;
  readonly z: number | undefined;
}

/** Where the cutter stands after each line that moves it, mm. The lines are those with words, in order. */
function walk(text: string): Place[] {
  const out: Place[] = [];
  const at: Record<string, number | undefined> = {};
  let motion = 80;
  let unit = 1;
  for (const { words } of parseStringSync(text)) {
    const given = words.filter(([letter]) => /^[A-Z]$/.test(letter));
    for (const [letter, value] of given) {
      if (letter !== 'G') continue;
      if (value === 20) unit = 25.4;
      if (value === 21) unit = 1;
      if (value <= 3 || (value >= 80 && value <= 89)) motion = value;
    }
    const axes = given.filter(([letter]) => 'XYZ'.includes(letter));
    if (axes.length === 0 || motion === 80) continue;
    for (const [letter, value] of axes) {
      // A cycle under G98 comes back to the height it began at.
      if (motion < 80 || letter !== 'Z') at[letter] = value * unit;
    }
    out.push({ x: at['X'], y: at['Y'], z: at['Z'] });
  }
  return out;
}

/** The same by the check's own reader: the end of the last move of each line. */
function ownEnds(text: string): Place[] {
  const read = readProgram(text);
  expect(read.problems).toEqual([]);
  const last = new Map<number, Place>();
  for (const move of read.moves) {
    if (move.kind !== 'rapid' && move.kind !== 'feed' && move.kind !== 'arc') continue;
    const { x, y, z } = move.to;
    last.set(move.block, { x: x ?? undefined, y: y ?? undefined, z: z ?? undefined });
  }
  return [...last.values()];
}

describe('two readers of every stored program', () => {
  it('has programs to read, of standard and plain and in inches', () => {
    expect(PROGRAMS.length).toBeGreaterThan(20);
    for (const post of ['standard', 'plain', 'inch']) expect(PROGRAMS.some((p) => p.includes(post))).toBe(true);
  });

  it.each(PROGRAMS)('%s: the same words and the same end points', (name) => {
    const text = readFileSync(join(CASES, name), 'utf8');
    expect(compareReaders(text, name)).toEqual([]);
    const theirs = walk(text);
    const own = ownEnds(text);
    expect(own.length).toBeGreaterThan(2);
    expect(theirs.length).toBe(own.length);
    let most = 0;
    own.forEach((place, i) => {
      for (const axis of ['x', 'y', 'z'] as const) {
        const [a, b] = [place[axis], theirs[i]![axis]];
        expect(a === undefined, `${axis} of move ${i}`).toBe(b === undefined);
        if (a !== undefined && b !== undefined) most = Math.max(most, Math.abs(a - b));
      }
    });
    expect(most).toBeLessThanOrEqual(SAME_PLACE);
  });
});

describe('the comparison of words', () => {
  const path = join(CASES, 'lifting-lever/standard/lifting-lever.ngc');

  it('is of something', () => expect(existsSync(path)).toBe(true));

  // Expressions and parameters are words to one reader and not to the other: no program of ours has any.
  it.each([
    ['%\nG21 G90\nG0 Z5\nG0 X1.5 Y-2\nM2\n%\n', true],
    ['G1 X[1+1]\nM2\n', false],
    ['G1 X#1\nM2\n', false],
  ])('on %j', (text, same) => {
    expect(compareReaders(text, 'p.ngc').length === 0).toBe(same);
  });
});
