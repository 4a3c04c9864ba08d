/** Spotting, drilling, reaming and the like: one cycle for all holes of an operation, in a short order. */
import { fault, type Problem } from '../base/problem.ts';
import type { Operation } from '../plan/plan.ts';
import type { Emitter } from './emitter.ts';
import type { Move } from './moves.ts';
import { cutterOf, type Scene } from './scene.ts';
import { crossingHeight } from './travel/crossing.ts';
import { startOf } from './travel/in-short-order.ts';
import { shortOrder } from './travel/order.ts';

type CycleKind = Extract<Move, { kind: 'cycle' }>['cycle'];

export function drillHoles(em: Emitter, scene: Scene, op: Operation): readonly Problem[] {
  if (op.target.kind !== 'holes') throw new Error(`${op.what} has no holes: a bug in the plan stage`);
  if (op.what === 'tap' && !scene.post.tappingCycle) return [noTappingCycle(op)];
  const places = shortOrder(
    op.target.holes.map((h) => h.at),
    startOf(em, scene),
  );
  em.travelTo(scene, places[0]!);
  const cutter = cutterOf(scene, op);
  const retract = Math.max(...places.map((p, i) => crossingHeight(scene, places[Math.max(0, i - 1)]!, p, cutter)));
  em.rapidZ(retract);
  em.push({
    kind: 'cycle',
    cycle: cycleOf(op),
    places: places.map((p) => ({ x: em.round(p.x), y: em.round(p.y) })),
    retract: em.round(retract),
    from: em.round(scene.heights.feedFrom),
    bottom: em.round(op.depths[op.depths.length - 1]!),
    peck: op.peck ?? 0,
    dwell: op.dwell,
    feed: op.feed,
  });
  em.standAt(places[places.length - 1]!, retract);
  return [];
}

/** Over each hole at head room, spindle off, for work done by hand. */
export function stopAtHoles(em: Emitter, scene: Scene, op: Operation, lines: readonly string[]): readonly Problem[] {
  if (op.target.kind !== 'holes') throw new Error(`${op.what} has no holes: a bug in the plan stage`);
  const places = shortOrder(
    op.target.holes.map((h) => h.at),
    startOf(em, scene),
  );
  places.forEach((place, i) => {
    // The tool's length is not known to the control, and it may be long: never lower than where it was fitted.
    em.rapidZ(scene.heights.change);
    em.rapidXY(place);
    const which = places.length > 1 ? [`Place ${i + 1} of ${places.length}`] : [];
    em.push({ kind: 'stop', why: op.what, lines: [...which, ...lines] });
  });
  return [];
}

function noTappingCycle(op: Operation): Problem {
  return fault({
    code: 'no-tapping-cycle',
    at: { path: 'machine.tapping' },
    found: `the machine is to tap (${op.title}), and the post has no tapping cycle`,
    wanted: 'a post with G84',
    remedy: 'choose such a post, or set machine.tapping to "hand"',
  });
}

function cycleOf(op: Operation): CycleKind {
  if (op.what === 'ream') return 'ream';
  if (op.what === 'tap') return 'tap';
  if (op.peck !== null) return 'peck';
  return op.dwell > 0 ? 'dwell' : 'plain';
}
