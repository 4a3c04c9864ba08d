import Flatbush from 'flatbush';
import { SAME_POINT } from '../base/tolerance.ts';
import { crossings } from './measure/crossing.ts';
import { dist, lerp } from './measure/point.ts';
import { nearestOn, pointAt, segmentBox } from './measure/segment.ts';
import { Nodes } from './nodes.ts';
import { touches } from './touch.ts';
import type { Point, Segment } from './types.ts';

/** A part of a curve that nothing crosses, between two numbered points. */
export interface Piece {
  /** Index into the curves that were cut. */
  readonly curve: number;
  /** Fractions of the whole curve. */
  readonly t0: number;
  readonly t1: number;
  /** Indexes into `points`. */
  readonly from: number;
  readonly to: number;
}

export interface Arrangement {
  readonly curves: readonly Segment[];
  readonly pieces: readonly Piece[];
  readonly points: readonly Point[];
}

/**
 * Cuts curves at all points they share: crossings, touches, and ends that lie on another curve, which also covers
 * curves that run along each other. Common points are found within SAME_POINT and then are one point.
 * Arcs turn less than 3/4 of a circle (see `ready.ts`), so that a fraction of an arc is never ambiguous.
 */
export function arrange(curves: readonly Segment[]): Arrangement {
  const nodes = new Nodes();
  const cuts: Cut[][] = curves.map((c) => [
    { t: 0, node: nodes.at(c.a) },
    { t: 1, node: nodes.at(c.b) },
  ]);
  if (curves.length > 0) cutAll(curves, cuts, nodes);
  const pieces: Piece[] = [];
  for (let i = 0; i < curves.length; i++) addPieces(i, cuts[i]!, pieces);
  return { curves, pieces, points: nodes.points };
}

/** The piece as a segment that ends exactly in the numbered points. */
export function pieceSegment({ curves, points }: Arrangement, p: Piece): Segment {
  const s = curves[p.curve]!;
  const a = points[p.from]!;
  const b = points[p.to]!;
  return s.kind === 'line' ? { kind: 'line', a, b } : { ...s, a, b, sweep: s.sweep * (p.t1 - p.t0) };
}

/** Half way along the piece, on the exact curve. */
export function pieceMiddle({ curves }: Arrangement, p: Piece): Point {
  return pointAt(curves[p.curve]!, (p.t0 + p.t1) / 2);
}

interface Cut {
  readonly t: number;
  readonly node: number;
}

function cutAll(curves: readonly Segment[], cuts: Cut[][], nodes: Nodes): void {
  const index = new Flatbush(curves.length);
  const boxes = curves.map(segmentBox);
  for (const b of boxes) index.add(b.minX, b.minY, b.maxX, b.maxY);
  index.finish();
  for (let i = 0; i < curves.length; i++) {
    const { minX, minY, maxX, maxY } = boxes[i]!;
    const near = index.search(minX - SAME_POINT, minY - SAME_POINT, maxX + SAME_POINT, maxY + SAME_POINT, (j) => j > i);
    for (const j of near) cutPair(curves[i]!, curves[j]!, cuts[i]!, cuts[j]!, nodes);
  }
}

function cutPair(p: Segment, q: Segment, cutsP: Cut[], cutsQ: Cut[], nodes: Nodes): void {
  const shared: Point[] = [];
  cutAtEnd(q, p.a, cutsP[0]!.node, cutsQ, shared);
  cutAtEnd(q, p.b, cutsP[1]!.node, cutsQ, shared);
  cutAtEnd(p, q.a, cutsQ[0]!.node, cutsP, shared);
  cutAtEnd(p, q.b, cutsQ[1]!.node, cutsP, shared);
  const straight = p.kind === 'line' && q.kind === 'line';
  if (straight && shared.length > 0) return;
  let found = crossings(p, q);
  if (found.length === 0 && !straight) found = touches(p, q);
  for (const c of found) {
    if (shared.some((e) => runsAlong(p, q, e, c.point))) continue;
    const node = nodes.at(c.point);
    cutsP.push({ t: c.t, node });
    cutsQ.push({ t: c.u, node });
  }
}

function cutAtEnd(s: Segment, end: Point, node: number, cuts: Cut[], shared: Point[]): void {
  const n = nearestOn(s, end);
  if (n.distance > SAME_POINT) return;
  shared.push(end);
  if (cuts[0]!.node !== node && cuts[1]!.node !== node) cuts.push({ t: n.t, node });
}

/**
 * Curves that touch at a common end seem to cross again close by, where rounding decides. Such a crossing is the end
 * itself: it is near, and half way to it the curves are still together.
 */
function runsAlong(p: Segment, q: Segment, end: Point, crossing: Point): boolean {
  if (dist(end, crossing) > TANGENT_REACH) return false;
  const middle = nearestOn(p, lerp(end, crossing, 0.5)).point;
  return nearestOn(q, middle).distance <= TANGENT_GAP;
}

/** False crossings of tangent curves lie within the root of rounding: about 1e-6 mm for radii up to 100 mm; ten times that. */
const TANGENT_REACH = 1e-5;
/** Gap below which two curves cannot be told apart: a hundredth of SAME_POINT. */
const TANGENT_GAP = 1e-9;

function addPieces(curve: number, cuts: Cut[], pieces: Piece[]): void {
  cuts.sort((a, b) => a.t - b.t || a.node - b.node);
  let last = cuts[0]!;
  for (let k = 1; k < cuts.length; k++) {
    const cut = cuts[k]!;
    if (cut.node !== last.node) pieces.push({ curve, t0: last.t, t1: cut.t, from: last.node, to: cut.node });
    last = cut;
  }
}
