/** One line for every problem, and outcomes that are never silently empty. */
import { describe, expect, it } from 'vitest';
import { bad, caution, describeProblem, fault, good, note, type Problem } from '../../src/base/problem.ts';

describe('the line of a problem', () => {
  it.each<[string, Problem]>([
    [
      'a.json:3:7 code part.x: found; wanted; do',
      fault({
        code: 'code',
        at: { file: 'a.json', line: 3, column: 7, path: 'part.x' },
        found: 'found',
        wanted: 'wanted',
        remedy: 'do',
      }),
    ],
    [
      'code part.holes[2].ream (hole 3): found',
      note({ code: 'code', at: { path: 'part.holes[2].ream' }, found: 'found' }),
    ],
    [
      'code part.edgeHoles[0] (edge hole 1): found',
      note({ code: 'code', at: { path: 'part.edgeHoles[0]' }, found: 'found' }),
    ],
    [
      'code part.pockets[1].islands[0].circle (pocket 2, island 1): found',
      note({ code: 'code', at: { path: 'part.pockets[1].islands[0].circle' }, found: 'found' }),
    ],
    ['code cutters[0]: found', note({ code: 'code', at: { path: 'cutters[0]' }, found: 'found' })],
    [
      'a.json:3 code: found; wanted; do',
      caution({ code: 'code', at: { file: 'a.json', line: 3 }, found: 'found', wanted: 'wanted', remedy: 'do' }),
    ],
    [
      'code at 1.235, -2: found; wanted',
      fault({ code: 'code', at: { at: [1.23456, -2] }, found: 'found', wanted: 'wanted', remedy: '' }),
    ],
    ['code at 0, 0, -4: found', note({ code: 'code', at: { at: [0, 0, -4] }, found: 'found' })],
    ['code: found', note({ code: 'code', found: 'found' })],
  ])('%s', (line, problem) => {
    expect(describeProblem(problem)).toBe(line);
  });

  it('carries the severity of its maker', () => {
    const made = [
      fault({ code: 'c', found: '', wanted: '', remedy: '' }),
      caution({ code: 'c', found: '', wanted: '', remedy: '' }),
      note({ code: 'c', found: '' }),
    ];
    expect(made.map((p) => p.severity)).toEqual(['fault', 'caution', 'note']);
  });
});

describe('an outcome', () => {
  it('is a value with what was told, or faults without a value', () => {
    expect(good(1)).toEqual({ ok: true, value: 1, problems: [] });
    expect(good(1, [note({ code: 'c', found: 'x' })]).problems).toHaveLength(1);
    expect(bad(fault({ code: 'c', found: '', wanted: '', remedy: '' }))).toMatchObject({
      ok: false,
      problems: [{ code: 'c' }],
    });
  });
});
