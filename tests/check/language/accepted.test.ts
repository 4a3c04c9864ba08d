/** What must not be refused: a guard against an over-strict check. NISTIR 6556, sections named at each row; snippets are our own. */
import { expect, it } from 'vitest';
import { readProgram } from '../../../src/check/language/read.ts';
import { PREAMBLE } from './conditions.ts';

const ACCEPTED: readonly (readonly [what: string, snippets: readonly (readonly string[])[]])[] = [
  ['3.3: lower case, spaces and tabs inside numbers', [['g0 x +0. 12 34 y\t7'], ['g 1 x 1 0']]],
  ['3.3: blank lines', [['', '   ', '\t', 'G0 X1']]],
  ['3.3.1: repeated and unordered N', [['N20 G0 X1', 'N10 X2', 'N10 X3']]],
  ['3.3.1: no N', [['G0 X1', 'X2']]],
  ['3.3.6: words in any order', [['F200 Y2 X1 G1'], ['S500 M3 X1 G0']]],
  ['3.3.4: several comments', [['(a) G0 (b) X1 (MSG, c)']]],
  ['3.3.3: the same parameter set twice', [['#1=2 #1=3', 'G0 X#1']]],
  ['3.3.2.1: spellings of numbers', [['G0 X-0 Y.5 Z5.'], ['G0 X+5 Y007']]],
  [
    '3.5.10, 3.5.11: off when off, zero slots',
    [['G40'], ['G49'], ['G43 H1', 'G43 H1'], ['G43 H0'], ['G41 D0', 'G1 X5', 'Y5', 'G40']],
  ],
  ['3.6.2: M3 with S0, M5 when stopped, M3 twice', [['S0 M3'], ['M5', 'M5'], ['M3', 'M3']]],
  ['3.6.3: T0, T twice, M6 to the same tool, empty slot', [['T0'], ['T2', 'T1'], ['T1 M6'], ['T9 M6'], ['T0 M6']]],
  ['3.6.4, 3.6.5: M7 M8 M9 M48 M49 at any time', [['M7', 'M8', 'M9', 'M9', 'M48', 'M49', 'M49']]],
  ['3.5.14: repeated path control', [['G61', 'G61', 'G64', 'G64', 'G61.1']]],
  ['3.5.3.2: full circle in centre format', [['G2 X0 I5'], ['G3 X0 Y0 I5'], ['G18 G2 X0 K5'], ['G19 G3 Y0 J5']]],
  ['3.5.8: G28 without axis words', [['G28'], ['G30']]],
  ['3.8: G4 with axis words', [['G1 X1', 'G4 P1 X5'], ['G4 P0']]],
  ['3.4: G80 with G92', [['G80 G92 X1']]],
  ['B.5: tool change while compensating', [['G41 D1', 'T2 M6', 'G40']]],
  ['3.5.17: arcs in G91', [['G91 G2 X10 I5'], ['G91 G3 X0 Y10 J5']]],
  ['3.5.16: L above 1 in G90', [['G81 X5 Y5 Z-2 R2 L3']]],
  ['3.6.1: anything after M2', [['M2', 'never run ( %&', '%']]],
  ['G1 along zero length', [['G1 X0 Y0 Z5']]],
  ['3.5.19: G0 in G93 with and without F', [['G93 G0 X5', 'G0 X6 F2', 'G94 F100']]],
  ['3.5.3.1: negative R', [['G2 X5 Y5 R-5'], ['G3 X5 Y5 R-6']]],
  [
    '3.3.2: expressions in any word',
    [['G[1] X[2*3] F[50+SQRT[4]]'], ['#2=17', 'G#2'], ['M[2+1]'], ['G0 XABS[-3] Y#[1+1] Z[2**3]']],
  ],
];

it('holds all 25 rows', () => {
  expect(ACCEPTED.length).toBe(25);
});

it.each(ACCEPTED)('%s', (_, snippets) => {
  expect(snippets.length).toBeGreaterThan(0);
  for (const snippet of snippets) {
    const text = [...PREAMBLE, ...snippet, 'M2'].join('\n');
    const tools = [1, 2].map((number) => ({ number, diameter: 1, length: 50 }));
    const faults = readProgram(text, { toolTable: tools }).problems.filter((p) => p.severity === 'fault');
    expect(faults, snippet.join(' / ')).toEqual([]);
  }
});

it('leaves out what stands behind the closing %', () => {
  const result = readProgram('%\nG0 X1\n%\nnever ( run\n%\n');
  expect(result.problems).toEqual([]);
  expect(result.endedBy).toBe('percent');
  expect(result.moves.length).toBe(1);
});

it('accepts radii that differ by just less than the tolerance of section 3.5.3.2, and flat ends of a helix', () => {
  for (const line of ['G2 X10.0019 Y0 I5', 'G20 G2 X1.00019 Y0 I0.5', 'G2 X10 Y0 Z-5 I5']) {
    expect(readProgram([...PREAMBLE, line, 'M2'].join('\n')).problems, line).toEqual([]);
  }
});
