/** Why no tab or stub may stand beside an inside corner that is cut first: the plan's reason in place of the holding's. */
import { describeProblem, fault, type Problem } from '../../base/problem.ts';
import type { Job } from '../../part/part.ts';
import type { Plan } from '../../plan/plan.ts';
import { draftHolding } from './choose.ts';

/**
 * The stage of holding knows no more of such an edge than that no tab may stand there, as if the job had said so. What it refuses for
 * that, and would not have refused of the job as it is, is told with the plan's reason.
 */
export function ownReasons(job: Job, plan: Plan, refused: readonly Problem[]): readonly Problem[] {
  const forbidden = ['tab-forbidden', 'stub-on-no-tab'];
  if (plan.bare.length === 0 || !refused.some((p) => forbidden.includes(p.code))) return refused;
  const asItIs = draftHolding(job, plan);
  const still = new Set(asItIs.ok ? [] : asItIs.problems.map(describeProblem));
  const cutter = plan.setups.flatMap((s) => s.operations).find((o) => o.target.kind === 'corners')?.cutter;
  return refused.map((p) => {
    if (!forbidden.includes(p.code) || still.has(describeProblem(p))) return p;
    const support = p.code === 'tab-forbidden' ? 'tab' : 'stub';
    return fault({
      code: 'beside-cut-corner',
      at: p.place,
      found: `a ${support} beside an inside corner of the outline that cutter ${cutter} cuts first: the slot there is wider, and the ${support} would not reach the frame`,
      wanted: `a ${support} away from such corners`,
      remedy: `move the ${support}, or leave cutter ${cutter} out and the corner round`,
    });
  });
}
