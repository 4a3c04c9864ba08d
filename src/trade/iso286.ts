/**
 * Limits and fits of ISO 286-1 and 286-2 up to 50 mm, micrometres.
 * The tables are shipped, not the formulas: the standard rounds its own formulas in steps that no rule reproduces
 * (tests hold every cell to the formula within a stated slack). Published tables with misprints are listed in the tests.
 */
import type { Mm } from '../base/units.ts';
import type { Sourced } from './source.ts';

/** Micrometres. */
export type Micrometre = number;

export interface Limits extends Sourced {
  readonly kind: 'limits';
  /** ES or es. */
  readonly upper: Micrometre;
  /** EI or ei. */
  readonly lower: Micrometre;
}

export interface UnknownLimits {
  readonly kind: 'unknown';
  readonly reason: 'size' | 'class';
  /** What is known, as words for a message. */
  readonly wanted: string;
}

/** Limits of a hole, e.g. `holeLimits(6, 'H7')` is +12/0. Source: ISO 286-1 rules over the tables below. */
export function holeLimits(diameter: Mm, fit: string): Limits | UnknownLimits {
  const step = sizeStep(diameter);
  if (step === undefined) return { kind: 'unknown', reason: 'size', wanted: SIZES_KNOWN };
  const match = /^(D|E|F|G|H|JS|K|M|N|P|R|S)(\d{1,2})$/.exec(fit.trim());
  const grade = match === null ? undefined : gradeOf(match[2]!);
  if (match === null || grade === undefined) return { kind: 'unknown', reason: 'class', wanted: HOLES_KNOWN };
  return holeOf(match[1]!, grade, step);
}

/** Limits of a shaft, e.g. `shaftLimits(6, 'h6')` is 0/-8. Source: ISO 286-1 rules over the tables below. */
export function shaftLimits(diameter: Mm, fit: string): Limits | UnknownLimits {
  const step = sizeStep(diameter);
  if (step === undefined) return { kind: 'unknown', reason: 'size', wanted: SIZES_KNOWN };
  const match = /^(d|e|f|g|h|js|k|m|n|p|r|s)(\d{1,2})$/.exec(fit.trim());
  const grade = match === null ? undefined : gradeOf(match[2]!);
  if (match === null || grade === undefined) return { kind: 'unknown', reason: 'class', wanted: SHAFTS_KNOWN };
  return shaftOf(match[1]!, grade, step);
}

/** Standard tolerance, micrometres; undefined outside IT4-IT14 or 0-50 mm. */
export function toleranceGrade(diameter: Mm, grade: number): Micrometre | undefined {
  const step = sizeStep(diameter);
  return step === undefined || gradeOf(String(grade)) === undefined ? undefined : it(grade, step);
}

/** Size steps, "over ... up to and including": 3.000 is in the first, 3.001 in the second. */
export const SIZE_STEPS: readonly { readonly over: Mm; readonly upTo: Mm }[] = [
  { over: 0, upTo: 3 },
  { over: 3, upTo: 6 },
  { over: 6, upTo: 10 },
  { over: 10, upTo: 18 },
  { over: 18, upTo: 30 },
  { over: 30, upTo: 50 },
];

type BandValues = readonly [number, number, number, number, number, number];

interface TableRow extends Sourced {
  readonly values: BandValues;
}

const IT_SOURCE = 'ISO 286-1 standard tolerances, in Narayana et al., Machine Drawing, Table 15.1';
const itRow = (...values: BandValues): TableRow => ({ values, source: IT_SOURCE, mark: 'published' });

/** One value a size step. IT4 has not been compared with a second table. */
export const STANDARD_TOLERANCES: Readonly<Record<number, TableRow>> = {
  4: { values: [3, 4, 4, 5, 6, 7], source: 'ISO 286-1', mark: 'from memory' },
  5: itRow(4, 5, 6, 8, 9, 11),
  6: itRow(6, 8, 9, 11, 13, 16),
  7: itRow(10, 12, 15, 18, 21, 25),
  8: itRow(14, 18, 22, 27, 33, 39),
  9: itRow(25, 30, 36, 43, 52, 62),
  10: itRow(40, 48, 58, 70, 84, 100),
  11: itRow(60, 75, 90, 110, 130, 160),
  12: itRow(100, 120, 150, 180, 210, 250),
  13: itRow(140, 180, 220, 270, 330, 390),
  14: itRow(250, 300, 360, 430, 520, 620),
};

const DEVIATION_SOURCE = 'ISO 286-1 fundamental deviations, in Narayana et al., Machine Drawing, Table 15.2';
const dev = (...values: BandValues): TableRow => ({ values, source: DEVIATION_SOURCE, mark: 'published' });

/** Fundamental deviations of shafts: d-h the upper one (es), k-s the lower one (ei). Holes follow by the rules below. */
export const SHAFT_DEVIATIONS: Readonly<Record<string, TableRow>> = {
  d: dev(-20, -30, -40, -50, -65, -80),
  e: dev(-14, -20, -25, -32, -40, -50),
  f: dev(-6, -10, -13, -16, -20, -25),
  g: dev(-2, -4, -5, -6, -7, -9),
  h: dev(0, 0, 0, 0, 0, 0),
  k: dev(0, 1, 1, 1, 2, 2),
  m: dev(2, 4, 6, 7, 8, 9),
  n: dev(4, 8, 10, 12, 15, 17),
  p: dev(6, 12, 15, 18, 22, 26),
  r: dev(10, 15, 19, 23, 28, 34),
  s: dev(14, 19, 23, 28, 35, 43),
};

const SIZES_KNOWN = 'a diameter over 0 and up to 50 mm';
const HOLES_KNOWN =
  'a hole class such as H7: letter D E F G H JS K M N P R S and grade 5 to 14 (K M N up to 8, P R S up to 7)';
const SHAFTS_KNOWN = 'a shaft class such as h6: letter d e f g h js k m n p r s and grade 5 to 14 (k to s up to 7)';
const LIMITS_SOURCE = 'ISO 286-2, computed by the rules of ISO 286-1 from its tables';

function sizeStep(diameter: Mm): number | undefined {
  const i = SIZE_STEPS.findIndex((s) => diameter > s.over && diameter <= s.upTo);
  return i < 0 ? undefined : i;
}

function gradeOf(text: string): number | undefined {
  const grade = Number(text);
  return grade >= 5 && grade <= 14 ? grade : undefined;
}

function it(grade: number, step: number): Micrometre {
  return STANDARD_TOLERANCES[grade]!.values[step]!;
}

function limits(upper: Micrometre, lower: Micrometre): Limits {
  // "+ 0" turns -0 into 0, which would otherwise print as a signed zero.
  return { kind: 'limits', upper: upper + 0, lower: lower + 0, source: LIMITS_SOURCE, mark: 'computed' };
}

function holeOf(letter: string, grade: number, step: number): Limits | UnknownLimits {
  const tolerance = it(grade, step);
  if (letter === 'JS') return limits(tolerance / 2, -tolerance / 2);
  const shaft = SHAFT_DEVIATIONS[letter.toLowerCase()]!.values[step]!;
  if ('DEFGH'.includes(letter)) return limits(tolerance - shaft, -shaft);
  if (grade > ('KMN'.includes(letter) ? 8 : 7)) return { kind: 'unknown', reason: 'class', wanted: HOLES_KNOWN };
  // ISO 286-1: these holes are pulled in by delta so that e.g. H7/p6 and P7/h6 fit alike; none up to 3 mm.
  const delta = step === 0 ? 0 : tolerance - it(grade - 1, step);
  return limits(-shaft + delta, -shaft + delta - tolerance);
}

function shaftOf(letter: string, grade: number, step: number): Limits | UnknownLimits {
  const tolerance = it(grade, step);
  if (letter === 'js') return limits(tolerance / 2, -tolerance / 2);
  const deviation = SHAFT_DEVIATIONS[letter]!.values[step]!;
  if ('defgh'.includes(letter)) return limits(deviation, deviation - tolerance);
  if (grade > 7) return { kind: 'unknown', reason: 'class', wanted: SHAFTS_KNOWN };
  return limits(deviation + tolerance, deviation);
}
