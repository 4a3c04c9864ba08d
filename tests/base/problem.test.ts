/** One line for every problem, and outcomes that are never silently empty. */
import { describe, expect, it } from 'vitest';
import { bad, caution, describeProblem, fault, good, note, type Problem } from '../../src/base/problem.ts';

describe('the line of a problem', () => {
  it.each<[string, Problem]>([
    [
      'a.json:3:7 code part.x: found; wanted; do',
      fault('code', 'found', 'wanted', 'do', { file: 'a.json', line: 3, column: 7, path: 'part.x' }),
    ],
    ['code part.holes[2].ream (hole 3): found', note('code', 'found', '', '', { path: 'part.holes[2].ream' })],
    ['code part.edgeHoles[0] (edge hole 1): found', note('code', 'found', '', '', { path: 'part.edgeHoles[0]' })],
    [
      'code part.pockets[1].islands[0].circle (pocket 2, island 1): found',
      note('code', 'found', '', '', { path: 'part.pockets[1].islands[0].circle' }),
    ],
    ['code cutters[0]: found', note('code', 'found', '', '', { path: 'cutters[0]' })],
    ['a.json:3 code: found; wanted; do', caution('code', 'found', 'wanted', 'do', { file: 'a.json', line: 3 })],
    ['code at 1.235, -2: found; wanted', fault('code', 'found', 'wanted', '', { at: [1.23456, -2] })],
    ['code at 0, 0, -4: found', note('code', 'found', '', '', { at: [0, 0, -4] })],
    ['code: found', note('code', 'found')],
  ])('%s', (line, problem) => {
    expect(describeProblem(problem)).toBe(line);
  });

  it('carries the severity of its maker', () => {
    const made = [fault('c', '', '', ''), caution('c', '', '', ''), note('c', '')];
    expect(made.map((p) => p.severity)).toEqual(['fault', 'caution', 'note']);
  });
});

describe('an outcome', () => {
  it('is a value with what was told, or faults without a value', () => {
    expect(good(1)).toEqual({ ok: true, value: 1, problems: [] });
    expect(good(1, [note('c', 'x')]).problems).toHaveLength(1);
    expect(bad(fault('c', '', '', ''))).toMatchObject({ ok: false, problems: [{ code: 'c' }] });
  });
});
