/** Every row of every table says where it comes from and how far it may be trusted. */

/**
 * published: read in the named text. common practice: a fact of the trade without one author.
 * from memory: the named text was not opened; check before relying on it. computed: follows from the named formula or rows.
 */
export type SourceMark = 'published' | 'common practice' | 'from memory' | 'computed';

export interface Sourced {
  readonly source: string;
  readonly mark: SourceMark;
}

/** A single figure with its source. The unit is said where the figure is declared. */
export interface Figure extends Sourced {
  readonly value: number;
}

/** A range of figures with its source, ends included. */
export interface FigureRange extends Sourced {
  readonly low: number;
  readonly high: number;
}

export function figure(value: number, source: string, mark: SourceMark): Figure {
  return { value, source, mark };
}

export function span(low: number, high: number, source: string, mark: SourceMark): FigureRange {
  return { low, high, source, mark };
}

/** A look-up answers with the row, or says that there is none and which known name is nearest. */
export type LookUp<T> =
  | { readonly kind: 'found'; readonly value: T }
  | { readonly kind: 'unknown'; readonly nearest: string | undefined };
