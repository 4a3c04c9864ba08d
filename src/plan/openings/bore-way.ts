/**
 * How a bore with a fit is made. Milled only where backlash, the cutter's bending and runout together stay under half the
 * tolerance; else by a reamer of that size, and where there is none that is said: the boring head is a hand's work.
 */

import { fault, note, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';

import { nearestCutter } from '../drawer.ts';
import { SAME_SIZE } from '../holes/drill-choice.ts';
import { chooseMilling } from '../milling/milling.ts';
import { holeName, say } from '../words.ts';
import { boreRoom, chooseForOpening, openingBottom } from './opening-plan.ts';

export type BoreWay =
  | { readonly kind: 'mill'; readonly told: readonly Problem[] }
  | { readonly kind: 'ream'; readonly told: readonly Problem[] };

export function boreWay(
  context: PlanContext,
  hole: Hole,
  path: string,
): BoreWay | { readonly problems: readonly Problem[] } {
  const { job, climb } = context;
  const { make, limits } = hole;
  if (make.kind !== 'bore' || limits === null) return { kind: 'mill', told: [] };
  const bottom = openingBottom(job, hole.depth);
  const reamer = nearestCutter(job, 'reamer', make.nominal, make.nominal - SAME_SIZE, make.nominal + SAME_SIZE);
  const opening = chooseForOpening(job, { room: boreRoom(hole.diameter), bottom, what: holeName(hole), path });
  if ('problems' in opening) return reamer ? { kind: 'ream', told: [] } : opening;
  const ae = opening.allowance > 0 ? opening.allowance : opening.cutter.diameter;
  const kind = opening.allowance > 0 ? 'finishing' : 'roughing';
  const cut = chooseMilling(context, opening.cutter, { kind, ae, depth: -bottom, climb, mostForce: null });
  const error = job.machine.backlash + job.machine.runout + cut.deflection;
  const half = (limits.most - limits.least) / 2;
  if (error < half) return { kind: 'mill', told: [milledNote(job, hole, error, half, path)] };
  if (reamer) return { kind: 'ream', told: [reamedNote(job, hole, reamer, error, half, path)] };
  return { problems: [outOfReach(job, hole, cut.deflection, half, path)] };
}

function milledNote(job: Job, hole: Hole, error: Mm, half: Mm, path: string): Problem {
  return note({
    code: 'bore-milled',
    at: { path },
    found: `${holeName(hole)} is milled, aiming at the mean of its limits, ${say(job, hole.diameter)}: backlash, runout and the cutter's bending come to ${say(job, error)} of the ${say(job, half)} that half its tolerance allows`,
    remedy: 'measure it before the part is cut free',
  });
}

function reamedNote(job: Job, hole: Hole, reamer: Cutter, error: Mm, half: Mm, path: string): Problem {
  return note({
    code: 'bore-reamed',
    at: { path },
    found: `${holeName(hole)} is drilled and reamed with reamer ${reamer.number}, not milled: backlash, runout and the cutter's bending come to ${say(job, error)}, half its tolerance is ${say(job, half)}`,
  });
}

function outOfReach(job: Job, hole: Hole, bends: Mm, half: Mm, path: string): Problem {
  const { backlash, runout } = job.machine;
  const size = hole.make.kind === 'bore' ? hole.make.nominal : hole.diameter;
  return fault({
    code: 'bore-fit-out-of-reach',
    at: { path },
    found: `${holeName(hole)}: milling is out by backlash ${say(job, backlash)}, runout ${say(job, runout)} and bending ${say(job, bends)}, together ${say(job, backlash + runout + bends)}; half the tolerance is ${say(job, half)}`,
    wanted: `at most ${say(job, half)}`,
    remedy: `ream it (a reamer of ${say(job, size)} in "cutters"), or leave "fit" out, bore it a little small and finish it with a boring head`,
  });
}
