import { orient2d } from 'robust-predicates';
import type { Mm } from '../../base/units.ts';
import type { Arc, Line, Point, Segment } from '../types.ts';
import { cross, dot, len, lerp, rot90, step, sub } from './point.ts';
import { fractionToward } from './sweep.ts';

/** A common point of two segments, with its fraction along each. */
export interface Crossing {
  readonly point: Point;
  readonly t: number;
  readonly u: number;
}

/**
 * Points where two segments cross or touch, without any tolerance (0, 1 or 2). Segments that lie on one line or one
 * circle give none: their common points are ends of one of them. `meet.ts` adds tolerances and names.
 */
export function crossings(p: Segment, q: Segment): Crossing[] {
  if (p.kind === 'line') return q.kind === 'line' ? lineLine(p, q) : lineArc(p, q);
  return q.kind === 'line' ? lineArc(q, p).map((c) => ({ point: c.point, t: c.u, u: c.t })) : arcArc(p, q);
}

function lineLine(p: Line, q: Line): Crossing[] {
  const qa = side(p, q.a);
  const qb = side(p, q.b);
  const pa = side(q, p.a);
  const pb = side(q, p.b);
  if (qa * qb > 0 || pa * pb > 0 || qa === qb || pa === pb) return [];
  const t = pa / (pa - pb);
  return [{ point: lerp(p.a, p.b, t), t, u: qa / (qa - qb) }];
}

/** Twice the signed area; its sign is exact. */
function side(l: Line, p: Point): number {
  return orient2d(l.a.x, l.a.y, l.b.x, l.b.y, p.x, p.y);
}

function lineArc(l: Line, arc: Arc): Crossing[] {
  const d = sub(l.b, l.a);
  const ll = dot(d, d);
  if (ll === 0) return [];
  return lineCircle(l.a, d, arc.centre, arc.radius).flatMap((t) => {
    if (t < 0 || t > 1) return [];
    const point = lerp(l.a, l.b, t);
    const u = fractionToward(arc, point);
    return u === undefined ? [] : [{ point, t, u }];
  });
}

/** Parameters t, ascending, at which a + d t meets a circle: 0, 1 (exactly tangent) or 2. */
export function lineCircle(a: Point, d: Point, centre: Point, radius: Mm): number[] {
  const l = len(d);
  if (l === 0) return [];
  const toCentre = sub(centre, a);
  const foot = dot(toCentre, d) / (l * l);
  const height = Math.abs(cross(d, toCentre)) / l;
  // (r - h)(r + h) keeps the digits that r^2 - h^2 loses near tangency.
  const half2 = (radius - height) * (radius + height);
  if (half2 < 0) return [];
  if (half2 === 0) return [foot];
  const half = Math.sqrt(half2) / l;
  return [foot - half, foot + half];
}

function arcArc(p: Arc, q: Arc): Crossing[] {
  return circleCircle(p.centre, p.radius, q.centre, q.radius).flatMap((point) => {
    const t = fractionToward(p, point);
    const u = fractionToward(q, point);
    return t === undefined || u === undefined ? [] : [{ point, t, u }];
  });
}

/** Common points of two circles: 0, 1 (exactly tangent) or 2, the one on the left of c1 to c2 first. None if concentric. */
export function circleCircle(c1: Point, r1: Mm, c2: Point, r2: Mm): Point[] {
  const d = sub(c2, c1);
  const l = len(d);
  if (l === 0) return [];
  const along = (l + ((r1 - r2) / l) * (r1 + r2)) / 2;
  const half2 = circleHalfChord2(l, r1, r2);
  if (half2 < 0) return [];
  const foot = step(c1, d, along / l);
  if (half2 === 0) return [foot];
  const off = Math.sqrt(half2) / l;
  return [step(foot, rot90(d), off), step(foot, rot90(d), -off)];
}

/** Square of half the common chord, by the factored form of Heron's rule; negative when the circles do not meet. */
function circleHalfChord2(l: Mm, r1: Mm, r2: Mm): number {
  return ((r1 + r2 + l) * (r1 + r2 - l) * (l - (r1 - r2)) * (l + (r1 - r2))) / (4 * l * l);
}
