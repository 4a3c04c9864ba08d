/** The teeth's rhythm against the lowest mode, and the chatter screen, for each operation along the edge. */
import { power } from '../base/powers.ts';
import { short } from '../base/text.ts';
import type { Hertz, Mm } from '../base/units.ts';
import type { Holding, Moment } from '../hold/holding.ts';
import { chatterScreen, leastChatterDepth, meanChip } from '../mechanics/cutting/chatter.ts';
import { type CutSpan, climb, conventional, SLOT } from '../mechanics/cutting/cut.ts';
import { engagementStraight } from '../mechanics/cutting/engagement.ts';
import { edgeForces, forceLaws } from '../mechanics/cutting/force-law.ts';
import { toothPassing, worstHarmonic } from '../mechanics/cutting/vibration.ts';
import { edgeCompliance, Workspace } from '../mechanics/held/held-state.ts';
import type { Cutter, Job } from '../part/part.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import { findMaterial, type Material } from '../trade/materials/materials.ts';
import type { Rhythm } from './course.ts';

/** Multiples looked at: a short cut's force is a spike, rich in them. */
const HARMONICS = 12;
export function rhythmOf(job: Job, plan: Plan, holding: Holding): readonly Rhythm[] {
  const lowest = holding.evaluation.modes[0];
  const material = findMaterial(job.material);
  if (lowest === undefined || material.kind !== 'found') return [];
  const operations = plan.setups.flatMap((s) => s.operations);
  return operations.flatMap((op): Rhythm[] => {
    const moments = holding.evaluation.moments.filter((m) => m.operation === op.id);
    const last = moments.at(-1);
    const cutter = plan.cutters.find((c) => c.number === op.cutter);
    if (!last || !cutter) return [];
    const depths = {
      depth: deepest(op, job, holding),
      least: leastDepth(op, cutter, last, { job, plan, holding }, material.value),
    };
    return [rhythm(op, cutter, depths, lowest)];
  });
}

function rhythm(op: Operation, cutter: Cutter, { depth, least }: { depth: Mm; least: Mm }, lowest: Hertz): Rhythm {
  const passing = (cutter.flutes * op.speed) / 60;
  const worst = worstHarmonic(toothPassing(op.speed, cutter.flutes, HARMONICS), lowest);
  const chatter = chatterScreen(depth, least, lowest / passing);
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
      `; chatter: ${chatter} (${short(depth, 2)} mm deep, the held part steady at any speed to ${short(least, 2)} mm, ${short(lowest / passing, 0)} waves between teeth; a screen, not proven)`,
  };
}

function deepest(op: Operation, job: Job, holding: Holding): Mm {
  // Thinning starts at the tab's own top.
  if (op.what === 'lighten') return Math.max(...holding.tabs.map((t) => t.cutHeight - t.height));
  if (op.what === 'chamfer') return job.part.chamfer;
  return Math.max(...op.depths.map((z, i) => (i === 0 ? op.from : op.depths[i - 1]!) - z));
}

interface HeldPlan {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
}

/** Of the part as held (the cutter's own swing is not looked at); least over the published force sets, at the pass's mean chip. */
function leastDepth(op: Operation, cutter: Cutter, moment: Moment, made: HeldPlan, material: Material): Mm {
  const stiffness = 1 / softest(made.holding, moment);
  const span = spanOf(op, cutter, made);
  const chip = meanChip(op.feed / (cutter.flutes * op.speed), span);
  const cuts = edgeForces(forceLaws(material)).map((e) => {
    const specific = e.power * e.tc * power(chip, e.power - 1);
    return { specific, radial: e.rc / e.tc, teeth: cutter.flutes, span };
  });
  return Math.min(...cuts.map((cut) => leastChatterDepth(stiffness, cut)));
}

function spanOf(op: Operation, cutter: Cutter, { job, plan }: HeldPlan): CutSpan {
  const chamfer = op.what === 'chamfer' && op.target.kind === 'edges';
  const reach = chamfer && op.target.kind === 'edges' ? op.target.reach + job.part.chamfer : cutter.diameter / 2;
  const wide = chamfer ? job.part.chamfer / 2 : op.widthOfCut;
  if (op.what !== 'finish' && !chamfer) return SLOT;
  const phi = engagementStraight(2 * reach, Math.min(wide, 2 * reach));
  return plan.climb ? climb(phi) : conventional(phi);
}

/** Softest give of the edge in its normal, mm/N. */
function softest(holding: Holding, moment: Moment): number {
  const work = new Workspace();
  let most = 0;
  for (const part of holding.evaluation.parts) {
    const { held, own } = part.states[moment.state]!;
    part.spots.forEach((s, i) => {
      most = Math.max(most, edgeCompliance(work, held, s, moment.z)[0]! + own[i]!.normal);
    });
  }
  return most;
}
