import { cross } from '../measure/point.ts';
import { directionAt, segmentLength } from '../measure/segment.ts';
import type { Point } from '../types.ts';
import { type Arrangement, type CurvePiece, pieceMiddle } from './arrange.ts';

/**
 * The pieces of parallel curves that keep their distance, in their order. `keeps` measures one point.
 *
 * Whether a piece keeps its distance can change only where curves meet. So pieces that follow each other at a point
 * where nothing else meets are measured once, on the longest of them. Where just two curves cross, each has one part
 * on the other's `source` side, too near to the source: that part is out. The two others, one coming and one going,
 * stand or fall together. That leaves few pieces to be measured.
 */
export function choose(
  arrangement: Arrangement,
  source: 'left' | 'right',
  keeps: (middle: Point) => boolean,
): CurvePiece[] {
  const { pieces } = arrangement;
  const { next, out } = followers(arrangement, source === 'left' ? 1 : -1);
  const led = new Uint8Array(pieces.length);
  for (const n of next) if (n >= 0) led[n] = 1;
  const seen = new Uint8Array(pieces.length);
  const kept = new Uint8Array(pieces.length);
  const settle = (first: number): void => {
    const run: number[] = [];
    for (let i = first; i >= 0 && !seen[i]; i = next[i]!) {
      seen[i] = 1;
      run.push(i);
    }
    if (run.length === 0 || run.some((i) => out[i]) || !keeps(middleOf(arrangement, run))) return;
    for (const i of run) kept[i] = 1;
  };
  for (let i = 0; i < pieces.length; i++) if (!led[i]) settle(i);
  for (let i = 0; i < pieces.length; i++) settle(i);
  return pieces.filter((_, i) => kept[i]);
}

interface Followers {
  /** For each piece the one that stands or falls with it and follows it; -1 for none. */
  readonly next: Int32Array;
  /** 1 for a piece that runs on the source side of a crossing. */
  readonly out: Uint8Array;
}

function followers(arrangement: Arrangement, side: 1 | -1): Followers {
  const { pieces, points } = arrangement;
  const next = new Int32Array(pieces.length).fill(-1);
  const out = new Uint8Array(pieces.length);
  const at = points.map((): Meeting => ({ ins: [], outs: [] }));
  for (const [i, p] of pieces.entries()) {
    at[p.to]!.ins.push(i);
    at[p.from]!.outs.push(i);
  }
  for (const { ins, outs } of at) {
    if (ins.length === 1 && outs.length === 1) next[ins[0]!] = outs[0]!;
    else if (ins.length === 2 && outs.length === 2) settleCrossing(arrangement, ins, outs, side, { next, out });
  }
  return { next, out };
}

interface Meeting {
  readonly ins: number[];
  readonly outs: number[];
}

function settleCrossing(a: Arrangement, ins: number[], outs: number[], side: 1 | -1, { next, out }: Followers): void {
  const [i, j] = ins as [number, number];
  const curveOf = (k: number): number => a.pieces[k]!.curve;
  const onward = outs.find((k) => curveOf(k) === curveOf(i));
  const other = outs.find((k) => curveOf(k) === curveOf(j));
  if (curveOf(i) === curveOf(j) || onward === undefined || other === undefined) return;
  const turn = side * cross(directionIn(a, i), directionIn(a, j));
  if (Math.abs(turn) < CLEAR_CROSSING) return;
  // turn > 0: the second curve passes to the source side of the first.
  const [arrives, leaves, ends, begins] = turn > 0 ? [j, onward, i, other] : [i, other, j, onward];
  next[arrives] = leaves;
  out[ends] = 1;
  out[begins] = 1;
}

/** Sine of the least angle of a crossing that is judged by its directions; flatter ones are measured. */
const CLEAR_CROSSING = 1e-3;

function directionIn(a: Arrangement, i: number): Point {
  const p = a.pieces[i]!;
  return directionAt(a.curves[p.curve]!, p.t1);
}

function middleOf(arrangement: Arrangement, run: readonly number[]): Point {
  let longest = run[0]!;
  let most = -1;
  for (const i of run) {
    const p = arrangement.pieces[i]!;
    const length = (p.t1 - p.t0) * segmentLength(arrangement.curves[p.curve]!);
    if (length > most) [most, longest] = [length, i];
  }
  return pieceMiddle(arrangement, arrangement.pieces[longest]!);
}
