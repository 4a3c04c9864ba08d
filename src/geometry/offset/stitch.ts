import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { angleOf, dist, positiveAngle, sub } from '../measure/point.ts';
import { pointAt, segmentLength } from '../measure/segment.ts';
import type { Loop, Point, Segment } from '../types.ts';
import { type Arrangement, type CurvePiece, pieceMiddle, pieceSegment } from './arrange.ts';

export type Stitched =
  | { readonly kind: 'loops'; readonly loops: readonly Loop[] }
  /** Pieces that lead nowhere, longer than rounding explains: the choice of pieces was not consistent. */
  | { readonly kind: 'open'; readonly at: Point; readonly length: Mm };

/**
 * Joins directed pieces into loops. Where an edge touches itself the loops are separated, so every loop is simple.
 * Pieces that coincide count once; pieces that coincide in opposite directions (an area of no width) do not count.
 */
export function stitch(arrangement: Arrangement, pieces: readonly CurvePiece[]): Stitched {
  const net = new StitchNet(arrangement, withoutDoubles(arrangement, pieces));
  const dead = net.prune();
  if (dead) return dead;
  return { kind: 'loops', loops: net.walk() };
}

/** A dead end this long is no rounding: at a crossing under a small angle both branches pass for a little way. */
const LONGEST_DEAD_END: Mm = 0.005;

function withoutDoubles(arrangement: Arrangement, pieces: readonly CurvePiece[]): CurvePiece[] {
  const groups = new Map<string, CurvePiece[]>();
  for (const p of pieces) {
    const key = p.from < p.to ? `${p.from} ${p.to}` : `${p.to} ${p.from}`;
    const group = groups.get(key);
    if (group) group.push(p);
    else groups.set(key, [p]);
  }
  if (groups.size === pieces.length) return [...pieces];
  return [...groups.values()].flatMap((g) => (g.length === 1 ? g : settle(arrangement, g)));
}

function settle(arrangement: Arrangement, group: readonly CurvePiece[]): CurvePiece[] {
  const kept: CurvePiece[] = [];
  for (const p of group) {
    const middle = pieceMiddle(arrangement, p);
    const other = kept.findIndex((q) => dist(middle, pieceMiddle(arrangement, q)) <= 2 * SAME_POINT);
    if (other < 0) kept.push(p);
    else if (kept[other]!.from !== p.from) kept.splice(other, 1);
  }
  return kept;
}

class StitchNet {
  readonly #arrangement: Arrangement;
  readonly #pieces: readonly CurvePiece[];
  readonly #live: boolean[];
  readonly #outs: Map<number, number[]>;
  readonly #ins: Map<number, number[]>;

  constructor(arrangement: Arrangement, pieces: readonly CurvePiece[]) {
    this.#arrangement = arrangement;
    this.#pieces = pieces;
    this.#live = pieces.map(() => true);
    this.#outs = groupBy(pieces, (p) => p.from);
    this.#ins = groupBy(pieces, (p) => p.to);
  }

  /** Takes away pieces that cannot be part of a loop; reports the first dead end that is too long to be rounding. */
  prune(): Stitched | undefined {
    const queue = this.#pieces.map((_, i) => i);
    const reach = new Float64Array(this.#pieces.length);
    for (let k = 0; k < queue.length; k++) {
      const i = queue[k]!;
      const p = this.#pieces[i]!;
      if (!this.#live[i] || (this.#has(this.#outs, p.to) && this.#has(this.#ins, p.from))) continue;
      this.#live[i] = false;
      const s = pieceSegment(this.#arrangement, p);
      const length = reach[i]! + segmentLength(s);
      if (length > LONGEST_DEAD_END) return { kind: 'open', at: s.a, length };
      for (const j of [...(this.#outs.get(p.to) ?? []), ...(this.#ins.get(p.from) ?? [])]) {
        // Length adds up along the way, or a loop of tiny pieces could be lost one by one.
        reach[j] = Math.max(reach[j]!, length);
        queue.push(j);
      }
    }
    return undefined;
  }

  #has(at: Map<number, number[]>, node: number): boolean {
    return at.get(node)?.some((i) => this.#live[i]) ?? false;
  }

  walk(): Loop[] {
    const loops: Loop[] = [];
    for (let i = 0; i < this.#pieces.length; i++) if (this.#live[i]) this.#walkFrom(i, loops);
    return loops;
  }

  /** Follows pieces until the path meets itself, cuts the loop off, and goes on with what is left of the path. */
  #walkFrom(start: number, loops: Loop[]): void {
    const path: number[] = [];
    const placeOf = new Map<number, number>();
    let next: number | undefined = start;
    while (next !== undefined) {
      const p: CurvePiece = this.#pieces[next]!;
      this.#live[next] = false;
      placeOf.set(p.from, path.length);
      path.push(next);
      const begun = placeOf.get(p.to);
      if (begun !== undefined) {
        const loop = path.splice(begun);
        for (const i of loop) placeOf.delete(this.#pieces[i]!.from);
        loops.push(loop.map((i) => pieceSegment(this.#arrangement, this.#pieces[i]!)));
        next = path.length === 0 ? undefined : this.#following(path[path.length - 1]!);
      } else next = this.#following(next);
      // A branch of rounding that ends: step back and try the next way out.
      while (next === undefined && path.length > 0) {
        placeOf.delete(this.#pieces[path.pop()!]!.from);
        if (path.length > 0) next = this.#following(path[path.length - 1]!);
      }
    }
  }

  /** Of several ways on, the sharpest left turn: material lies on the left, so this keeps touching areas apart. */
  #following(i: number): number | undefined {
    const outs = (this.#outs.get(this.#pieces[i]!.to) ?? []).filter((k) => this.#live[k]);
    if (outs.length < 2) return outs[0];
    const segments = outs.map((k) => pieceSegment(this.#arrangement, this.#pieces[k]!));
    const came = pieceSegment(this.#arrangement, this.#pieces[i]!);
    const reach = Math.min(segmentLength(came), ...segments.map(segmentLength)) / 2;
    const back = angleOf(sub(pointAt(came, 1 - reach / segmentLength(came)), came.b));
    let best = 0;
    let least = Infinity;
    for (const [k, s] of segments.entries()) {
      const turn = positiveAngle(back - heading(s, reach));
      if (turn < least) [least, best] = [turn, k];
    }
    return outs[best];
  }
}

function heading(s: Segment, reach: Mm): number {
  return angleOf(sub(pointAt(s, reach / segmentLength(s)), s.a));
}

function groupBy(pieces: readonly CurvePiece[], node: (p: CurvePiece) => number): Map<number, number[]> {
  const groups = new Map<number, number[]>();
  for (const [i, p] of pieces.entries()) {
    const group = groups.get(node(p));
    if (group) group.push(i);
    else groups.set(node(p), [i]);
  }
  return groups;
}
