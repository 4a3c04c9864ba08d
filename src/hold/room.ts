/** A layout found, and the room that tabs take along the edge. */
import type { Mm } from '../base/units.ts';
import type { Candidate } from './candidates.ts';
import type { LayoutScore } from './score.ts';

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

/** Whether a layout keeps the tabs apart and leaves a way in. */
export function hasRoom(places: readonly Candidate[], layout: readonly number[], spacing: Spacing): boolean {
  const s = Float64Array.from(layout, (n) => places[n]!.s).sort();
  let widest = 0;
  for (let i = 0; i < s.length; i++) {
    const gap = i + 1 < s.length ? s[i + 1]! - s[i]! : s[0]! + spacing.length - s[i]!;
    if (gap < spacing.footprint - 1e-9) return false;
    widest = Math.max(widest, gap - spacing.footprint);
  }
  return widest >= spacing.free - 1e-9;
}
