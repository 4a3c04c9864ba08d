/** How hard the cutter may push the part as it is held: the planner eases its passes to this. */
import type { Newton } from '../../base/units.ts';
import { type Ease, NO_EASE } from '../../plan/plan.ts';
import type { Holding, Moment } from '../holding.ts';
import { judge, ratioOf } from './judge.ts';

/** Force in the plane of the table that each kind of pass may have with the wanted margin and movement; null: no such pass. */
export type ForceBudgets = Readonly<Record<Moment['kind'], Newton | null>>;

/**
 * Everything is linear in the force: what a pass may have is what it has, by how far the holding is from what is wanted.
 * (Force and chip are not quite in proportion, and a shallower pass acts lower: the plan is evaluated again afterwards.)
 */
export function forceBudgets(holding: Holding): ForceBudgets {
  return budgetsOf(pushes(holding));
}

/** The budgets as the plan takes them, whatever its passes push with now. */
export function easeWithin(holding: Holding): Ease {
  const budgets = forceBudgets(holding);
  const { through, finishing, lightening } = budgets;
  return { solid: budgets['solid below'], through, finishing, lightening };
}

/**
 * The budgets as the plan takes them, where a pass pushes harder than it may; null: no pass does, or the plan is eased to just
 * these already and finds no lighter cut. `before`: what it was eased to; where that was enough it stays.
 */
export function easeFor(holding: Holding, before: Ease = NO_EASE): Ease | null {
  const all = pushes(holding);
  if (all.every(({ ratio }) => ratio >= MET)) return null;
  const budgets = budgetsOf(all);
  const of = (kind: Moment['kind'], eased: Newton | null): Newton | null => {
    const enough = all.every((p) => p.kind !== kind || p.ratio >= MET);
    return enough && eased !== null ? eased : budgets[kind];
  };
  const ease: Ease = {
    solid: of('solid below', before.solid),
    through: of('through', before.through),
    finishing: of('finishing', before.finishing),
    lightening: of('lightening', before.lightening),
  };
  return EASED.every((k) => alike(ease[k], before[k])) ? null : ease;
}

const EASED = ['solid', 'through', 'finishing', 'lightening'] as const;

function alike(a: Newton | null, b: Newton | null): boolean {
  return a === b || (a !== null && b !== null && Math.abs(a - b) < SAME * b);
}

/** Less than this is rounding. */
const SAME = 1e-6;

/** Passes of one kind that push alike. */
interface KindPush {
  readonly kind: Moment['kind'];
  /** In the plane, on a straight edge: as the planner computes it. */
  readonly force: Newton;
  /** Of what is wanted. */
  readonly ratio: number;
}

/** Kept back, because force and chip are not in proportion and a shallower pass acts lower. */
const SAFE_SHARE = 0.95;
/** What a pass within its budget has: a little more than is wanted leaves the search smaller tabs to choose. */
const MET = 0.999 / SAFE_SHARE;

function budgetsOf(all: readonly KindPush[]): ForceBudgets {
  const of = (kind: Moment['kind']): Newton | null => {
    const most = all.filter((p) => p.kind === kind).map((p) => p.force * p.ratio * SAFE_SHARE);
    const least = Math.min(...most);
    return Number.isFinite(least) ? least : null;
  };
  return {
    'solid below': of('solid below'),
    through: of('through'),
    finishing: of('finishing'),
    chamfer: of('chamfer'),
    lightening: of('lightening'),
  };
}

function pushes({ evaluation }: Holding): readonly KindPush[] {
  const going = evaluation.moments.filter((m) => m.kind === 'through').map((m) => m.operation);
  const last = going.at(-1);
  const alike = new Map<
    string,
    { readonly kind: Moment['kind']; readonly force: Newton; readonly moments: Moment[] }
  >();
  for (const m of evaluation.moments) {
    // The levels above the one that goes through are cut like it, and the skin they leave is no better than tabs. Where a pass of its
    // own goes through, those before it are eased as solid, though the lowest of them may be through where the plate is thin.
    const kind = m.operation === last ? 'through' : going.includes(m.operation) ? 'solid below' : m.kind;
    const force = inPlane(m);
    const key = `${kind} ${force.toFixed(6)}`;
    const known = alike.get(key);
    if (known) known.moments.push(m);
    else alike.set(key, { kind, force, moments: [m] });
  }
  return [...alike.values()].map(({ kind, force, moments }): KindPush => {
    return { kind, force, ratio: ratioOf(judge(evaluation, moments)) };
  });
}

function inPlane({ forces: { triples } }: Moment): Newton {
  let most = 0;
  for (let i = 0; i < triples.length; i += 3) most = Math.max(most, Math.hypot(triples[i]!, triples[i + 1]!));
  return most;
}
