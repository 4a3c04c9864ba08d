/** Arms of an area in which a disc does not fit. */
import type { Mm } from '../base/units.ts';
import { RegionEdge } from './measure/approach.ts';
import { pointAt } from './measure/segment.ts';
import { offsetRegion } from './offset/offset.ts';
import type { Region } from './types.ts';

/** Corners sharper than about 30 degrees count as arms: their tip lies four radii from the middle of the nearest disc. */
export const ARM_REACH = 4;
/** Places on each edge that are looked at. */
const LOOK_AT = [0, 0.25, 0.5, 0.75] as const;

/**
 * True when discs of this radius, wherever they fit, leave more of the area untouched than its corners: a neck, an arm,
 * or all of it.
 */
export function hasNarrow(area: Region, radius: Mm): boolean {
  const core = offsetRegion(area, -radius);
  if (core.kind !== 'regions') return true;
  return farthestFrom(area, core.regions) > ARM_REACH * radius;
}

/** Distance of the farthest place of an area's edge from regions inside it. */
export function farthestFrom(area: Region, core: readonly Region[]): Mm {
  const edges = core.map((b) => new RegionEdge(b));
  let far = 0;
  for (const s of [area.outer, ...area.holes].flat()) {
    for (const t of LOOK_AT) {
      const p = pointAt(s, t);
      far = Math.max(far, Math.min(...edges.map((e) => e.signedDistance(p))));
    }
  }
  return far;
}
