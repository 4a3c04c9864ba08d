/** Speed, feed and depth of milling cuts on a light machine, with the reason for each figure. */

import { logarithm, power } from '../../base/powers.ts';
import { short } from '../../base/text.ts';
import type { Mm, MmPerMin, Newton, Rpm, Watt } from '../../base/units.ts';
import { spindleSpeed, surfaceSpeed } from '../../mechanics/cutting/cutting.ts';
import { chipThinning } from '../../mechanics/cutting/engagement.ts';
import type { Cutter, Job } from '../../part/part.ts';
import type { Material } from '../../trade/materials/materials.ts';
import {
  CHIP_THINNING_CAP,
  LONG_REACH,
  leastToothFeed,
  SPEED_FACTORS,
  slotDepth,
  toothFeedStart,
} from '../../trade/milling-rules.ts';
import type { PlanContext } from '../context.ts';
import {
  firstLimit,
  isSlot,
  type MillingLimit,
  type MillingRequest,
  type MillingSetting,
  type Trial,
  tryCut,
} from './milling-limits.ts';

export interface MillingChoice {
  readonly speed: Rpm;
  readonly feed: MmPerMin;
  readonly toothFeed: Mm;
  /** Depth of cut of one pass: the whole depth in equal passes. */
  readonly ap: Mm;
  readonly ae: Mm;
  /** At the motor, worst of the force sets. */
  readonly power: Watt;
  readonly deflection: Mm;
  readonly stress: number;
  /** Greatest force in the plane of the table, worst of the force sets. */
  readonly force: Newton;
  readonly reasons: readonly string[];
  /** Something the machine or cutter cannot do well, to be told. */
  readonly cautions: readonly string[];
}

/** Steps of the search: depth or feed go down by a tenth until every limit is kept. */
const STEP = 0.9;
const MOST_STEPS = 60;

/** Starts from the handbook and comes down until power, cutter and holding allow it. */
export function chooseMilling(context: PlanContext, cutter: Cutter, wish: MillingRequest): MillingChoice {
  const start = startOf(context, cutter, wish);
  const setting: MillingSetting = { ...context, cutter, wish, speed: start.speed };
  const floor = leastToothFeed(cutter.diameter).value;
  const thin = chipThinning(wish.ae, cutter.diameter, CHIP_THINNING_CAP.value);
  const thinnest = Math.max(floor, THIN_CHIP * floor * thin);
  const easedBy = (first: 'chip' | 'depth') => {
    const { trial, held } = firstThatKeeps(setting, (step) =>
      tryCut(setting, ...stateAt(step, start, thinnest, first)),
    );
    const passes = Math.max(1, Math.ceil(wish.depth / trial.ap - 1e-9));
    const even = tryCut(setting, wish.depth / passes, trial.toothFeed);
    return { even, held, passes, time: passes / even.feed, kept: firstLimit(setting, even) === null };
  };
  const shallow = () => easedBy('depth');
  if (wish.kind === 'roughing') return toldOf(shallow());
  const level = easedBy('chip');
  if (level.passes === 1) return toldOf(level);
  // Once there are levels anyhow, a full chip on more of them is the shorter way: most of a thin chip's force is the edge's.
  const stepped = shallow();
  return toldOf(stepped.kept && (!level.kept || stepped.time < SHORTER * level.time) ? stepped : level);

  function toldOf({ even, held }: ReturnType<typeof easedBy>): MillingChoice {
    return told(setting, start, even, held, floor);
  }
}

/** More levels leave more lines on the edge: they must be worth it. */
const SHORTER = 0.8;

/** Shallower levels are below what a light machine repeats in Z, and only add hours: what needs them is held another way (common practice). */
const LEAST_DEPTH: Mm = 0.05;

/**
 * Finishing tries first whether a thinner chip lets it keep its depth: one level pass leaves no step on the edge. Roughing keeps
 * its chip until no shallower level is left.
 */
function stateAt(step: number, start: Start, thinnest: Mm, first: 'chip' | 'depth'): [ap: Mm, toothFeed: Mm] {
  const down = (steps: number) => Math.min(start.ap, Math.max(LEAST_DEPTH, start.ap * power(STEP, steps)));
  if (first === 'depth') {
    const depthSteps = Math.min(step, stepsTo(LEAST_DEPTH, start.ap));
    return [
      down(depthSteps),
      Math.max(Math.min(thinnest, start.toothFeed), start.toothFeed * power(STEP, step - depthSteps)),
    ];
  }
  const feedSteps = Math.min(
    step,
    Math.max(0, Math.floor(logarithm(thinnest / start.toothFeed) / logarithm(STEP) + 1e-9)),
  );
  return [down(step - feedSteps), start.toothFeed * power(STEP, feedSteps)];
}

/** Until `from` has come down to `to`. */
function stepsTo(to: Mm, from: Mm): number {
  return Math.max(0, Math.ceil(logarithm(to / from) / logarithm(STEP) - 1e-9));
}

/** Every load falls with the steps, so the first that keeps all limits is found by halving. */
function firstThatKeeps(
  setting: MillingSetting,
  at: (step: number) => Trial,
): { trial: Trial; held: MillingLimit | null } {
  const first = at(0);
  let held = firstLimit(setting, first);
  if (held === null) return { trial: first, held };
  let broken = 0;
  let kept = MOST_STEPS;
  let trial = at(kept);
  while (kept - broken > 1) {
    const middle = Math.floor((kept + broken) / 2);
    const there = at(middle);
    const limit = firstLimit(setting, there);
    if (limit === null) [kept, trial] = [middle, there];
    else [broken, held] = [middle, limit];
  }
  return { trial, held };
}

interface Start {
  readonly speed: Rpm;
  readonly toothFeed: Mm;
  readonly ap: Mm;
  readonly reasons: readonly string[];
}

function startOf(context: PlanContext, cutter: Cutter, wish: MillingRequest): Start {
  const { material } = context;
  const chip = chipOf(material, cutter, wish);
  const speed = speedOf(context, cutter, wish, chip.toothFeed);
  const whole = slotDepth(cutter.diameter, material).high * cutter.diameter;
  const ap = wish.kind === 'finishing' ? wish.depth : Math.min(wish.depth, whole);
  return { speed: speed.value, toothFeed: chip.toothFeed, ap, reasons: [speed.reason, chip.reason] };
}

/**
 * A thicker feed to make up in full for a thin cut would double the force on a part that hangs on tabs, so only roughing gets
 * it; finishing gets as much as keeps its thin chip above rubbing.
 */
function chipOf(material: Material, cutter: Cutter, wish: MillingRequest): { toothFeed: Mm; reason: string } {
  const long = cutter.stickOut > LONG_REACH.from.value * cutter.diameter;
  const start = toothFeedStart(cutter.diameter, material, cutter.material).value;
  const chip = start * (long ? LONG_REACH.factor.value : 1);
  const thin = chipThinning(wish.ae, cutter.diameter, CHIP_THINNING_CAP.value);
  const least = leastToothFeed(cutter.diameter).value;
  const raised = wish.kind === 'roughing' ? chip * thin : Math.max(chip, Math.min(start, least * thin));
  if (wish.light)
    return { toothFeed: least, reason: `chip ${short(least, 4)} mm a tooth, the thinnest that still cuts` };
  const toothFeed = Math.max(raised, least);
  const why = [
    ...(long ? [`eased for a stick-out of ${short(cutter.stickOut / cutter.diameter, 1)} diameters`] : []),
    ...(toothFeed > chip * 1.01 ? [`raised to ${short(toothFeed, 4)} so that the edge does not rub`] : []),
  ];
  return { toothFeed, reason: `chip ${short(chip, 4)} mm a tooth${why.map((w) => `, ${w}`).join('')}` };
}

/** When the machine cannot reach the surface speed the chip is kept and the feed follows; when its feed ends first, the speed comes down. */
function speedOf(context: PlanContext, cutter: Cutter, wish: MillingRequest, toothFeed: Mm) {
  const { job, material } = context;
  const slot = isSlot(cutter, wish);
  const deep = slot && wish.depth > cutter.diameter;
  const factor = slot ? SPEED_FACTORS[deep ? 'deep slot' : 'slot'].value : 1;
  const vc = material.milling[cutter.material].speed * factor;
  const wanted = spindleSpeed(vc, cutter.diameter);
  const turned = withinMachine(job, wanted);
  const fed = job.machine.maxFeed / (cutter.flutes * toothFeed);
  const value = fed < turned ? withinMachine(job, fed) : turned;
  const words = [
    `${short(vc, 0)} m/min${slot ? (deep ? ', halved for a deep slot,' : ', less a fifth for a slot,') : ''} asks ${short(wanted, 0)} rev/min`,
    ...(Math.abs(turned - wanted) > 10 ? [`the machine gives ${short(turned, 0)}`] : []),
    ...(turned > wanted * 1.1 ? [`that is ${short(surfaceSpeed(turned, cutter.diameter), 0)} m/min`] : []),
    ...(value < turned ? [`lowered to ${value} so that the fastest feed keeps the chip`] : []),
  ];
  return { value, reason: words.join('; ') };
}

export function withinMachine(job: Job, wanted: Rpm): Rpm {
  const speed = Math.min(job.machine.maxSpeed, Math.max(job.machine.minSpeed, wanted));
  return Math.max(job.machine.minSpeed, Math.floor(speed / 10) * 10);
}

/** Whole mm/min where that is fine enough, else tenths; never rounded up. */
export function writtenFeed(job: Job, feed: MmPerMin): MmPerMin {
  const held = Math.min(feed, job.machine.maxFeed);
  return Math.max(0.1, held >= 20 ? Math.floor(held + 1e-9) : Math.floor(held * 10 + 1e-9) / 10);
}

/** Half the floor for the thickest chip of a thin cut: below it the edge, whose radius is several micrometres, only burnishes. */
const THIN_CHIP = 0.5;
/** What rounding a feed down may take off. */
const RUB_SLACK = 0.95;

function told(s: MillingSetting, start: Start, t: Trial, held: MillingLimit | null, floor: Mm): MillingChoice {
  const { cutter, job } = s;
  const feed = writtenFeed(job, t.feed);
  const toothFeed = feed / (cutter.flutes * s.speed);
  const thickest = toothFeed / chipThinning(s.wish.ae, cutter.diameter, Number.POSITIVE_INFINITY);
  const rubs = toothFeed < floor * RUB_SLACK || thickest < THIN_CHIP * floor * RUB_SLACK;
  const beyond = firstLimit(s, t);
  const who = `cutter ${cutter.number} (${cutter.kind} ${short(cutter.diameter)} mm)`;
  return {
    speed: s.speed,
    feed,
    toothFeed,
    ap: t.ap,
    ae: s.wish.ae,
    power: t.power,
    deflection: t.deflection,
    stress: t.stress,
    force: t.force,
    reasons: [
      ...start.reasons,
      `${s.wish.kind === 'finishing' && t.ap >= s.wish.depth - 1e-9 ? 'feed' : `depth of cut ${short(t.ap, 2)} mm`}${held ? ` ${held.says(t)}` : ' as the handbook gives'}; ${short(t.power, 0)} W, cutter bends ${short(t.deflection, 3)} mm`,
    ],
    cautions: [
      ...(rubs
        ? [
            `${who} takes ${short(toothFeed, 4)} mm a tooth, chips ${short(thickest, 4)} mm thick, under the ${short(floor, 3)} mm it wants: it will rub`,
          ]
        : []),
      ...(beyond
        ? [
            beyond.what === 'holding'
              ? `${who} finds no cut light enough for what the part hangs on: hold it better`
              : `${who} finds no depth that keeps the limit of ${beyond.what}: use a stiffer cutter or setting`,
          ]
        : []),
    ],
  };
}
