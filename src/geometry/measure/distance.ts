import type { Mm } from '../../base/units.ts';
import type { Arc, Loop, Point, Segment } from '../types.ts';
import { crossings } from './crossing.ts';

import { angleOf, isZero, step, sub, unit } from './point.ts';
import { type Nearest, nearestOn } from './segment.ts';
import { angleIsSwept } from './sweep.ts';

/** Nearest pair of points of two things: p on the first, q on the second. */
export interface Gap {
  readonly distance: Mm;
  readonly p: Point;
  readonly q: Point;
}

export const NO_GAP: Gap = { distance: Infinity, p: { x: NaN, y: NaN }, q: { x: NaN, y: NaN } };

/** Distance from p to the curve of a loop or chain (never negative); infinite for an empty one. */
export function distanceToLoop(loop: Loop, p: Point): Mm {
  return loop.reduce((best, s) => Math.min(best, nearestOn(s, p).distance), Infinity);
}

/**
 * Least distance between two segments, exact for lines and arcs: zero where they cross, otherwise at an end of one or at a
 * point of an arc on the line through its centre square to the other (textbook: stationary points of the distance).
 */
export function segmentGap(first: Segment, second: Segment): Gap {
  const crossing = crossings(first, second)[0];
  if (crossing !== undefined) return { distance: 0, p: crossing.point, q: crossing.point };
  let best = NO_GAP;
  for (const p of candidates(first, second)) {
    const n: Nearest = nearestOn(second, p);
    if (n.distance < best.distance) best = { distance: n.distance, p, q: n.point };
  }
  for (const q of [second.a, second.b]) {
    const n = nearestOn(first, q);
    if (n.distance < best.distance) best = { distance: n.distance, p: n.point, q };
  }
  if (first.kind === 'line' && second.kind === 'arc') best = closer(best, flip(gapFromArc(second, first)));
  return best;
}

function candidates(first: Segment, second: Segment): Point[] {
  return first.kind === 'line' ? [first.a, first.b] : [first.a, first.b, ...squarePoints(first, second)];
}

function gapFromArc(arc: Arc, other: Segment): Gap {
  let best = NO_GAP;
  for (const p of squarePoints(arc, other)) {
    const n = nearestOn(other, p);
    if (n.distance < best.distance) best = { distance: n.distance, p, q: n.point };
  }
  return best;
}

/** Points of an arc where it can be nearest to the inside of another segment: towards and away from the other's centre or foot. */
function squarePoints(arc: Arc, other: Segment): Point[] {
  const target = other.kind === 'arc' ? other.centre : nearestOn(other, arc.centre).point;
  const u = unit(sub(target, arc.centre));
  if (isZero(u)) return [];
  return [1, -1].flatMap((sign) => {
    const along = { x: sign * u.x, y: sign * u.y };
    return angleIsSwept(arc, angleOf(along)) ? [step(arc.centre, along, arc.radius)] : [];
  });
}

function closer(a: Gap, b: Gap): Gap {
  return b.distance < a.distance ? b : a;
}

function flip(g: Gap): Gap {
  return { distance: g.distance, p: g.q, q: g.p };
}

/** Least distance between two loops' curves, every pair tried; use SegmentIndex for many. */
export function loopGap(first: Loop, second: Loop): Gap {
  let best = NO_GAP;
  for (const s of first) for (const t of second) best = closer(best, segmentGap(s, t));
  return best;
}
