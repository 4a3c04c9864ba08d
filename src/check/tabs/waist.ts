/**
 * How wide a tab is at its narrowest, from the cuts low on either side of it. Cuts come one by one; only those that may bound the waist are kept.
 */
import type { Mm } from '../../base/units.ts';
import { segmentGap } from '../../geometry/measure/distance.ts';
import { dot, rot90, sub } from '../../geometry/measure/point.ts';
import { evenPieces, pointAt, segmentBox, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Box, Point, Segment } from '../../geometry/types.ts';
import type { HeadTab } from '../program/head.ts';
import { pathBelow, type Stroke } from '../strokes/stroke.ts';
import { near } from '../wanted/clear.ts';

interface Low {
  readonly path: Segment;
  readonly radius: Mm;
  /** No point of the disc is nearer than this to the tab's middle line. */
  readonly aside: Mm;
}

/** Cuts kept of a side before those are dropped that cannot bound the waist. */
const KEPT_CUTS = 2048;

/** The least distance between what is cut below a height on one side of a tab and on the other. */
export class Waist {
  private readonly tab: Pick<HeadTab, 'at' | 'width' | 'footprint'>;
  private readonly out: Point;
  private readonly along: Point;
  private readonly height: Mm;
  private left: Low[] = [];
  private right: Low[] = [];
  private most = KEPT_CUTS;
  /** Of what was kept until cuts were last dropped: the pair that makes it may be gone. */
  private least = Infinity;
  /** Furthest past the middle line that any cut seen could reach. */
  private widest: Mm = 0;

  /** `out`: unit vector outwards from the edge. */
  constructor(tab: Pick<HeadTab, 'at' | 'width' | 'footprint'>, out: Point, height: Mm) {
    this.tab = tab;
    this.out = out;
    this.along = rot90(out);
    this.height = height;
  }

  add(s: Stroke): void {
    const { tab, out, along } = this;
    for (const { path, radius } of discsAt(s, this.height)) {
      const outwards = (p: Point) => dot(sub(p, tab.at), out);
      const sideways = (p: Point) => dot(sub(p, tab.at), along);
      for (const banded of within(path, outwards, -radius, Math.max(WAIST_DEPTH * radius, tab.footprint) + tab.width)) {
        for (const piece of halves(banded, sideways)) {
          const middle = sideways(pointAt(piece, 0.5));
          const half = piece.kind === 'arc' ? segmentLength(piece) / 2 : 0;
          // The nearest that it comes to the middle line; of an arc no more than that.
          const nearest =
            piece.kind === 'arc'
              ? Math.abs(middle) - half
              : Math.min(Math.abs(sideways(piece.a)), Math.abs(sideways(piece.b)));
          this.widest = Math.max(this.widest, radius + half);
          (middle >= 0 ? this.left : this.right).push({ path: piece, radius, aside: nearest - radius });
        }
      }
    }
    if (this.left.length + this.right.length > this.most) this.drop();
  }

  width(): Mm {
    return Math.min(this.least, leastBetween(this.left.sort(byAside), this.right.sort(byAside)));
  }

  /** A cut further aside than the waist found so far leaves room for, and the same cut again, say nothing more. */
  private drop(): void {
    const least = this.width();
    this.least = least;
    const near = (side: readonly Low[], other: readonly Low[]) => {
      // One still to come may reach past the middle line by its own radius.
      const nearest = Math.min(other[0]?.aside ?? -Infinity, -this.widest);
      return [...new Map(side.filter((l) => l.aside + nearest < least).map((l) => [keyOf(l), l])).values()];
    };
    const { left, right } = this;
    this.left = near(left, right);
    this.right = near(right, left);
    this.most = Math.max(KEPT_CUTS, 2 * (this.left.length + this.right.length));
  }
}

function keyOf({ path, radius }: Low): string {
  const { a, b } = path;
  const round = path.kind === 'arc' ? `${path.centre.x} ${path.centre.y} ${path.sweep}` : '';
  return `${a.x} ${a.y} ${b.x} ${b.y} ${radius} ${round}`;
}

/**
 * What a stroke cuts in the plane at `height`, where the tab is narrowest: the whole disc of a flat end, of a cone or ball the disc at that
 * height. Sloping strokes of those are taken in short parts, each by its lowest place: the waist may come out too narrow, never too wide.
 */
function discsAt(s: Stroke, height: Mm): { readonly path: Segment; readonly radius: Mm }[] {
  const path = pathBelow(s, height);
  if (path === undefined) return [];
  const { shape } = s.tool;
  const count = shape.flat ? 1 : Math.max(1, Math.ceil(Math.abs(s.zb - s.za) / PART_FALL));
  if (count === 1) return [{ path, radius: shape.flat ? shape.radius : shape.at(height - s.low) }];
  return Array.from({ length: count }, (_, i) => {
    const low = Math.min(heightAlong(s, i / count), heightAlong(s, (i + 1) / count));
    return { path: subSegment(s.path, i / count, (i + 1) / count), radius: shape.at(height - low), low };
  }).filter((part) => part.low < height);
}

export function heightAlong(s: Stroke, share: number): Mm {
  return s.za + (s.zb - s.za) * share;
}

/** Fall of one part of a sloping cone: its radius is taken too large by no more than this at 90 degrees. */
const PART_FALL: Mm = 0.01;

function byAside(a: Low, b: Low): number {
  return a.aside - b.aside;
}

/** Nearest first: once the middle line alone keeps two discs further apart than the least gap found, so it does all that follow. */
function leastBetween(left: readonly Low[], right: readonly Low[]): Mm {
  let least = Infinity;
  const boxes: Box[] = [];
  for (const l of left) {
    if (right.length === 0 || l.aside + right[0]!.aside >= least) break;
    const box = segmentBox(l.path);
    for (const [i, r] of right.entries()) {
      if (l.aside + r.aside >= least) break;
      boxes[i] ??= segmentBox(r.path);
      if (!near(box, boxes[i], least + l.radius + r.radius)) continue;
      least = Math.min(least, segmentGap(l.path, r.path).distance - l.radius - r.radius);
    }
  }
  return least;
}

/** Paths further out than this many radii, and than the slot is wide, belong to a slot beside the tab, not to its waist. */
export const WAIST_DEPTH = 6;

/** What of a path runs in a band across the tab: a line exactly, an arc in pieces of which none in the band is left out. */
function within(path: Segment, outwards: (p: Point) => Mm, least: Mm, most: Mm): Segment[] {
  if (path.kind === 'line') {
    const a = outwards(path.a);
    const b = outwards(path.b);
    if (Math.max(a, b) < least || Math.min(a, b) > most) return [];
    if (Math.min(a, b) >= least && Math.max(a, b) <= most) return [path];
    const share = (v: Mm) => Math.max(0, Math.min(1, (v - a) / (b - a)));
    return [subSegment(path, share(least), share(most))];
  }
  const middle = outwards(pointAt(path, 0.5));
  const half = segmentLength(path) / 2;
  if (middle + half < least || middle - half > most) return [];
  if (half < LEAST_PIECE || (middle - half >= least && middle + half <= most)) return [path];
  return [subSegment(path, 0, 0.5), subSegment(path, 0.5, 1)].flatMap((p) => within(p, outwards, least, most));
}

/** An arc is cut at the band's ends to within this. */
const LEAST_PIECE: Mm = 0.05;

/** A path that crosses the tab's middle line is cut there, so that both sides are seen. */
function halves(path: Segment, sideways: (p: Point) => Mm): Segment[] {
  const a = sideways(path.a);
  const b = sideways(path.b);
  if (segmentLength(path) === 0) return [path];
  const count = path.kind === 'arc' ? ARC_PARTS : a * b < 0 ? 2 : 1;
  if (count === 1) return [path];
  if (path.kind === 'line') {
    const t = a / (a - b);
    return [subSegment(path, 0, t), subSegment(path, t, 1)];
  }
  return evenPieces(path, count);
}

const ARC_PARTS = 32;
