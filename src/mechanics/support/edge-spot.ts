import type { Mm } from '../../base/units.ts';

/** A place on the edge of a part where a cutter pushes. */
export interface EdgeSpot {
  readonly x: Mm;
  readonly y: Mm;
  /** Outward normal, unit. */
  readonly nx: number;
  readonly ny: number;
}
