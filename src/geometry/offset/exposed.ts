import { arccosine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { angleOf, dist, fromAngle, positiveAngle, step, sub } from '../measure/point.ts';
import { startAngle } from '../measure/sweep.ts';
import type { Arc, Loop, Point, Segment } from '../types.ts';

/**
 * On outlines of many short edges the arcs about corners reach over many others and cross them all, which would make the
 * time grow with the square of the edges. So what corners near and a little farther along the same loop surely
 * hide is taken off beforehand: `s`, a curve at distance |d| from corner or edge `i`, without its ends that lie
 * within |d| of another corner; undefined if nothing is left. Never takes off a part of the result.
 */
export function exposed(s: Segment, loop: Loop, i: number, d: Mm): Segment | undefined {
  const n = loop.length;
  if (n < MANY || (s.kind === 'arc' && s.radius !== Math.abs(d))) return s;
  const reach = Math.abs(d) - OVERLAP;
  let part = s;
  for (const stride of STRIDES) {
    const corner = loop[(((i + stride) % n) + n) % n]!.b;
    const hidesStart = isWithin(part.a, corner, reach);
    const hidesEnd = isWithin(part.b, corner, reach);
    if (hidesStart && hidesEnd) return undefined;
    if (part.kind === 'arc' && hidesStart !== hidesEnd) part = withoutEnd(part, corner, reach, hidesStart);
  }
  return part;
}

/** Below this many edges the look round costs more than it saves. */
const MANY = 200;
/** What is left reaches this far into the hidden part, so that it still crosses what hides the rest. */
const OVERLAP: Mm = 1e-5;
/** Places along the loop, by number of edges: near ones hide most; far ones matter where edges are short and the offset long. */
const STRIDES = [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64].flatMap((k) => [k, -k]);

function isWithin(p: Point, corner: Point, reach: Mm): boolean {
  const dx = p.x - corner.x;
  const dy = p.y - corner.y;
  return dx * dx + dy * dy < reach * reach;
}

/** The arc without the end that lies in the disc about `corner`; the circle enters the disc where cos law says. */
function withoutEnd(s: Arc, corner: Point, reach: Mm, atStart: boolean): Arc {
  const l = dist(s.centre, corner);
  const cos = (s.radius * s.radius + l * l - reach * reach) / (2 * s.radius * l);
  if (!(cos < 1 && cos > -1)) return s;
  const side = Math.sign(s.sweep) * (atStart ? 1 : -1);
  const angle = angleOf(sub(corner, s.centre)) + side * arccosine(cos);
  const turned = positiveAngle(Math.sign(s.sweep) * (angle - startAngle(s)));
  if (turned >= Math.abs(s.sweep)) return s;
  const p = step(s.centre, fromAngle(angle), s.radius);
  const rest = Math.sign(s.sweep) * turned;
  return atStart ? { ...s, a: p, sweep: s.sweep - rest } : { ...s, b: p, sweep: rest };
}
