/** What flat-ended cutters have cut so far, asked before a rapid goes down: it may follow only where a whole disc is known to be open. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { line, nearestOn, segmentBox } from '../../geometry/measure/segment.ts';
import type { Box, Point, Segment } from '../../geometry/types.ts';

interface ClearedCut {
  readonly radius: Mm;
  readonly path: Segment;
  readonly box: Box;
  /** Highest end of the cut: nothing stands above it under the disc, wherever along the path. */
  readonly z: Mm;
}

/** Two written positions that are one. */
const SAME_PLACE: Mm = 5e-4;

export class Cleared {
  private readonly cuts: ClearedCut[] = [];
  private readonly arcs: boolean;

  /** `arcs`: the post speaks arcs. Else a written arc is a row of chords, on which only its two ends are sure to lie. */
  constructor(arcs: boolean) {
    this.arcs = arcs;
  }

  add(radius: Mm, path: Segment, from: Mm, to: Mm): void {
    const flat = path.a.x === path.b.x && path.a.y === path.b.y && path.kind === 'line';
    if (path.kind === 'arc' && !this.arcs) {
      for (const p of [path.a, path.b]) this.put(radius, line(p, p), Math.max(from, to));
      return;
    }
    this.put(radius, path, flat ? Math.min(from, to) : Math.max(from, to));
  }

  /** Height to which one stroke of a cutter at least so wide has opened the whole disc about p; undefined: none has. */
  floorAt(p: Point, radius: Mm): Mm | undefined {
    let floor: Mm | undefined;
    for (const c of this.cuts) {
      const spare = c.radius - radius;
      if (spare < -1e-9 || (floor !== undefined && c.z >= floor)) continue;
      const reach = spare + SAME_PLACE;
      const { box } = c;
      if (p.x < box.minX - reach || p.x > box.maxX + reach || p.y < box.minY - reach || p.y > box.maxY + reach)
        continue;
      if (
        c.path.kind === 'line' && c.path.a === c.path.b
          ? dist(p, c.path.a) <= reach
          : nearestOn(c.path, p).distance <= reach
      )
        floor = c.z;
    }
    return floor;
  }

  private put(radius: Mm, path: Segment, z: Mm): void {
    this.cuts.push({ radius, path, box: segmentBox(path), z });
  }
}
