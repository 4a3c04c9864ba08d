import { SAME_POINT } from '../base/tolerance.ts';
import { windingOf } from './measure/inside.ts';
import { loopArea, loopLength } from './measure/loop.ts';
import { dot } from './measure/point.ts';
import { directionAt, nearestOn, reverseSegment, segmentBox } from './measure/segment.ts';
import { type Arrangement, arrange, type CurvePiece, pieceMiddle, pieceSegment } from './offset/arrange.ts';
import { readyRegion } from './offset/ready.ts';
import { regionsOf } from './offset/regions.ts';
import { stitch } from './offset/stitch.ts';
import { tidy } from './offset/tidy.ts';
import type { Box, Loop, Point, Region, Segment } from './types.ts';

export type JoinOutcome =
  /** At least one area; outer edges counter-clockwise, openings clockwise. */
  | { readonly kind: 'regions'; readonly regions: readonly Region[] }
  /** Nothing is left. */
  | { readonly kind: 'empty' }
  | { readonly kind: 'failed'; readonly reason: string };

/** All that lies in any of the regions. Regions that share only an edge become one. */
export function unite(regions: readonly Region[]): JoinOutcome {
  let sum: JoinOutcome = { kind: 'empty' };
  for (const region of regions) {
    sum = combine(sum.kind === 'regions' ? sum.regions : [], [region], 'unite');
    if (sum.kind === 'failed') return sum;
  }
  return sum;
}

/** What lies in `a` and in none of `b`. */
export function subtract(a: Region, b: readonly Region[]): JoinOutcome {
  let rest: JoinOutcome = combine([], [a], 'unite');
  for (const region of b) {
    if (rest.kind !== 'regions') return rest;
    rest = combine(rest.regions, [region], 'subtract');
  }
  return rest;
}

/** What lies in both. */
export function intersect(a: Region, b: Region): JoinOutcome {
  return combine([a], [b], 'intersect');
}

type JoinKind = 'unite' | 'subtract' | 'intersect';

/**
 * Cuts the edges of both sides where they meet and keeps each piece by where it lies to the other side. Every piece stays
 * on its own exact line or arc; where edges run along each other one of the two stands for both.
 */
function combine(a: readonly Region[], b: readonly Region[], way: JoinKind): JoinOutcome {
  const left = loopsOf(a);
  const right = loopsOf(b);
  if (typeof left === 'string' || typeof right === 'string') {
    return { kind: 'failed', reason: typeof left === 'string' ? left : (right as string) };
  }
  const leftCount = left.reduce((sum, loop) => sum + loop.length, 0);
  const arrangement = arrange([...left, ...right].flat());
  const sides = [new JoinSide(left), new JoinSide(right)] as const;
  const kept = arrangement.pieces.flatMap((p) => {
    const own = p.curve < leftCount ? 0 : 1;
    const where = sides[own === 0 ? 1 : 0].where(pieceMiddle(arrangement, p), pieceSegment(arrangement, p));
    return isKept(way, own, where) ? [p] : [];
  });
  return joined(way === 'subtract' ? turned(arrangement, kept, leftCount) : { arrangement, kept });
}

function joined({ arrangement, kept }: { arrangement: Arrangement; kept: readonly CurvePiece[] }): JoinOutcome {
  const stitched = stitch(arrangement, kept);
  if (stitched.kind === 'open') {
    const { at } = stitched;
    return { kind: 'failed', reason: `the joined edge does not close near ${at.x.toFixed(3)}, ${at.y.toFixed(3)}` };
  }
  const loops = stitched.loops.filter((loop) => Math.abs(loopArea(loop)) > 2 * SAME_POINT * loopLength(loop));
  const regions = regionsOf(loops.map(tidy));
  return regions.length === 0 ? { kind: 'empty' } : { kind: 'regions', regions };
}

/** Edges of what is taken away bound the rest from the other side. */
function turned(arrangement: Arrangement, kept: readonly CurvePiece[], leftCount: number) {
  const curves = arrangement.curves.map((s, i) => (i < leftCount ? s : reverseSegment(s)));
  const pieces = kept.map((p) =>
    p.curve < leftCount ? p : { ...p, t0: 1 - p.t1, t1: 1 - p.t0, from: p.to, to: p.from },
  );
  return { arrangement: { ...arrangement, curves }, kept: pieces };
}

type PieceSide = 'inside' | 'outside' | 'same way' | 'other way';

function isKept(way: JoinKind, own: 0 | 1, where: PieceSide): boolean {
  switch (way) {
    case 'unite':
      return where === 'outside' || (where === 'same way' && own === 0);
    case 'intersect':
      return where === 'inside' || (where === 'same way' && own === 0);
    case 'subtract':
      return own === 0 ? where === 'outside' || where === 'other way' : where === 'inside';
  }
}

/** One side of a join, asked where pieces of the other lie. */
class JoinSide {
  readonly #loops: readonly Loop[];
  readonly #segments: readonly Segment[];
  readonly #boxes: readonly Box[];

  constructor(loops: readonly Loop[]) {
    this.#loops = loops;
    this.#segments = loops.flat();
    this.#boxes = this.#segments.map(segmentBox);
  }

  where(middle: Point, piece: Segment): PieceSide {
    for (const [i, s] of this.#segments.entries()) {
      if (!isNearBox(this.#boxes[i]!, middle)) continue;
      const n = nearestOn(s, middle);
      if (n.distance > SAME_POINT) continue;
      return dot(directionAt(s, n.t), directionAt(piece, 0.5)) > 0 ? 'same way' : 'other way';
    }
    return this.#loops.reduce((sum, loop) => sum + windingOf(loop, middle), 0) > 0 ? 'inside' : 'outside';
  }
}

function isNearBox(b: Box, p: Point): boolean {
  const s = SAME_POINT;
  return p.x >= b.minX - s && p.x <= b.maxX + s && p.y >= b.minY - s && p.y <= b.maxY + s;
}

function loopsOf(regions: readonly Region[]): readonly Loop[] | string {
  const loops: Loop[] = [];
  for (const region of regions) {
    const ready = readyRegion(region);
    if (ready.kind === 'unfit') return ready.reason;
    loops.push(...ready.loops);
  }
  return loops;
}
