/** Paths of one distance from the wall of a pocket. */
import type { Mm } from '../../base/units.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Region } from '../../geometry/types.ts';

/** A pocket exactly as wide as the cutter has a centre path of no width: it is run this much narrower. A tenth of the gouge limit. */
export const NO_WIDTH: Mm = 5e-4;

/** Areas exactly `distance` from the wall, or a hair wider where the pocket is as wide as the cutter. */
export function wallRings(pocket: Region, distance: Mm): readonly Region[] {
  for (const d of [distance, distance - NO_WIDTH]) {
    const made = offsetRegion(pocket, -d);
    if (made.kind === 'regions') return made.regions;
  }
  return [];
}
