/** Nothing that can be in a file may crash or hang the reader, and every refusal has a place. */
import { expect, it } from 'vitest';
import { readProgram, readProgramInto } from '../../../src/check/language/read.ts';
import { random, runs, SEED } from '../../runs.ts';
import { PREAMBLE } from './conditions.ts';

const GOOD = [
  '%',
  ...PREAMBLE,
  'N10 G1 X5 Y5 (lead in)',
  '#1=[2*SIN[30]] G1 X#1',
  '/ G2 X10 Y5 I5',
  'G83 X5 Y5 Z-2 R2 Q0.5',
  'G41 D1 G1 X30 Y5',
  'G40 M5',
  '(MSG, done)',
  'M2',
  '%',
].join('\n');

function allPlaced(text: string): number {
  const { problems } = readProgram(text);
  for (const p of problems) {
    expect(p.place.line, p.code).toBeGreaterThan(0);
    expect(p.place.column, p.code).toBeGreaterThan(0);
    expect(`${p.found}${p.wanted}${p.remedy}`).not.toMatch(/undefined|NaN/);
  }
  return problems.length;
}

it('every truncation of a good program', () => {
  let refused = 0;
  for (let i = 0; i < GOOD.length; i++) refused += allPlaced(GOOD.slice(0, i)) > 0 ? 1 : 0;
  expect(refused).toBeGreaterThan(GOOD.length - 5);
  expect(readProgram(GOOD).problems.filter((p) => p.severity === 'fault')).toEqual([]);
});

it('every single character of a good program replaced by another', () => {
  const draw = random(SEED);
  let refused = 0;
  for (let run = 0; run < runs(20_000); run++) {
    const at = Math.floor(draw() * GOOD.length);
    const text = GOOD.slice(0, at) + String.fromCharCode(Math.floor(draw() * 140)) + GOOD.slice(at + 1);
    refused += allPlaced(text) > 0 ? 1 : 0;
  }
  expect(refused).toBeGreaterThan(0);
});

it('random bytes', () => {
  const draw = random(SEED + 1);
  for (let run = 0; run < runs(1000); run++) {
    const length = 1 + Math.floor(draw() * 400);
    const text = Array.from({ length }, () => String.fromCharCode(Math.floor(draw() * 256))).join('');
    expect(allPlaced(text)).toBeGreaterThan(0);
  }
});

it('empty, blank, NUL bytes, lone CR', () => {
  expect(readProgram('').problems).toMatchObject([{ code: 'rs274-2', place: { line: 1, column: 1 } }]);
  expect(readProgram('\n\n').problems).toMatchObject([{ code: 'rs274-2', place: { line: 2 } }]);
  expect(readProgram('\u0000\u0000\n').problems[0]).toMatchObject({ code: 'rs274-5', place: { line: 1, column: 1 } });
  const lone = readProgram('G21\rG0 X1\r\nM2\r');
  expect(lone.problems).toEqual([]);
  expect([lone.lines, lone.moves[0]?.block]).toEqual([3, 2]);
});

it('a line of a megabyte and deep brackets end at once', () => {
  const started = performance.now();
  expect(readProgram('['.repeat(1_000_000)).problems[0]).toMatchObject({
    code: 'rs274-4',
    place: { line: 1, column: 257 },
  });
  expect(readProgram(`G0 X${'['.repeat(250)}`).problems[0]).toMatchObject({ code: 'rs274-28', place: { line: 1 } });
  expect(readProgram(`G0 X${'#'.repeat(250)}`).problems[0]).toMatchObject({ place: { line: 1 } });
  expect(readProgram(`G0 X${'9'.repeat(250)}`).problems[0]).toMatchObject({
    code: 'value-out-of-range',
    place: { line: 1, column: 4 },
  });
  expect(readProgram('G0 X[[10**300]*[10**300]]').problems[0]).toMatchObject({ code: 'value-out-of-range' });
  expect(performance.now() - started).toBeLessThan(1000);
});

it('repeats and pecks are bounded', () => {
  const under = (line: string) => readProgram([...PREAMBLE, line, 'M2'].join('\n'));
  expect(under('G81 X1 Y1 Z-1 R1 L900000000').problems[0]).toMatchObject({
    code: 'too-many-repeats',
    place: { line: 5, column: 18 },
  });
  expect(under('G83 X1 Y1 Z-1 R1 Q0.0000001').problems[0]).toMatchObject({
    code: 'too-many-pecks',
    place: { line: 5, column: 18 },
  });
  expect(under('G83 X1 Y1 Z-1 R1 Q0.001 L1000').problems[0]).toMatchObject({ code: 'too-many-pecks' });
});

it('goes on after a fault, hands out no move from there, and judges nothing that hangs on lost state', () => {
  const text = [...PREAMBLE, 'G1 X5', 'G1 U5', 'G2 X1 Y1 I99', 'G0 X1 X2', 'X[1', 'M2'].join('\n');
  const r = readProgram(text);
  expect(r.problems.map((p) => `${p.code} ${p.place.line}`)).toEqual(['rs274-5 6', 'rs274-18 8', 'rs274-28 9']);
  expect(r.trustedUpTo).toBe(6);
  expect(Math.max(...r.moves.map((m) => m.block))).toBe(5);
});

it('stops after the stated number of problems', () => {
  const r = readProgram('G1 U5\n'.repeat(1000), { maxProblems: 7 });
  expect(r.problems.length).toBe(8);
  expect(r.problems.at(-1)?.code).toBe('too-many-problems');
});

it('validates block delete both ways', () => {
  const faults = (lines: string[], blockDelete: boolean) =>
    readProgram([...PREAMBLE, ...lines, 'M2'].join('\n'), { blockDelete }).problems.map(
      (p) => `${p.code} ${p.place.line}`,
    );
  for (const way of [true, false]) {
    expect(faults(['/G80', 'X5'], way)).toEqual(['rs274-41 6']);
    expect(faults(['G80', '/G0', 'X5'], way)).toContain('rs274-39 6');
    expect(faults(['G80', '/G0 X1', 'X5'], way)).toEqual(['rs274-41 7']);
    expect(faults(['/G1 X1', 'X5'], way)).toEqual([]);
  }
  const moves = (blockDelete: boolean) =>
    readProgram([...PREAMBLE, '/G1 X1', 'M2'].join('\n'), { blockDelete }).moves.length;
  expect(moves(false) - moves(true)).toBe(1);
  expect(faults(['/M2', 'G0 X1'], false)).toEqual([]);
  expect(readProgram('G21\n/M2').problems).toMatchObject([{ code: 'rs274-2' }]);
});

it('the streaming form says the same as the array form', () => {
  const moves: unknown[] = [];
  const comments: unknown[] = [];
  const summary = readProgramInto(GOOD, {}, { move: (m) => moves.push(m), comment: (c) => comments.push(c) });
  const whole = readProgram(GOOD);
  expect(moves).toEqual(whole.moves);
  expect(comments).toEqual(whole.comments);
  expect(summary.problems).toEqual(whole.problems);
  expect(comments).toMatchObject([
    { block: 6, column: 14, text: 'lead in', message: false },
    { text: ' done', message: true },
  ]);
});

it('a long file with lone CRs is read in linear time', () => {
  const started = performance.now();
  const r = readProgram(`G21\r${'G0 X1\r'.repeat(200_000)}M2\r`);
  expect(r.lines).toBe(200_002);
  expect(r.problems).toEqual([]);
  expect(performance.now() - started).toBeLessThan(5000);
});

it('cautions do not end the reading', () => {
  const cycles = ['G80', 'G81 X1 Z-1 R1'].join('\n');
  const r = readProgram(['G17 G21 G90 G94 F100', ...Array.from({ length: 300 }, () => cycles), 'M2'].join('\n'));
  expect(r.problems.every((p) => p.severity === 'caution')).toBe(true);
  expect(r.problems.length).toBe(100);
  expect(r.endedBy).toBe('M2');
});
