/** Changes of a finished plan that the holding may ask to see: lighter passes, other flutes, a smaller cutter, tabs thinned. */
import type { Mm } from '../base/units.ts';
import type { Job } from '../part/part.ts';
import { leastToothFeed } from '../trade/milling-rules.ts';
import type { Operation, Plan, PlanVariants, SmallerCutter } from './plan.ts';

export const PLAN_VARIANTS: PlanVariants = { lighter, fluted, smallerCutter, thinning };

function lighter(plan: Plan, depth: number, allowance: number): Plan {
  return eachOperation(plan, (o) => {
    if (o.what === 'finish') return { ...o, widthOfCut: o.widthOfCut * allowance };
    return o.what !== 'rough' || depth === 1 ? o : { ...o, depths: levels(o, depth) };
  });
}

function fluted(plan: Plan, turn: 0 | -1): Plan | null {
  const { helixDeg } = profileCutter(plan);
  if (helixDeg === 0 ? turn === 0 : helixDeg < 0) return null;
  return { ...plan, cutters: plan.cutters.map((c) => ({ ...c, helixDeg: turn * Math.abs(c.helixDeg) })) };
}

/**
 * The profile by the next smaller end mill of the drawer, or one a third smaller: chip and depth in proportion. The slot is
 * left as wide as it was, which errs on the safe side: a narrower one makes shorter tabs.
 */
function smallerCutter(job: Job, plan: Plan): SmallerCutter | null {
  const cutter = profileCutter(plan);
  const smaller = job.cutters
    .filter((c) => c.kind === cutter.kind && c.diameter < cutter.diameter - 1e-9 && c.diameter >= SMALLEST)
    .sort((a, b) => b.diameter - a.diameter)[0];
  const diameter = smaller?.diameter ?? Math.round((2 * 2 * cutter.diameter) / 3) / 2;
  if (diameter >= cutter.diameter || diameter < SMALLEST) return null;
  const share = diameter / cutter.diameter;
  const small = { ...(smaller ?? cutter), number: NEW_CUTTER, diameter };
  const changed = eachOperation(plan, (o) => {
    const own = o.cutter === cutter.number && (o.what === 'rough' || o.what === 'finish' || o.what === 'lighten');
    if (!own) return o;
    // No thinner a chip than still cuts.
    const chip = Math.max(share, Math.min(1, (leastToothFeed(diameter).value * cutter.flutes * o.speed) / o.feed));
    const feed = (o.feed * chip * small.flutes) / cutter.flutes;
    return { ...o, cutter: NEW_CUTTER, feed, depths: o.what === 'rough' ? levels(o, share) : o.depths };
  });
  return {
    plan: { ...changed, cutters: [...plan.cutters, small] },
    diameter,
    drawer: smaller?.number ?? null,
  };
}

/** No drawer's. */
const NEW_CUTTER = -1;
/** Thinner mills break on a light machine before they spare the part anything (common practice). */
const SMALLEST: Mm = 1;

/** By the roughing cutter at its feed. */
function thinning(plan: Plan, z: Mm): Plan {
  const operations = plan.setups.flatMap((s) => s.operations);
  const rough = operations.find((o) => o.what === 'rough');
  if (!rough || operations.some((o) => o.what === 'lighten')) return plan;
  const light: Operation = {
    ...rough,
    id: operations.length,
    what: 'lighten',
    title: 'thin the tabs',
    target: { kind: 'tabs' },
    depths: [z],
  };
  const last = plan.setups.at(-1)!;
  return {
    ...plan,
    setups: [...plan.setups.slice(0, -1), { ...last, operations: [...last.operations, light] }],
  };
}

/** As many more levels as makes each that share as deep, but none shallower than a light machine repeats in Z. */
function levels(o: Operation, share: number): readonly Mm[] {
  const bottom = o.depths.at(-1)!;
  const most = Math.floor((o.from - bottom) / SHALLOWEST + 1e-9);
  const count = Math.max(o.depths.length, Math.min(most, Math.ceil(o.depths.length / share)));
  return Array.from({ length: count }, (_, i) => o.from + ((bottom - o.from) * (i + 1)) / count);
}

/** As everywhere in planning (common practice): what asks for less is no advice. */
const SHALLOWEST: Mm = 0.05;

function eachOperation(plan: Plan, change: (o: Operation) => Operation): Plan {
  return { ...plan, setups: plan.setups.map((s) => ({ ...s, operations: s.operations.map(change) })) };
}

/** The one that finishes the outline. */
function profileCutter(plan: Plan) {
  const finish = plan.setups.flatMap((s) => s.operations).find((o) => o.what === 'finish');
  return plan.cutters.find((c) => c.number === finish?.cutter)!;
}
