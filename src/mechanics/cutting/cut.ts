/** One steady milling cut, as the force model needs it. */
import type { Mm, Rad } from '../../base/units.ts';

export interface MillingCut {
  readonly diameter: Mm;
  readonly teeth: number;
  /** Depth along the axis. */
  readonly ap: Mm;
  readonly span: CutSpan;
  /** Feed per tooth at the cutter's edge. */
  readonly toothFeed: Mm;
  /** Signed: negative is a left-hand helix. */
  readonly helix: Rad;
  /** Adds to one tooth's chip, never beyond the whole feed of a turn. The other teeth keep theirs (safe side). */
  readonly runout: Mm;
}

/** Angles between which a tooth is in metal, 0 <= from <= to <= pi. */
export interface CutSpan {
  readonly from: Rad;
  readonly to: Rad;
}

export type Vector = readonly [number, number, number];

/** Metal on the left of the feed: the chip starts thin. `phi` from engagement.ts. */
export function conventional(phi: Rad): CutSpan {
  return { from: 0, to: phi };
}

/** Metal on the right of the feed: the chip ends thin. */
export function climb(phi: Rad): CutSpan {
  return { from: Math.PI - phi, to: Math.PI };
}

export const SLOT: CutSpan = { from: 0, to: Math.PI };
