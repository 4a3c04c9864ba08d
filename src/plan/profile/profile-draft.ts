/** Operations round the outside: rough, the through pass, finish (with a stop to measure where asked), thin the tabs. */
import type { Mm, Newton } from '../../base/units.ts';
import type { Job } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';
import { evenDepths, milled, type OperationDraft } from '../draft.ts';
import { measureStop, swarfStop } from '../measure.ts';
import { chooseMilling } from '../milling/milling.ts';
import type { Ease, StopReason, Target } from '../plan.ts';
import { say } from '../words.ts';
import type { ProfileChoice } from './profile-plan.ts';

export interface ProfileRequest extends PlanContext {
  readonly profile: ProfileChoice;
  readonly ease: Ease;
}

/** Left for the last pass after a stop to measure: thick enough to cut cleanly, thin enough to spring nothing (common practice). */
const MEASURE_ALLOWANCE: Mm = 0.05;

/** All depths but the last, a stop to brush out the slot, then the pass that goes through. */
export function roughDrafts(request: ProfileRequest): OperationDraft[] {
  const { job, profile, climb, ease } = request;
  const { cutter, bottom } = profile;
  const ae = cutter.diameter;
  const pass = { kind: 'roughing', ae, depth: -bottom, climb } as const;
  const choice = chooseMilling(request, cutter, { ...pass, mostForce: ease.solid });
  const last = chooseMilling(request, cutter, { ...pass, mostForce: leastOf(ease.solid, ease.through) });
  const upper = roughDepths(job, bottom, choice.ap, last.ap);
  const depths = [...upper.whole, ...upper.through];
  const operation = {
    ...milled(request, cutter, choice),
    what: 'rough',
    title: `rough the outline with ${cutter.kind} ${say(job, cutter.diameter)}, leaving ${say(job, profile.allowance)}`,
    target: outlineOf(job),
    depths,
    allowance: profile.allowance,
    widen: profile.widen,
    reasons: [...profile.reasons, ...choice.reasons],
  } as const;
  if (upper.whole.length === 0) return [{ operation, cautions: choice.cautions }];
  const goesThrough = bottom > -job.part.thickness + 1e-9 ? 'leaves the floor' : 'goes through';
  const through = {
    ...operation,
    ...cutOf(milled(request, cutter, last)),
    title: `rough the outline: the pass that ${goesThrough}, leaving ${say(job, profile.allowance)}`,
    from: upper.whole.at(-1)!,
    depths: upper.through,
    stopBefore: swarfStop('Brush the swarf out of the slot: the next pass is the deepest'),
    reasons: last.ap < choice.ap - 1e-9 ? last.reasons : ['as the passes before it'],
  };
  return [
    { operation: { ...operation, depths: upper.whole }, cautions: choice.cautions },
    { operation: through, cautions: [] },
  ];
}

/** What a cutting choice decides, and nothing of where it is used. */
function cutOf(m: ReturnType<typeof milled>) {
  const { speed, feed, finishFeed, plungeFeed, rampFeed, rampDeg, power, force, feedCap } = m;
  return { speed, feed, finishFeed, plungeFeed, rampFeed, rampDeg, power, force, feedCap };
}

/**
 * Whole metal holds the part until the slot comes down to the height of its tabs; only from there does the part hang on them.
 * So only the passes below that are thinned when the holding asks for it; the rest are evenly as deep as the cutter likes.
 */
function roughDepths(job: Job, bottom: Mm, ap: Mm, lastAp: Mm): { readonly whole: Mm[]; readonly through: Mm[] } {
  if (lastAp >= ap - 1e-9) {
    const all = evenDepths(0, bottom, ap);
    return { whole: all.slice(0, -1), through: all.slice(-1) };
  }
  const hangs = Math.min(0, -job.part.thickness + tabHeightOf(job));
  const last = Math.max(hangs, bottom + lastAp);
  const whole = last < -1e-9 ? evenDepths(0, last, ap) : [];
  return { whole, through: evenDepths(Math.min(0, last), bottom, lastAp) };
}

/** Height of the tabs as asked, or the highest that are chosen (0.5-1.5 mm, common practice). */
function tabHeightOf(job: Job): Mm {
  const asked = job.hold.by === 'tabs' || job.hold.by === 'screws' ? job.hold.tabs?.height : null;
  return asked ?? Math.min(HIGHEST_TAB, job.part.thickness / 2);
}

const HIGHEST_TAB: Mm = 1.5;

function leastOf(a: Newton | null, b: Newton | null): Newton | null {
  return a === null || b === null ? (a ?? b) : Math.min(a, b);
}

export function finishDrafts(request: ProfileRequest): OperationDraft[] {
  const { job, profile } = request;
  const clean = swarfStop('Brush out the slot: a chip caught beside the cutter marks the edge');
  const last = { from: profile.allowance, to: 0, turns: job.finish.springPass ? 2 : 1 };
  const left = Math.min(MEASURE_ALLOWANCE, profile.allowance / 2);
  if (!job.finish.stopToMeasure || left <= 0) return [finishDraft(request, last, clean)];
  return [
    finishDraft(request, { from: profile.allowance, to: left, turns: 1 }, clean),
    finishDraft(request, { ...last, from: left }, measureStop(job, left)),
  ];
}

function finishDraft(
  request: ProfileRequest,
  { from, to, turns }: { from: Mm; to: Mm; turns: number },
  stopBefore: StopReason,
): OperationDraft {
  const { job, profile, climb, ease } = request;
  const { cutter, bottom } = profile;
  const ae = from - to;
  const mostForce = ease.finishing;
  const choice = chooseMilling(request, cutter, { kind: 'finishing', ae, depth: -bottom, climb, mostForce });
  const words = to > 0 ? `, leaving ${say(job, to)} to measure over` : turns > 1 ? ', with a spring pass' : '';
  return {
    operation: {
      ...milled(request, cutter, choice),
      what: 'finish',
      title: `finish the outline with ${cutter.kind} ${say(job, cutter.diameter)}${words}`,
      target: outlineOf(job),
      depths: evenDepths(0, bottom, choice.ap),
      allowance: to,
      leadAside: ae,
      turns,
      stopBefore,
      reasons: [
        ...choice.reasons,
        ...(turns > 1 ? ['a second time round takes off what the cutter sprang away from'] : []),
      ],
    },
    cautions: choice.cautions,
  };
}

/** Depth reckoned for the pass over a tab's top when its height is chosen later: tabs are 0.3-1.5 mm high, so a pass takes less. */
const LIGHT_PASS: Mm = 1;

export function lightenDrafts(request: ProfileRequest): OperationDraft[] {
  const { job, profile, climb, ease } = request;
  const mostForce = ease.lightening;
  const tabs = job.hold.by === 'tabs' ? job.hold.tabs : null;
  if (!tabs || tabs.lightenTo === null) return [];
  const { cutter } = profile;
  const ae = cutter.diameter;
  const depth = tabs.height === null ? LIGHT_PASS : Math.max(0.1, tabs.height - tabs.lightenTo);
  const pass = { kind: 'roughing', ae, depth, climb, mostForce, light: true } as const;
  const choice = chooseMilling(request, cutter, pass);
  const operation = {
    ...milled(request, cutter, choice),
    what: 'lighten',
    title: `thin the tabs to ${say(job, tabs.lightenTo)}`,
    target: { kind: 'tabs' },
    depths: thinningDepths(job, depth, tabs.lightenTo, choice.ap),
    reasons: choice.reasons,
  } as const;
  return [{ operation, cautions: choice.cautions }];
}

/** From the tab's top down, in steps no deeper than the cutter and the tabs left standing bear. */
function thinningDepths(job: Job, depth: Mm, to: Mm, ap: Mm): Mm[] {
  const bottom = -job.part.thickness + to;
  return evenDepths(depth, 0, ap).map((left) => bottom + left);
}

function outlineOf(job: Job): Target {
  return { kind: 'outline', parts: job.places.map((_, i) => i) };
}
