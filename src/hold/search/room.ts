/** A layout found, and the room that tabs take along the edge. */
import type { Mm } from '../../base/units.ts';
import type { TabCandidate } from '../scene/candidates.ts';
import type { LayoutScore } from './score.ts';

export interface ScoredLayout {
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
export function hasRoom(places: readonly TabCandidate[], layout: ArrayLike<number>, spacing: Spacing): boolean {
  const count = layout.length;
  const sorted: number[] = [];
  for (let i = 0; i < count; i++) {
    const at = places[layout[i]!]!.s;
    let k = i;
    for (; k > 0 && sorted[k - 1]! > at; k--) sorted[k] = sorted[k - 1]!;
    sorted[k] = at;
  }
  let widest = 0;
  for (let i = 0; i < count; i++) {
    const next = i + 1 < count ? sorted[i + 1]! : sorted[0]! + spacing.length;
    const gap = next - sorted[i]!;
    if (gap < spacing.footprint - 1e-9) return false;
    widest = Math.max(widest, gap - spacing.footprint);
  }
  return widest >= spacing.free - 1e-9;
}
