/** A stretch of an edge that no cut reaches, looked at in points: how much stock stands at each. */
import type { Mm } from '../../base/units.ts';
import { nearestOn, pointAt, segmentLength } from '../../geometry/measure/segment.ts';
import type { Box, Point } from '../../geometry/types.ts';
import { ROUNDING } from '../limits.ts';
import { near } from '../wanted/clear.ts';
import type { DiscCut, UncutSpan } from './coverage.ts';

/** Points this far apart, or closer at the ends. */
const SAMPLE: Mm = 0.02;

export class Uncut {
  readonly gap: UncutSpan;
  readonly points: readonly Point[];
  /** For each point: least distance from what is cut; Infinity before any cut. */
  readonly left: Mm[];
  private readonly box: Box;
  /** Greatest of `left`: a cut further off changes nothing. */
  private most = Infinity;

  constructor(gap: UncutSpan) {
    this.gap = gap;
    this.points = pointsOf(gap);
    this.left = this.points.map(() => Infinity);
    this.box = boxOf(this.points);
  }

  /** `box` is the cut's path's. */
  add({ path, radius }: DiscCut, box: Box): void {
    if (!near(this.box, box, radius + this.most)) return;
    this.most = -Infinity;
    for (let i = 0; i < this.points.length; i++) {
      const p = this.points[i]!;
      let left = this.left[i]!;
      const aside = Math.max(box.minX - p.x, p.x - box.maxX, box.minY - p.y, p.y - box.maxY);
      // Further from the box than it would have to be from the path, by more than rounding, it says nothing new.
      if (aside - radius < left + ROUNDING) {
        left = Math.min(left, nearestOn(path, p).distance - radius);
        this.left[i] = left;
      }
      this.most = Math.max(this.most, left);
    }
  }
}

function pointsOf(gap: UncutSpan): Point[] {
  const length = segmentLength(gap.piece) * (gap.to - gap.from);
  const count = Math.max(4, Math.min(4000, Math.ceil(length / SAMPLE)));
  return Array.from({ length: count + 1 }, (_, i) => {
    // Half a sample inside both ends: the ends themselves are where the cut is just within the limit.
    const f = (i + 0.5) / (count + 1);
    return pointAt(gap.piece, gap.from + (gap.to - gap.from) * f);
  });
}

function boxOf(points: readonly Point[]): Box {
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { minX: Math.min(...xs), maxX: Math.max(...xs), minY: Math.min(...ys), maxY: Math.max(...ys) };
}
