/**
 * The layout easiest to saw off of those that move as little and are as strong, by the steps that count. No way downhill leads
 * to it, and with more than three tabs there are too many for a grid: so this goes over the plateau itself, one tab at a time,
 * from all that is known to lie on it, and asks first for what would be easiest.
 */
import { Foremost } from '../../base/foremost.ts';
import { LayoutSet } from './layout-set.ts';
import type { Layouts } from './layouts.ts';
import { hasRoom, type ScoredLayout, type Spacing } from './room.ts';
import { MARGIN_CAP, movementStep } from './score.ts';

/** `known` or better. `others`: more layouts to begin from. */
export function easier(
  layouts: Layouts,
  known: ScoredLayout,
  others: readonly ScoredLayout[],
  spacing: Spacing,
): ScoredLayout {
  const plateau = new Plateau(layouts, spacing, known);
  for (const { layout, score } of others) {
    const { short, movement } = score.exact;
    if (short <= known.score.exact.short && movement <= plateau.mostCrossed()) plateau.open(layout, movement);
  }
  return plateau.walk();
}

/** Layouts asked, up to four tabs and beyond. */
const MOST_ASKED = { few: 2500, many: 8000 } as const;
/** Places to either side that a tab is moved. */
const REACH = 4;
/** So much more movement, in part of the plateau's, is crossed on the way from one part of it to another ... */
const CROSSING = 0.2;
/** ... and counts against what lies beyond like so much ease. */
const CROSSING_WEIGHT = 3;

interface OpenLayout {
  readonly layout: readonly number[];
  /** In steps, so that rounding decides nothing; so is the movement of the layout it comes from. */
  readonly promise: number;
  readonly movement: number;
  /** The one that was moved: layouts that differ in the same tab are evaluated quickest one after the other. */
  readonly tab: number;
}

const FINE = 1e-6;

class Plateau {
  private best: ScoredLayout;
  private readonly layouts: Layouts;
  private readonly spacing: Spacing;
  /** Places ascending. */
  private readonly seen: LayoutSet;
  private readonly sorted: Int32Array;
  private readonly waiting = new Foremost<OpenLayout>(
    (a, b) => (b.promise - a.promise || a.movement - b.movement || a.tab - b.tab) < 0,
  );

  constructor(layouts: Layouts, spacing: Spacing, known: ScoredLayout) {
    this.layouts = layouts;
    this.spacing = spacing;
    this.best = known;
    this.seen = new LayoutSet(known.layout.length);
    this.sorted = new Int32Array(known.layout.length);
    this.open(known.layout, known.score.exact.movement);
  }

  /** Most movement that is crossed. */
  mostCrossed(): number {
    return this.best.score.movement * (1 + CROSSING);
  }

  walk(): ScoredLayout {
    const most = this.best.layout.length > 4 ? MOST_ASKED.many : MOST_ASKED.few;
    for (let asked = 0; asked < most; asked++) {
      const next = this.waiting.take();
      if (next === undefined) break;
      const movement = this.layouts.movement(next.layout, this.mostCrossed());
      if (movement === null) continue;
      const score = this.mayBeBetter(next.layout, movement) ? this.layouts.score(next.layout, this.best.score) : null;
      if (score !== null) this.best = { layout: next.layout, score };
      this.open(next.layout, movement);
    }
    return this.best;
  }

  /** What is only as good on the whole need not be asked for its margin, which takes the longest. */
  private mayBeBetter(layout: readonly number[], exact: number): boolean {
    const { short, movement, margin, ease } = this.best.score;
    if (short > 0 || movementStep(exact) < movement) return true;
    return movementStep(exact) === movement && (margin < MARGIN_CAP || this.layouts.ease(layout) > ease + FINE);
  }

  /** All that one tab moved makes of a layout waits to be asked. */
  open(layout: readonly number[], exact: number): void {
    const { places } = this.layouts;
    const movement = Math.round(exact / FINE);
    const over = CROSSING_WEIGHT * Math.max(0, exact / this.best.score.movement - 1);
    const { sorted } = this;
    for (let tab = 0; tab < layout.length; tab++) {
      for (let d = -REACH; d <= REACH; d++) {
        const place = (layout[tab]! + d + places.length) % places.length;
        if (!this.fits(layout, tab, place) || !this.seen.add(sorted) || !hasRoom(places, sorted, this.spacing))
          continue;
        const moved = layout.with(tab, place);
        const promise = Math.round((this.layouts.ease(moved) - over) / FINE);
        this.waiting.add({ layout: moved, promise, movement, tab });
      }
    }
  }

  /** Whether a tab moved to a place keeps clear of its neighbours; the layout is then in `sorted`. */
  private fits(layout: readonly number[], tab: number, place: number): boolean {
    const { sorted, spacing } = this;
    const { places } = this.layouts;
    const last = layout.length - 1;
    let at = 0;
    for (let i = 0, k = 0; i <= last; i++) {
      const n = i === tab ? place : layout[i]!;
      for (k = i; k > 0 && sorted[k - 1]! > n; k--) sorted[k] = sorted[k - 1]!;
      sorted[k] = n;
      if (i === tab) at = k;
      else if (i > tab && k <= at) at++;
    }
    const s = places[place]!.s;
    const before = at > 0 ? s - places[sorted[at - 1]!]!.s : s + spacing.length - places[sorted[last]!]!.s;
    const after = at < last ? places[sorted[at + 1]!]!.s - s : places[sorted[0]!]!.s + spacing.length - s;
    return Math.min(before, after) >= spacing.footprint - 1e-9;
  }
}
