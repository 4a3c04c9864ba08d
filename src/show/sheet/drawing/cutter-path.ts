/**
 * Where the centre of a round cutter runs along a closed edge, exactly: each line moved by the radius, each arc about its own
 * centre, an arc about each corner that the cutter swings round; then everything nearer to the edge than the radius is
 * taken off, which trims inside corners. Every piece is tried against every other: meant for outlines one would turn by hand.
 */
import { arctangent2 } from '../../../base/angles.ts';
import { SHORTEST_PIECE, TANGENT } from '../../../base/tolerance.ts';
import type { Mm } from '../../../base/units.ts';
import { crossings } from '../../../geometry/measure/crossing.ts';
import { distanceToLoop } from '../../../geometry/measure/distance.ts';
import { angleOf, cross, dot, step } from '../../../geometry/measure/point.ts';
import { arc, directionAt, line, pointAt, segmentLength, subSegment } from '../../../geometry/measure/segment.ts';
import { startAngle } from '../../../geometry/measure/sweep.ts';
import type { Loop, Point, Segment } from '../../../geometry/types.ts';

export interface CutterPiece {
  /** Path of the cutter's centre. */
  readonly path: Segment;
  /** Piece of the edge it cuts; null: it swings round an outside corner. */
  readonly source: number | null;
}

export type CutterPath =
  | {
      readonly kind: 'path';
      /** In order round the edge. */
      readonly pieces: readonly CutterPiece[];
      /** Pieces of the edge that the cutter reaches not at all, or not to both ends: inside corners sharper than it. */
      readonly short: readonly number[];
    }
  | { readonly kind: 'too many'; readonly count: number };

/** More pieces than this nobody turns by hand: such an outline is a fitted curve. */
export const MOST_PIECES = 60;

/** Slack of the trimming test: far above rounding, far below anything that shows. */
const SLACK: Mm = 1e-6;

/** `edge` counter-clockwise; the cutter runs outside it, or inside (a pocket). */
export function cutterPath(edge: Loop, side: 'outside' | 'inside', radius: Mm): CutterPath {
  if (edge.length > MOST_PIECES) return { kind: 'too many', count: edge.length };
  const raw = rawPieces(edge, side === 'outside' ? radius : -radius);
  const pieces = raw.flatMap((p) => trimmed(p, raw, edge, radius));
  const whole = new Map(raw.flatMap((p) => (p.source === null ? [] : [[p.source, segmentLength(p.path)] as const])));
  const kept = new Map<number, Mm>();
  for (const p of pieces) {
    if (p.source !== null) kept.set(p.source, (kept.get(p.source) ?? 0) + segmentLength(p.path));
  }
  const short = edge.flatMap((_, i) => ((kept.get(i) ?? -1) < (whole.get(i) ?? 0) - SHORTEST_PIECE ? [i] : []));
  return { kind: 'path', pieces, short };
}

/** `offset` positive: to the right of the direction of travel, which is outside. */
function rawPieces(edge: Loop, offset: Mm): CutterPiece[] {
  return edge.flatMap((s, i): CutterPiece[] => {
    const moved = movedPiece(s, offset);
    const corner = cornerPiece(s, edge[(i + 1) % edge.length]!, offset);
    return [
      ...(moved === null ? [] : [{ path: moved, source: i }]),
      ...(corner === null ? [] : [{ path: corner, source: null }]),
    ];
  });
}

function movedPiece(s: Segment, offset: Mm): Segment | null {
  if (s.kind === 'line') return line(rightOf(s, 0, offset), rightOf(s, 1, offset));
  const radius = s.radius + Math.sign(s.sweep) * offset;
  return radius <= SHORTEST_PIECE ? null : arc(s.centre, radius, startAngle(s), s.sweep);
}

function rightOf(s: Segment, t: number, offset: Mm): Point {
  const d = directionAt(s, t);
  return step(t === 0 ? s.a : s.b, { x: d.y, y: -d.x }, offset);
}

/** Round a corner that opens towards the cutter. */
function cornerPiece(s: Segment, next: Segment, offset: Mm): Segment | null {
  const [into, out] = [directionAt(s, 1), directionAt(next, 0)];
  const turn = arctangent2(cross(into, out), dot(into, out));
  if (Math.abs(turn) <= TANGENT || Math.sign(turn) !== Math.sign(offset)) return null;
  const start = angleOf({ x: into.y * Math.sign(offset), y: -into.x * Math.sign(offset) });
  return arc(s.b, Math.abs(offset), start, turn);
}

function trimmed(piece: CutterPiece, all: readonly CutterPiece[], edge: Loop, radius: Mm): CutterPiece[] {
  const cuts = all.flatMap((o) => (o === piece ? [] : crossings(piece.path, o.path).map((c) => c.t)));
  const stops = [0, ...cuts.filter((t) => t > 1e-9 && t < 1 - 1e-9), 1].sort((a, b) => a - b);
  const kept: [number, number][] = [];
  for (const [i, from] of stops.slice(0, -1).entries()) {
    const to = stops[i + 1]!;
    if (distanceToLoop(edge, pointAt(piece.path, (from + to) / 2)) < radius - SLACK) continue;
    const last = kept.at(-1);
    if (last !== undefined && last[1] === from) last[1] = to;
    else kept.push([from, to]);
  }
  return kept
    .map(([from, to]) => ({ ...piece, path: subSegment(piece.path, from, to) }))
    .filter((p) => segmentLength(p.path) > SHORTEST_PIECE);
}
