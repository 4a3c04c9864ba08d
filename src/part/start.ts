/**
 * A new job file from a few answers: a lever of two bosses, to be edited from there. The questions are data, used alike
 * for options on the command line and for questions on a terminal; the asking is done elsewhere.
 */
import { bad, caution, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import { nearest, short } from '../base/text.ts';
import { MM_PER_INCH } from '../base/units.ts';
import { findMaterial } from '../trade/materials/materials.ts';
import { METRIC_THREADS } from '../trade/threads/thread-metric.ts';
import type { UnitName } from './desk.ts';

/** Lengths in `units`. */
export interface StartAnswers {
  readonly name: string;
  readonly units: UnitName;
  readonly material: string;
  readonly thickness: number;
  /** Between the centres of the two bosses. */
  readonly length: number;
  readonly radius: number;
  readonly endRadius: number;
  /** Reamed; 0: no hole. */
  readonly bore: number;
  readonly endBore: number;
  readonly copies: number;
  readonly hold: StartHold;
}

const HOLDS = ['auto', 'tabs', 'floor', 'screws', 'glue'] as const;
export type StartHold = (typeof HOLDS)[number];
export type StartKey = keyof StartAnswers;

export interface StartQuestion<K extends StartKey = StartKey> {
  readonly key: K;
  /** As asked on a terminal, and as the help of the option `--key`. */
  readonly text: string;
  /** Answer when none is given, by the units chosen. */
  readonly default: Readonly<Record<UnitName, string>>;
  readonly parse: (answer: string) => Outcome<StartAnswers[K]>;
}

type AnyQuestion = { readonly [K in StartKey]: StartQuestion<K> }[StartKey];

/** In the order they are asked. */
export const START_QUESTIONS: readonly AnyQuestion[] = [
  question('name', 'Name of the part', both('lever'), wordOf('name')),
  question('units', 'Units of the drawing, mm or inch', both('mm'), oneOf('units', ['mm', 'inch'])),
  question(
    'material',
    'Material by its standard designation, such as CuZn39Pb3 or S275JR',
    both('CuZn39Pb3'),
    materialOf,
  ),
  question('thickness', 'Thickness', { mm: '3', inch: '0.125' }, sizeOf('thickness', false)),
  question('length', 'Length between the centres of the two ends', { mm: '30', inch: '1.25' }, sizeOf('length', false)),
  question('radius', 'Radius of the first end', { mm: '6', inch: '0.25' }, sizeOf('radius', false)),
  question('endRadius', 'Radius of the other end', { mm: '4', inch: '0.1875' }, sizeOf('endRadius', false)),
  question(
    'bore',
    'Bore of the first end, reamed H7 (inch: drilled); 0 for none',
    { mm: '5', inch: '0.1875' },
    sizeOf('bore', true),
  ),
  question(
    'endBore',
    'Bore of the other end, reamed H7 (inch: drilled); 0 for none',
    { mm: '3', inch: '0.125' },
    sizeOf('endBore', true),
  ),
  question('copies', 'How many', both('1'), countOf),
  question('hold', `How to hold it: ${HOLDS.join(', ')}`, both('auto'), oneOf('hold', HOLDS)),
];

/** Every answer read, the missing ones by default; or every fault found, answers that do not fit together included. */
export function startAnswers(given: Readonly<Partial<Record<StartKey, string>>>): Outcome<StartAnswers> {
  const units: UnitName = given.units?.trim() === 'inch' ? 'inch' : 'mm';
  const read = START_QUESTIONS.map((q) => ({ key: q.key, outcome: q.parse(given[q.key] ?? q.default[units]) }));
  const problems = read.flatMap((r) => r.outcome.problems);
  if (problems.length > 0) return bad(...problems);
  const entries = read.map((r) => [r.key, r.outcome.ok ? r.outcome.value : undefined]);
  const answers = Object.fromEntries(entries) as unknown as StartAnswers;
  const clashes = clashesOf(answers);
  return clashes.length > 0 ? bad(...clashes) : good(answers, cautionsFor(answers));
}

/** The job may list longer cutters, so a plate too thick for the usual ones is told, not refused. */
function cautionsFor(a: StartAnswers): Problem[] {
  const thick = a.thickness * (a.units === 'inch' ? MM_PER_INCH : 1);
  if (thick <= THICKEST_USUAL) return [];
  const found = `a plate of ${short(thick)} mm, and the usual cutters are sure to reach through ${THICKEST_USUAL} mm`;
  return [
    caution({
      code: 'start-thick',
      at: { path: 'thickness' },
      found,
      wanted: 'cutters with flutes longer than the plate',
      remedy: 'list yours under "cutters" before `make`',
    }),
  ];
}

/** The 3 mm reamer of the stated drawer has flutes of 15 mm and goes 2.5 mm below the plate; its end mills reach a little deeper (mm). */
const THICKEST_USUAL = 12.5;

/** The text of a commented job file; `readJob` accepts it for every answer that `startAnswers` accepts. */
export function newJob(a: StartAnswers): string {
  const json = (v: unknown): string => JSON.stringify(v);
  const bosses = `[ { "at": [0, 0], "radius": ${json(a.radius)} }, { "at": [${json(a.length)}, 0], "radius": ${json(a.endRadius)} } ]`;
  const holes = [hole(a, 0, a.bore), hole(a, a.length, a.endBore)].filter((h) => h !== '');
  return [
    '// A part for Tabwright. Comments like this one and commas at the end of a list are allowed.',
    `// Every length is in ${a.units === 'mm' ? 'millimetres' : 'inches'}. X runs right, Y away, Z up; Z0 is the finished top face.`,
    '{',
    `  "name": ${json(a.name)},`,
    `  "units": ${json(a.units)},`,
    `  "material": ${json(a.material)},`,
    '  "part": {',
    `    "thickness": ${json(a.thickness)},`,
    '    // Round ends (bosses) and the webs between them; add bosses as the drawing has them.',
    `    "outline": { "bosses": ${bosses} },`,
    '    // Each hole is one of drill, ream, tap, clear, bore; "depth" makes it blind.',
    `    "holes": [${holes.map((h) => `\n      ${h}`).join(',')}${holes.length > 0 ? '\n    ' : ''}],`,
    `    // Leg of the chamfer on the top edges; ${a.units === 'mm' ? '0.2 mm' : '0.008 in'} breaks an edge, 0 leaves it sharp.`,
    '    "chamfer": 0',
    '  },',
    ...copiesLines(a),
    '  // How the part is held while it is cut: "auto", or { "by": "tabs" | "floor" | "screws" | "glue" | "stub", ... }.',
    `  "hold": ${holdText(a)}`,
    '  // Left out, and so taken as usual: stock, place, clamps, machine, cutters, finish, post.',
    '  // Give your own machine and cutters before you cut: the defaults are listed on the set-up sheet.',
    '}',
    '',
  ].join('\n');
}

/** Millimetre bores are reamed; the stated drawer has no inch reamers, so inch bores are drilled until the job lists one. */
function hole(a: StartAnswers, x: number, bore: number): string {
  if (bore === 0) return '';
  if (a.units === 'inch') return `{ "at": [${JSON.stringify(x)}, 0], "drill": ${JSON.stringify(bore)} }`;
  return `{ "at": [${JSON.stringify(x)}, 0], "ream": ${JSON.stringify(bore)}, "fit": "H7" }`;
}

function copiesLines(a: StartAnswers): string[] {
  if (a.copies === 1) return [];
  return [
    '  // "mirrored" says how many of them are left-handed.',
    `  "copies": { "count": ${a.copies}, "mirrored": 0 },`,
  ];
}

function holdText(a: StartAnswers): string {
  if (a.hold === 'auto') return '"auto"';
  if (a.hold !== 'screws') return `{ "by": "${a.hold}" }`;
  const bores = [a.bore, a.endBore].filter((b) => b > 0);
  return `{ "by": "screws", "through": ${JSON.stringify(bores.map((_, i) => i))}, "thread": "${screwFor(a)?.name}" }`;
}

/** The largest coarse screw that goes through every bore. */
function screwFor(a: StartAnswers): { readonly name: string } | undefined {
  const scale = a.units === 'inch' ? MM_PER_INCH : 1;
  const bores = [a.bore, a.endBore].filter((b) => b > 0).map((b) => b * scale);
  if (bores.length === 0) return undefined;
  const least = Math.min(...bores);
  return METRIC_THREADS.findLast((t) => t.family === 'metric coarse' && t.major <= least);
}

/** Thinnest wall and thinnest plate to begin a job with (mm): a little over the least that the reading of a job takes. */
const LEAST_WALL = 0.3;
const LEAST_PLATE = 0.3;
/** Longest part and widest fit (mm): a little under what the reading of a job, and ISO 286 tables, take. */
const LONGEST_PART = 390;
const WIDEST_BORE = 50;

function clashesOf(a: StartAnswers): Problem[] {
  const scale = a.units === 'inch' ? MM_PER_INCH : 1;
  const problems: Problem[] = [];
  const unless = (sound: boolean, path: StartKey, found: string, wanted: string, remedy: string): void => {
    if (!sound) problems.push(fault({ code: 'start-answers', at: { path }, found, wanted, remedy }));
  };
  const ends = [
    ['bore', a.bore, a.radius],
    ['endBore', a.endBore, a.endRadius],
  ] as const;
  for (const [key, bore, radius] of ends) {
    // The reamer's limits make the hole a little larger, so a little is kept in hand over the least wall of a tenth.
    const walled = bore === 0 || (bore <= 1.6 * radius && (radius - bore / 2) * scale >= LEAST_WALL);
    unless(
      walled,
      key,
      `a bore of ${bore} in an end of radius ${radius}`,
      'at most 1.6 radii, with 0.3 mm of wall',
      'give a smaller bore',
    );
    unless(bore * scale <= WIDEST_BORE, key, `a bore of ${bore}`, 'at most 50 mm', 'give a smaller bore');
  }
  const apart = (a.length - Math.abs(a.radius - a.endRadius)) * scale;
  unless(
    apart > 0.001,
    'length',
    `one end lies inside the other at ${a.length} between centres`,
    'a length over the difference of the radii',
    'give a greater length',
  );
  const wall = a.length - (a.bore + a.endBore) / 2;
  const sturdy = wall * scale >= LEAST_WALL && wall >= 0.11 * Math.max(a.bore, a.endBore);
  unless(
    a.bore === 0 || a.endBore === 0 || sturdy,
    'length',
    'the two bores meet',
    'a wall between them',
    'give a greater length or smaller bores',
  );
  unless(
    (a.length + a.radius + a.endRadius) * scale <= LONGEST_PART,
    'length',
    'the part is longer than 390 mm',
    'a small part',
    'check the units',
  );
  unless(
    a.thickness * scale >= LEAST_PLATE,
    'thickness',
    `a plate of ${a.thickness}`,
    'at least 0.3 mm',
    'give a greater thickness',
  );
  unless(
    a.hold !== 'screws' || screwFor(a) !== undefined,
    'hold',
    'no screw goes through the bores',
    'a bore of 1 mm or more',
    'hold it another way',
  );
  const material = findMaterial(a.material);
  const refused = a.hold === 'glue' && material.kind === 'found' && !material.value.glueing.glueable;
  const why = material.kind === 'found' ? material.value.glueing.reason : '';
  unless(
    !refused,
    'hold',
    `${a.material} is not held by glue: ${why}`,
    'another way of holding',
    'choose tabs, floor or screws',
  );
  return problems;
}

function question<K extends StartKey>(
  key: K,
  text: string,
  by: StartQuestion['default'],
  parse: StartQuestion<K>['parse'],
): StartQuestion<K> {
  return { key, text, default: by, parse };
}

function both(text: string): StartQuestion['default'] {
  return { mm: text, inch: text };
}

function wordOf(key: StartKey): (answer: string) => Outcome<string> {
  return (answer) => {
    const text = answer.trim();
    if (text !== '' && text.length <= 100) return good(text);
    return bad(
      fault({
        code: 'start-answer',
        at: { path: key },
        found: `${key} has ${text.length} letters`,
        wanted: '1 to 100 letters',
        remedy: 'answer again',
      }),
    );
  };
}

function oneOf<const T extends string>(key: StartKey, options: readonly T[]): (answer: string) => Outcome<T> {
  return (answer) => {
    const found = options.find((o) => o === answer.trim().toLowerCase());
    if (found !== undefined) return good(found);
    const near = nearest(answer.trim(), options);
    return bad(
      fault({
        code: 'start-answer',
        at: { path: key },
        found: `${key} is "${answer}"`,
        wanted: options.join(', '),
        remedy: near === undefined ? 'choose one' : `did you mean ${near}?`,
      }),
    );
  };
}

function materialOf(answer: string): Outcome<string> {
  const found = findMaterial(answer);
  if (found.kind === 'found') return good(found.value.name);
  const remedy = found.nearest === undefined ? 'choose the nearest in the tables' : `did you mean ${found.nearest}?`;
  return bad(
    fault({
      code: 'unknown-material',
      at: { path: 'material' },
      found: `material "${answer}" is not in the tables`,
      wanted: 'a standard designation',
      remedy,
    }),
  );
}

/** Largest answer, in the units of the file; the reading of the job has the finer limits. */
const LARGEST = 300;

function sizeOf(key: StartKey, zero: boolean): (answer: string) => Outcome<number> {
  return (answer) => {
    const text = answer.trim();
    const value = /^\d*\.?\d+$|^\d+\.$/.test(text) ? Number(text) : Number.NaN;
    if (value <= LARGEST && (value > 0 || (zero && value === 0))) return good(value);
    const comma = text.includes(',') ? 'write a point for a decimal comma' : 'answer with a number';
    return bad(
      fault({
        code: 'start-answer',
        at: { path: key },
        found: `${key} is "${answer}"`,
        wanted: `a number ${zero ? 'from' : 'above'} 0 to ${LARGEST}`,
        remedy: comma,
      }),
    );
  };
}

function countOf(answer: string): Outcome<number> {
  const text = answer.trim();
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (value >= 1 && value <= 50) return good(value);
  return bad(
    fault({
      code: 'start-answer',
      at: { path: 'copies' },
      found: `copies is "${answer}"`,
      wanted: 'a whole number from 1 to 50',
      remedy: 'answer again',
    }),
  );
}
