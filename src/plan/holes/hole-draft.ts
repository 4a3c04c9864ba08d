/** Operations in holes: steps with the same cutter and depth are one operation over all holes and parts. */

import { tangent } from '../../base/angles.ts';
import { short } from '../../base/text.ts';
import { toRad } from '../../base/units.ts';
import type { Hole, Job } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';
import { holeTargets } from '../context.ts';

import { type OperationDraft, plain } from '../draft.ts';
import { swarfStop } from '../measure.ts';
import type { HoleTarget, Operation, OperationKind, StopReason } from '../plan.ts';
import { holeNames, say } from '../words.ts';
import { chooseDrilling, chooseReaming, chooseTapping, type DrillingChoice } from './drilling.ts';
import { type HolePlan, type HoleStep, STEP_ORDER } from './hole-plan.ts';
import { handTapLines } from './tap-lines.ts';

/** Half a second, a few turns, leaves a clean cone (common practice). */
const SPOT_DWELL = 0.5;

export function holeDrafts(context: PlanContext, plans: readonly HolePlan[]): OperationDraft[] {
  const groups = new Map<string, { steps: HoleStep[]; holes: Hole[] }>();
  for (const what of STEP_ORDER) {
    for (const plan of plans) {
      for (const step of plan.steps.filter((s) => s.what === what)) {
        const key = `${what} ${step.cutter.number} ${step.bottom.toFixed(4)} ${step.cutting.toFixed(4)}`;
        const group = groups.get(key) ?? { steps: [], holes: [] };
        group.steps.push(step);
        group.holes.push(plan.hole);
        groups.set(key, group);
      }
    }
  }
  return [...groups.values()].map(({ steps, holes }) => {
    const step = {
      ...steps[0]!,
      note: [...new Set(steps.map((s) => s.note))].join('; '),
      why: [...new Set(steps.flatMap((s) => s.why ?? []))],
    };
    return holeDraft(context, step, holes, holeTargets(context, holes));
  });
}

export function holeDraft(
  context: PlanContext,
  step: HoleStep,
  holes: readonly Hole[],
  targets: readonly HoleTarget[],
): OperationDraft {
  const { job } = context;
  const common = { title: titleOf(job, step, holes), target: { kind: 'holes', holes: targets } as const };
  if (step.what === 'tap' && job.machine.tapping === 'hand') return handTap(job, step, holes, common);
  const choice = choiceOf(context, step, holes);
  return {
    operation: {
      ...plain(job, step.cutter),
      ...common,
      what: kindOf(step),
      speed: choice.speed,
      feed: choice.feed,
      plungeFeed: choice.feed,
      rampFeed: choice.feed,
      depths: [step.bottom],
      peck: choice.peck,
      dwell: step.what === 'spot' || step.what === 'countersink' ? SPOT_DWELL : 0,
      power: choice.power,
      stopBefore: step.what === 'countersink' && step.cutter.kind === 'countersink' ? flatTip(job, step) : null,
      reasons: [...(step.why ?? []), ...choice.reasons],
    },
    cautions: choice.cautions,
  };
}

/** Depths are reckoned from the end of the cone; how wide the flat there is, few catalogues tell and the person can see. */
function flatTip(job: Job, { cutter }: HoleStep): StopReason {
  const share = short(1 / (2 * tangent(toRad(cutter.pointDeg) / 2)), 2);
  return swarfStop(
    cutter.tip > 0
      ? `The depth counts from the flat at the end of this countersink, taken to be ${say(job, cutter.tip)} wide: if it is not, set Z at touch-off lower by ${share} of what it is wider, or higher by ${share} of what it is narrower`
      : `The depth counts from the sharp point of the cone: if the tip of this countersink is flat, set Z lower at touch-off by ${share} of the width of the flat`,
  );
}

/** No figures for the machine: the spindle stands over each hole and waits. */
function handTap(
  job: Job,
  step: HoleStep,
  holes: readonly Hole[],
  common: Pick<Operation, 'title' | 'target'>,
): OperationDraft {
  return {
    operation: {
      ...plain(job, step.cutter),
      ...common,
      what: 'tap',
      speed: 0,
      feed: 0,
      finishFeed: 0,
      plungeFeed: 0,
      rampFeed: 0,
      depths: [step.bottom],
      power: 0,
      coolant: 'none',
      byHand: handTapLines(job, holes),
      reasons: ['by hand while the part is still held; started in the spindle so that the thread stands square'],
    },
    cautions: [],
  };
}

function choiceOf(context: PlanContext, step: HoleStep, holes: readonly Hole[]): DrillingChoice {
  const cut = { cutter: step.cutter, cutting: step.cutting, open: step.open, depth: -step.bottom };
  if (step.what === 'tap') {
    const { make } = holes[0]!;
    return chooseTapping(context, step.cutter, make.kind === 'tap' ? make.pitch : 0);
  }
  if (step.what === 'ream') return chooseReaming(context, cut);
  const choice = chooseDrilling(context, { ...cut, sinks: step.what === 'countersink' });
  const drilled = step.what === 'drill' || step.what === 'pilot' || step.what === 'screw holes';
  // Behind a pilot chips fall down the open hole, and only the lips cut.
  return drilled && step.open === 0 ? choice : { ...choice, peck: null };
}

function kindOf(step: HoleStep): OperationKind {
  return step.what === 'pilot' ? 'drill' : step.what;
}

function titleOf(job: Job, step: HoleStep, holes: readonly Hole[]): string {
  const verb = step.what === 'screw holes' || step.what === 'pilot' ? 'drill' : step.what;
  const size = sizeOf(job, step);
  const words = step.note.trim() === '' ? '' : ` ${step.note.trim()}`;
  return `${verb}${size}${words}, ${holeNames(holes)}`;
}

function sizeOf(job: Job, step: HoleStep): string {
  if (step.what === 'tap') return job.machine.tapping === 'hand' ? ' by hand' : '';
  if (step.what === 'spot') return ` with ${step.cutter.kind} ${short(step.cutter.diameter)}`;
  return ` ${say(job, step.cutter.diameter)}`;
}
