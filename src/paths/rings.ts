/** The rings of a pocket: paths of equal distance from the wall, as a tree from the wall inwards. */
import type { Mm } from '../base/units.ts';
import { RegionEdge } from '../geometry/measure/approach.ts';
import { pointAt } from '../geometry/measure/segment.ts';
import { offsetRegion } from '../geometry/offset.ts';
import type { Region } from '../geometry/types.ts';

/** One connected area the cutter's centre may run in, with the smaller areas inside it. Its edge loops are a ring. */
export interface RingNode {
  readonly area: Region;
  /** Distance from the wall. */
  readonly offset: Mm;
  readonly inner: readonly RingNode[];
}

/** A pocket exactly as wide as the cutter has a centre path of no width: it is run this much narrower. A tenth of the gouge limit. */
export const NO_WIDTH: Mm = 5e-4;

/** Least opening radius of roughing rings, as a share of the cutter's radius: a sharper inside corner makes the engagement jump. */
const ROUND_SHARE = 0.2;

/** Areas at distance `first` from the wall and, inside them, one every `step`. Empty when the cutter does not enter. */
export function ringTree(pocket: Region, first: Mm, step: Mm, cutterRadius: Mm): readonly RingNode[] {
  const outer = rounded(pocket, first, cutterRadius * ROUND_SHARE);
  return outer.map((area) => nodeOf(area, first, pocket, step, cutterRadius));
}

function nodeOf(area: Region, offset: Mm, pocket: Region, step: Mm, radius: Mm): RingNode {
  const next = rounded(pocket, offset + step, radius * ROUND_SHARE);
  const edge = new RegionEdge(area);
  const inside = next.filter((r) => edge.holds(pointAt(r.outer[0]!, 0.5)));
  return { area, offset, inner: inside.map((r) => nodeOf(r, offset + step, pocket, step, radius)) };
}

/** The area at distance d from the wall with its inside corners rounded: in by d and a little more, then out again. */
function rounded(pocket: Region, d: Mm, round: Mm): readonly Region[] {
  const deep = offsetRegion(pocket, -(d + round));
  const plain = offsetRegion(pocket, -d);
  if (plain.kind !== 'regions') return [];
  if (deep.kind !== 'regions') return plain.regions;
  const back = deep.regions.flatMap((r) => {
    const grown = offsetRegion(r, round);
    return grown.kind === 'regions' ? grown.regions : [];
  });
  // Narrow arms vanish in the opening: then the plain ring, corners and all, is kept.
  return back.length === plain.regions.length ? back : plain.regions;
}

/** Finishing rings: exactly `radius` from the wall, or a hair narrower where the pocket is as wide as the cutter. */
export function wallRings(pocket: Region, distance: Mm): readonly Region[] {
  for (const d of [distance, distance - NO_WIDTH]) {
    const made = offsetRegion(pocket, -d);
    if (made.kind === 'regions') return made.regions;
  }
  return [];
}
