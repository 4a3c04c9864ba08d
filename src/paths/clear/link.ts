/** Tangent ways from one cut to the next: an arc, a line, an arc. */
import { arcsine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { add, angleOf, dist, fromAngle, len, positiveAngle, rot90, scale, sub } from '../../geometry/measure/point.ts';
import { arc, line } from '../../geometry/measure/segment.ts';
import type { Chain, Point, Segment } from '../../geometry/types.ts';

/** A place with the direction of travel there. */
export interface Pose {
  readonly at: Point;
  readonly way: Point;
}

const NOTHING = 1e-6;
const TURN = 2 * Math.PI;

/** Both arcs turn left, or the first right and the second left: the last always comes to the path from its left, where it is open. */
export function waysBetween(from: Pose, to: Pose, radius: Mm): Chain[] {
  return [leftLeft(from, to, radius), rightLeft(from, to, radius)].filter((c) => c !== null);
}

function leftLeft(from: Pose, to: Pose, radius: Mm): Chain | null {
  const c1 = add(from.at, scale(rot90(from.way), radius));
  const c2 = add(to.at, scale(rot90(to.way), radius));
  const between = sub(c2, c1);
  const l = len(between);
  const along = l < NOTHING ? from.way : scale(between, 1 / l);
  const p = add(c1, scale(rot90(along), -radius));
  return joined(from, to, [
    curve(c1, radius, from.at, p, leftTurn(from.way, along)),
    line(p, add(p, between)),
    curve(c2, radius, add(p, between), to.at, leftTurn(along, to.way)),
  ]);
}

function rightLeft(from: Pose, to: Pose, radius: Mm): Chain | null {
  const c1 = add(from.at, scale(rot90(from.way), -radius));
  const c2 = add(to.at, scale(rot90(to.way), radius));
  const between = sub(c2, c1);
  const l = len(between);
  if (l < 2 * radius + NOTHING) return null;
  const along = fromAngle(angleOf(between) - arcsine((2 * radius) / l));
  const p = add(c1, scale(rot90(along), radius));
  const q = add(c2, scale(rot90(along), -radius));
  return joined(from, to, [
    curve(c1, radius, from.at, p, -leftTurn(along, from.way)),
    line(p, q),
    curve(c2, radius, q, to.at, leftTurn(along, to.way)),
  ]);
}

function leftTurn(a: Point, b: Point): number {
  const turn = positiveAngle(angleOf(b) - angleOf(a));
  return turn > TURN - NOTHING ? 0 : turn;
}

function curve(centre: Point, radius: Mm, a: Point, b: Point, sweep: number): Segment {
  return { ...arc(centre, radius, angleOf(sub(a, centre)), sweep), a, b };
}

/** Without the pieces that have no length; ends exactly where it should. */
function joined(from: Pose, to: Pose, pieces: readonly Segment[]): Chain {
  const real = pieces.filter((s) => dist(s.a, s.b) > NOTHING || (s.kind === 'arc' && Math.abs(s.sweep) > Math.PI));
  let at = from.at;
  return real.map((s, i) => {
    const piece = { ...s, a: at, b: i === real.length - 1 ? to.at : s.b };
    at = piece.b;
    return piece;
  });
}

export function straight(from: Point, to: Point): Chain {
  return dist(from, to) < NOTHING ? [] : [line(from, to)];
}
