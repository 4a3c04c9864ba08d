/**
 * Layouts over the whole edge on a coarse grid of places, then every place in the cells that are nearly as good as the best
 * known. How far the part moves changes little from one place to the next, how easily a tab is sawn off from one to the other:
 * the best place for the saw on the plateau of a valley is found by no way downhill.
 */

import type { Layouts } from './layouts.ts';
import { packedLayouts } from './packed.ts';
import { hasRoom, type ScoredLayout, type Spacing } from './room.ts';
import { compareExact, downhill, type LayoutScore, MARGIN_CAP, MOVEMENT_STEP } from './score.ts';

/** Nearly as good as the best of them, best first. */
export function gridOf(layouts: Layouts, count: number, spacing: Spacing): readonly ScoredLayout[] {
  const { length } = layouts.places;
  const stride = strideOf(length, count);
  const places: number[] = [];
  for (let n = Math.floor(stride / 2); n < length; n += stride) places.push(n);
  return nearlyBest(layouts, stride, (use) =>
    each(places, count, (layout) => {
      if (hasRoom(layouts.places, layout, spacing)) use(layout);
    }),
  );
}

/** The same for so many tabs that fixed places would miss most of what there is room for. */
export function packedOf(layouts: Layouts, count: number, spacing: Spacing): readonly ScoredLayout[] {
  const packed = packedLayouts(layouts.places, count, spacing, count > 5 ? MOST_CELLS : MOST_PACKED);
  return nearlyBest(layouts, packed.stride, (use) => packed.layouts.forEach(use));
}

function nearlyBest(
  layouts: Layouts,
  stride: number,
  all: (use: (layout: readonly number[]) => void) => void,
): readonly ScoredLayout[] {
  const kept: ScoredLayout[] = [];
  let limit: LayoutScore | null = null;
  all((layout) => {
    const score = layouts.score(layout, limit, 'exact');
    if (score === null) return;
    kept.push({ layout: [...layout], score });
    const wider = padded(score, stride);
    if (limit === null || compareExact(wider, limit) < 0) limit = wider;
  });
  return kept.filter((f) => downhill(f.score) <= downhill(limit!)).sort((a, b) => compareExact(a.score, b.score));
}

/** Reckoned on the grid. */
const MOST_CELLS = 2600;
/** Fewer are enough where a walk over the plateau follows; six tabs leave so little room that all of them are wanted. */
const MOST_PACKED = 1200;

/** Every place, every second, ... */
function strideOf(places: number, count: number): number {
  let stride = 1;
  while (choices(Math.ceil(places / stride), count) > MOST_CELLS && Math.ceil(places / (stride + 1)) > count) stride++;
  return stride;
}

function choices(n: number, k: number): number {
  let c = 1;
  for (let i = 0; i < k; i++) c = (c * (n - i)) / (i + 1);
  return c;
}

/** Every choice of `count` of the numbers, ascending; the last changes quickest. The same array each time. */
function each(numbers: readonly number[], count: number, use: (chosen: readonly number[]) => void): void {
  const chosen: number[] = [];
  const next = (from: number): void => {
    if (chosen.length === count) return use(chosen);
    for (let i = from; i <= numbers.length - (count - chosen.length); i++) {
      chosen.push(numbers[i]!);
      next(i + 1);
      chosen.pop();
    }
  };
  next(0);
}

/** A cell's middle may be so much worse than the best place in it. */
const PAD_PLACE = 0.085;
const PAD_SHORT = 0.05;

function padded(s: LayoutScore, stride: number): LayoutScore {
  const { short, movement } = s.exact;
  const pad = 1 + PAD_PLACE * stride;
  return { ...s, exact: { short: short > 0 ? short + PAD_SHORT : 0, movement: pad * Math.max(movement, s.movement) } };
}

/**
 * `known` or better. Cells that may hold something stronger come first; of the others only what is easier to saw off can be
 * better, so those with the easiest places come first, and what cannot reach the best known is passed over unasked.
 */
export function refine(
  layouts: Layouts,
  known: ScoredLayout,
  cells: readonly ScoredLayout[],
  spacing: Spacing,
): ScoredLayout {
  const { length } = layouts.places;
  const count = known.layout.length;
  const stride = strideOf(length, count);
  const half = Math.floor(stride / 2);
  const near = (n: number) => Array.from({ length: stride }, (_, d) => (n + d - half + length) % length);
  const ease = (n: number) => layouts.places[n]!.ease;
  const easiest = (n: number) => near(n).reduce((most, m) => Math.max(most, ease(m)), 0);
  let best = known;
  let evaluated = 0;
  const search = (cell: ScoredLayout, stronger: boolean): void => {
    const layout = [...cell.layout];
    /** Sum of the easiest places of this tab and all after it. */
    const rest = [...cell.layout.map(easiest), 0];
    for (let i = count - 1; i >= 0; i--) rest[i]! += rest[i + 1]!;
    const place = (i: number, sum: number): void => {
      if (evaluated > MOST_FINE || (!stronger && sum + rest[i]! <= count * (best.score.ease + SAME_EASE))) return;
      if (i < count) {
        for (const n of near(cell.layout[i]!)) {
          layout[i] = n;
          place(i + 1, sum + ease(n));
        }
        return;
      }
      if (!hasRoom(layouts.places, layout, spacing)) return;
      evaluated++;
      const score = layouts.score(layout, best.score, 'stepped');
      if (score !== null) best = { layout: [...layout], score };
    };
    place(0, 0);
  };
  const strong = cells.filter((c) => mayBeStronger(c.score, best.score, stride));
  for (const cell of strong) if (mayBeStronger(cell.score, best.score, stride)) search(cell, true);
  const others = cells
    .map((cell) => ({ cell, ease: cell.layout.reduce((sum, n) => sum + easiest(n), 0) }))
    .filter(({ ease }) => ease > count * (best.score.ease + SAME_EASE))
    .sort((a, b) => b.ease - a.ease);
  for (const { cell } of others) if (downhill(cell.score) <= downhill(padded(best.score, stride))) search(cell, false);
  return best;
}

/** Ease is rounded in the score. */
const SAME_EASE = 1e-6;
const MOST_FINE = 2500;

/** In a cell so good, something may move less by a step, or be stronger than the best. */
function mayBeStronger(cell: LayoutScore, best: LayoutScore, stride: number): boolean {
  return best.margin < MARGIN_CAP || cell.exact.movement < (1 + PAD_PLACE * stride) * (best.movement - MOVEMENT_STEP);
}
