/**
 * Places of a given number of tabs by deterministic search, compared by the one score of `score.ts`: good spreads round the edge,
 * each improved one tab at a time over every place until nothing gets better, then the easiest to saw off of what is as good.
 * Far from equal spacing where the frame, the load or the saw say so.
 */
import type { Mm } from '../../base/units.ts';
import type { TabCandidate } from '../scene/candidates.ts';
import { easier } from './easier.ts';
import { gridOf, packedOf, refine } from './grid.ts';
import { LayoutSet } from './layout-set.ts';
import type { Layouts } from './layouts.ts';
import { tightest } from './packed.ts';
import { hasRoom, type ScoredLayout, type Spacing } from './room.ts';
import { better, type Comparison, compareExact } from './score.ts';

/** Quick: one start, one round; for trying sizes and for plans that will be made again. */
export type SearchEffort = 'quick' | 'thorough';

/** null: there is no room for so many, or none of the layouts tried holds the part. */
export function searchPlaces(
  layouts: Layouts,
  count: number,
  spacing: Spacing,
  effort: SearchEffort,
  /** Found for tabs of another size: where a quick search begins. */
  previous: ScoredLayout | null = null,
): ScoredLayout | null {
  const quick = effort === 'quick';
  const cells = quick ? [] : (count > FEW ? packedOf : gridOf)(layouts, count, spacing);
  const near =
    quick && previous?.layout.length === count && hasRoom(layouts.places, previous.layout, spacing)
      ? [previous.layout]
      : [];
  const starts = [...near, ...cells.slice(0, TAKEN).map((c) => c.layout)];
  if (near.length === 0) starts.push(...startsOf(layouts.places, count, spacing, quick ? 1 : STARTS));
  // Most starts end in the same few valleys.
  const bottoms = new Map<string, ScoredLayout>();
  for (const start of starts) {
    const low = improve(layouts, start, spacing, { by: 'exact', rounds: quick ? 2 : MOST_ROUNDS, bottoms });
    if (low !== null) bottoms.set(keyOf(low.layout), low);
  }
  const valleys = [...bottoms.values()].sort((a, b) => compareExact(a.score, b.score));
  if (valleys.length === 0) return null;
  const best = quick ? valleys[0]! : onPlateaus(layouts, valleys, cells, spacing);
  return { ...best, layout: [...best.layout].sort((a, b) => a - b) };
}

/** Up to so many, a grid looks into every part of all there is. */
const FEW = 3;
const STARTS = 2;
const TAKEN = 4;
const MOST_ROUNDS = 12;

/** From the deepest points of valleys to the best by the steps that count. */
function onPlateaus(
  layouts: Layouts,
  valleys: readonly ScoredLayout[],
  cells: readonly ScoredLayout[],
  spacing: Spacing,
): ScoredLayout {
  let best: ScoredLayout | null = null;
  for (const [i, bottom] of valleys.entries()) {
    const valley = i < (bottom.layout.length > 3 ? 1 : DEEPEST) ? shiftAll(layouts, bottom, spacing, 'exact') : bottom;
    const level = improve(layouts, valley.layout, spacing, { by: 'stepped', rounds: COARSE }) ?? valley;
    if (best === null || better(level.score, best.score, 'stepped')) best = level;
  }
  best = shiftAll(layouts, best!, spacing, 'stepped');
  const last = best.layout.length > FEW ? easier : refine;
  const found = last(layouts, best, cells, spacing);
  return found === best ? best : shiftAll(layouts, found, spacing, 'stepped');
}

const DEEPEST = 2;

/** The same for the same tabs in any order. */
function keyOf(layout: readonly number[]): string {
  return [...layout].sort((a, b) => a - b).join();
}

/**
 * All tabs shifted together, over every place near each: nonsmooth valleys (the worst of many spots decides) have plateaus that no
 * one or two tabs lead down to. The last tab moves quickest, so that one more of the same is asked nearly each time.
 */
function shiftAll(layouts: Layouts, known: ScoredLayout, spacing: Spacing, by: Comparison): ScoredLayout {
  const { length } = layouts.places;
  const reach = BOX[known.layout.length] ?? 0;
  const boxes = known.layout.length > FEW ? 2 : MOST_BOXES;
  let best = known;
  for (let centre: readonly number[] | null = known.layout, k = 0; centre !== null && k < boxes; k++) {
    const from = best;
    const layout = [...centre];
    const each = (i: number): void => {
      if (i === layout.length) {
        if (new Set(layout).size < i || !hasRoom(layouts.places, layout, spacing)) return;
        const score = layouts.score(layout, best.score, by);
        if (score !== null) best = { layout: [...layout], score };
        return;
      }
      for (let d = -reach; d <= reach; d++) {
        layout[i] = (from.layout[i]! + d + length) % length;
        each(i + 1);
      }
    };
    if (reach > 0) each(0);
    centre = best === from ? null : best.layout;
  }
  return best;
}

/** Places to either side, by number of tabs: some hundreds of layouts. */
const BOX: readonly number[] = [0, 0, 6, 3, 2, 1];
const MOST_BOXES = 4;

interface Descent {
  readonly by: Comparison;
  readonly rounds: number;
  /** Where others have ended: nothing round there is better. */
  readonly bottoms?: ReadonlyMap<string, ScoredLayout>;
}

/** One tab at a time: over every fourth place of the whole edge, then the places beside it; until a round changes nothing. */
function improve(
  layouts: Layouts,
  start: readonly number[],
  spacing: Spacing,
  { by, rounds, bottoms }: Descent,
): ScoredLayout | null {
  let layout = [...start];
  let score = layouts.score(layout);
  const { length } = layouts.places;
  let bottom: ScoredLayout | null = null;
  // What lost once loses to all that is taken later, which is better still.
  const lost = new LayoutSet(layout.length);
  // The layout with one tab or two moved, until it is tried.
  const tried = [...layout];
  const take = (): boolean => {
    const lower = lost.add(tried) && hasRoom(layouts.places, tried, spacing) ? layouts.score(tried, score, by) : null;
    if (lower === null) return false;
    score = lower;
    layout = [...tried];
    bottom ??= bottoms?.get(keyOf(layout)) ?? null;
    return true;
  };
  const tryPlace = (i: number, n: number): boolean => {
    tried[i] = n;
    const taken = take();
    tried[i] = layout[i]!;
    return taken;
  };
  /** Every pair together, both ways: one tab alone cannot leave a valley that two hold. */
  const shiftTwo = (d: number): boolean => {
    let changed = false;
    for (let i = 0; i < layout.length; i++) {
      for (let j = i + 1; j < layout.length; j++) {
        for (const e of [d, -d]) {
          tried[i] = (layout[i]! + d + length) % length;
          tried[j] = (layout[j]! + e + length) % length;
          changed = take() || changed;
          tried[i] = layout[i]!;
          tried[j] = layout[j]!;
        }
      }
    }
    return changed;
  };
  for (let round = 0; round < rounds; round++) {
    let changed = false;
    for (let i = 0; i < layout.length; i++) {
      for (let n = (i + round) % COARSE; n < length; n += COARSE) changed = tryPlace(i, n) || changed;
      const from = layout[i]!;
      for (const d of BESIDE) changed = tryPlace(i, (from + d + length) % length) || changed;
      if (bottom !== null) return bottom;
    }
    for (const d of BESIDE) changed = shiftTwo(d) || changed;
    if (bottom !== null) return bottom;
    if (!changed && round >= COARSE - 1) break;
  }
  return score === null ? null : { layout, score };
}

const COARSE = 4;
const BESIDE = [-1, 1, -2, 2, -3, 3] as const;

/** Even spreads begun at different places; where forbidden stretches break one, the nearest allowed places are taken. */
function startsOf(
  places: readonly TabCandidate[],
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
  if (starts.length > 0) return starts;
  const tight = tightest(places, count, spacing);
  return tight === null ? [] : [tight];
}

function spread(places: readonly TabCandidate[], count: number, spacing: Spacing, offset: Mm): number[] | null {
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
