import { type Arrangement, type Piece, pieceMiddle } from './arrange.ts';
import { segmentLength } from './measure/segment.ts';
import type { Point } from './types.ts';

/**
 * The pieces that pass a test of their middle, in their order. The test's answer changes only where curves meet, so pieces
 * that follow each other with nothing else at the point between them are tested once, on the longest of them.
 */
export function choose(arrangement: Arrangement, passes: (middle: Point) => boolean): Piece[] {
  const { pieces } = arrangement;
  const next = followers(arrangement);
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
    if (run.length > 0 && passes(middleOf(arrangement, run))) for (const i of run) kept[i] = 1;
  };
  for (let i = 0; i < pieces.length; i++) if (!led[i]) settle(i);
  for (let i = 0; i < pieces.length; i++) settle(i);
  return pieces.filter((_, i) => kept[i]);
}

/** For each piece the one that follows it where nothing else begins or ends; -1 for none. */
function followers({ pieces, points }: Arrangement): Int32Array {
  const ins = new Int32Array(points.length);
  const outs = new Int32Array(points.length);
  const out = new Int32Array(points.length);
  for (const [i, p] of pieces.entries()) {
    ins[p.to]!++;
    outs[p.from]!++;
    out[p.from] = i;
  }
  return Int32Array.from(pieces, (p) => (ins[p.to] === 1 && outs[p.to] === 1 ? out[p.to]! : -1));
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
