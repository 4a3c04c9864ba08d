/** The edge of what two outlines give together: one less the other, or what lies in both. Each piece is kept by where its middle lies. */
import type { Mm } from '../../base/units.ts';
import { crossings } from '../../geometry/measure/crossing.ts';
import { dot } from '../../geometry/measure/point.ts';
import {
  directionAt,
  nearestOn,
  pointAt,
  reverseSegment,
  segmentLength,
  subSegment,
} from '../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../geometry/types.ts';
import { near } from './clear.ts';
import { type Edge, withBoxes } from './pieces.ts';

/** Below this two curves run along each other. */
const ALONG: Mm = 1e-6;

export function lessEdge(whole: Edge, opening: Edge): Edge {
  const pieces = [
    ...cutBy(whole, opening).filter((s) => ['outside', 'against'].includes(lies(opening, pointAt(s, 0.5), s))),
    ...wallOf(whole, opening),
  ];
  return withBoxes(pieces, (p) => whole.inside(p) && !opening.inside(p));
}

export function withinEdge(one: Edge, other: Edge): Edge {
  const pieces = [
    ...cutBy(one, other).filter((s) => ['inside', 'along'].includes(lies(other, pointAt(s, 0.5), s))),
    ...cutBy(other, one).filter((s) => lies(one, pointAt(s, 0.5), s) === 'inside'),
  ];
  return withBoxes(pieces, (p) => one.inside(p) && other.inside(p));
}

/** Where the middle of a piece lies to an edge; on it: whether both have their inside on the same side. */
function lies(edge: Edge, p: Point, piece: Segment): 'inside' | 'outside' | 'along' | 'against' {
  const on = edge.pieces.find((s, i) => near(edge.boxes[i]!, boxAt(p), ALONG) && nearestOn(s, p).distance < ALONG);
  if (on === undefined) return edge.inside(p) ? 'inside' : 'outside';
  return dot(directionAt(on, nearestOn(on, p).t), directionAt(piece, 0.5)) > 0 ? 'along' : 'against';
}

function boxAt(p: Point) {
  return { minX: p.x, maxX: p.x, minY: p.y, maxY: p.y };
}

/** Pieces of an edge parted where another meets it. */
function cutBy(edge: Edge, other: Edge): Segment[] {
  return edge.pieces.flatMap((s, i) => {
    const cuts = [0, 1];
    for (const [k, o] of other.pieces.entries()) {
      if (!near(edge.boxes[i]!, other.boxes[k]!, ALONG)) continue;
      for (const c of crossings(s, o)) cuts.push(c.t);
      for (const end of [o.a, o.b]) {
        const n = nearestOn(s, end);
        if (n.distance < ALONG && n.t > 0 && n.t < 1) cuts.push(n.t);
      }
    }
    cuts.sort((a, b) => a - b);
    const length = segmentLength(s);
    return cuts.slice(1).flatMap((t, k) => ((t - cuts[k]!) * length < ALONG ? [] : [subSegment(s, cuts[k]!, t)]));
  });
}

/** The edge of a floor where it lies within the part, turned so that what stays is on its left. */
export function wallOf(part: Edge, floor: Edge): Segment[] {
  return cutBy(floor, part)
    .filter((s) => lies(part, pointAt(s, 0.5), s) === 'inside')
    .map(reverseSegment);
}
