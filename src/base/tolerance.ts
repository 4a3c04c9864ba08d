/**
 * Every tolerance of the program: one home, one reason each. Lengths in millimetres.
 * The check keeps its own limits (`src/check/limits.ts`) on purpose: one list for both sides would pass its own mistakes.
 */

/** Two points closer than this are the same point: a thousandth of the finest digit that is written, a million times the rounding of a double at 100 mm. */
export const SAME_POINT = 1e-7;

/** Drawing ends closer than this are joined; wider gaps are errors (design 4.2). */
export const DRAWING_JOIN = 0.01;

/** Largest error when a curve that is not circular is turned into arcs and lines. */
export const CURVE_FIT = 0.002;

/** Directions that differ by less than this are tangent (radians): 0.1 micrometre over a 10 mm lever. */
export const TANGENT = 1e-5;

/** Least length of a line or arc worth writing: a tenth of a micrometre vanishes in four decimals. */
export const SHORTEST_PIECE = 1e-4;
