/**
 * Every tolerance of the program: one home, one reason each. Lengths in millimetres.
 * The check keeps its own limits (`src/check/limits.ts`) on purpose: one list for both sides would pass its own mistakes.
 */

/** Two points closer than this are the same point. Ten times the grid of the offset engine (10 nm). */
export const SAME_POINT = 1e-7;

/** Grid of the integer offset engine: 1e5 units a millimetre keeps |x| < 474 mm inside its fast range. */
export const OFFSET_UNITS_PER_MM = 1e5;

/**
 * Chord error when arcs are handed to the offset engine for topology only. The exact curves are restored after, so this
 * decides only which near-touching features are told apart, not the accuracy of the result.
 */
export const TOPOLOGY_CHORD = 0.002;

/** Drawing ends closer than this are joined; wider gaps are errors (design 4.2). */
export const DRAWING_JOIN = 0.01;

/** Largest error when a curve that is not circular is turned into arcs and lines. */
export const CURVE_FIT = 0.002;

/** Directions that differ by less than this are tangent (radians): 0.1 micrometre over a 10 mm lever. */
export const TANGENT = 1e-5;

/** Least length of a line or arc worth writing: a tenth of a micrometre vanishes in four decimals. */
export const SHORTEST_PIECE = 1e-4;

/** Limits that `make` keeps (design 4.5). The check has its own copy. */
export const MAKE_LIMITS = {
  gouge: 0.005,
  uncut: 0.01,
  boreRadius: 0.006,
  holePlace: 0.003,
  tabHeight: 0.03,
  depth: 0.01,
} as const;
