import Flatbush from 'flatbush';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { loopArea, loopLength } from '../measure/loop.ts';
import { dist } from '../measure/point.ts';
import { nearestOn, segmentBox } from '../measure/segment.ts';
import type { Loop, Point, Region, Segment } from '../types.ts';
import { arrange } from './arrange.ts';
import { choose } from './choose.ts';
import { parallelCurves } from './parallels.ts';
import { FARTHEST, readyRegion } from './ready.ts';
import { regionsOf } from './regions.ts';
import { type Stitched, stitch } from './stitch.ts';
import { tidy } from './tidy.ts';

export type OffsetOutcome =
  /** At least one area. Outer edges counter-clockwise, openings clockwise; a whole circle is two arcs. */
  | { readonly kind: 'regions'; readonly regions: readonly Region[] }
  /** Nothing is left: the inward offset reaches the middle everywhere. */
  | { readonly kind: 'vanished' }
  | { readonly kind: 'failed'; readonly reason: string };

/**
 * All points within d of a region (d > 0), or all points of it at least |d| from its edge (d < 0), with round corners,
 * as exact lines and arcs. A neck of exactly 2|d| parts the area: a bridge of no width is no material.
 *
 * The region's loops must be simple and apart from each other (validate.ts). Results carry rounding only (about 1e-12 mm),
 * save that points closer than SAME_POINT are taken as one.
 *
 * How: the edge at distance d consists of parts of the segments moved by d and of arcs about the corners (parallels.ts).
 * All are cut where they meet, and a part belongs to the result exactly when nothing of the source is nearer to it
 * than |d|. So every part is measured against the source before it is used. Polygon clipping was tried first and left:
 * its time grows with the square of the edges, and its vertices must be given back their curves.
 */
export function offsetRegion(region: Region, d: Mm): OffsetOutcome {
  if (!Number.isFinite(d) || Math.abs(d) > FARTHEST) return failed(`the offset ${d} mm is not a usable length`);
  const ready = readyRegion(region);
  if (ready.kind === 'unfit') return failed(ready.reason);
  if (Math.abs(d) <= SAME_POINT) return { kind: 'regions', regions: regionsOf(ready.loops.map(tidy)) };
  let first: Stitched | undefined;
  for (const nudge of NUDGES) {
    const stitched = edgeAt(ready.loops, d + Math.sign(d) * nudge);
    if (stitched.kind === 'loops') return outcome(stitched.loops);
    first ??= stitched;
  }
  return failed(first?.kind === 'open' ? describeOpen(first.at, first.length) : 'the edge does not close');
}

/**
 * Where several features meet the edge in one point, rounding can make the choice of parts inconsistent (seen in one of
 * a thousand outlines whose tangent arcs are rounded to six decimals). The offset is then taken this much deeper, at
 * most a hundredth of a micrometre.
 */
const NUDGES: readonly Mm[] = [0, 1e-6, 1e-5];

function edgeAt(loops: readonly Loop[], d: Mm): Stitched {
  const { curves, smooth } = parallelCurves(loops, d);
  const arrangement = arrange(curves, smooth);
  const isNear = nearTest(loops.flat(), Math.abs(d) - KEEP);
  return stitch(
    arrangement,
    choose(arrangement, d > 0 ? 'left' : 'right', (middle) => !isNear(middle)),
  );
}

/** A part this much too near still counts: rounding of large radii, far below SAME_POINT. */
const KEEP: Mm = 1e-8;

/** Tells whether any segment comes nearer to a point than a limit. */
function nearTest(segments: readonly Segment[], limit: Mm): (p: Point) => boolean {
  if (limit <= 0) return () => false;
  const index = new Flatbush(segments.length);
  for (const s of segments) {
    const b = segmentBox(s);
    index.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  index.finish();
  let last = 0;
  return (p) => {
    // Parts to be left out come in runs behind the same corner, so the last find and its neighbours are asked first.
    for (let i = Math.max(0, last - 2); i <= last + 2 && i < segments.length; i++) {
      if (isNearer(segments[i]!, p, limit)) return true;
    }
    let found = false;
    index.neighbors(p.x, p.y, 1, limit, (i) => {
      if (!found && isNearer(segments[i]!, p, limit)) {
        found = true;
        last = i;
      }
      return found;
    });
    return found;
  };
}

function isNearer(s: Segment, p: Point, limit: Mm): boolean {
  // The whole circle is never farther than its arc, and far quicker to measure.
  if (s.kind === 'arc' && Math.abs(dist(p, s.centre) - s.radius) >= limit) return false;
  return nearestOn(s, p).distance < limit;
}

function outcome(loops: readonly Loop[]): OffsetOutcome {
  const regions = regionsOf(loops.filter(hasArea).map(tidy));
  return regions.length === 0 ? { kind: 'vanished' } : { kind: 'regions', regions };
}

/** Loops between curves that touch along a stretch hold nothing but rounding. */
function hasArea(loop: Loop): boolean {
  return Math.abs(loopArea(loop)) > 2 * SAME_POINT * loopLength(loop);
}

function describeOpen(at: Point, length: Mm): string {
  return `the edge does not close near ${at.x.toFixed(3)}, ${at.y.toFixed(3)} (a piece of ${length.toPrecision(3)} mm leads nowhere)`;
}

function failed(reason: string): OffsetOutcome {
  return { kind: 'failed', reason };
}
