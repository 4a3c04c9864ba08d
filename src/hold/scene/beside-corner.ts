/** Why no tab or stub may stand beside an inside corner that is cut first. */
import { fault, type Problem } from '../../base/problem.ts';
import type { Plan } from '../../plan/plan.ts';

/** `path`: the key of the job that asks for the support there. */
export function besideCutCorner(plan: Plan, support: 'tab' | 'stub', path: string): Problem {
  const cutter = plan.setups.flatMap((s) => s.operations).find((o) => o.target.kind === 'corners')?.cutter;
  return fault({
    code: 'beside-cut-corner',
    at: { path },
    found: `a ${support} beside an inside corner of the outline that cutter ${cutter} cuts first: the slot there is wider, and the ${support} would not reach the frame`,
    wanted: `a ${support} away from such corners`,
    remedy: `move the ${support}, or leave cutter ${cutter} out and the corner round`,
  });
}
