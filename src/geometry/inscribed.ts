import type { Mm } from '../base/units.ts';
import { RegionEdge } from './measure/approach.ts';
import { loopBox, loopCentroid } from './measure/loop.ts';
import { dist, dot, len, step, sub } from './measure/point.ts';
import type { Point, Region } from './types.ts';

export type Inscribed =
  | {
      readonly kind: 'circle';
      readonly centre: Point;
      /** Exact distance from the centre to the edge: the circle fits. */
      readonly radius: Mm;
      /** No circle larger by more than this fits. */
      readonly within: Mm;
    }
  /** The region has no area in which a point could lie. */
  | { readonly kind: 'none' };

/** Fine enough for every use in a plan, coarse enough that a slot (whose best centres are a whole line) stays cheap. */
const INSCRIBED_WITHIN: Mm = 1e-4;

/** Bound on the work for regions made to defeat the search; `within` then grows and says so. */
const MOST_CELLS = 60_000;

interface SearchSquare {
  readonly centre: Point;
  /** Half a side. */
  readonly half: Mm;
  /** No point of the cell is deeper. */
  readonly bound: Mm;
}

/**
 * Largest circle inside a region of lines and arcs. Squares are quartered, the hopeless ones dropped; the same region
 * gives the same circle on every system.
 */
export function largestInscribed(region: Region, within: Mm = INSCRIBED_WITHIN): Inscribed {
  const edge = new RegionEdge(region);
  const search = new Search(edge, within);
  let open = search.start(region);
  while (open.length > 0 && search.tried < MOST_CELLS) {
    open = open.filter((c) => c.bound > Math.max(0, search.depth) + within).flatMap((c) => search.quarter(c));
  }
  if (!(search.depth > 0)) return { kind: 'none' };
  const left = open.map((c) => c.bound - search.depth);
  return { kind: 'circle', centre: search.best, radius: search.depth, within: Math.max(within, ...left) };
}

class Search {
  best: Point = { x: 0, y: 0 };
  depth: Mm = Number.NEGATIVE_INFINITY;
  tried = 0;
  private readonly edge: RegionEdge;
  private readonly within: Mm;

  constructor(edge: RegionEdge, within: Mm) {
    this.edge = edge;
    this.within = within;
  }

  /** Squares that cover the box of the region; the centre of area is a good first guess. */
  start(region: Region): SearchSquare[] {
    const box = loopBox(region.outer);
    const side = Math.min(box.maxX - box.minX, box.maxY - box.minY);
    if (!(side > 0 && Number.isFinite(side))) return [];
    const guess = loopCentroid(region.outer);
    if (guess !== undefined) this.take(guess, -this.edge.signedDistance(guess));
    const cells: SearchSquare[] = [];
    const longest = Math.max(box.maxX - box.minX, box.maxY - box.minY);
    const size = Math.max(side, longest / 256);
    for (let x = box.minX; x < box.maxX; x += size) {
      for (let y = box.minY; y < box.maxY; y += size) {
        cells.push(this.cell({ x: x + size / 2, y: y + size / 2 }, size / 2));
      }
    }
    return cells;
  }

  quarter(c: SearchSquare): SearchSquare[] {
    const h = c.half / 2;
    return [-h, h].flatMap((dx) => [-h, h].map((dy) => this.cell({ x: c.centre.x + dx, y: c.centre.y + dy }, h)));
  }

  private cell(centre: Point, half: Mm): SearchSquare {
    this.tried++;
    const reach = half * Math.SQRT2;
    const near = this.edge.index.nearest(centre);
    if (near === undefined) return { centre, half, bound: Number.NEGATIVE_INFINITY };
    const inside = this.edge.holds(centre);
    const depth = inside ? near.distance : -near.distance;
    this.take(centre, depth);
    const simple = depth + reach;
    if (!inside || simple <= this.depth + this.within) return { centre, half, bound: simple };
    return { centre, half, bound: Math.min(simple, this.ridgeBound(centre, reach, near.point)) };
  }

  private take(p: Point, depth: Mm): void {
    if (depth > this.depth) {
      this.depth = depth;
      this.best = p;
    }
  }

  /**
   * On the ridge between two edges depth hardly changes along it, so `depth + reach` drops no cell until the cells are as
   * small as the tolerance. But depth is at most the distance to any fixed edge point: with one on each side, q and r, it is
   * at most the root mean square of both distances, over a disc at most sqrt((|v|^2 + |w|^2)/2 + reach |v + w| + reach^2).
   */
  private ridgeBound(centre: Point, reach: Mm, q: Point): Mm {
    const v = sub(centre, q);
    const l = len(v);
    if (l === 0) return Number.POSITIVE_INFINITY;
    const opposite = this.edge.index.nearest(step(centre, v, reach / l));
    if (opposite === undefined) return Number.POSITIVE_INFINITY;
    const w = sub(centre, opposite.point);
    return Math.sqrt((dot(v, v) + dot(w, w)) / 2 + reach * dist(v, { x: -w.x, y: -w.y }) + reach * reach);
  }
}
