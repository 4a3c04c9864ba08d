/**
 * Curves that are not circular become lines and pairs of tangent arcs (biarcs) within a tolerance; the error is measured
 * on points of the curve itself and handed on, not assumed.
 */
import { arctangent2, cosine, sine, tangent } from '../../../base/angles.ts';
import { SAME_POINT, SHORTEST_PIECE } from '../../../base/tolerance.ts';
import type { Mm } from '../../../base/units.ts';
import { add, cross, dist, dot, len, lerp, scale, step, sub, unit } from '../../../geometry/measure/point.ts';
import { arcFromBulge, line, nearestOn } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import { type Bezier, type DrawnCurve, type EllipticArc, ellipsePoint } from './curve.ts';

export interface Fitted {
  readonly segments: readonly Segment[];
  /** Largest distance found between curve and segments; 0 for lines and circular arcs. */
  readonly error: Mm;
}

/** Lengths that differ by less than this part are equal: a circle that went through a matrix and back is still a circle. */
const SAME_RATIO = 1e-9;

/** Points of the curve measured between two ends of a biarc, and the part of the tolerance they may use: the rest covers the peaks between them. */
const SAMPLES = 16;
const SAMPLED_SHARE = 0.8;

/** Halvings of a parameter range: 2^-30 of any curve here is far below a nanometre, so deeper means no progress. */
const DEEPEST = 30;

/** A biarc's arc turns at most this (radians), so that it cannot run round the far side of its circle. */
const MOST_SWEEP = 2;

/** Lines and arcs for a curve given in millimetres. */
export function fitCurve(curve: DrawnCurve, tolerance: Mm): Fitted {
  switch (curve.kind) {
    case 'straight':
      return { segments: [line(curve.a, curve.b)], error: 0 };
    case 'elliptic':
      return isCircular(curve) ? { segments: [circularSegment(curve)], error: 0 } : fitEllipse(curve, tolerance);
    case 'bezier':
      return isStraight(curve) ? { segments: [line(curve.a, curve.b)], error: 0 } : fitBezier(curve, tolerance);
  }
}

function isCircular(e: EllipticArc): boolean {
  const [lu, lv] = [len(e.u), len(e.v)];
  return Math.abs(lu - lv) <= SAME_RATIO * lu && Math.abs(dot(e.u, e.v)) <= SAME_RATIO * lu * lv;
}

/** An arc that rises less than SAME_POINT over its chord is the chord: its centre would be out of all measure. */
function circularSegment(e: EllipticArc): Segment {
  const sweep = e.sweep * Math.sign(cross(e.u, e.v));
  const flat = Math.abs(sweep) < 1 && dist(e.a, e.b) * Math.abs(tangent(sweep / 4)) <= 2 * SAME_POINT;
  return flat ? line(e.a, e.b) : { kind: 'arc', a: e.a, b: e.b, centre: e.centre, radius: len(e.u), sweep };
}

function isStraight(b: Bezier): boolean {
  const chord = sub(b.b, b.a);
  const l = len(chord);
  if (l === 0) return false;
  let reached = 0;
  return b.points.every((p) => {
    const along = dot(sub(p, b.a), chord) / (l * l);
    // Points that run back and forth would draw past the ends.
    const onward = along >= reached - SAME_RATIO && along <= 1 + SAME_RATIO;
    reached = Math.max(reached, along);
    return onward && Math.abs(cross(chord, sub(p, b.a))) <= SAME_RATIO * l * l;
  });
}

/** A curve as the fitter sees it; `tangent` is a unit vector in the direction of travel. */
interface SampledTrack {
  point(t: number): Point;
  tangent(t: number): Point;
}

function fitEllipse(e: EllipticArc, tolerance: Mm): Fitted {
  const track: SampledTrack = {
    point: (t) => (t <= 0 ? e.a : t >= 1 ? e.b : ellipsePoint(e.centre, e.u, e.v, e.start + e.sweep * t)),
    tangent: (t) => {
      const angle = e.start + e.sweep * t;
      const d = add(scale(e.u, -sine(angle)), scale(e.v, cosine(angle)));
      return unit(scale(d, Math.sign(e.sweep)));
    },
  };
  const parts = Math.max(1, Math.ceil(Math.abs(e.sweep) / (Math.PI / 2) - SAME_RATIO));
  return fitTrack(
    track,
    Array.from({ length: parts + 1 }, (_, i) => i / parts),
    tolerance,
  );
}

function fitBezier(b: Bezier, tolerance: Mm): Fitted {
  const track: SampledTrack = {
    point: (t) => (t <= 0 ? b.a : t >= 1 ? b.b : bezierAt(b, t).point),
    tangent: (t) => bezierTangent(b, t),
  };
  return fitTrack(track, [0, 0.5, 1], tolerance);
}

/** Point by de Casteljau on weighted points; the last two of the scheme give the tangent (Farin). */
function bezierAt(b: Bezier, t: number): { point: Point; tangent: Point } {
  let row = b.points.map((p, i) => ({ x: p.x * b.weights[i]!, y: p.y * b.weights[i]!, w: b.weights[i]! }));
  while (row.length > 2) row = row.slice(1).map((q, i) => blend(row[i]!, q, t));
  const [p, q] = [row[0]!, row[1]!];
  const last = blend(p, q, t);
  return {
    point: { x: last.x / last.w, y: last.y / last.w },
    tangent: { x: q.x / q.w - p.x / p.w, y: q.y / q.w - p.y / p.w },
  };
}

interface Weighted {
  readonly x: number;
  readonly y: number;
  readonly w: number;
}

function blend(p: Weighted, q: Weighted, t: number): Weighted {
  return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t, w: p.w + (q.w - p.w) * t };
}

/** Where the first derivative vanishes (doubled control points, cusps) the direction is that of a short step inward. */
function bezierTangent(b: Bezier, t: number): Point {
  const { tangent } = bezierAt(b, t);
  const size = Math.max(...b.points.map((p) => dist(p, b.a)));
  if (len(tangent) > SAME_RATIO * size) return unit(tangent);
  const inward = t < 0.5 ? 1e-4 : -1e-4;
  const here = bezierAt(b, t).point;
  const there = bezierAt(b, t + inward).point;
  return unit(scale(sub(there, here), Math.sign(inward)));
}

function fitTrack(track: SampledTrack, stops: readonly number[], tolerance: Mm): Fitted {
  const segments: Segment[] = [];
  let error = 0;
  const stretch = (t0: number, t1: number, depth: number): void => {
    const pair = biarc(track.point(t0), track.tangent(t0), track.point(t1), track.tangent(t1));
    const found = pair === null ? Infinity : deviation(track, t0, t1, pair);
    if (
      found > tolerance * SAMPLED_SHARE &&
      depth < DEEPEST &&
      dist(track.point(t0), track.point(t1)) + found > SHORTEST_PIECE
    ) {
      const middle = (t0 + t1) / 2;
      stretch(t0, middle, depth + 1);
      stretch(middle, t1, depth + 1);
      return;
    }
    segments.push(...(pair ?? [line(track.point(t0), track.point(t1))]));
    error = Math.max(error, pair === null ? dist(track.point(t0), track.point(t1)) : found);
  };
  for (let i = 1; i < stops.length; i++) stretch(stops[i - 1]!, stops[i]!, 0);
  return { segments: mergeArcs(segments), error };
}

/** Largest distance from points of the curve between t0 and t1 to the segments. */
function deviation(track: SampledTrack, t0: number, t1: number, segments: readonly Segment[]): Mm {
  let worst = 0;
  for (let i = 1; i < SAMPLES; i++) {
    const p = track.point(t0 + ((t1 - t0) * i) / SAMPLES);
    worst = Math.max(worst, Math.min(...segments.map((s) => nearestOn(s, p).distance)));
  }
  return worst;
}

/**
 * Two arcs from p to q with the end tangents s and e (unit), meeting tangentially where both control legs are equally
 * long (Bolton 1975). Null when no such pair turns less than MOST_SWEEP an arc: the stretch is to be halved.
 */
function biarc(p: Point, s: Point, q: Point, e: Point): Segment[] | null {
  const chord = sub(q, p);
  const l = legLength(chord, s, e);
  if (l === null) return null;
  const joint = lerp(step(p, s, l), step(q, e, -l), 0.5);
  const first = tangentArc(p, s, joint);
  const second = tangentArc(q, scale(e, -1), joint);
  if (first === null || second === null) return null;
  return [first, second.kind === 'line' ? line(joint, q) : { ...second, a: joint, b: q, sweep: -second.sweep }];
}

/** Solves |chord - l (s + e)| = 2 l for the positive l. */
function legLength(chord: Point, s: Point, e: Point): number | null {
  const along = dot(chord, add(s, e));
  const square = dot(chord, chord);
  const open = 2 * (1 - dot(s, e));
  if (square === 0) return null;
  if (open < 1e-14) return along > 0 ? square / (2 * along) : null;
  // The form that does not cancel when the tangents are nearly parallel.
  const root = Math.sqrt(along * along + open * square);
  return along > 0 ? square / (along + root) : (root - along) / open;
}

/** Arc from p in direction s to q; null when it would turn too far. */
function tangentArc(p: Point, s: Point, q: Point): Segment | null {
  const chord = sub(q, p);
  const half = arctangent2(cross(s, chord), dot(s, chord));
  return Math.abs(half) * 2 > MOST_SWEEP ? null : arcFromBulge(p, q, tangent(half / 2));
}

/** Neighbouring arcs of one circle become one: a spline that is an exact circle comes back as one arc. */
function mergeArcs(segments: readonly Segment[]): Segment[] {
  const merged: Segment[] = [];
  for (const s of segments) {
    const before = merged.at(-1);
    const joined = before === undefined ? null : oneArc(before, s);
    if (joined === null) merged.push(s);
    else merged[merged.length - 1] = joined;
  }
  return merged;
}

function oneArc(p: Segment, q: Segment): Segment | null {
  if (p.kind !== 'arc' || q.kind !== 'arc' || p.sweep * q.sweep < 0) return null;
  const near = SAME_RATIO * Math.max(p.radius, 1);
  if (Math.abs(p.radius - q.radius) > near || dist(p.centre, q.centre) > near) return null;
  const sweep = p.sweep + q.sweep;
  return Math.abs(sweep) > 2 * Math.PI - 1e-3 ? null : { ...p, b: q.b, sweep };
}
