/** Ways of holding a job's part, side by side, with what the machine would run for each. */
import { good, type Outcome, type Problem } from '../base/problem.ts';
import type { Tables } from '../base/tables.ts';
import type { Minute } from '../base/units.ts';
import { secondsOf } from '../course/seconds.ts';
import { easeWithin } from '../hold/evaluate/budget.ts';
import type { Holding, HoldScore } from '../hold/holding.ts';
import { type ComparedWay, compareHoldings, otherWays, ownWay } from '../hold/ways/compare.ts';
import type { HoldRequest, Job } from '../part/part.ts';
import { jobAsking } from '../part/read.ts';
import type { PostAbilities } from '../paths/moves.ts';
import { makeMoves } from '../paths/paths.ts';
import { withEdgeHoles } from '../plan/edge/edge-plan.ts';
import { makePlan } from '../plan/make-plan.ts';
import { NO_EASE, type Plan } from '../plan/plan.ts';
import { PLAN_VARIANTS } from '../plan/variants.ts';
import { type Held, heldOf } from './held.ts';

export interface WayScore extends HoldScore {
  /** What a job asks to be held so; null: it cannot be reckoned. */
  readonly wish: HoldRequest | null;
  /** What the machine would run if the job asked for this way, cutter changes and stops not counted; null: `make` would refuse it. */
  readonly machineMinutes: Minute | null;
}

/** Every way, best first; what cannot be used stands last, whatever it would carry. */
export function compareWays(job: Job, post: PostAbilities, tables: Tables): Outcome<readonly WayScore[]> {
  const held = heldOf(job, tables);
  const plan = held.ok ? good(held.value.plan, held.problems) : makePlan(job, NO_EASE, tables);
  if (!plan.ok) return plan;
  tables.mayStop();
  const ways = compareHoldings({ job, plan: plan.value, tables, variants: PLAN_VARIANTS });
  if (!ways.ok) return ways;
  const scores = ways.value.map((way) => timed(job, way, held.ok ? held.value : null, { post, tables }));
  return good([...scores.filter((s) => s.possible), ...scores.filter((s) => !s.possible)], plan.problems);
}

interface Timing {
  readonly post: PostAbilities;
  readonly tables: Tables;
}

/** `held`: what the job's own way comes to, which need not be planned again. */
function timed(job: Job, way: ComparedWay, held: Held | null, by: Timing): WayScore {
  by.tables.mayStop();
  const { inJob, ...score } = way;
  if (inJob === null) return { ...score, wish: null, machineMinutes: null };
  const { wish } = inJob;
  const found = held !== null && way.name === ownWay(job) ? runTime(job, held, by) : wayTime(job, inJob, by);
  if (found.ok) return { ...score, wish, machineMinutes: found.value };
  return { ...refusedWay(score, found.problems), wish, machineMinutes: null };
}

/** However well it would hold: `make` refuses a job that asks for it. */
function refusedWay<T extends HoldScore>(score: T, problems: readonly Problem[]): T {
  // Cautions may stand before the refusal.
  const { found, remedy } = problems.find((p) => p.severity === 'fault') ?? problems[0]!;
  const reasons = [...score.reasons, `make refuses it: ${found}; ${remedy}`];
  return { ...score, possible: false, verdict: `cannot be used: ${found}`, reasons };
}

/** The ways that a plan file names beside the one taken. Of screws, the one way that adds to the plan, it is tried whether they can be planned. */
export function alternatives(job: Job, plan: Plan, but: Holding['by'], tables: Tables): HoldScore[] {
  return otherWays({ job, plan, tables, variants: PLAN_VARIANTS }, but).map(({ wish, ...score }) => {
    if (wish?.by !== 'screws') return score;
    const planned = makePlan(jobAsking(job, wish), NO_EASE, tables);
    return planned.ok ? score : refusedWay(score, planned.problems);
  });
}

/** Its plan eased once to what it carries: to the end would be as many plans again, and shift the minutes by a few in a hundred. */
function wayTime(job: Job, { wish, holding }: NonNullable<ComparedWay['inJob']>, by: Timing): Outcome<Minute> {
  const asked = jobAsking(job, wish);
  const plan = makePlan(asked, easeWithin(holding), by.tables);
  return plan.ok ? runTime(asked, { plan: plan.value, holding }, by) : plan;
}

function runTime(job: Job, { plan, holding }: Held, { post, tables }: Timing): Outcome<Minute> {
  const whole = withEdgeHoles(job, plan, tables);
  if (!whole.ok) return whole;
  const moves = makeMoves({ job, plan: whole.value, holding, post, cautions: [] }, tables);
  return moves.ok ? good(secondsOf(moves.value, job.machine) / 60) : moves;
}
