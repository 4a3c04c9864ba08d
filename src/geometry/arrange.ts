import Flatbush from 'flatbush';
import { SAME_POINT } from '../base/tolerance.ts';
import { pointAt, segmentBox } from './measure/segment.ts';
import { meetPoints } from './meet.ts';
import { Nodes } from './nodes.ts';
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
  for (const m of meetPoints(p, q)) {
    const node = nodes.at(m.point);
    if (cutsP[0]!.node !== node && cutsP[1]!.node !== node) cutsP.push({ t: m.t, node });
    if (cutsQ[0]!.node !== node && cutsQ[1]!.node !== node) cutsQ.push({ t: m.u, node });
  }
}

function addPieces(curve: number, cuts: Cut[], pieces: Piece[]): void {
  cuts.sort((a, b) => a.t - b.t || a.node - b.node);
  let last = cuts[0]!;
  for (let k = 1; k < cuts.length; k++) {
    const cut = cuts[k]!;
    if (cut.node !== last.node) pieces.push({ curve, t0: last.t, t1: cut.t, from: last.node, to: cut.node });
    last = cut;
  }
}
