import { SAME_POINT } from '../base/tolerance.ts';
import type { Crossing } from './measure/crossing.ts';
import { dist, dot, len, lerp, step, sub } from './measure/point.ts';
import { nearestOn } from './measure/segment.ts';
import type { Arc, Line, Segment } from './types.ts';

/**
 * The one common point of two curves, at least one of them an arc, that touch within SAME_POINT without crossing:
 * a neck of exactly twice the offset, for example. Empty when they do not touch.
 */
export function touches(p: Segment, q: Segment): Crossing[] {
  if (p.kind === 'arc') return q.kind === 'arc' ? arcTouch(p, q) : swap(lineTouch(q, p));
  return q.kind === 'arc' ? lineTouch(p, q) : [];
}

function lineTouch(l: Line, arc: Arc): Crossing[] {
  const d = sub(l.b, l.a);
  const t = dot(sub(arc.centre, l.a), d) / dot(d, d);
  if (!(t > 0 && t < 1)) return [];
  const point = lerp(l.a, l.b, t);
  return Math.abs(dist(point, arc.centre) - arc.radius) > SAME_POINT ? [] : onBoth(l, arc, point);
}

function arcTouch(p: Arc, q: Arc): Crossing[] {
  const across = sub(q.centre, p.centre);
  const l = len(across);
  const outside = Math.abs(l - (p.radius + q.radius)) <= SAME_POINT;
  const within = Math.abs(l - Math.abs(p.radius - q.radius)) <= SAME_POINT;
  if (l <= SAME_POINT || !(outside || within)) return [];
  const side = outside || p.radius > q.radius ? 1 : -1;
  return onBoth(p, q, step(p.centre, across, (side * p.radius) / l));
}

function onBoth(p: Segment, q: Segment, point: { x: number; y: number }): Crossing[] {
  const onP = nearestOn(p, point);
  const onQ = nearestOn(q, point);
  if (onP.distance > SAME_POINT || onQ.distance > SAME_POINT) return [];
  return [{ point, t: onP.t, u: onQ.t }];
}

function swap(found: Crossing[]): Crossing[] {
  return found.map((c) => ({ point: c.point, t: c.u, u: c.t }));
}
