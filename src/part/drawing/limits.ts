/** Sizes beyond which a drawing is refused, so that a bad file cannot hold up the bench. Each has its reason. */

/** Bytes of a drawing. The largest part here is 80 mm long: 50 MB is some hundred times what its drawing needs. */
export const MOST_BYTES = 50e6;

/** Lines, arcs and curves after blocks, arrays and `use` are expanded: about 6 s of healing, and thousands of times what a part needs. */
export const MOST_PIECES = 300_000;

/** Copies that blocks, their rows and columns, or nested `use` may make: they multiply, and a part needs a few dozen. */
export const MOST_COPIES = 5_000;

/** Blocks within blocks, elements within elements. Recursion stays far inside the stack of any engine. */
export const DEEPEST_NESTING = 200;

/** Faults told before the reader gives up: the first few name the trouble. */
export const MOST_FAULTS = 20;

/** Notes of one kind told one by one; the rest are counted. */
export const MOST_NOTES = 200;

/** Greatest coordinate, mm: a part is under 1 m, but drawings lie far from their zero; beyond, doubles lose the nanometre. */
export const FARTHEST = 1e6;

/** Pairs of pieces with touching boxes that are compared: a clean drawing has a few a piece; hatching has one with every other. */
export const MOST_PAIRS = 2_000_000;
