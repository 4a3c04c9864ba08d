import Flatbush from 'flatbush';
import type { Mm } from '../../base/units.ts';
import type { Box, Point, Segment } from '../types.ts';
import { type Gap, NO_GAP, segmentGap } from './distance.ts';
import { type Nearest, nearestOn, pointAt, segmentBox } from './segment.ts';

/** Boxes are widened by this against rounding of an arc's extreme points; far below any tolerance. */
const BOX_SLACK = 1e-9;

export interface IndexedNearest extends Nearest {
  readonly index: number;
}

export interface IndexedGap extends Gap {
  readonly index: number;
}

/**
 * Many segments, sorted once, asked often. Answers are the same as trying every segment; of equally near ones the
 * lowest index is given. Lists are ascending.
 */
export class SegmentIndex {
  readonly segments: readonly Segment[];
  /** An empty set has no tree. */
  private readonly tree: Flatbush | undefined;

  constructor(segments: readonly Segment[]) {
    this.segments = segments;
    this.tree = segments.length === 0 ? undefined : buildTree(segments);
  }

  /** Nearest place of any segment to p; undefined only for an empty set. */
  nearest(p: Point): IndexedNearest | undefined {
    const first = this.tree?.neighbors(p.x, p.y, 1)[0];
    if (first === undefined) return undefined;
    let best: IndexedNearest = { ...nearestOn(this.segments[first]!, p), index: first };
    for (const index of this.within(around(p, best.distance))) {
      const n = nearestOn(this.segments[index]!, p);
      if (n.distance < best.distance || (n.distance === best.distance && index < best.index)) best = { ...n, index };
    }
    return best;
  }

  /** Indexes of segments whose boxes meet `box`. */
  within(box: Box): number[] {
    const found = this.tree?.search(box.minX, box.minY, box.maxX, box.maxY) ?? [];
    return found.sort((a, b) => a - b);
  }

  /** Indexes of segments no farther than `radius` from p. */
  near(p: Point, radius: Mm): number[] {
    return this.within(around(p, radius)).filter((i) => nearestOn(this.segments[i]!, p).distance <= radius);
  }

  /** Least distance from a segment to any in the set; index -1 and infinite distance for an empty set. */
  gap(segment: Segment): IndexedGap {
    let best: IndexedGap = { ...NO_GAP, index: -1 };
    const upper = Math.min(
      ...[0, 0.5, 1].map((t) => this.nearest(pointAt(segment, t))?.distance ?? Number.POSITIVE_INFINITY),
    );
    for (const index of this.within(widen(segmentBox(segment), upper))) {
      const g = segmentGap(segment, this.segments[index]!);
      if (g.distance < best.distance) best = { ...g, index };
    }
    return best;
  }
}

function buildTree(segments: readonly Segment[]): Flatbush {
  const tree = new Flatbush(segments.length);
  for (const s of segments) {
    const b = widen(segmentBox(s), BOX_SLACK);
    tree.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  tree.finish();
  return tree;
}

export function widen(b: Box, by: Mm): Box {
  return { minX: b.minX - by, minY: b.minY - by, maxX: b.maxX + by, maxY: b.maxY + by };
}

function around(p: Point, radius: Mm): Box {
  return { minX: p.x - radius, minY: p.y - radius, maxX: p.x + radius, maxY: p.y + radius };
}
