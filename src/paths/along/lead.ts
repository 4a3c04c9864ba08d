/** Tangent ways on to and off a path, through stock that is already cut. */

import { arccosine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { add, angleOf, positiveAngle, rot90, scale, step, sub } from '../../geometry/measure/point.ts';
import { arc, line, reverseSegment } from '../../geometry/measure/segment.ts';
import type { Chain, Point } from '../../geometry/types.ts';

/**
 * An arc that starts `aside` to one side of the path and meets it at `point` along `direction`.
 * `side`: +1 when the free side lies left of the direction of travel, -1 right. The arc bends away from the work.
 * Shape: centre on the free side at distance `radius` from the path, so the start lies radius*(1 - cos sweep) = aside off it.
 */
export function leadIn(point: Point, direction: Point, side: 1 | -1, aside: Mm, radius: Mm): Chain {
  if (aside < 1e-6) return [];
  const rho = Math.max(radius, aside / 2 + 1e-6);
  const sweep = arccosine(Math.max(-1, 1 - aside / rho));
  const centre = add(point, scale(rot90(direction), side * rho));
  const toPoint = angleOf(sub(point, centre));
  // Left of travel the arc turns counter-clockwise towards its end, right of travel clockwise.
  const curve = arc(centre, rho, positiveAngle(toPoint - side * sweep), side * sweep);
  return [{ ...curve, b: point }];
}

/** The mirror image: off the path at `point`. */
export function leadOut(point: Point, direction: Point, side: 1 | -1, aside: Mm, radius: Mm): Chain {
  const back = leadIn(point, scale(direction, -1), side === 1 ? -1 : 1, aside, radius);
  return back.map(reverseSegment).reverse();
}

/** When no arc fits: straight across from the side. */
export function straightIn(point: Point, direction: Point, side: 1 | -1, aside: Mm): Chain {
  if (aside < 1e-6) return [];
  return [line(step(point, rot90(direction), side * aside), point)];
}
