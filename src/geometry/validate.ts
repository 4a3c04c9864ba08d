import { arctangent2 } from '../base/angles.ts';
import { SAME_POINT, SHORTEST_PIECE, TANGENT } from '../base/tolerance.ts';
import type { Mm, Mm2, Rad } from '../base/units.ts';
import { SegmentIndex, widen } from './measure/index.ts';
import { loopArea } from './measure/loop.ts';
import { cross, dist, dot, samePoint, scale } from './measure/point.ts';
import { directionAt, segmentBox, segmentLength } from './measure/segment.ts';
import { arcError, isFiniteSegment } from './measure/sound.ts';
import { type MeetPoint, meet } from './meet.ts';
import type { Loop, Point, Segment } from './types.ts';

/** What can be wrong with a loop. Indexes are those of its segments; `next` follows `index`, round the end. */
export type Defect =
  | { readonly kind: 'empty' }
  | { readonly kind: 'not finite'; readonly index: number }
  /** The segment does not start where the one before ends. */
  | {
      readonly kind: 'open';
      readonly index: number;
      readonly next: number;
      readonly from: Point;
      readonly to: Point;
      readonly size: Mm;
    }
  | { readonly kind: 'short piece'; readonly index: number; readonly at: Point; readonly length: Mm }
  /** Ends, centre, radius and sweep of an arc do not agree: by how much at the worse end. */
  | { readonly kind: 'bad arc'; readonly index: number; readonly at: Point; readonly error: Mm }
  | { readonly kind: 'crossing'; readonly first: number; readonly second: number; readonly at: Point }
  | { readonly kind: 'touching'; readonly first: number; readonly second: number; readonly at: Point }
  /** Two pieces run along one another. */
  | {
      readonly kind: 'overlap';
      readonly first: number;
      readonly second: number;
      readonly from: Point;
      readonly to: Point;
    }
  /** The edge turns straight back on itself. */
  | { readonly kind: 'spike'; readonly index: number; readonly next: number; readonly at: Point }
  | { readonly kind: 'no area' }
  | { readonly kind: 'clockwise'; readonly area: Mm2 };

export interface ValidateLimits {
  readonly samePoint: Mm;
  readonly shortest: Mm;
  readonly tangent: Rad;
}

export const LOOP_LIMITS: ValidateLimits = { samePoint: SAME_POINT, shortest: SHORTEST_PIECE, tangent: TANGENT };

/**
 * Everything wrong with a loop that should be one simple counter-clockwise edge; an empty list means sound.
 * Numbers and single pieces are judged first: where they are broken, crossings and area are not reckoned.
 */
export function validateLoop(loop: Loop, limits: ValidateLimits = LOOP_LIMITS): Defect[] {
  if (loop.length === 0) return [{ kind: 'empty' }];
  const broken = loop.flatMap<Defect>((s, index) => (isFiniteSegment(s) ? [] : [{ kind: 'not finite', index }]));
  if (broken.length > 0) return broken;
  const pieces = loop.flatMap((s, index) => pieceDefects(s, index, limits));
  const joints = loop.flatMap((_, index) => jointDefects(loop, index, limits));
  return [...pieces, ...joints, ...selfMeetings(loop, limits), ...senseDefects(loop, limits)];
}

function pieceDefects(s: Segment, index: number, limits: ValidateLimits): Defect[] {
  const error = arcError(s);
  // The centre of a very flat arc cannot be written down more exactly than its radius allows.
  const rounding = s.kind === 'arc' ? 4 * Number.EPSILON * Math.abs(s.radius) : 0;
  if (error > limits.samePoint + rounding) return [{ kind: 'bad arc', index, at: s.a, error }];
  const length = segmentLength(s);
  return length < limits.shortest ? [{ kind: 'short piece', index, at: s.a, length }] : [];
}

function jointDefects(loop: Loop, index: number, limits: ValidateLimits): Defect[] {
  const next = (index + 1) % loop.length;
  const s = loop[index]!;
  const n = loop[next]!;
  const size = dist(s.b, n.a);
  // Bit for bit, as the type promises; what is nearer than the same point is still reported, with its size.
  if (s.b.x !== n.a.x || s.b.y !== n.a.y) return [{ kind: 'open', index, next, from: s.b, to: n.a, size }];
  if (segmentLength(s) < limits.shortest || segmentLength(n) < limits.shortest) return [];
  const out = directionAt(s, 1);
  const on = directionAt(n, 0);
  const back = dot(out, on) < 0 && Math.abs(cross(out, on)) <= limits.tangent;
  return back ? [{ kind: 'spike', index, next, at: s.b }] : [];
}

function senseDefects(loop: Loop, limits: ValidateLimits): Defect[] {
  const area = loopArea(loop);
  if (Math.abs(area) <= limits.samePoint * limits.samePoint) return [{ kind: 'no area' }];
  return area < 0 ? [{ kind: 'clockwise', area }] : [];
}

function selfMeetings(loop: Loop, limits: ValidateLimits): Defect[] {
  const index = new SegmentIndex(loop);
  const found: Defect[] = [];
  for (const [i, s] of loop.entries()) {
    for (const j of index.within(widen(segmentBox(s), limits.samePoint))) {
      if (j > i) found.push(...pairDefects(loop, i, j, limits));
    }
  }
  return dropRepeats(found, limits);
}

function pairDefects(loop: Loop, first: number, second: number, limits: ValidateLimits): Defect[] {
  const p = loop[first]!;
  const q = loop[second]!;
  if (segmentLength(p) < limits.shortest || segmentLength(q) < limits.shortest) return [];
  const shared = sharedJoints(loop, first, second, limits);
  const m = meet(p, q, limits.samePoint);
  if (m.kind === 'none') return [];
  if (m.kind === 'overlap') {
    return m.stretches.map((s) => ({ kind: 'overlap', first, second, from: s.from.point, to: s.to.point }));
  }
  return m.points
    .filter((c) => !shared.some((joint) => samePoint(joint, c.point, limits.samePoint)))
    .map((c) => ({ kind: crossesAt(loop, first, second, c) ? 'crossing' : 'touching', first, second, at: c.point }));
}

/** Joints at which two neighbours are meant to meet; a loop of two pieces has two. Pieces too short to matter are passed over. */
function sharedJoints(loop: Loop, first: number, second: number, limits: ValidateLimits): Point[] {
  const joints: Point[] = [];
  if (nextLong(loop, first, limits) === second) joints.push(loop[first]!.b, loop[second]!.a);
  if (nextLong(loop, second, limits) === first) joints.push(loop[second]!.b, loop[first]!.a);
  return joints;
}

function nextLong(loop: Loop, index: number, limits: ValidateLimits): number {
  for (let step = 1; step < loop.length; step++) {
    const next = (index + step) % loop.length;
    if (segmentLength(loop[next]!) >= limits.shortest) return next;
  }
  return index;
}

/** Whether the loop passes through itself at a common point: the two ways out of one branch lie on different sides of the other. */
function crossesAt(loop: Loop, first: number, second: number, at: MeetPoint): boolean {
  const [a0, a1] = waysOut(loop, first, at.t);
  const [b0, b1] = waysOut(loop, second, at.u);
  return isBetween(a0, b0, a1) !== isBetween(a0, b1, a1);
}

/** Directions in which the loop leaves a point of it: back and on. */
function waysOut(loop: Loop, index: number, t: number): [Point, Point] {
  const before = t <= 0 ? loop[(index + loop.length - 1) % loop.length]! : loop[index]!;
  const after = t >= 1 ? loop[(index + 1) % loop.length]! : loop[index]!;
  const back = scale(directionAt(before, t <= 0 ? 1 : t), -1);
  return [back, directionAt(after, t >= 1 ? 0 : t)];
}

/** Whether v lies in the turn counter-clockwise from `from` to `to`. Parallel within TANGENT counts as on the nearer side: touching. */
function isBetween(from: Point, v: Point, to: Point): boolean {
  const whole = turnFrom(from, to);
  const part = turnFrom(from, v);
  return part > TANGENT && part < whole - TANGENT;
}

function turnFrom(from: Point, to: Point): Rad {
  const angle = arctangent2(cross(from, to), dot(from, to));
  return angle < 0 ? angle + 2 * Math.PI : angle;
}

/** One place is told once, although up to four pairs of pieces meet at two joints that coincide. */
function dropRepeats(found: readonly Defect[], limits: ValidateLimits): Defect[] {
  const kept: Defect[] = [];
  for (const d of found) {
    const again = 'at' in d && kept.some((k) => 'at' in k && samePoint(k.at, d.at, 10 * limits.samePoint));
    if (!again) kept.push(d);
  }
  return kept;
}
