/** What page and worker say to each other. */

import type { RunInput } from './field-run.ts';
import type { MarkedPlace } from './marks.ts';
import type { WantedFrom } from './wanted-field.ts';

export type ToWorker =
  | { readonly say: 'start'; readonly run: RunInput; readonly wanted: WantedFrom | null }
  | { readonly say: 'seek'; readonly position: number; readonly spare: Buffers | null };

/** Sent back and forth without copying. */
export interface Buffers {
  readonly heights: ArrayBuffer;
  readonly marks: ArrayBuffer;
  readonly coarse: ArrayBuffer;
}

export interface FieldShape {
  readonly cols: number;
  readonly rows: number;
  readonly cell: number;
  readonly x0: number;
  readonly y0: number;
  readonly bottom: number;
  readonly coarseCols: number;
  readonly coarseRows: number;
}

export type FromWorker =
  | { readonly say: 'shape'; readonly shape: FieldShape }
  | { readonly say: 'progress'; readonly done: number }
  | { readonly say: 'field'; readonly position: number; readonly buffers: Buffers }
  | { readonly say: 'places'; readonly places: readonly FoundPlace[] };

/** A marked place with the move, counted over the set-up's programs, after which it was there. */
export interface FoundPlace extends MarkedPlace {
  readonly move: number;
}

/** Cells a side of a block in the coarse map of greatest heights. */
export const BLOCK = 16;
