/** A job's plan and its holding, which decide each other. */
import { good, type Outcome } from '../base/problem.ts';
import { type Tables, table } from '../base/tables.ts';
import { easeFor } from '../hold/evaluate/budget.ts';
import { easedNote } from '../hold/evaluate/eased.ts';
import type { Holding } from '../hold/holding.ts';
import { chooseHolding, draftHolding, type HoldDraft } from '../hold/ways/choose.ts';
import type { Job } from '../part/part.ts';
import { makePlan } from '../plan/make-plan.ts';
import { NO_EASE, type Plan } from '../plan/plan.ts';
import { PLAN_VARIANTS } from '../plan/variants.ts';

export interface Held {
  readonly plan: Plan;
  readonly holding: Holding;
}

const HELD = table<[job: Job], Outcome<Held>>('plan and holding of a job');

/** Worked out once for a job, whoever asks. */
export function heldOf(job: Job, tables: Tables): Outcome<Held> {
  return tables.once(HELD, [job], () => planHeld(job, tables));
}

/**
 * The passes say how hard the part is pushed, the holding how hard it may be. The plan is made freely, held, and where its passes
 * push harder than the holding carries it is made again within that budget.
 */
function planHeld(job: Job, tables: Tables): Outcome<Held> {
  let ease = NO_EASE;
  let plan = makePlan(job, ease, tables);
  if (!plan.ok) return plan;
  let draft: HoldDraft | null = null;
  const free = plan.value;
  // An eased pass acts at another height, so its budget shifts a little: twice is usual, more only ends a shortfall of a few per cent.
  for (let round = 0; round < MOST_ROUNDS; round++) {
    tables.mayStop();
    const drafted = draftHolding({ job, plan: plan.value, tables, variants: PLAN_VARIANTS }, draft);
    if (!drafted.ok) return drafted;
    draft = drafted.value;
    const next = easeFor(draft.holding, ease);
    if (next === null) break;
    ease = next;
    plan = makePlan(job, ease, tables);
    if (!plan.ok) return plan;
  }
  tables.mayStop();
  const holding = chooseHolding({ job, plan: plan.value, tables, variants: PLAN_VARIANTS }, draft);
  if (!holding.ok) return holding;
  const eased = easedNote(free, plan.value);
  return good({ plan: plan.value, holding: holding.value }, [...plan.problems, ...holding.problems, ...eased]);
}

const MOST_ROUNDS = 4;
