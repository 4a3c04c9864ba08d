/** Plain forms of what the source asks another way, to hold it against. */
import type { Mm } from '../../src/base/units.ts';
import { distanceToLoop } from '../../src/geometry/measure/distance.ts';
import { windingOf } from '../../src/geometry/measure/inside.ts';
import { offsetRegion } from '../../src/geometry/offset/offset.ts';
import type { Loop, Point, Region } from '../../src/geometry/types.ts';

/** Distance to the edge of a region's material: negative inside, positive outside and in openings. */
export function signedDistance(region: Region, p: Point): Mm {
  const loops = [region.outer, ...region.holes];
  const edge = Math.min(...loops.map((loop) => distanceToLoop(loop, p)));
  const inside = windingOf(region.outer, p) !== 0 && region.holes.every((hole) => windingOf(hole, p) === 0);
  return inside ? -edge : edge;
}

/** `offsetRegion` of a loop without openings, of either sense. */
export function offsetLoop(loop: Loop, d: Mm) {
  return offsetRegion({ outer: loop, holes: [] }, d);
}
