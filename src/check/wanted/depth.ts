/** How deep a path runs inside an edge: for a cone, whose axis may pass over what it does not cut. */
import { cosine } from '../../base/angles.ts';
import type { Mm } from '../../base/units.ts';
import { nearestOn, pointAt, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Arc, Line, Point, Segment } from '../../geometry/types.ts';
import type { Edge } from './pieces.ts';

/** A path is taken as no deeper than allowed within this: a fifth of the gouge limit. */
const WITHIN: Mm = 0.001;

/**
 * By how much a path is deeper inside an edge than `allowed`; 0 or less: nowhere, within 0.001 mm. Some such depth, not the greatest. A
 * stretch is done with when a piece of the edge is near enough all along it, or its middle so far from the edge that all of it lies on one side; else it is halved.
 */
export function deeperThan(edge: Edge, path: Segment, allowed: Mm): Mm {
  const left: Segment[] = [path];
  for (let s = left.pop(); s !== undefined; s = left.pop()) {
    const middle = pointAt(s, 0.5);
    const half = segmentLength(s) / 2;
    const depth = distanceTo(edge, middle);
    if (depth + half <= allowed + WITHIN || edge.pieces.some((p) => farthest(s!, p) <= allowed + WITHIN)) continue;
    if (depth >= half && !edge.inside(middle)) continue;
    if (depth > allowed + WITHIN && edge.inside(middle)) return depth - allowed;
    left.push(subSegment(s, 0, 0.5), subSegment(s, 0.5, 1));
  }
  return 0;
}

function distanceTo(edge: Edge, p: Point): Mm {
  return edge.pieces.reduce((best, s) => Math.min(best, nearestOn(s, p).distance), Number.POSITIVE_INFINITY);
}

/** No point of a stretch is further from a piece than this; Infinity where nothing so simple can be said. */
function farthest(s: Segment, piece: Segment): Mm {
  const ends = Math.max(nearestOn(piece, s.a).distance, nearestOn(piece, s.b).distance);
  if (piece.kind === 'line') return ends + (s.kind === 'line' ? 0 : rise(s));
  if (!faces(piece, s)) return Number.POSITIVE_INFINITY;
  if (s.kind === 'line') return Math.max(ends, piece.radius - nearestOn(s, piece.centre).distance);
  const apart = Math.hypot(s.centre.x - piece.centre.x, s.centre.y - piece.centre.y);
  return Math.abs(s.radius - piece.radius) + apart;
}

/** Of an arc over its chord. A distance from a straight piece is greatest at an end of a chord, which is convex. */
function rise(s: Arc): Mm {
  return Math.abs(s.sweep) >= Math.PI ? 2 * s.radius : s.radius * (1 - cosine(s.sweep / 2));
}

/** Seen from its centre a piece lies before all of a stretch: both ends and the middle, no more than half a turn apart. */
function faces(piece: Arc, s: Line | Arc): boolean {
  if (s.kind === 'arc' && Math.abs(s.sweep) > Math.PI) return false;
  if (Math.abs(piece.sweep) > 1.5 * Math.PI) return false;
  return [s.a, pointAt(s, 0.5), s.b].every((p) => {
    const radial = Math.abs(Math.hypot(p.x - piece.centre.x, p.y - piece.centre.y) - piece.radius);
    return nearestOn(piece, p).distance <= radial + 1e-6;
  });
}
