/** Clearance holes for screws: ISO 273 for metric, trade lists for BA, ME and Unified. Lengths in millimetres. */
import type { Mm } from '../../base/units.ts';
import type { Sourced } from '../source.ts';
import { drillNamed } from './drills.ts';
import { ME_ROWS, UNIFIED_ROWS } from './thread-inch.ts';
import type { Thread } from './thread-rows.ts';

export type ClearanceSeries = 'fine' | 'medium' | 'coarse';

export interface ClearanceHole extends Sourced {
  /** Size without pitch: `M3`, `6BA`, `ME 1/4x40`, `2-56 UNC`. */
  readonly size: string;
  /** null: that series is not listed for this size. */
  readonly fine: Mm | null;
  readonly medium: Mm | null;
  readonly coarse: Mm | null;
}

/** ISO 273 hole tolerances by series. */
export const CLEARANCE_TOLERANCE: Readonly<Record<ClearanceSeries, string>> = {
  fine: 'H12',
  medium: 'H13',
  coarse: 'H14',
};

/**
 * Clearance hole of a thread, or undefined when the tables have none for that series.
 * Metric fine pitches use the row of their diameter.
 */
export function clearanceOf(
  thread: Thread,
  series: ClearanceSeries,
): (Sourced & { readonly diameter: Mm }) | undefined {
  const size = thread.family === 'metric fine' ? thread.name.replace(/x.*$/, '') : thread.name;
  const row = CLEARANCE_HOLES.find((r) => r.size === size);
  const diameter = row?.[series];
  return row === undefined || diameter == null ? undefined : { diameter, source: row.source, mark: row.mark };
}

/** M12: 13.5 medium by ISO 273:1979; the older BS 4186:1967 has 14. */
const ISO_273_ROWS: readonly (readonly [string, Mm, Mm, Mm])[] = [
  ['M1', 1.1, 1.2, 1.3],
  ['M1.2', 1.3, 1.4, 1.5],
  ['M1.4', 1.5, 1.6, 1.8],
  ['M1.6', 1.7, 1.8, 2.0],
  ['M1.8', 2.0, 2.1, 2.2],
  ['M2', 2.2, 2.4, 2.6],
  ['M2.5', 2.7, 2.9, 3.1],
  ['M3', 3.2, 3.4, 3.6],
  ['M3.5', 3.7, 3.9, 4.2],
  ['M4', 4.3, 4.5, 4.8],
  ['M4.5', 4.8, 5.0, 5.3],
  ['M5', 5.3, 5.5, 5.8],
  ['M6', 6.4, 6.6, 7.0],
  ['M7', 7.4, 7.6, 8.0],
  ['M8', 8.4, 9.0, 10.0],
  ['M10', 10.5, 11.0, 12.0],
  ['M12', 13.0, 13.5, 14.5],
];

/** One clearance drill a size. 13, 15 and 16 BA were not listed. */
const BA_ROWS: readonly (readonly [number, string])[] = [
  [0, 'C'],
  [1, '#2'],
  [2, '#12'],
  [3, '#19'],
  [4, '#27'],
  [5, '#30'],
  [6, '#34'],
  [7, '#38'],
  [8, '#43'],
  [9, '#47'],
  [10, '#50'],
  [11, '#52'],
  [12, '#54'],
  [14, '#59'],
];

export const CLEARANCE_HOLES: readonly ClearanceHole[] = [
  ...ISO_273_ROWS.map(([size, fine, medium, coarse]) => ({
    size,
    fine,
    medium,
    coarse,
    ...published('ISO 273:1979 (DIN EN 20273), in Klein, Einfuehrung in die DIN-Normen, 14th ed.'),
  })),
  ...BA_ROWS.map(([n, drill]) => single(`${n}BA`, mm(drill), 'ibls.org threads page')),
  ...ME_ROWS.flatMap(([size, perInch, , hole]) =>
    hole === null ? [] : [single(`ME ${size}x${perInch}`, hole, 'ministeam.net page 30')],
  ),
  ...UNIFIED_ROWS.map(([size, series, , , , close, normal]) => ({
    size: `${size} ${series}`,
    fine: mm(close),
    medium: mm(normal),
    coarse: null,
    ...published('ASME B18.2.8 close and normal, in cq_warehouse clearance table'),
  })),
];

function single(size: string, medium: Mm, source: string): ClearanceHole {
  return { size, fine: null, medium, coarse: null, ...published(source) };
}

function published(source: string): Sourced {
  return { source, mark: 'published' };
}

function mm(drill: string): Mm {
  return drillNamed(drill)!.diameter;
}
