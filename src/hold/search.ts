/**
 * Places of a given number of tabs by deterministic search: good spreads round the edge, each improved one tab at a time
 * over every place until nothing gets better. Far from equal spacing where the frame, the load or the saw say so.
 */
import type { Mm } from '../base/units.ts';
import type { Candidate } from './candidates.ts';
import type { Layouts } from './layouts.ts';
import { compareScores, type LayoutScore } from './score.ts';

export interface Found {
  /** Indexes into the places, ascending. */
  readonly layout: readonly number[];
  readonly score: LayoutScore;
}

export interface Spacing {
  /** Length of the edge. */
  readonly length: Mm;
  /** Length of edge a tab takes with its ramps: the next one stands no nearer. */
  readonly footprint: Mm;
  /** One stretch at least this long stays free, for the cutter to come in. */
  readonly free: Mm;
}

/** null: there is no room for so many, or none of the layouts tried holds the part. */
export function searchPlaces(
  layouts: Layouts,
  count: number,
  spacing: Spacing,
  effort: 'quick' | 'thorough',
): Found | null {
  const starts = startsOf(layouts.places, count, spacing, effort === 'quick' ? 1 : 4);
  let best: Found | null = null;
  for (const start of starts) {
    const found = improve(layouts, start, spacing, effort === 'quick' ? 1 : MOST_ROUNDS);
    if (found !== null && (best === null || compareScores(found.score, best.score) < 0)) best = found;
  }
  return best === null ? null : { ...best, layout: [...best.layout].sort((a, b) => a - b) };
}

const MOST_ROUNDS = 12;

/** Whether a layout keeps the tabs apart and leaves a way in. */
export function hasRoom(places: readonly Candidate[], layout: readonly number[], spacing: Spacing): boolean {
  const s = layout.map((n) => places[n]!.s).sort((a, b) => a - b);
  let widest = 0;
  for (let i = 0; i < s.length; i++) {
    const gap = i + 1 < s.length ? s[i + 1]! - s[i]! : s[0]! + spacing.length - s[i]!;
    if (gap < spacing.footprint - 1e-9) return false;
    widest = Math.max(widest, gap - spacing.footprint);
  }
  return widest >= spacing.free - 1e-9;
}

/** One tab at a time: over every fourth place of the whole edge, then the places beside it; until a round changes nothing. */
function improve(layouts: Layouts, start: readonly number[], spacing: Spacing, rounds: number): Found | null {
  let layout = [...start];
  let score = layouts.score(layout);
  const { length } = layouts.places;
  const tryPlace = (i: number, n: number): boolean => {
    if (layout.includes(n)) return false;
    const tried = layout.with(i, n);
    if (!hasRoom(layouts.places, tried, spacing)) return false;
    const better = layouts.score(tried, score);
    if (better === null || (score !== null && compareScores(better, score) >= 0)) return false;
    score = better;
    layout = tried;
    return true;
  };
  for (let round = 0; round < rounds; round++) {
    let changed = false;
    for (let i = 0; i < layout.length; i++) {
      for (let n = (i + round) % COARSE; n < length; n += COARSE) changed = tryPlace(i, n) || changed;
      const from = layout[i]!;
      for (const d of BESIDE) changed = tryPlace(i, (from + d + length) % length) || changed;
    }
    if (!changed && round >= COARSE - 1) break;
  }
  return score === null ? null : { layout, score };
}

const COARSE = 4;
const BESIDE = [-1, 1, -2, 2, -3, 3] as const;

/** Even spreads begun at different places; where forbidden stretches break one, the nearest allowed places are taken. */
function startsOf(
  places: readonly Candidate[],
  count: number,
  spacing: Spacing,
  wanted: number,
): readonly (readonly number[])[] {
  const starts: number[][] = [];
  for (let k = 0; k < 4 * wanted && starts.length < wanted; k++) {
    const offset = (k * spacing.length) / (count * wanted * 1.5);
    const layout = spread(places, count, spacing, offset);
    if (layout !== null && !starts.some((s) => s.every((v, i) => v === layout[i]))) starts.push(layout);
  }
  return starts;
}

function spread(places: readonly Candidate[], count: number, spacing: Spacing, offset: Mm): number[] | null {
  const layout: number[] = [];
  for (let i = 0; i < count; i++) {
    const target = (offset + (i * spacing.length) / count) % spacing.length;
    const near = places
      .map((p, n) => ({ n, d: around(p.s, target, spacing.length) }))
      .filter(({ n }) => !layout.includes(n))
      .sort((a, b) => a.d - b.d || a.n - b.n);
    const next = near.find(({ n }) =>
      layout.every((m) => around(places[m]!.s, places[n]!.s, spacing.length) >= spacing.footprint - 1e-9),
    );
    if (next === undefined) return null;
    layout.push(next.n);
  }
  layout.sort((a, b) => a - b);
  return hasRoom(places, layout, spacing) ? layout : null;
}

function around(a: Mm, b: Mm, length: Mm): Mm {
  const d = Math.abs(a - b) % length;
  return Math.min(d, length - d);
}
