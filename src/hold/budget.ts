/** How hard the cutter may push the part as it is held: the planner eases its passes to this. */
import type { Newton } from '../base/units.ts';
import type { Ease, Operation, Plan } from '../plan/plan.ts';
import { type Holding, MOMENT_KINDS, type Moment } from './holding.ts';
import { judge } from './judge.ts';

/** Force in the plane of the table that each kind of pass may have with the wanted margin and movement; null: no such pass. */
export type ForceBudgets = Readonly<Record<Moment['kind'], Newton | null>>;

/**
 * Everything is linear in the force: what a pass may have is what it has, by how far the holding is from what is wanted.
 * (Force and chip are not quite in proportion, and a shallower pass acts lower: the plan is reckoned again afterwards.)
 */
export function forceBudgets(plan: Plan, holding: Holding): ForceBudgets {
  const operations = new Map(plan.setups.flatMap((s) => s.operations).map((o) => [o.id, o]));
  const of = (kind: Moment['kind']) => budgetOf(kind, holding, operations);
  return {
    'solid below': of('solid below'),
    through: of('through'),
    finishing: of('finishing'),
    chamfer: of('chamfer'),
    lightening: of('lightening'),
  };
}

/** The budgets as the plan takes them, where a pass pushes harder than it may; null: no pass does. */
export function easeFor(plan: Plan, holding: Holding): Ease | null {
  const budgets = forceBudgets(plan, holding);
  const forces = new Map(plan.setups.flatMap((s) => s.operations).map((o) => [o.id, o.force]));
  const over = MOMENT_KINDS.some((kind) => {
    const most = budgets[kind];
    const ids = holding.reckoning.moments.filter((m) => m.kind === kind).map((m) => m.operation);
    return most !== null && ids.some((id) => (forces.get(id) ?? 0) > most * 1.001);
  });
  if (!over) return null;
  const { through, finishing, lightening } = budgets;
  return { solid: budgets['solid below'], through, finishing, lightening };
}

/** Kept back, because force and chip are not in proportion and a shallower pass acts lower. */
const SAFE_SHARE = 0.95;

function budgetOf(kind: Moment['kind'], holding: Holding, operations: ReadonlyMap<number, Operation>): Newton | null {
  const { reckoning } = holding;
  const moments = reckoning.moments.filter((m) => m.kind === kind);
  if (moments.length === 0) return null;
  const j = judge({ ...reckoning, moments });
  const ratio = Math.min(
    j.margin.least / j.margin.wanted,
    j.movement.most > 0 ? j.movement.wanted / j.movement.most : Infinity,
  );
  const force = Math.max(...moments.map((m) => operations.get(m.operation)?.force ?? m.peak));
  return Number.isFinite(ratio) ? force * ratio * SAFE_SHARE : null;
}
