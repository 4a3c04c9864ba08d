/** Slips of a hand or an editor, drawn by chance: one random change of a good program, of any of the kinds a text can suffer. */
import type { Text } from './jobs.ts';
import { linesOf, withLines } from './text.ts';

export interface Mutant {
  readonly programs: readonly Text[];
  readonly program: number;
  /** Index of the first line changed, from 0. */
  readonly line: number;
  /** `line lost: G1 X2 -> ` */
  readonly words: string;
}

export class Draw {
  private readonly unit: () => number;

  constructor(unit: () => number) {
    this.unit = unit;
  }

  below(n: number): number {
    return Math.floor(this.unit() * n);
  }

  one<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!;
  }
}

type Slip = (lines: readonly string[], at: number, d: Draw) => { count: number; by: string[] } | null;

const NUMBER = /[-+]?(?:\d+\.?\d*|\.\d+)/g;
const WORD = /[A-Z][-+]?(?:\d+\.?\d*|\.\d+)/g;

/** One match of a pattern replaced; null where there is none. */
function replaced(line: string, pattern: RegExp, d: Draw, by: (found: string) => string): string | null {
  const found = [...line.matchAll(pattern)];
  if (found.length === 0) return null;
  const m = d.one(found);
  return line.slice(0, m.index) + by(m[0]) + line.slice(m.index + m[0].length);
}

/** The last digits of a number stay those of its spelling, so that no rounding adds a change of its own. */
function moved(number: string, by: number): string {
  const decimals = Math.max(3, number.split('.')[1]?.length ?? 0);
  return String(Number((Number(number) + by).toFixed(decimals)));
}

const BY = [0.004, 0.01, 0.02, 0.05, 0.1, 0.3, 1, 3, 10, 100];

const inPlace = (change: (line: string, d: Draw) => string | null): Slip => {
  return (lines, at, d) => {
    const line = change(lines[at]!, d);
    return line === null ? null : { count: 1, by: [line] };
  };
};

const SLIPS: Readonly<Record<string, Slip>> = {
  'number moved': inPlace((l, d) => replaced(l, NUMBER, d, (n) => moved(n, d.one(BY) * d.one([-1, 1])))),
  'number times ten': inPlace((l, d) => replaced(l, NUMBER, d, (n) => String(Number((Number(n) * 10).toFixed(4))))),
  'number a tenth': inPlace((l, d) => replaced(l, NUMBER, d, (n) => String(Number((Number(n) / 10).toFixed(4))))),
  'digit changed': inPlace((l, d) => replaced(l, /\d/g, d, () => String(d.below(10)))),
  'digit lost': inPlace((l, d) => replaced(l, /\d/g, d, () => '')),
  'point lost': inPlace((l, d) => replaced(l, /\./g, d, () => '')),
  'sign flipped': inPlace((l, d) =>
    replaced(l, /[A-Z][-+]?[\d.]+/g, d, (w) => (w[1] === '-' ? w[0]! + w.slice(2) : `${w[0]}-${w.slice(1)}`)),
  ),
  'word dropped': inPlace(
    (l, d) =>
      replaced(l, WORD, d, () => '')
        ?.replace(/ {2}/, ' ')
        .trim() ?? null,
  ),
  'word to the next line': (lines, at, d) => {
    const word = d.one([...(lines[at]!.match(WORD) ?? [''])]);
    if (word === '' || at + 1 >= lines.length) return null;
    return { count: 2, by: [lines[at]!.replace(word, '').trim(), `${word} ${lines[at + 1]}`] };
  },
  'letter changed': inPlace((l, d) => replaced(l, /[XYZIJFSTGMR](?=[-\d.])/g, d, () => d.one([...'XYZIJFSTGMR']))),
  'line lost': () => ({ count: 1, by: [] }),
  'line twice': (lines, at) => ({ count: 1, by: [lines[at]!, lines[at]!] }),
  'lines swapped': (lines, at) => (at + 1 < lines.length ? { count: 2, by: [lines[at + 1]!, lines[at]!] } : null),
  'lines far apart swapped': (lines, at, d) => {
    const other = at + 1 + d.below(30);
    if (other >= lines.length) return null;
    const between = lines.slice(at + 1, other);
    return { count: other - at + 1, by: [lines[other]!, ...between, lines[at]!] };
  },
  'several lines lost': (_, _at, d) => ({ count: 2 + d.below(8), by: [] }),
  'line copied from elsewhere': (lines, _at, d) => ({ count: 0, by: [d.one(lines)] }),
};

export const SLIP_NAMES: readonly string[] = Object.keys(SLIPS);

/** A change of a kind at a drawn line of a drawn program; null where that kind finds nothing there. */
export function mutate(programs: readonly Text[], kind: string, d: Draw): Mutant | null {
  const program = d.below(programs.length);
  const lines = linesOf(programs[program]!);
  const line = d.below(lines.length);
  // Comments are told apart by `head-kinds`; one in ten of these changes falls on them.
  if (lines[line]!.startsWith('(') && d.below(10) > 0) return null;
  const slip = SLIPS[kind]!(lines, line, d);
  if (slip === null) return null;
  const was = lines.slice(line, line + slip.count);
  if (was.join('\n') === slip.by.join('\n')) return null;
  const words = `${kind}: ${was.slice(0, 3).join(' | ')} -> ${slip.by.slice(0, 3).join(' | ')}`;
  return { programs: withLines(programs, { program, line }, slip.count, slip.by), program, line, words };
}
