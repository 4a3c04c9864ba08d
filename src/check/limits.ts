/**
 * The check's own limits (design 4.5), a copy on purpose: one list for `make` and check would pass its own mistakes.
 * Lengths in millimetres.
 */
import type { Mm } from '../base/units.ts';

export const LIMITS = {
  /** Deepest cut into the wanted part. */
  gouge: 0.005,
  /** Thickest stock left on an edge, a pocket's wall or its floor. */
  uncut: 0.01,
  boreRadius: 0.006,
  holePlace: 0.003,
  tabHeight: 0.03,
  depth: 0.01,
  /** Air that a rapid straight down leaves over what is left. */
  rapidAir: 0.2,
} as const;

/** Half the last digit of a head or a program (3 decimals of an inch are the coarsest in use), on both ends of a length. */
export const WRITTEN: Mm = 0.0015;

/** Positions that differ by less are the same: a tenth of the last written digit. */
export const SAME: Mm = 1e-5;

/** A vertical error of this size is rounding of the fourth decimal, not a fault. */
export const ROUNDING: Mm = 1.5e-4;

/** The waist of a tab may be this much under its stated width: two edges, each within the limit for an edge. */
export const TAB_WIDTH: Mm = 0.02;

/** Ramps are split until the height differs by less than this along a piece; it bounds what a ramp can hide. */
export const RAMP_STEP: Mm = 0.001;

/** Uncut stretches of an edge shorter than this are rounding where two cuts meet. */
export const SHORTEST_GAP: Mm = 1e-4;

/** Direction of a tab against the edge's normal, degrees. */
export const TAB_DIRECTION_DEG = 2;

/** Findings of one code in one program after which only their number is told. */
export const MOST_OF_A_KIND = 200;
