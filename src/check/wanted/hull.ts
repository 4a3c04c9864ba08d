/**
 * A web: the hull of two discs (one disc when the other lies in it), the check's own predicates on the job's own circles
 * and tangents. Nothing here knows the joined loop.
 */
import { arctangent2 } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { angleOf, cross, dist, dot, len, scale, step, sub } from '../../geometry/measure/point.ts';
import { arc, circle, line } from '../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../geometry/types.ts';

export interface RoundEnd {
  readonly at: Point;
  readonly radius: Mm;
}

export interface Hull {
  /** Edge, counter-clockwise. */
  readonly edge: readonly Segment[];
  /** Distance of a point to the hull, negative inside. */
  distance(p: Point): Mm;
}

export function discHull(d: RoundEnd): Hull {
  return { edge: [circle(d.at, d.radius)], distance: (p) => dist(p, d.at) - d.radius };
}

export function webHull(first: RoundEnd, second: RoundEnd): Hull {
  const between = sub(second.at, first.at);
  const length = len(between);
  if (length <= Math.abs(first.radius - second.radius)) return discHull(first.radius >= second.radius ? first : second);
  const u = scale(between, 1 / length);
  // Angle between the line of centres and the normal of a common tangent.
  const cos = (first.radius - second.radius) / length;
  const sin = Math.sqrt((1 - cos) * (1 + cos));
  const beta = arctangent2(sin, cos);
  const theta = angleOf(u);
  const left = { x: u.x * cos - u.y * sin, y: u.y * cos + u.x * sin };
  const right = { x: u.x * cos + u.y * sin, y: u.y * cos - u.x * sin };
  const on = (d: RoundEnd, n: Point) => step(d.at, n, d.radius);
  const edge = [
    line(on(first, right), on(second, right)),
    arc(second.at, second.radius, theta - beta, 2 * beta),
    line(on(second, left), on(first, left)),
    arc(first.at, first.radius, theta + beta, 2 * (Math.PI - beta)),
  ];
  return { edge, distance: (p) => distanceToWeb(p, { first, second, u, length, cos, sin }) };
}

interface Web {
  readonly first: RoundEnd;
  readonly second: RoundEnd;
  /** Unit vector from the first centre to the second, and their distance. */
  readonly u: Point;
  readonly length: Mm;
  /** Of the angle between the line of centres and the normal of a common tangent. */
  readonly cos: number;
  readonly sin: number;
}

function distanceToWeb(p: Point, { first, second, u, length, cos, sin }: Web): Mm {
  const q = sub(p, first.at);
  const x = dot(q, u);
  const y = Math.abs(cross(u, q));
  // Place along the tangent from where it touches the first disc.
  const along = x * sin - y * cos;
  if (along < 0) return len(q) - first.radius;
  if (along > length * sin) return dist(p, second.at) - second.radius;
  return x * cos + y * sin - first.radius;
}
