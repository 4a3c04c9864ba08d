/** Every thread the job file may name, how it may be spelt, and the holes it wants. */
import { nearest as nearestWord } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { LookUp, Sourced } from '../source.ts';
import { type DrillSize, nearestDrill } from './drills.ts';
import { BA_THREADS, ME_THREADS, UNIFIED_THREADS } from './thread-inch.ts';
import { METRIC_THREADS } from './thread-metric.ts';
import type { Thread } from './thread-rows.ts';

export type { LargestMinor, TapDrill, Thread, ThreadFamily } from './thread-rows.ts';

export const THREADS: readonly Thread[] = [...METRIC_THREADS, ...BA_THREADS, ...ME_THREADS, ...UNIFIED_THREADS];

/**
 * Two different "100 %" are in use. `overlap`: depth between D and the basic minor D1 of the nut (ISO, BA and ME practice).
 * `chart`: what drill charts for 60 degree threads print, 100 % = 1.299038 P on diameter; chart 75 % is overlap 90 %.
 * BA and ME charts use the depth of the form, so there both are the same.
 */
export type EngagementBasis = 'overlap' | 'chart';

/**
 * The thread of a name such as `M3`, `M3x0.5`, `M3x0.35`, `6BA`, `ME 1/4x40`, `2-56 UNC`.
 * Case, blanks, decimal comma, `×`, `#` and trailing zeros do not matter; a coarse pitch may be spelt out.
 */
export function findThread(text: string): LookUp<Thread> {
  const thread = SPELLINGS.get(plainSpelling(text));
  return thread === undefined ? { kind: 'unknown', nearest: nearestThread(text) } : { kind: 'found', value: thread };
}

/** Depth of thread left by a hole, per cent on the stated basis. */
export function engagementOf(thread: Thread, hole: Mm, basis: EngagementBasis): number {
  return (100 * (thread.major - hole)) / fullDepth(thread, basis);
}

/** Theoretical hole for a wanted engagement (per cent on the stated basis). */
export function holeForEngagement(thread: Thread, percent: number, basis: EngagementBasis): Mm {
  return thread.major - (fullDepth(thread, basis) * percent) / 100;
}

/** Nearest stock drill for a wanted engagement, never below the basic minor diameter: a tap cannot enter a smaller hole. */
export function drillForEngagement(
  thread: Thread,
  percent: number,
  basis: EngagementBasis,
  from: readonly DrillSize[],
): DrillSize | undefined {
  const usable = from.filter((d) => d.diameter >= thread.minor - 1e-9 && d.diameter < thread.major);
  return usable.length === 0 ? undefined : nearestDrill(holeForEngagement(thread, percent, basis), usable);
}

/** Least and greatest hole the standard allows before tapping. */
export function tappingHoleRange(thread: Thread): { readonly least: Mm; readonly most: Mm } {
  return { least: thread.minor, most: thread.largestMinor.diameter };
}

export interface ThreadRunOut extends Sourced {
  readonly pitch: Mm;
  /** Full-diameter hole depth beyond the last full thread. */
  readonly normal: Mm;
  /** Only with a bottoming tap. */
  readonly short: Mm;
}

/** Run-out of a blind tapped hole (DIN 76-2): the row of the next larger pitch when the pitch itself is not listed. */
export function runOutOf(thread: Thread): ThreadRunOut {
  const row = RUN_OUTS.find((r) => r.pitch >= thread.pitch - 1e-6);
  if (row !== undefined) return row;
  // Coarser than the table: its last row has 4.8 and 3 pitches.
  const { pitch } = thread;
  return { pitch, normal: 4.8 * pitch, short: 3 * pitch, source: 'DIN 76-2 last row, by pitch', mark: 'computed' };
}

const RUN_OUT_ROWS: readonly (readonly [Mm, Mm, Mm])[] = [
  [0.2, 1.3, 0.8],
  [0.25, 1.5, 1.0],
  [0.3, 1.8, 1.2],
  [0.35, 2.1, 1.3],
  [0.4, 2.3, 1.5],
  [0.45, 2.6, 1.6],
  [0.5, 2.8, 1.8],
  [0.6, 3.4, 2.1],
  [0.7, 3.8, 2.4],
  [0.75, 4.0, 2.5],
  [0.8, 4.2, 2.7],
  [1, 5.1, 3.2],
  [1.25, 6.2, 3.9],
  [1.5, 7.3, 4.6],
  [1.75, 8.3, 5.2],
];

export const RUN_OUTS: readonly ThreadRunOut[] = RUN_OUT_ROWS.map(([pitch, normal, short]) => ({
  pitch,
  normal,
  short,
  source: 'DIN 76-2 in Klein, Einfuehrung in die DIN-Normen, 14th ed.',
  mark: 'published',
}));

function fullDepth(thread: Thread, basis: EngagementBasis): Mm {
  return basis === 'chart' && thread.angle === 60 ? 1.299038 * thread.pitch : thread.major - thread.minor;
}

const SPELLINGS: ReadonlyMap<string, Thread> = new Map(
  THREADS.flatMap((t) => spellingsOf(t).map((s): [string, Thread] => [plainSpelling(s), t])),
);

function spellingsOf(t: Thread): string[] {
  const words = t.name.split(' ');
  if (t.family === 'metric coarse') return [t.name, `${t.name}x${t.pitch}`, `${t.name}-${t.pitch}`];
  if (t.family === 'metric fine') return [t.name, t.name.replace('x', '-')];
  if (t.family === 'BA') return [t.name, `BA${t.name.replace('BA', '')}`];
  // A bare `1/4x40` can only be an ME thread and a bare `2-56` only a Unified one.
  return [t.name, words.toReversed().join(' '), words.find((w) => /\d/.test(w))!];
}

function plainSpelling(text: string): string {
  return text
    .toUpperCase()
    .replace(/\s+/g, '')
    .replace(/,/g, '.')
    .replace(/[\u00d7*]/g, 'X')
    .replace(/#|NO\.?/g, '')
    .replace(/-\d[GH]$/, '')
    .replace(/(^|[^\d.])\./g, '$10.')
    .replace(/(\.\d*?)0+(?!\d)/g, '$1')
    .replace(/\.(?!\d)/g, '');
}

/** By size where the spelling is that of a family with numbered or measured sizes, else by slips of the fingers. */
function nearestThread(text: string): string | undefined {
  const plain = plainSpelling(text);
  if (/^(\d+BA|BA\d+)$/.test(plain)) return BA_THREADS.at(-1)!.name;
  const metric = /^M(\d+(?:\.\d+)?)(?:X(\d+(?:\.\d+)?))?$/.exec(plain);
  if (metric === null)
    return nearestWord(
      text,
      THREADS.map((t) => t.name),
    );
  const [size, pitch] = [Number(metric[1]), Number(metric[2] ?? 0)];
  const apart = (t: Thread): number => Math.abs(t.major - size) + Math.abs(t.pitch - (pitch || t.pitch)) / 10;
  return METRIC_THREADS.reduce((a, b) => (apart(b) < apart(a) ? b : a)).name;
}
