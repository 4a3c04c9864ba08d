/** Single operations, before they are numbered. */

import { short } from '../base/text.ts';
import { type Mm, toRad } from '../base/units.ts';
import { spindleSpeed } from '../mechanics/cutting/cutting.ts';
import { equivalentWidth } from '../mechanics/cutting/engagement.ts';
import type { Cutter, Job } from '../part/part.ts';
import { CUTTER_RAMP_LIMIT, POCKET_ENGAGEMENT } from '../trade/milling-rules.ts';
import type { PlanContext } from './context.ts';
import { chooseMilling, type MillingChoice, withinMachine, writtenFeed } from './milling/milling.ts';
import { downFeeds } from './milling/ramp.ts';
import type { OpeningChoice } from './openings/opening-plan.ts';
import type { Operation, Target } from './plan.ts';
import { say } from './words.ts';

export interface OperationDraft {
  readonly operation: Omit<Operation, 'id'>;
  readonly cautions: readonly string[];
}

/** A pocket or bore: rings outward at every depth, then the wall at full depth. */
export function openingDraft(
  context: PlanContext,
  choice: OpeningChoice,
  what: 'pocket' | 'bore' | 'face',
  title: string,
  target: Target,
): OperationDraft {
  const { job, climb } = context;
  const { cutter, bottom, allowance } = choice;
  // Facing comes first: everything after it starts from the finished top.
  const from = what === 'face' ? job.stock.above : 0;
  const depth = from - bottom;
  const rough = roughing(context, choice, depth);
  const wall =
    allowance > 0
      ? chooseMilling(context, cutter, { kind: 'finishing', ae: allowance, depth, climb, mostForce: null })
      : null;
  return {
    operation: {
      ...milled(context, cutter, rough.choice),
      feed: rough.feed,
      slotFeed: rough.slotFeed,
      engagement: toRad(POCKET_ENGAGEMENT.value),
      what,
      title: `${title} with ${cutter.kind} ${say(job, cutter.diameter)}`,
      target,
      from,
      depths: evenDepths(from, bottom, rough.choice.ap),
      widthOfCut: choice.step,
      allowance,
      finishFeed: wall ? wall.feed : rough.feed,
      finishDepths: wall ? evenDepths(from, bottom, wall.ap) : [],
      reasons: [...choice.reasons, ...rough.reasons],
    },
    cautions: [...rough.choice.cautions, ...(wall?.cautions ?? [])],
  };
}

/**
 * Depth of cut, speed and feeds from the widest bite that the paths take: the limit of engagement, or a whole slot where
 * they must. A stretch that turns out wider all the same is fed as a slot, so no pass is deeper than a slot may be.
 */
function roughing(context: PlanContext, { cutter, slots }: OpeningChoice, depth: Mm) {
  const { job, climb } = context;
  const limit = POCKET_ENGAGEMENT.value;
  const wish = { kind: 'roughing', depth, climb, mostForce: null } as const;
  const ae = equivalentWidth(cutter.diameter, toRad(limit));
  const side = chooseMilling(context, cutter, { ...wish, ae });
  const slot = chooseMilling(context, cutter, { ...wish, ae: cutter.diameter });
  const choice = slots || slot.ap < side.ap ? slot : side;
  const feed = writtenFeed(job, Math.min(side.feed, side.toothFeed * cutter.flutes * choice.speed));
  return {
    choice,
    feed,
    slotFeed: Math.min(feed, slot.feed),
    reasons: [
      `the cutter is engaged by at most ${short(limit)} degrees${slots ? ', but for slots where there is no room beside it' : ''}`,
      ...choice.reasons,
    ],
  };
}

export function chamferDraft(context: PlanContext, cutter: Cutter, target: Target, reach: Mm): OperationDraft {
  const { job, material } = context;
  const leg = job.part.chamfer;
  // The cone cuts at a diameter of twice its height over the point; the widest place counts for speed.
  const cutting = 2 * (reach + leg);
  const fastest = job.machine.maxFeed / (CHAMFER_TOOTH_FEED * cutter.flutes);
  const speed = withinMachine(job, Math.min(fastest, spindleSpeed(material.milling[cutter.material].speed, cutting)));
  const feed = writtenFeed(job, CHAMFER_TOOTH_FEED * cutter.flutes * speed);
  return {
    operation: {
      ...plain(job, cutter),
      what: 'chamfer',
      title: `chamfer the top edges ${say(job, leg)} with ${cutter.kind} ${say(job, cutter.diameter)}`,
      speed,
      feed,
      plungeFeed: Math.max(1, Math.floor(feed / 2)),
      rampFeed: Math.max(1, Math.floor(feed / 2)),
      target,
      // A flat at the end brings the cone's flank out by half its width, so the end runs that much higher.
      depths: [-(leg + reach - cutter.tip / 2)],
      power: 0,
      reasons: [
        `the point runs ${say(job, reach)} beside the edge, ${say(job, leg + reach - cutter.tip / 2)} deep, in the open`,
      ],
      feedCap: 1,
    },
    cautions: [],
  };
}

/** Light cut on a cone of small diameter (common practice 0.01-0.03 mm a tooth). */
const CHAMFER_TOOTH_FEED: Mm = 0.02;

/** Passes of equal depth, the fewest that none exceeds `ap`. Rounded to a hundredth except the last. */
export function evenDepths(top: Mm, bottom: Mm, ap: Mm): Mm[] {
  const count = Math.max(1, Math.ceil((top - bottom) / ap - 1e-9));
  return Array.from({ length: count }, (_, i) =>
    i === count - 1 ? bottom : Math.round((top + ((bottom - top) * (i + 1)) / count) * 100) / 100,
  );
}

/** What a milling operation takes from the choice of its figures. */
export function milled(context: PlanContext, cutter: Cutter, choice: MillingChoice) {
  const { job, material } = context;
  return {
    ...plain(job, cutter),
    speed: choice.speed,
    feed: choice.feed,
    ...downFeeds(job, cutter, choice),
    rampDeg: cutter.centreCutting ? material.rampAngle.high : Math.min(material.rampAngle.high, CUTTER_RAMP_LIMIT.high),
    finishFeed: choice.feed,
    widthOfCut: choice.ae,
    engagement: Math.PI,
    slotFeed: choice.feed,
    power: choice.power,
    force: choice.force,
    feedCap: job.machine.maxFeed / choice.feed,
  };
}

/** What an operation has unless it says otherwise. */
export function plain(job: Job, cutter: Cutter) {
  return {
    cutter: cutter.number,
    from: 0,
    force: 0,
    finishFeed: 1,
    finishDepths: [],
    rampDeg: 0,
    widthOfCut: 0,
    engagement: 0,
    slotFeed: 1,
    allowance: 0,
    widen: 0,
    leadAside: 0,
    turns: 1,
    feedCap: 1,
    peck: null,
    dwell: 0,
    // Glue softens in warm coolant and lets go (common practice): glued parts are cut dry.
    coolant: job.hold.by === 'glue' ? ('none' as const) : job.machine.coolant,
    byHand: null,
    stopBefore: null,
  };
}
