import { arctangent, arctangent2, sine, tangent } from '../../base/angles.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm, Rad } from '../../base/units.ts';
import type { Arc, Box, Line, Point, Segment } from '../types.ts';
import { add, angleOf, cross, dist, fromAngle, len, lerp, pt, rot90, rotate, scale, step, sub, unit } from './point.ts';
import { angleIsSwept, FLAT_SWEEP, flatTangent, fractionToward, outwardOf, startAngle } from './sweep.ts';

/** Segments are addressed by t in 0..1, proportional to length from `a` to `b`; t outside is clamped. */

export function line(a: Point, b: Point): Line {
  return { kind: 'line', a, b };
}

/** Arc from its centre; `sweep` is clamped to one turn. A whole turn ends bit for bit where it starts. */
export function arc(centre: Point, radius: Mm, start: Rad, sweep: Rad): Arc {
  const turn = 2 * Math.PI;
  const s = Math.max(-turn, Math.min(turn, sweep));
  const a = step(centre, fromAngle(start), radius);
  const b = Math.abs(s) === turn ? a : step(centre, fromAngle(start + s), radius);
  return { kind: 'arc', a, b, centre, radius, sweep: s };
}

/** A whole circle as one arc, counter-clockwise from its point of greatest x. */
export function circle(centre: Point, radius: Mm): Arc {
  return arc(centre, radius, 0, 2 * Math.PI);
}

/**
 * Segment with DXF bulge: tan of a quarter of the included angle, positive counter-clockwise. Ends are kept bit for bit.
 * A bulge whose rise over the chord is below SAME_POINT gives the line; so does a chord of no length (no circle follows from it).
 */
export function arcFromBulge(a: Point, b: Point, bulge: number): Segment {
  const chord = sub(b, a);
  const c = len(chord);
  if (c === 0 || !(Math.abs(bulge) * c > 2 * SAME_POINT)) return line(a, b);
  const offset = (1 - bulge * bulge) / (4 * bulge);
  const centre = step(lerp(a, b, 0.5), rot90(chord), offset);
  return {
    kind: 'arc',
    a,
    b,
    centre,
    radius: (c * (1 + bulge * bulge)) / (4 * Math.abs(bulge)),
    sweep: 4 * arctangent(bulge),
  };
}

/** Bulge of a segment: 0 for a line; a whole circle has none (infinite). */
export function bulgeOf(s: Segment): number {
  if (s.kind === 'line') return 0;
  return Math.abs(s.sweep) >= 2 * Math.PI ? Math.sign(s.sweep) * Infinity : tangent(s.sweep / 4);
}

/** Arc from a to b through m; the line when the three are collinear within SAME_POINT. */
export function arcThrough(a: Point, m: Point, b: Point): Segment {
  const c = len(sub(b, a));
  const rise = cross(sub(b, a), sub(m, a));
  if (c === 0 || Math.abs(rise) <= SAME_POINT * c) return line(a, b);
  // Inscribed angle at m is pi minus half the sweep, so the bulge is the tangent of half the turn taken at m.
  const turn = arctangent2(cross(sub(m, a), sub(b, m)), (m.x - a.x) * (b.x - m.x) + (m.y - a.y) * (b.y - m.y));
  return arcFromBulge(a, b, tangent(turn / 2));
}

export function segmentLength(s: Segment): Mm {
  return s.kind === 'line' ? dist(s.a, s.b) : s.radius * Math.abs(s.sweep);
}

/** Point at fraction t of the length; exactly `a` at 0 and `b` at 1. */
export function pointAt(s: Segment, t: number): Point {
  if (t <= 0) return s.a;
  if (t >= 1) return s.b;
  if (s.kind === 'line') return lerp(s.a, s.b, t);
  if (Math.abs(s.sweep) < FLAT_SWEEP) return pointOnFlatArc(s, t);
  return step(s.centre, fromAngle(startAngle(s) + s.sweep * t), s.radius);
}

/** From the chord, not the centre: a flat arc's centre is so far away that its rounding would show. */
function pointOnFlatArc(s: Arc, t: number): Point {
  const half = s.sweep / 2;
  if (half === 0) return s.a;
  const part = sine(t * half) / sine(half);
  return add(s.a, scale(rotate(sub(s.b, s.a), (t - 1) * half), part));
}

/** Unit tangent in the direction of travel; zero vector for a line of no length. */
export function directionAt(s: Segment, t: number): Point {
  if (s.kind === 'line') return unit(sub(s.b, s.a));
  const clamped = Math.max(0, Math.min(1, t));
  if (Math.abs(s.sweep) < FLAT_SWEEP) return rotate(unit(sub(s.b, s.a)), s.sweep * (clamped - 0.5));
  const radial = fromAngle(startAngle(s) + s.sweep * clamped);
  return s.sweep > 0 ? rot90(radial) : pt(radial.y, -radial.x);
}

/** Signed curvature, positive turning left; 0 for a line. */
export function curvatureOf(s: Segment): number {
  return s.kind === 'line' || s.radius === 0 ? 0 : Math.sign(s.sweep) / s.radius;
}

export function reverseSegment(s: Segment): Segment {
  return s.kind === 'line' ? line(s.b, s.a) : { ...s, a: s.b, b: s.a, sweep: -s.sweep };
}

/** Two pieces that share the point at t bit for bit; at t = 0 or 1 one of them has no length. */
export function splitAt(s: Segment, t: number): [Segment, Segment] {
  return [subSegment(s, 0, t), subSegment(s, t, 1)];
}

/** Piece from t0 to t1, in the same sense (t0 > t1 is swapped); ends at 0 and 1 are kept bit for bit. A piece of an arc of no length is a line of no length. */
export function subSegment(s: Segment, t0: number, t1: number): Segment {
  const lo = Math.max(0, Math.min(t0, t1));
  const hi = Math.min(1, Math.max(t0, t1));
  if (lo === 0 && hi === 1) return s;
  const a = pointAt(s, lo);
  const b = pointAt(s, hi);
  return pieceOf(s, a, b, hi - lo);
}

function pieceOf(s: Segment, a: Point, b: Point, share: number): Segment {
  if (s.kind === 'line' || (a.x === b.x && a.y === b.y && share < 0.5)) return line(a, b);
  return { kind: 'arc', a, b, centre: s.centre, radius: s.radius, sweep: s.sweep * share };
}

/** Pieces of even length, as `subSegment` has them, each place between two of them reckoned once. */
export function evenPieces(s: Segment, count: number): Segment[] {
  const pieces: Segment[] = [];
  for (let i = 0, a = s.a; i < count; i++) {
    const b = pointAt(s, (i + 1) / count);
    pieces.push(pieceOf(s, a, b, (i + 1) / count - i / count));
    a = b;
  }
  return pieces;
}

export function segmentBox(s: Segment): Box {
  const box = {
    minX: Math.min(s.a.x, s.b.x),
    minY: Math.min(s.a.y, s.b.y),
    maxX: Math.max(s.a.x, s.b.x),
    maxY: Math.max(s.a.y, s.b.y),
  };
  if (s.kind === 'line') return box;
  const { centre: c, radius: r } = s;
  if (angleIsSwept(s, 0)) box.maxX = Math.max(box.maxX, c.x + r);
  if (angleIsSwept(s, Math.PI / 2)) box.maxY = Math.max(box.maxY, c.y + r);
  if (angleIsSwept(s, Math.PI)) box.minX = Math.min(box.minX, c.x - r);
  if (angleIsSwept(s, -Math.PI / 2)) box.minY = Math.min(box.minY, c.y - r);
  return box;
}

export interface Nearest {
  readonly point: Point;
  readonly t: number;
  readonly distance: Mm;
}

/** Nearest point of a segment. From the centre of an arc all its points are equally near: the first is given. */
export function nearestOn(s: Segment, p: Point): Nearest {
  return s.kind === 'line' ? nearestOnLine(s, p) : nearestOnArc(s, p);
}

function nearestOnLine(s: Line, p: Point): Nearest {
  const d = sub(s.b, s.a);
  const l2 = d.x * d.x + d.y * d.y;
  const t = l2 === 0 ? 0 : ((p.x - s.a.x) * d.x + (p.y - s.a.y) * d.y) / l2;
  if (t <= 0) return { point: s.a, t: 0, distance: dist(s.a, p) };
  if (t >= 1) return { point: s.b, t: 1, distance: dist(s.b, p) };
  const point = lerp(s.a, s.b, t);
  return { point, t, distance: Math.abs(cross(d, sub(p, s.a))) / Math.sqrt(l2) };
}

function nearestOnArc(s: Arc, p: Point): Nearest {
  const fromCentre = sub(p, s.centre);
  const l = len(fromCentre);
  if (l === 0) return { point: s.a, t: 0, distance: s.radius };
  const t = fractionToward(s, p);
  if (t !== undefined) {
    const beyond = beyondCircle(s, p, l);
    return { point: step(p, fromCentre, -beyond / l), t, distance: Math.abs(beyond) };
  }
  const da = dist(s.a, p);
  const db = dist(s.b, p);
  return da <= db ? { point: s.a, t: 0, distance: da } : { point: s.b, t: 1, distance: db };
}

/**
 * Distance of p outside the circle of an arc, negative inside; l is its distance from the centre. For a flat arc the
 * difference l - r would lose its digits, so it is taken from the end a: (|q|^2 + 2 r q.n) / (l + r), q = p - a, n the normal at a.
 */
function beyondCircle(s: Arc, p: Point, l: Mm): Mm {
  if (Math.abs(s.sweep) >= FLAT_SWEEP) return l - s.radius;
  const q = sub(p, s.a);
  const outward = outwardOf(s, q, flatTangent(s));
  return (q.x * q.x + q.y * q.y + 2 * s.radius * outward) / (l + s.radius);
}

/** Greatest distance of any point of the segment from p. */
export function maxDistanceFromPoint(s: Segment, p: Point): Mm {
  const ends = Math.max(dist(s.a, p), dist(s.b, p));
  if (s.kind === 'line') return ends;
  const away = sub(s.centre, p);
  const far = len(away);
  return far === 0 || angleIsSwept(s, angleOf(away)) ? Math.max(ends, far + s.radius) : ends;
}
