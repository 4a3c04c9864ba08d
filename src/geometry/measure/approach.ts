import type { Mm } from '../../base/units.ts';
import type { Point, Region, Segment } from '../types.ts';
import { greatestDistance } from './farthest.ts';
import { SegmentIndex } from './index.ts';
import { chordAndCapWinding } from './inside.ts';
import { nearestOn, pointAt, subSegment } from './segment.ts';

/** The search for the deepest point of a path inside the material stops at this; a thousandth of what any machine resolves. */
const DEPTH_WITHIN: Mm = 1e-9;

/** Bound on the search, reached only by paths made to defeat it; `within` then says what was left open. */
const MOST_INTERVALS = 20_000;

export interface Approach {
  /** Signed distance to the edge at `at`: negative inside the material. */
  readonly distance: Mm;
  readonly at: Point;
  /** Fraction along the path. */
  readonly t: number;
  /** The edge point nearest to `at`. */
  readonly edge: Point;
  /** The true least value lies between `distance - within` and `distance`. 0 when the path stays out of the material. */
  readonly within: Mm;
}

/** The edge of a region, prepared for many questions. */
export class RegionEdge {
  readonly region: Region;
  readonly index: SegmentIndex;
  /** For each segment the loop it belongs to: 0 outer, 1.. holes. */
  private readonly loopOf: readonly number[];

  constructor(region: Region) {
    const loops = [region.outer, ...region.holes];
    this.region = region;
    this.index = new SegmentIndex(loops.flat());
    this.loopOf = loops.flatMap((loop, i) => loop.map(() => i));
  }

  /** Whether p is in the material; on the edge itself either answer may be given. */
  holds(p: Point): boolean {
    // Only segments that reach the ray from p to the right can wind round it.
    const ray = { minX: p.x, minY: p.y, maxX: Number.POSITIVE_INFINITY, maxY: p.y };
    const winding = new Array<number>(this.region.holes.length + 1).fill(0);
    for (const i of this.index.within(ray)) {
      winding[this.loopOf[i]!]! += chordAndCapWinding(this.index.segments[i]!, p);
    }
    return winding.every((w, loop) => (w !== 0) === (loop === 0));
  }

  /** Distance to the edge: negative inside the material, positive outside and in openings; infinite if there is no edge. */
  signedDistance(p: Point): Mm {
    const d = this.index.nearest(p)?.distance ?? Number.POSITIVE_INFINITY;
    return this.holds(p) ? -d : d;
  }

  /**
   * Least signed distance to the edge of any point of `path`. A disc of radius r with its centre moved along the path
   * enters the material exactly if the distance is less than r, by r - distance at `at`.
   * Outside the material it is the exact least gap of lines and arcs (to rounding, about 1e-12 at the size of a part);
   * inside, the deepest point found by halving the path, with a proven bound `within` (at most 1e-9).
   */
  closestApproach(path: Segment): Approach {
    const gap = this.index.gap(path);
    const outside = { distance: gap.distance, at: gap.p, t: nearestOn(path, gap.p).t, edge: gap.q, within: 0 };
    if (gap.distance > 0 && !this.holds(path.a)) return outside;
    const deepest = this.deepest(path);
    return deepest.distance < outside.distance ? deepest : { ...outside, within: deepest.within };
  }

  private deepest(path: Segment): Approach {
    let best = this.sample(path, 0);
    let open: readonly [number, number][] = [[0, 1]];
    let tried = 0;
    while (open.length > 0 && tried < MOST_INTERVALS) {
      tried += open.length;
      for (const [t0, t1] of open) {
        for (const t of [t1, (t0 + t1) / 2]) {
          const s = this.sample(path, t);
          if (s.distance < best.distance) best = s;
        }
      }
      const target = -best.distance + DEPTH_WITHIN;
      open = open.filter(([t0, t1]) => this.depthBound(path, t0, t1) > target).flatMap(halves);
    }
    const bounds = open.map(([t0, t1]) => this.depthBound(path, t0, t1) + best.distance);
    return { ...best, within: Math.max(DEPTH_WITHIN, ...bounds) };
  }

  private sample(path: Segment, t: number): Approach {
    const at = pointAt(path, t);
    const n = this.index.nearest(at);
    const d = n?.distance ?? Number.POSITIVE_INFINITY;
    return { distance: this.holds(at) ? -d : d, at, t, edge: n?.point ?? at, within: 0 };
  }

  /** No point of this stretch of the path is deeper in the material; -1 for a stretch wholly outside. */
  private depthBound(path: Segment, t0: number, t1: number): Mm {
    const stretch = subSegment(path, t0, t1);
    const middle = pointAt(stretch, 0.5);
    if (!this.holds(middle) && this.index.gap(stretch).distance > 0) return -1;
    let bound = Number.POSITIVE_INFINITY;
    for (const p of [stretch.a, middle, stretch.b]) {
      const n = this.index.nearest(p);
      if (n !== undefined) bound = Math.min(bound, greatestDistance(stretch, this.index.segments[n.index]!));
    }
    return bound;
  }
}

function halves([t0, t1]: readonly [number, number]): [number, number][] {
  const middle = (t0 + t1) / 2;
  return middle > t0 && middle < t1
    ? [
        [t0, middle],
        [middle, t1],
      ]
    : [];
}

/** As `RegionEdge.closestApproach`, for a single question. */
export function closestApproach(path: Segment, region: Region): Approach {
  return new RegionEdge(region).closestApproach(path);
}
