import Flatbush from 'flatbush';
import { SAME_POINT } from '../../base/tolerance.ts';
import { surelyApart } from '../apart.ts';
import { pointAt, segmentBox } from '../measure/segment.ts';
import { meetPoints } from '../meet.ts';
import type { Point, Segment } from '../types.ts';
import { Nodes } from './nodes.ts';
import { withTrueSweep } from './ready.ts';

/** A part of a curve that nothing crosses, between two numbered points. */
export interface CurvePiece {
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
  readonly pieces: readonly CurvePiece[];
  readonly points: readonly Point[];
}

/**
 * Cuts curves at all points they share: crossings, touches, and ends that lie on another curve, which also covers
 * curves that run along each other. Common points are found within SAME_POINT and then are one point.
 * `smooth[i]` says that curve i runs into curve i + 1 without a corner and that they share nothing else.
 * Arcs turn less than 3/4 of a circle (see `ready.ts`), so that a fraction of an arc is never ambiguous.
 */
export function arrange(curves: readonly Segment[], smooth: readonly boolean[] = []): Arrangement {
  const nodes = new Nodes();
  const cuts = curves.map((c): Cuts => ({ a: nodes.at(c.a), b: nodes.at(c.b), inside: undefined }));
  if (curves.length > 0) cutAll(curves, smooth, cuts, nodes);
  const pieces: CurvePiece[] = [];
  for (let i = 0; i < curves.length; i++) addPieces(i, cuts[i]!, pieces);
  return { curves, pieces, points: nodes.points };
}

/** The piece as a segment that ends exactly in the numbered points. */
export function pieceSegment({ curves, points }: Arrangement, p: CurvePiece): Segment {
  const s = curves[p.curve]!;
  const a = points[p.from]!;
  const b = points[p.to]!;
  return s.kind === 'line' ? { kind: 'line', a, b } : withTrueSweep({ ...s, a, b, sweep: s.sweep * (p.t1 - p.t0) });
}

/** Half way along the piece, on the exact curve. */
export function pieceMiddle({ curves }: Arrangement, p: CurvePiece): Point {
  return pointAt(curves[p.curve]!, (p.t0 + p.t1) / 2);
}

interface CurveCut {
  readonly t: number;
  readonly node: number;
}

/** Numbers of a curve's ends, and where it is cut between them. */
interface Cuts {
  readonly a: number;
  readonly b: number;
  inside: CurveCut[] | undefined;
}

function cutAll(curves: readonly Segment[], smooth: readonly boolean[], cuts: readonly Cuts[], nodes: Nodes): void {
  const index = new Flatbush(curves.length);
  const boxes = curves.map(segmentBox);
  for (const b of boxes) index.add(b.minX, b.minY, b.maxX, b.maxY);
  index.finish();
  const tol = SAME_POINT;
  for (let i = 0; i < curves.length; i++) {
    const { minX, minY, maxX, maxY } = boxes[i]!;
    const first = smooth[i] ? i + 2 : i + 1;
    const p = curves[i]!;
    const mayMeet = (j: number): boolean => j >= first && !surelyApart(p, curves[j]!, tol);
    const near = index.search(minX - tol, minY - tol, maxX + tol, maxY + tol, mayMeet);
    // Ascending, so that the order of the index does not decide which of two near points stands for both.
    for (const j of near.sort((m, n) => m - n)) cutPair(p, curves[j]!, cuts[i]!, cuts[j]!, nodes);
  }
}

function cutPair(p: Segment, q: Segment, cutsP: Cuts, cutsQ: Cuts, nodes: Nodes): void {
  for (const { point, t, u } of meetPoints(p, q)) {
    const node = nodes.at(point);
    cutAt(cutsP, t, node);
    cutAt(cutsQ, u, node);
  }
}

function cutAt(cuts: Cuts, t: number, node: number): void {
  if (node === cuts.a || node === cuts.b) return;
  if (cuts.inside) cuts.inside.push({ t, node });
  else cuts.inside = [{ t, node }];
}

function addPieces(curve: number, { a, b, inside }: Cuts, pieces: CurvePiece[]): void {
  let from = a;
  let t0 = 0;
  for (const cut of inside?.sort((p, q) => p.t - q.t || p.node - q.node) ?? []) {
    if (cut.node !== from) pieces.push({ curve, t0, t1: cut.t, from, to: cut.node });
    from = cut.node;
    t0 = cut.t;
  }
  if (from !== b) pieces.push({ curve, t0, t1: 1, from, to: b });
}
