/** Options of the reader, and the cautions it gives where the outcome hangs on what only the control knows. */
import { expect, it } from 'vitest';
import type { ReaderOptions } from '../../../src/check/language/canonical.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { PREAMBLE } from './conditions.ts';

const read = (lines: readonly string[], options: ReaderOptions = {}) =>
  readProgram([...PREAMBLE, ...lines, 'M2'].join('\n'), options);
const codes = (lines: readonly string[], options: ReaderOptions = {}) =>
  read(lines, options).problems.map((p) => `${p.severity} ${p.code} ${p.place.line}:${p.place.column}`);

it('cautions', () => {
  expect(codes(['G0 G53 Z0'])).toEqual(['caution stored-offsets 5:4']);
  expect(codes(['G28'])).toEqual(['caution stored-offsets 5:1']);
  expect(codes(['G55'])).toEqual(['caution stored-offsets 5:1']);
  expect(codes(['G54'])).toEqual([]);
  expect(codes(['G43 H3'])).toEqual(['caution tool-data-missing 5:5']);
  expect(codes(['G41 D3'])).toEqual(['caution tool-data-missing 5:5']);
  expect(codes(['M5', 'G38.2 Z-5'])).toEqual(['caution probe-result-unknown 6:1']);
  expect(codes(['G2 X0.0002 Y0 I5'])).toEqual(['caution arc-chord-doubtful 5:1']);
  expect(codes(['G93 G1 X5 F2', 'G94', 'G1 X6'])).toEqual(['caution feed-after-inverse-time 6:1']);
  expect(readProgram('G21 G90 G94 F9\nG0 X0 Y0\nG98 G81 X1 Z-1 R1\nM2').problems.map((p) => p.code)).toEqual([
    'level-unknown',
  ]);
  expect(readProgram('G21 G90 G94 F9\nG0 X0 Y0 Z3\nG81 X1 Z-1 R1\nM2').problems.map((p) => p.code)).toEqual([
    'return-level-unset',
  ]);
});

it('stored parameters place other systems, home and machine moves', () => {
  const parameters = new Map([
    [5220, 1],
    [5221, 100],
    [5241, 130],
    [5161, 90],
    [5211, 0],
  ]);
  const end = (lines: string[]) => read(lines, { parameters }).moves.at(-2)!.to.x;
  expect(codes(['G55 G0 X1'], { parameters })).toEqual([]);
  expect(end(['G55', 'G0 X1'])).toBe(31);
  expect(end(['G0 G53 X5'])).toBe(-95);
  expect(end(['G28'])).toBe(-10);
  expect(end(['G10 L2 P1 X110', 'G0 X0'])).toBe(10);
  expect(end(['G92 X3', 'G92.2', 'G0 X1'])).toBe(1);
  expect(end(['G92 X3', 'G92.2', 'G92.3', 'G0 X1'])).toBe(-2);
  expect(end(['#5220=2', '#5221=0', 'G10 L2 P3 X0', 'G0 X1'])).toBe(1);
});

it('the position may be made unknown by stops and changes', () => {
  for (const stop of ['M0', 'M1', 'M60', 'M6']) {
    const after = (unknownAfterStop: boolean) => read([stop, 'G0 Z9'], { unknownAfterStop }).moves.at(-2)!;
    expect(after(true).from).toEqual({ x: null, y: null, z: null });
    expect(after(true).to).toEqual({ x: null, y: null, z: 9 });
    expect(after(false).to).toEqual({ x: 0, y: 0, z: 9 });
  }
});

it('rotary axes are accepted where the machine has them', () => {
  expect(codes(['G0 A90 X1', 'G91 A10', 'G90 G81 X5 Y5 Z-2 R2'], { rotaryAxes: 'A' })).toEqual([]);
  expect(codes(['G0 A90', 'G0 B1'], { rotaryAxes: 'A' })).toEqual(['fault rs274-117 6:4']);
  expect(codes(['M5', 'G38.2 X20 A90'], { rotaryAxes: 'A' })).toEqual(['fault rs274-114 6:11']);
});

it('the file name goes into every place; coolant, tool and path control into every move', () => {
  expect(read(['G1 U5'], { file: 'a.ngc' }).problems[0]!.place).toEqual({ file: 'a.ngc', line: 5, column: 4 });
  const move = read(['M8', 'M7', 'G61', 'G1 X1']).moves.at(-2)!;
  expect(move).toMatchObject({
    block: 8,
    kind: 'feed',
    feed: 100,
    tool: 1,
    coolant: { mist: true, flood: true },
    pathControl: 'exact-path',
    spindle: { on: true, clockwise: true, speed: 1000 },
  });
});

it('a good parameter file is read', () => {
  const rows = [
    5161,
    5162,
    5163,
    5181,
    5182,
    5183,
    5211,
    5212,
    5213,
    5220,
    ...Array.from({ length: 27 }, (_, i) => 5221 + 20 * Math.floor(i / 3) + (i % 3)),
  ];
  const parameterFile = rows.map((row) => `${row} ${row === 5220 ? 2 : row === 5241 ? 7.5 : 0}`).join('\n');
  const r = readProgram('G0 X1\nM2', { parameterFile });
  expect(r.problems).toEqual([]);
  expect([r.last.parameter(5241), r.moves[0]!.to.x]).toEqual([7.5, 1]);
});
