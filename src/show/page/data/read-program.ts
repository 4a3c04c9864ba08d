/**
 * What the page asks of a reader of programs. The check's own reader fits; it is handed in, because the page shows what the text
 * does and must not depend on what wrote it.
 */
import type { Mm, MmPerMin, Rad, Second } from '../../../base/units.ts';
import type { Point } from '../../../geometry/types.ts';
import type { XYZ } from './view-data.ts';

export interface ReadPosition {
  readonly x: Mm | null;
  readonly y: Mm | null;
  readonly z: Mm | null;
}

/** One move after every mode, unit, offset and cycle has been worked out. `kind` as in the check's canonical moves. */
export interface ReadMove {
  readonly kind: string;
  readonly block: number;
  readonly from: ReadPosition;
  readonly to: ReadPosition;
  readonly tool: number | null;
  readonly feed?: MmPerMin | null;
  readonly seconds?: Second;
  readonly plane?: 'XY' | 'XZ' | 'YZ';
  readonly centre?: { readonly x: Mm; readonly y: Mm; readonly z: Mm };
  readonly radius?: Mm;
  readonly sweep?: Rad;
}

/** What the program's first comments state. */
export interface ReadHead {
  readonly stock: { readonly min: XYZ; readonly max: XYZ } | null;
  readonly setup: string | null;
  readonly cutters: readonly { readonly number: number; readonly kind: string; readonly diameter: Mm }[];
  readonly hold: { readonly by: string; readonly figure: Mm | null; readonly thread: string | null } | null;
  readonly tabs: readonly {
    readonly part: number;
    readonly at: Point;
    readonly directionDeg: number;
    readonly width: Mm;
    readonly height: Mm;
    readonly footprint: Mm;
  }[];
}

export interface PageProgram {
  readonly moves: readonly ReadMove[];
  readonly head: ReadHead;
}

export type PageReader = (text: string, file: string) => PageProgram;
