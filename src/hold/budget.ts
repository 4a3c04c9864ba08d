/** How hard the cutter may push the part as it is held: the planner eases its passes to this. */
import type { Mm, Newton } from '../base/units.ts';
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
  const operations = new Map(operationsOf(plan).map((o) => [o.id, o]));
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
  const forces = new Map(operationsOf(plan).map((o) => [o.id, o.force]));
  const over = MOMENT_KINDS.some((kind) => {
    const most = budgets[kind];
    const ids = holding.reckoning.moments.filter((m) => m.kind === kind).map((m) => m.operation);
    return most !== null && ids.some((id) => (forces.get(id) ?? 0) > most * 1.001);
  });
  if (!over) return null;
  const { finishing, lightening } = budgets;
  const rough = operationsOf(plan).filter((o) => o.what === 'rough');
  const solid = notThinner(budgets['solid below'], rough);
  const through = notThinner(budgets.through, rough);
  return { solid, through, finishing, lightening };
}

/** Roughing thinner than this only rubs along an uneven plate, pass after pass: held weakly it is told, not planned (common practice). */
const LEAST_PASS: Mm = 0.05;

/**
 * A slot's force is in proportion to its depth: no budget below that of the thinnest pass that is planned. The least over
 * the operations, since one that is shared out evenly states the force of a deeper pass.
 */
function notThinner(budget: Newton | null, rough: readonly Operation[]): Newton | null {
  if (budget === null) return null;
  const least = rough.map((o) => (o.force * LEAST_PASS) / deepest(o));
  return least.length === 0 ? budget : Math.max(budget, Math.min(...least));
}

function deepest({ from, depths }: Operation): Mm {
  return Math.max(...depths.map((z, i) => (i === 0 ? from : depths[i - 1]!) - z));
}

function operationsOf(plan: Plan): readonly Operation[] {
  return plan.setups.flatMap((s) => s.operations);
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
