/** Inside corners of the roughing path round a part: turned on an arc, so that the engagement does not jump there. */
import { arctangent2 } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { cross, dot } from '../../geometry/measure/point.ts';
import { curvatureOf, directionAt, pointAt } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Loop, Region } from '../../geometry/types.ts';

/** Turns below this are tangent joins (radians). */
const SAME_DIRECTION = 1e-3;
/** A corner of 30 degrees loses 2.9 of the rounding; a path that loses more has lost an inlet. */
const MOST_LOST = 3;

/** `path`: the area's edge at `offset`, counter-clockwise. The same with no inside curve tighter than `round`, where that loses no inlet. */
export function roundedInside(area: Region, path: Loop, offset: Mm, round: Mm): Loop {
  if (!hasInsideCorner(path, round)) return path;
  const out = offsetRegion(area, offset + round);
  if (out.kind !== 'regions' || out.regions.length !== 1) return path;
  const back = offsetRegion({ outer: out.regions[0]!.outer, holes: [] }, -round);
  if (back.kind !== 'regions' || back.regions.length !== 1) return path;
  const made = back.regions[0]!.outer;
  const isLost = path.some((s) => [0, 0.5].some((t) => distanceToLoop(made, pointAt(s, t)) > MOST_LOST * round));
  return isLost ? path : made;
}

function hasInsideCorner(path: Loop, round: Mm): boolean {
  return path.some((s, i) => {
    const [out, into] = [directionAt(s, 1), directionAt(path[(i + 1) % path.length]!, 0)];
    return arctangent2(cross(out, into), dot(out, into)) < -SAME_DIRECTION || curvatureOf(s) < -1 / round;
  });
}
