import { SAME_POINT, TANGENT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { circleCircle, crossings, lineCircle } from './measure/crossing.ts';
import { cross, dist, dot, len, lerp, samePoint, step, sub } from './measure/point.ts';
import { directionAt, nearestOn, pointAt, segmentLength } from './measure/segment.ts';
import type { Arc, Line, Point, Segment } from './types.ts';

/** A common point of two segments: fraction t along the first, u along the second. */
export interface MeetPoint {
  readonly point: Point;
  readonly t: number;
  readonly u: number;
  /** The directions of travel there are parallel or opposite within TANGENT. */
  readonly tangent: boolean;
}

export interface CommonStretch {
  readonly from: MeetPoint;
  readonly to: MeetPoint;
}

/**
 * How two segments meet; points in order along the first.
 * `one`: a single point where they cross or an end lies on the other. `touch`: a single point where they are tangent.
 * `overlap`: stretches where they run on one line or circle together, in either sense.
 */
export type Meet =
  | { readonly kind: 'none' }
  | { readonly kind: 'one'; readonly points: readonly [MeetPoint] }
  | { readonly kind: 'touch'; readonly points: readonly [MeetPoint] }
  | { readonly kind: 'two'; readonly points: readonly [MeetPoint, MeetPoint] }
  | { readonly kind: 'overlap'; readonly stretches: readonly CommonStretch[] };

/**
 * All common points of two segments, those within `tol` of both. Contacts between which the two never part by more
 * than `tol` are one contact: so two circles that cut into each other by less than `tol` touch at one point. The answer is
 * the same in either order, but for circles that part by micrometres only: where they run together is then a matter of the last digit.
 */
export function meet(first: Segment, second: Segment, tol: Mm = SAME_POINT): Meet {
  if (sameCarrier(first, second, tol)) {
    const stretches = sharedStretches(first, second, tol);
    if (stretches.length > 0) return { kind: 'overlap', stretches };
  }
  const points = mergeContacts(first, second, contacts(first, second, tol), tol);
  const [p, q] = points;
  if (p === undefined) return { kind: 'none' };
  if (q !== undefined) return { kind: 'two', points: [p, q] };
  return { kind: p.tangent ? 'touch' : 'one', points: [p] };
}

/** The common points as a plain list, stretches by their ends. */
export function meetPoints(first: Segment, second: Segment, tol: Mm = SAME_POINT): readonly MeetPoint[] {
  const m = meet(first, second, tol);
  if (m.kind === 'none') return [];
  return m.kind === 'overlap' ? m.stretches.flatMap((s) => [s.from, s.to]) : m.points;
}

/** How the endless line or whole circle that carries a segment meets another's. `same`: one line or circle. */
export type CarrierMeet =
  | { readonly kind: 'none' | 'same' }
  | { readonly kind: 'one' | 'touch'; readonly points: readonly [Point] }
  | { readonly kind: 'two'; readonly points: readonly [Point, Point] };

/** Carriers that miss or cut each other by no more than `tol` touch, at the point half-way between them. */
export function meetCarriers(first: Segment, second: Segment, tol: Mm = SAME_POINT): CarrierMeet {
  if (sameCarrier(first, second, tol)) return { kind: 'same' };
  if (first.kind === 'line')
    return second.kind === 'line' ? twoLines(first, second) : lineAndCircle(first, second, tol);
  return second.kind === 'line' ? lineAndCircle(second, first, tol) : twoCircles(first, second, tol);
}

function twoLines(p: Line, q: Line): CarrierMeet {
  const d = sub(p.b, p.a);
  const e = sub(q.b, q.a);
  const rate = cross(d, e);
  // Lines that part by less than rounding over their own length have no usable common point.
  if (Math.abs(rate) <= Number.EPSILON * len(d) * len(e)) return { kind: 'none' };
  const exact = crossings(p, q)[0];
  if (exact !== undefined) return { kind: 'one', points: [exact.point] };
  return { kind: 'one', points: [lerp(p.a, p.b, cross(sub(q.a, p.a), e) / rate)] };
}

function lineAndCircle(l: Line, c: Arc, tol: Mm): CarrierMeet {
  const d = sub(l.b, l.a);
  const length = len(d);
  if (length === 0) return { kind: 'none' };
  const height = cross(d, sub(c.centre, l.a)) / length;
  if (Math.abs(height) > c.radius + tol) return { kind: 'none' };
  if (Math.abs(height) >= c.radius - tol) {
    return { kind: 'touch', points: [step(l.a, d, dot(sub(c.centre, l.a), d) / (length * length))] };
  }
  const [t, u] = lineCircle(l.a, d, c.centre, c.radius);
  return { kind: 'two', points: [step(l.a, d, t ?? 0), step(l.a, d, u ?? 0)] };
}

function twoCircles(p: Arc, q: Arc, tol: Mm): CarrierMeet {
  const d = sub(q.centre, p.centre);
  const l = len(d);
  const outer = l - (p.radius + q.radius);
  const inner = Math.abs(p.radius - q.radius) - l;
  if (l === 0 || outer > tol || inner > tol) return { kind: 'none' };
  if (outer >= -tol) return { kind: 'touch', points: [step(p.centre, d, (p.radius + outer / 2) / l)] };
  if (inner >= -tol) {
    const sign = p.radius > q.radius ? 1 : -1;
    return { kind: 'touch', points: [step(p.centre, d, (sign * p.radius - inner / 2) / l)] };
  }
  const [a, b] = circleCircle(p.centre, p.radius, q.centre, q.radius);
  return a === undefined || b === undefined ? { kind: 'none' } : { kind: 'two', points: [a, b] };
}

/** Whether two segments lie on one line or circle, as far as both reach. */
function sameCarrier(p: Segment, q: Segment, tol: Mm): boolean {
  if (p.kind === 'arc' && q.kind === 'arc') {
    return dist(p.centre, q.centre) <= tol && Math.abs(p.radius - q.radius) <= tol;
  }
  if (p.kind === 'arc' || q.kind === 'arc') return false;
  const [long, short] = segmentLength(p) >= segmentLength(q) ? [p, q] : [q, p];
  const d = sub(long.b, long.a);
  const l = len(d);
  if (segmentLength(short) <= tol) return false;
  return [short.a, short.b].every((x) => Math.abs(cross(d, sub(x, long.a))) <= tol * l);
}

/** Stretches of two segments on one carrier that both cover and that are longer than `tol`. */
function sharedStretches(first: Segment, second: Segment, tol: Mm): CommonStretch[] {
  const near = (p: Point) => nearestOn(second, p).distance <= tol;
  const cuts = [second.a, second.b].map((p) => nearestOn(first, p)).filter((n) => n.distance <= tol);
  const ts = [...new Set([0, 1, ...cuts.map((n) => n.t)])].sort((a, b) => a - b);
  const spans: [number, number][] = [];
  for (const [i, t1] of ts.entries()) {
    const t0 = ts[i - 1];
    if (t0 === undefined || !near(pointAt(first, (t0 + t1) / 2))) continue;
    if ((t1 - t0) * segmentLength(first) <= tol) continue;
    const last = spans.at(-1);
    if (last !== undefined && last[1] === t0) last[1] = t1;
    else spans.push([t0, t1]);
  }
  joinOverSeam(first, spans);
  return spans.map(([t0, t1]) => ({ from: meetPointAt(first, second, t0), to: meetPointAt(first, second, t1) }));
}

/** The start of a whole circle is no real end: a stretch that runs over it is one, with `to` at a smaller t than `from`. */
function joinOverSeam(s: Segment, spans: [number, number][]): void {
  const head = spans[0];
  const tail = spans.at(-1);
  if (s.kind === 'line' || !samePoint(s.a, s.b, 0) || head === undefined || tail === undefined || head === tail) return;
  if (head[0] !== 0 || tail[1] !== 1) return;
  tail[1] = head[1];
  spans.shift();
}

function meetPointAt(first: Segment, second: Segment, t: number): MeetPoint {
  const point = pointAt(first, t);
  return { point, t, u: nearestOn(second, point).t, tangent: true };
}

interface MeetContact extends MeetPoint {
  /** How many of the two have an end here: kept in preference when contacts merge, because ends are exact. */
  readonly ends: number;
}

function contacts(first: Segment, second: Segment, tol: Mm): MeetContact[] {
  const carriers = meetCarriers(first, second, tol);
  const free = 'points' in carriers ? [...carriers.points] : [];
  // Where carriers touch, the two crossings a hair apart would only blur the place.
  const exact = carriers.kind === 'touch' ? [] : crossings(first, second).map((c) => c.point);
  const found: MeetContact[] = [];
  for (const point of [first.a, first.b, second.a, second.b, ...free, ...exact]) {
    const c = contactAt(first, second, point, tol);
    if (c !== undefined && !found.some((f) => samePoint(f.point, c.point, tol))) found.push(c);
  }
  return found.sort((a, b) => a.t - b.t);
}

function contactAt(first: Segment, second: Segment, near: Point, tol: Mm): MeetContact | undefined {
  const p = nearestOn(first, near);
  const q = nearestOn(second, near);
  if (p.distance > tol || q.distance > tol) return undefined;
  const firstEnd = snapToEnd(first, p.t, p.point, tol);
  const secondEnd = snapToEnd(second, q.t, q.point, tol);
  const t = firstEnd ?? p.t;
  const u = secondEnd ?? q.t;
  const ends = (firstEnd === undefined ? 0 : 1) + (secondEnd === undefined ? 0 : 1);
  const point = firstEnd === undefined && secondEnd !== undefined ? pointAt(second, u) : pointAt(first, t);
  const turn = cross(directionAt(first, t), directionAt(second, u));
  return { point, t, u, ends, tangent: Math.abs(turn) <= TANGENT };
}

function snapToEnd(s: Segment, t: number, point: Point, tol: Mm): number | undefined {
  if (t <= 0 || samePoint(point, s.a, tol)) return 0;
  return t >= 1 || samePoint(point, s.b, tol) ? 1 : undefined;
}

/** Neighbouring contacts between which the segments stay within `tol` become one. */
function mergeContacts(first: Segment, second: Segment, sorted: readonly MeetContact[], tol: Mm): MeetContact[] {
  const merged: MeetContact[] = [];
  for (const c of sorted) {
    const last = merged.at(-1);
    const between = last && pointAt(first, (last.t + c.t) / 2);
    if (last === undefined || between === undefined || nearestOn(second, between).distance > tol) merged.push(c);
    else merged[merged.length - 1] = prefer(first, second, last, c, tol);
  }
  return merged;
}

function prefer(first: Segment, second: Segment, a: MeetContact, b: MeetContact, tol: Mm): MeetContact {
  if (a.ends !== b.ends) return a.ends > b.ends ? a : b;
  if (a.ends > 0) return a;
  return contactAt(first, second, pointAt(first, (a.t + b.t) / 2), tol) ?? a;
}
