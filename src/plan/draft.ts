/** Single operations, before they are numbered. */
import { short } from '../base/text.ts';
import type { Mm, Newton } from '../base/units.ts';
import { spindleSpeed } from '../mechanics/cutting.ts';
import type { Cutter, Job } from '../part/part.ts';
import type { Material } from '../trade/materials.ts';
import { CUTTER_RAMP_LIMIT, PLUNGE_FEED, RAMP_FEED } from '../trade/milling-rules.ts';
import { chooseMilling, type MillingChoice, withinMachine } from './milling.ts';
import type { OpeningChoice } from './opening-plan.ts';
import type { Operation, Target } from './plan.ts';
import type { ProfileChoice } from './profile-plan.ts';

export interface Draft {
  readonly operation: Omit<Operation, 'id'>;
  readonly cautions: readonly string[];
}

export function roughDraft(
  job: Job,
  material: Material,
  profile: ProfileChoice,
  climb: boolean,
  mostForce: Newton | null,
): Draft {
  const { cutter } = profile;
  const depth = -profile.bottom;
  const choice = chooseMilling(job, material, cutter, {
    kind: 'roughing',
    ae: cutter.diameter,
    depth,
    climb,
    mostForce,
  });
  return {
    operation: {
      ...milled(job, material, cutter, choice),
      what: 'rough',
      title: `rough the outline with ${cutter.kind} ${short(cutter.diameter)}, leaving ${short(profile.allowance)}`,
      target: outlineOf(job),
      depths: evenDepths(0, profile.bottom, choice.ap),
      allowance: profile.allowance,
      widen: profile.widen,
      reasons: [...profile.reasons, ...choice.reasons],
    },
    cautions: choice.cautions,
  };
}

export function finishDraft(
  job: Job,
  material: Material,
  profile: ProfileChoice,
  climb: boolean,
  mostForce: Newton | null,
): Draft {
  const { cutter } = profile;
  const depth = -profile.bottom;
  const choice = chooseMilling(job, material, cutter, {
    kind: 'finishing',
    ae: profile.allowance,
    depth,
    climb,
    mostForce,
  });
  const turns = job.finish.springPass ? 2 : 1;
  return {
    operation: {
      ...milled(job, material, cutter, choice),
      what: 'finish',
      title: `finish the outline with ${cutter.kind} ${short(cutter.diameter)}${turns > 1 ? ', with a spring pass' : ''}`,
      target: outlineOf(job),
      depths: evenDepths(0, profile.bottom, choice.ap),
      leadAside: profile.allowance,
      turns,
      reasons: choice.reasons,
    },
    cautions: choice.cautions,
  };
}

export function lightenDraft(
  job: Job,
  material: Material,
  profile: ProfileChoice,
  climb: boolean,
  mostForce: Newton | null,
): Draft[] {
  const tabs = job.hold.by === 'tabs' ? job.hold.tabs : null;
  if (!tabs || tabs.lightenTo === null) return [];
  const { cutter } = profile;
  const choice = chooseMilling(job, material, cutter, {
    kind: 'roughing',
    ae: cutter.diameter,
    depth: LIGHT_PASS,
    climb,
    mostForce,
  });
  return [
    {
      operation: {
        ...milled(job, material, cutter, choice),
        what: 'lighten',
        title: `thin the tabs to ${short(tabs.lightenTo)}`,
        target: { kind: 'tabs' },
        depths: [-job.part.thickness + tabs.lightenTo],
        reasons: choice.reasons,
      },
      cautions: choice.cautions,
    },
  ];
}

/** A pocket or bore: rings outward at every depth, then the wall at full depth. */
export function openingDraft(
  job: Job,
  material: Material,
  choice: OpeningChoice,
  what: 'pocket' | 'bore' | 'face',
  title: string,
  target: Target,
  climb: boolean,
): Draft {
  const { cutter, bottom, allowance } = choice;
  // Facing comes first: everything after it starts from the finished top.
  const from = what === 'face' ? job.stock.above : 0;
  const depth = from - bottom;
  const rough = chooseMilling(job, material, cutter, {
    kind: 'roughing',
    ae: cutter.diameter,
    depth,
    climb,
    mostForce: null,
  });
  const wall =
    allowance > 0
      ? chooseMilling(job, material, cutter, { kind: 'finishing', ae: allowance, depth, climb, mostForce: null })
      : null;
  return {
    operation: {
      ...milled(job, material, cutter, rough),
      what,
      title: `${title} with ${cutter.kind} ${short(cutter.diameter)}`,
      target,
      from,
      depths: evenDepths(from, bottom, rough.ap),
      widthOfCut: choice.step,
      allowance,
      finishFeed: wall ? wall.feed : rough.feed,
      finishDepths: wall ? evenDepths(from, bottom, wall.ap) : [],
      reasons: [...choice.reasons, ...rough.reasons],
    },
    cautions: [...rough.cautions, ...(wall?.cautions ?? [])],
  };
}

export function chamferDraft(job: Job, material: Material, cutter: Cutter, target: Target, reach: Mm): Draft {
  const leg = job.part.chamfer;
  // The cone cuts at a diameter of twice its height over the point; the widest place counts for speed.
  const cutting = 2 * (reach + leg);
  const speed = withinMachine(job, spindleSpeed(material.milling[cutter.material].speed, cutting));
  const feed = Math.max(1, Math.min(job.machine.maxFeed, Math.floor(CHAMFER_TOOTH_FEED * cutter.flutes * speed)));
  return {
    operation: {
      ...plain(job, cutter),
      what: 'chamfer',
      title: `chamfer the top edges ${short(leg)} with ${cutter.kind} ${short(cutter.diameter)}`,
      speed,
      feed,
      plungeFeed: Math.max(1, Math.floor(feed / 2)),
      rampFeed: Math.max(1, Math.floor(feed / 2)),
      target,
      depths: [-(leg + reach)],
      power: 0,
      reasons: [`the point runs ${short(reach)} mm beside the edge, ${short(leg + reach)} mm deep, in the open`],
      feedCap: 1,
    },
    cautions: [],
  };
}

/** Light cut on a cone of small diameter (common practice 0.01-0.03 mm a tooth). */
const CHAMFER_TOOTH_FEED: Mm = 0.02;

/** Depth reckoned for the pass over a tab's top: tabs are 0.3-1.5 mm high, so a pass takes less than this. */
const LIGHT_PASS: Mm = 1;

/** Passes of equal depth, the fewest that none exceeds `ap`. Rounded to a hundredth except the last. */
export function evenDepths(top: Mm, bottom: Mm, ap: Mm): Mm[] {
  const count = Math.max(1, Math.ceil((top - bottom) / ap - 1e-9));
  return Array.from({ length: count }, (_, i) =>
    i === count - 1 ? bottom : Math.round((top + ((bottom - top) * (i + 1)) / count) * 100) / 100,
  );
}

function outlineOf(job: Job): Target {
  return { kind: 'outline', parts: job.places.map((_, i) => i) };
}

function milled(job: Job, material: Material, cutter: Cutter, choice: MillingChoice) {
  return {
    ...plain(job, cutter),
    speed: choice.speed,
    feed: choice.feed,
    plungeFeed: Math.max(1, Math.floor(choice.feed * PLUNGE_FEED.low)),
    rampFeed: Math.max(1, Math.floor(choice.feed * RAMP_FEED.value)),
    rampDeg: cutter.centreCutting ? material.rampAngle.high : Math.min(material.rampAngle.high, CUTTER_RAMP_LIMIT.high),
    finishFeed: choice.feed,
    widthOfCut: choice.ae,
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
