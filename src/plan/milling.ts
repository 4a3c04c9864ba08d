/** Speed, feed and depth of milling cuts on a light machine, with the reason for each figure. */
import { short } from '../base/text.ts';
import { type Mm, type MmPerMin, type Newton, type Rpm, toRad, type Watt } from '../base/units.ts';
import { type Cut, climb, conventional, SLOT } from '../mechanics/cut.ts';
import { motorPower, powerAtSpeed, spindleSpeed, tableFeed } from '../mechanics/cutting.ts';
import { cutterDeflection } from '../mechanics/deflection.ts';
import { chipThinning, engagementStraight } from '../mechanics/engagement.ts';
import { type ForceSummary, worstForce } from '../mechanics/force.ts';
import type { Cutter, Job } from '../part/part.ts';
import type { Material } from '../trade/materials.ts';
import {
  CHIP_THINNING_CAP,
  CUTTER_DEFLECTION,
  CUTTER_MATERIALS,
  LONG_REACH,
  leastToothFeed,
  SPEED_FACTORS,
  slotDepth,
  toothFeedStart,
} from '../trade/milling-rules.ts';
import { lawsOf, wearOf } from './force-laws.ts';

export interface MillingChoice {
  readonly speed: Rpm;
  readonly feed: MmPerMin;
  readonly toothFeed: Mm;
  /** Depth of cut of one pass. */
  readonly ap: Mm;
  readonly ae: Mm;
  /** At the motor, worst of the force sets. */
  readonly power: Watt;
  readonly deflection: Mm;
  /** Greatest force in the plane of the table, worst of the force sets. */
  readonly force: Newton;
  readonly reasons: readonly string[];
  /** Something the machine or cutter cannot do well, to be told. */
  readonly cautions: readonly string[];
}

export interface MillingWish {
  readonly kind: 'roughing' | 'finishing';
  /** Width of cut; the cutter's diameter for a slot. */
  readonly ae: Mm;
  /** Depth to be cut in all. */
  readonly depth: Mm;
  readonly climb: boolean;
  /** Greatest force in the plane that the holding carries with its wanted margin; null: not known yet. */
  readonly mostForce: Newton | null;
}

/** Steps of the search: depth and feed go down by a tenth until every limit is kept. */
const STEP = 0.9;
const MOST_STEPS = 60;

/** Starts from the handbook and comes down until power, deflection and strength allow it. */
export function chooseMilling(job: Job, material: Material, cutter: Cutter, wish: MillingWish): MillingChoice {
  const start = startOf(job, material, cutter, wish);
  let { ap, toothFeed } = start;
  const floor = leastToothFeed(cutter.diameter).value;
  const reasons = [...start.reasons];
  let held: Limit | null = null;
  for (let i = 0; i < MOST_STEPS; i++) {
    const trial = tryCut(job, material, cutter, wish, start.speed, ap, toothFeed);
    const limit = firstLimit(job, cutter, wish, trial);
    if (!limit) return finishChoice(cutter, wish, start.speed, ap, toothFeed, trial, held, reasons, floor);
    held = limit;
    // Finishing keeps its depth as long as a thinner chip helps: one level pass leaves no step on the edge.
    if (wish.kind === 'finishing' && toothFeed * STEP >= floor) toothFeed *= STEP;
    else ap *= STEP;
  }
  const trial = tryCut(job, material, cutter, wish, start.speed, ap, toothFeed);
  return finishChoice(cutter, wish, start.speed, ap, toothFeed, trial, held, reasons, floor);
}

interface Start {
  readonly speed: Rpm;
  readonly toothFeed: Mm;
  readonly ap: Mm;
  readonly reasons: readonly string[];
}

function startOf(job: Job, material: Material, cutter: Cutter, wish: MillingWish): Start {
  const row = material.milling[cutter.material];
  const slot = wish.ae >= cutter.diameter * 0.99;
  const deep = slot && wish.depth > cutter.diameter;
  const factor = slot ? SPEED_FACTORS[deep ? 'deep slot' : 'slot'] : { value: 1 };
  const wanted = spindleSpeed(row.speed * factor.value, cutter.diameter);
  const speed = withinMachine(job, wanted);
  const long = cutter.stickOut > LONG_REACH.from.value * cutter.diameter;
  // A thicker chip to make up for a thin cut would double the force on a part that hangs on tabs: only roughing gets it.
  const thin = wish.kind === 'finishing' ? 1 : chipThinning(wish.ae, cutter.diameter, CHIP_THINNING_CAP.value);
  const chip = toothFeedStart(cutter.diameter, material, cutter.material).value * (long ? LONG_REACH.factor.value : 1);
  const toothFeed = Math.max(chip * thin, leastToothFeed(cutter.diameter).value);
  const ap =
    wish.kind === 'finishing'
      ? wish.depth
      : Math.min(wish.depth, slotDepth(cutter.diameter, material).high * cutter.diameter);
  const reasons = [
    `${short(row.speed * factor.value, 0)} m/min${slot ? (deep ? ', halved for a deep slot' : ', less a fifth for a slot') : ''} asks ${short(wanted, 0)} rev/min` +
      (Math.abs(speed - wanted) > 10 ? `; the machine gives ${short(speed, 0)}` : ''),
    `chip ${short(chip, 4)} mm a tooth${long ? ', eased for long reach' : ''}${thin > 1.01 ? `, feed raised ${short(thin, 2)} times for a thin cut` : ''}`,
  ];
  return { speed, toothFeed, ap, reasons };
}

export function withinMachine(job: Job, wanted: Rpm): Rpm {
  const speed = Math.min(job.machine.maxSpeed, Math.max(job.machine.minSpeed, wanted));
  return Math.max(job.machine.minSpeed, Math.floor(speed / 10) * 10);
}

interface Trial {
  readonly force: ForceSummary;
  readonly power: Watt;
  readonly deflection: Mm;
  readonly stress: number;
  readonly feed: MmPerMin;
  readonly speed: Rpm;
}

function tryCut(
  job: Job,
  material: Material,
  cutter: Cutter,
  wish: MillingWish,
  speed: Rpm,
  ap: Mm,
  toothFeed: Mm,
): Trial {
  const feed = Math.min(tableFeed(toothFeed, cutter.flutes, speed), job.machine.maxFeed);
  const cut: Cut = {
    diameter: cutter.diameter,
    teeth: cutter.flutes,
    ap,
    span: spanOf(cutter, wish),
    toothFeed: feed / (cutter.flutes * speed),
    helix: toRad(cutter.helixDeg),
    runout: job.machine.runout,
  };
  const force = worstForce(cut, lawsOf(material), wearOf(cutter));
  const net = (force.meanTangential * Math.PI * cutter.diameter * speed) / 60_000;
  const beam = { ...cutter, modulus: CUTTER_MATERIALS[cutter.material].E.value };
  const across =
    wish.kind === 'finishing' ? Math.max(Math.abs(force.left.least), Math.abs(force.left.most)) : force.inPlane;
  const bend = cutterDeflection(beam, across, ap / 2);
  const strongest = cutterDeflection(beam, force.inPlane, ap / 2);
  return {
    force,
    power: motorPower(net, job.machine.efficiency),
    deflection: bend.tip,
    stress: strongest.stress,
    feed,
    speed,
  };
}

function spanOf(cutter: Cutter, wish: MillingWish): Cut['span'] {
  if (wish.ae >= cutter.diameter * 0.99) return SLOT;
  const phi = engagementStraight(cutter.diameter, wish.ae);
  return wish.climb ? climb(phi) : conventional(phi);
}

type Limit = { readonly what: 'power' | 'deflection' | 'strength' | 'holding'; readonly says: string };

function firstLimit(job: Job, cutter: Cutter, wish: MillingWish, trial: Trial): Limit | null {
  const available = powerAtSpeed(job.machine.power, trial.speed, job.machine.baseSpeed);
  if (trial.power > available)
    return {
      what: 'power',
      says: `held by power: ${short(available, 0)} of ${short(job.machine.power, 0)} W at this speed`,
    };
  const most = CUTTER_DEFLECTION[wish.kind].value;
  if (trial.deflection > most)
    return { what: 'deflection', says: `held by cutter deflection: ${short(most, 3)} mm allowed` };
  const allowed = CUTTER_MATERIALS[cutter.material].allowableBending.value;
  if (trial.stress > allowed)
    return { what: 'strength', says: `held by cutter strength: ${short(allowed, 0)} N/mm2 allowed` };
  if (wish.mostForce !== null && trial.force.inPlane > wish.mostForce) {
    return { what: 'holding', says: `held by what the part hangs on: ${short(wish.mostForce, 0)} N` };
  }
  return null;
}

function finishChoice(
  cutter: Cutter,
  wish: MillingWish,
  speed: Rpm,
  ap: Mm,
  toothFeed: Mm,
  trial: Trial,
  held: Limit | null,
  reasons: readonly string[],
  floor: Mm,
): MillingChoice {
  const fz = trial.feed / (cutter.flutes * speed);
  const rubbing = fz < floor * 0.98;
  return {
    speed,
    feed: Math.max(1, Math.floor(trial.feed)),
    toothFeed: Math.min(toothFeed, fz),
    ap,
    ae: wish.ae,
    power: trial.power,
    deflection: trial.deflection,
    force: trial.force.inPlane,
    reasons: [
      ...reasons,
      `depth of cut ${short(ap, 2)} mm${held ? `, ${held.says}` : ''}; ${short(trial.power, 0)} W, cutter bends ${short(trial.deflection, 3)} mm`,
    ],
    cautions: [
      ...(rubbing
        ? [
            `cutter ${cutter.number} (${short(cutter.diameter)} mm) takes ${short(fz, 4)} mm a tooth, under ${short(floor, 3)}: it will rub`,
          ]
        : []),
    ],
  };
}
