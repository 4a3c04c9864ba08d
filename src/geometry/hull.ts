import { arctangent2 } from '../base/angles.ts';
import type { Mm } from '../base/units.ts';
import { dist, rot90, scale, step, sub } from './measure/point.ts';
import type { Arc, Loop, Point } from './types.ts';

export interface HullDisc {
  readonly at: Point;
  readonly radius: Mm;
}

/** True when one disc lies in the other, touching from inside included: their hull is then no web. */
export function isWithin(a: HullDisc, b: HullDisc, tolerance: Mm): boolean {
  return dist(a.at, b.at) <= Math.abs(a.radius - b.radius) + tolerance;
}

/**
 * Convex hull of two discs, neither inside the other: line on the right of a to b, arc about b, line back, arc about a.
 * Counter-clockwise, starting at the right-hand tangent point of a.
 *
 * Textbook: both tangent lines touch at the angle phi from the line of centres with cos phi = (ra - rb) / distance.
 */
export function hull(a: HullDisc, b: HullDisc): Loop {
  const across = sub(b.at, a.at);
  const l = dist(a.at, b.at);
  const u = scale(across, 1 / l);
  const cos = (a.radius - b.radius) / l;
  const sin = Math.sqrt((1 - cos) * (1 + cos));
  const right = step(scale(u, cos), rot90(u), -sin);
  const left = step(scale(u, cos), rot90(u), sin);
  const phi = arctangent2(sin, cos);
  const a1 = step(a.at, right, a.radius);
  const a2 = step(a.at, left, a.radius);
  const b1 = step(b.at, right, b.radius);
  const b2 = step(b.at, left, b.radius);
  return [
    { kind: 'line', a: a1, b: b1 },
    arcOf(b, b1, b2, 2 * phi),
    { kind: 'line', a: b2, b: a2 },
    arcOf(a, a2, a1, 2 * Math.PI - 2 * phi),
  ];
}

function arcOf(disc: HullDisc, a: Point, b: Point, sweep: number): Arc {
  return { kind: 'arc', a, b, centre: disc.at, radius: disc.radius, sweep };
}
