import { sine } from '../../base/angles.ts';
import { cube } from '../../base/powers.ts';
import type { Mm, Mm2 } from '../../base/units.ts';
import type { Arc, Box, Chain, Loop, Point, Region, Segment } from '../types.ts';
import { cross, fromAngle, sub } from './point.ts';
import {
  directionAt,
  type Nearest,
  nearestOn,
  pointAt,
  reverseSegment,
  segmentBox,
  segmentLength,
  subSegment,
} from './segment.ts';
import { startAngle } from './sweep.ts';

export const EMPTY_BOX: Box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };

/** Length of a chain, open or closed. */
export function loopLength(chain: Chain): Mm {
  return chain.reduce((sum, s) => sum + segmentLength(s), 0);
}

/** Signed area, counter-clockwise positive: the polygon of chords plus the cap over each arc. Exact up to rounding. */
export function loopArea(loop: Loop): Mm2 {
  const origin = loop[0]?.a;
  if (origin === undefined) return 0;
  let sum = 0;
  for (const s of loop) {
    sum += cross(sub(s.a, origin), sub(s.b, origin)) / 2;
    if (s.kind === 'arc') sum += capArea(s);
  }
  return sum;
}

/** Signed area between an arc and its chord. */
function capArea(s: Arc): Mm2 {
  return (s.radius * s.radius * angleLessSine(s.sweep)) / 2;
}

/** x - sin x; by series where the difference would cancel. */
function angleLessSine(x: number): number {
  if (Math.abs(x) > 0.3) return x - sine(x);
  const q = x * x;
  return ((x * q) / 6) * (1 - (q / 20) * (1 - (q / 42) * (1 - (q / 72) * (1 - q / 110))));
}

export function regionArea(region: Region): Mm2 {
  return region.holes.reduce((sum, h) => sum - Math.abs(loopArea(h)), Math.abs(loopArea(region.outer)));
}

/** Centre of area; undefined for a loop that encloses none. */
export function loopCentroid(loop: Loop): Point | undefined {
  const origin = loop[0]?.a;
  const area = loopArea(loop);
  if (origin === undefined || area === 0) return undefined;
  let mx = 0;
  let my = 0;
  for (const s of loop) {
    const a = sub(s.a, origin);
    const b = sub(s.b, origin);
    const w = cross(a, b) / 6;
    mx += w * (a.x + b.x);
    my += w * (a.y + b.y);
    if (s.kind === 'arc') {
      const [cx, cy] = capMoment(s, origin);
      mx += cx;
      my += cy;
    }
  }
  return { x: origin.x + mx / area, y: origin.y + my / area };
}

/** First moment of the cap about `origin`: its area at the centre plus 2/3 r^3 sin^3(sweep/2) along the bisector. */
function capMoment(s: Arc, origin: Point): [number, number] {
  const area = capArea(s);
  const half = sine(s.sweep / 2);
  const lever = (2 / 3) * cube(s.radius) * cube(half);
  const along = fromAngle(startAngle(s) + s.sweep / 2);
  return [area * (s.centre.x - origin.x) + lever * along.x, area * (s.centre.y - origin.y) + lever * along.y];
}

export function uniteBoxes(a: Box, b: Box): Box {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

/** Tight box of a chain; EMPTY_BOX for an empty one. */
export function loopBox(chain: Chain): Box {
  return chain.reduce<Box>((box, s) => uniteBoxes(box, segmentBox(s)), EMPTY_BOX);
}

/** The same chain travelled the other way. */
export function reverseLoop(chain: Chain): Chain {
  return chain.map(reverseSegment).reverse();
}

/** The loop in the sense asked for; a loop without area is returned as it is. */
export function orient(loop: Loop, sense: 'ccw' | 'cw'): Loop {
  const area = loopArea(loop);
  return area === 0 || area > 0 === (sense === 'ccw') ? loop : reverseLoop(loop);
}

export interface PointOnLoop {
  readonly point: Point;
  /** Unit tangent in the direction of travel. */
  readonly direction: Point;
  /** Index of the segment and fraction along it. */
  readonly index: number;
  readonly t: number;
}

/** Place at length s along a loop, wrapped round; undefined for a loop of no length. At a corner: the start of the later segment. */
export function pointAlong(loop: Loop, s: Mm): PointOnLoop | undefined {
  const total = loopLength(loop);
  if (!(total > 0)) return undefined;
  let rest = wrap(s, total);
  const last = loop.length - 1;
  for (const [index, seg] of loop.entries()) {
    const l = segmentLength(seg);
    if (rest < l || index === last) return spotOn(seg, index, l === 0 ? 0 : Math.min(1, rest / l));
    rest -= l;
  }
  return undefined;
}

function spotOn(seg: Segment, index: number, t: number): PointOnLoop {
  return { point: pointAt(seg, t), direction: directionAt(seg, t), index, t };
}

/** s brought into [0, total). */
function wrap(s: Mm, total: Mm): Mm {
  const w = s - total * Math.floor(s / total);
  return w >= total || w < 0 ? 0 : w;
}

export interface NearestOnLoop {
  /** Length along the loop from its start. */
  readonly s: Mm;
  readonly point: Point;
  readonly distance: Mm;
  readonly index: number;
  readonly t: number;
}

/** Nearest place of a chain to p (the first of equals); undefined for an empty chain. */
export function positionOf(chain: Chain, p: Point): NearestOnLoop | undefined {
  let best: Nearest | undefined;
  let index = 0;
  let s = 0;
  let before = 0;
  for (let i = 0; i < chain.length; i++) {
    const seg = chain[i]!;
    const n = nearestOn(seg, p);
    const l = segmentLength(seg);
    if (best === undefined || n.distance < best.distance) {
      best = n;
      index = i;
      s = before + n.t * l;
    }
    before += l;
  }
  return best && { ...best, index, s };
}

/** The same loop begun at length s. A loop of no length is returned as it is. */
export function startAt(loop: Loop, s: Mm): Loop {
  const spot = pointAlong(loop, s);
  if (spot === undefined) return loop;
  const seg = loop[spot.index]!;
  const after = loop.slice(spot.index + 1);
  const before = loop.slice(0, spot.index);
  if (spot.t <= 0) return [seg, ...after, ...before];
  if (spot.t >= 1) return [...after, ...before, seg];
  return [subSegment(seg, spot.t, 1), ...after, ...before, subSegment(seg, 0, spot.t)];
}

/** Open piece of a loop from length s0 forward to s1, wrapping; empty when both name the same place. */
export function chainBetween(loop: Loop, s0: Mm, s1: Mm): Chain {
  const total = loopLength(loop);
  if (!(total > 0)) return [];
  return takeLength(startAt(loop, s0), wrap(s1 - s0, total));
}

/** First `length` of a chain, or all of it. */
export function takeLength(chain: Chain, length: Mm): Chain {
  const taken: Segment[] = [];
  let rest = length;
  for (const seg of chain) {
    if (rest <= 0) break;
    const l = segmentLength(seg);
    taken.push(rest >= l ? seg : subSegment(seg, 0, rest / l));
    rest -= l;
  }
  return taken;
}
