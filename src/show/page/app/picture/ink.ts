/**
 * Line types of ISO 128-2 and colours of the Okabe-Ito palette (Okabe and Ito, 2008). A colour never speaks alone: a line type,
 * a hatch, a shape or a label says the same.
 */

export const BLACK = '#000000';
export const BLUE = '#0072b2';
export const SKY = '#56b4e9';
export const GREEN = '#009e73';
export const ORANGE = '#e69f00';
export const VERMILLION = '#d55e00';
/** Of a line that only continues another; black on the page's palette is kept for what counts. */
export const GREY = '#8c8c8c';
export const PURPLE = '#cc79a7';

/** Widths in CSS pixels, wide twice the narrow (ISO 128-2: ratio 2 to 1). */
export const WIDE = 2;
export const NARROW = 1;

/** Dashes in multiples of the line width (ISO 128-2, table of line elements; from memory): dash 12, gap 3, long dash 24, dot 0.5. */
export const DASHED: readonly number[] = [12, 3];
export const LONG_DASHED_DOTTED: readonly number[] = [24, 3, 1, 3];

/** Colours of the stock in the picture, 0 to 255. */
export const STOCK_TOP = [228, 226, 220] as const;
export const CUT_SHALLOW = [206, 230, 245] as const;
export const CUT_DEEP = [132, 188, 224] as const;
export const THROUGH = [255, 255, 255] as const;
export const GOUGE = [213, 94, 0] as const;
export const GOUGE_LINE = [60, 20, 0] as const;
export const UNCUT_GROUND = [230, 159, 0] as const;
export const UNCUT_DOT = [0, 0, 0] as const;
