/** What is told where the holding, and not the cutter, makes a job slow. */
import { note, type Problem } from '../../base/problem.ts';
import type { Plan } from '../../plan/plan.ts';

/** Why a job takes so long, where it is not the cutter that asks for it. */
export function easedNote(free: Plan, eased: Plan): Problem[] {
  const [before, after] = [free, eased].map(roughPasses) as [number, number];
  if (after < MANY_TIMES * before) return [];
  return [
    note({
      code: 'passes-eased',
      at: { path: 'hold' },
      found: `the outline is roughed in ${after} passes where the cutter alone would take ${before}: what holds the part carries no deeper ones within its margin and movement`,
      remedy:
        'to be quicker: clamps nearer to the part, a smaller or thicker piece of stock, or another way of holding (`tabwright hold` has the minutes of each)',
    }),
  ];
}

/** Times as many passes as are worth a word. */
const MANY_TIMES = 3;

function roughPasses(plan: Plan): number {
  const outline = plan.setups[0]!.operations.filter((o) => o.what === 'rough');
  return outline.reduce((sum, o) => sum + o.depths.length, 0);
}
