/** The teeth's rhythm against the lowest mode, and the chatter screen, for each operation along the edge. */
import { short } from '../base/text.ts';
import type { Holding, Moment } from '../hold/holding.ts';
import { chatterScreen, leastChatterDepth } from '../mechanics/chatter.ts';
import { cutterDeflection } from '../mechanics/deflection.ts';
import { giveAt } from '../mechanics/held-state.ts';
import { toothPassing, worstHarmonic } from '../mechanics/vibration.ts';
import type { Cutter } from '../part/part.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import { CUTTER_MATERIALS } from '../trade/milling-rules.ts';
import type { Rhythm } from './course.ts';

/** Multiples looked at: a short cut's force is a spike, rich in them. */
const HARMONICS = 12;
/** Specific force for the screen: N/mm2 at the chip's thickness is not known to the course, so the usual span's upper end. */
const SPECIFIC = 4000;

export function rhythmOf(plan: Plan, holding: Holding): readonly Rhythm[] {
  const lowest = holding.reckoning.modes[0];
  if (lowest === undefined) return [];
  const operations = plan.setups.flatMap((s) => s.operations);
  return operations.flatMap((op): Rhythm[] => {
    const moments = holding.reckoning.moments.filter((m) => m.operation === op.id);
    const last = moments.at(-1);
    const cutter = plan.cutters.find((c) => c.number === op.cutter);
    if (!last || !cutter) return [];
    return [rhythm(op, cutter, last, holding, lowest)];
  });
}

function rhythm(op: Operation, cutter: Cutter, moment: Moment, holding: Holding, lowest: number): Rhythm {
  const passing = (cutter.flutes * op.speed) / 60;
  const worst = worstHarmonic(toothPassing(op.speed, cutter.flutes, HARMONICS), lowest);
  const stiffness = 1 / (softest(holding, moment) + cutterGive(cutter));
  const depth = op.depths.length > 1 ? Math.abs(op.depths[0]! - op.from) : Math.abs(op.depths[0]! - op.from);
  const chatter = chatterScreen(depth, leastChatterDepth(stiffness, SPECIFIC, cutter.flutes / 2));
  return {
    operation: op.id,
    passing,
    harmonic: worst.harmonic,
    magnification: worst.magnification,
    chatter,
    says:
      `teeth pass ${short(passing, 0)} times a second; the part's lowest swing is ${short(lowest, 0)} Hz` +
      (worst.magnification > 1.5
        ? `, met by multiple ${worst.harmonic}: movement up to ${short(worst.magnification, 1)} times`
        : '') +
      `; chatter: ${chatter}`,
  };
}

/** Softest give of the edge in its normal, mm/N. */
function softest(holding: Holding, moment: Moment): number {
  let most = 0;
  for (const part of holding.reckoning.parts) {
    const { held, own } = part.states[moment.state]!;
    part.spots.forEach((s, i) => {
      most = Math.max(most, giveAt(held, s, moment.z)[0]! + own[i]!.normal);
    });
  }
  return most;
}

function cutterGive(cutter: Cutter): number {
  return cutterDeflection({ ...cutter, modulus: CUTTER_MATERIALS[cutter.material].E.value }, 1).tip;
}
