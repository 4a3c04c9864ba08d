/** Pieces of one operation, run in a short order: the same work on several parts, openings or edges, none of which waits for another. */
import type { Problem } from '../../base/problem.ts';
import type { Point } from '../../geometry/types.ts';
import type { Emitter } from '../emitter.ts';
import type { Move } from '../moves.ts';
import type { Scene } from '../scene.ts';
import { type Visit, visitOrder } from './order.ts';

/** Makes the moves of one piece. */
export type OrderedPiece = (em: Emitter) => readonly Problem[];

/**
 * Where each piece begins and ends is learnt by running it once for trial. A piece with a fault ends the search: all are run as given, and
 * every fault is told once.
 */
export function runInShortOrder(em: Emitter, scene: Scene, pieces: readonly OrderedPiece[]): readonly Problem[] {
  const visits = pieces.length > 1 ? trialVisits(em, pieces) : null;
  const order = visits ? visitOrder(visits, startOf(em, scene)) : pieces.map((_, i) => i);
  return order.flatMap((i) => pieces[i]!(em));
}

/** Where a piece begins and ends is near its middle: good enough where a trial would take long. */
export function inShortOrder<T>(
  em: Emitter,
  scene: Scene,
  things: readonly T[],
  placeOf: (t: T) => Point,
): readonly T[] {
  const visits = things.map((t) => ({ from: placeOf(t), to: placeOf(t) }));
  return visitOrder(visits, startOf(em, scene)).map((i) => things[i]!);
}

/** Where the cutter stands, or stood at the end of the operation before. */
export function startOf(em: Emitter, scene: Scene): Point {
  const { x, y } = em.here;
  if (x !== undefined && y !== undefined) return { x, y };
  return em.lastKnown ?? { x: scene.job.stock.min[0], y: scene.job.stock.min[1] };
}

/** null: a piece has a fault or does not move. */
function trialVisits(em: Emitter, pieces: readonly OrderedPiece[]): Visit[] | null {
  const visits: Visit[] = [];
  for (const piece of pieces) {
    const trial = em.trial();
    if (piece(trial).length > 0) return null;
    const first = trial.moves.find(
      (m): m is Extract<Move, { kind: 'rapid' }> => m.kind === 'rapid' && m.x !== undefined,
    );
    const { x, y } = trial.here;
    if (first?.x === undefined || first.y === undefined || x === undefined || y === undefined) return null;
    visits.push({ from: { x: first.x, y: first.y }, to: { x, y } });
  }
  return visits;
}
