/** Exact clearances of a path from edges: the least distance of two segments, and on which side the path runs. */
import type { Mm } from '../../base/units.ts';
import { segmentGap } from '../../geometry/measure/distance.ts';
import type { Box, Segment } from '../../geometry/types.ts';
import { deeperThan } from './depth.ts';
import type { Edge } from './pieces.ts';

/** Whether two boxes come nearer than a distance along both axes. */
export function near(a: Box, b: Box, distance: Mm): boolean {
  return (
    a.minX - b.maxX < distance && b.minX - a.maxX < distance && a.minY - b.maxY < distance && b.minY - a.maxY < distance
  );
}

/** Least distance from a path to an edge where that is below `limit`; otherwise some value not below it. */
export function gapTo(edge: Edge, path: Segment, box: Box, limit: Mm): Mm {
  let best = limit;
  if (!near(edge.box, box, limit)) return best;
  for (const [i, piece] of edge.pieces.entries()) {
    if (!near(edge.boxes[i]!, box, best)) continue;
    const gap = segmentGap(piece, path).distance;
    if (gap < best) best = gap;
  }
  return best;
}

/**
 * How much a disc that needs `need` round its path lacks outside an edge: 0 or less when it stays clear, `need` plus the depth of
 * its start when that lies inside.
 */
export function lackOutside(edge: Edge, path: Segment, box: Box, need: Mm): Mm {
  if (!near(edge.box, box, Math.max(need, 0))) return 0;
  // A cone above the edge's chamfer: its axis may come so far inside.
  if (need <= 0) return deeperThan(edge, path, -need);
  return edge.inside(path.a) ? need + gapTo(edge, path, box, 1e3) : need - gapTo(edge, path, box, need);
}

/** The same for a disc that must stay within an edge. */
export function lackInside(edge: Edge, path: Segment, box: Box, need: Mm): Mm {
  if (!edge.inside(path.a)) return need + 1e3;
  return need <= 0 ? 0 : need - gapTo(edge, path, box, need);
}
