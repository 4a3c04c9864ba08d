/** What a trial cut asks of motor, cutter and holding, and the first of their limits that it breaks. */

import { table } from '../../base/tables.ts';
import { short } from '../../base/text.ts';
import { type Mm, type MmPerMin, type Newton, type Rpm, type Stress, toRad, type Watt } from '../../base/units.ts';
import { climb, conventional, type MillingCut, SLOT } from '../../mechanics/cutting/cut.ts';
import { motorPower, powerAtSpeed, tableFeed } from '../../mechanics/cutting/cutting.ts';
import { cutterDeflection } from '../../mechanics/cutting/deflection.ts';
import { engagementStraight } from '../../mechanics/cutting/engagement.ts';
import { type ForceSummary, worstForce } from '../../mechanics/cutting/force.ts';
import { edgeForces, forceLaws, wearFactor } from '../../mechanics/cutting/force-law.ts';
import type { Cutter, Job } from '../../part/part.ts';
import { CUTTER_DEFLECTION, CUTTER_MATERIALS } from '../../trade/milling-rules.ts';
import type { PlanContext } from '../context.ts';

export interface MillingRequest {
  readonly kind: 'roughing' | 'finishing';
  /** Width of cut; the cutter's diameter for a slot. */
  readonly ae: Mm;
  /** Depth to be cut in all. */
  readonly depth: Mm;
  readonly climb: boolean;
  /** Greatest force in the plane that the holding carries with its wanted margin; null: not known yet. */
  readonly mostForce: Newton | null;
  /** The thinnest chip that still cuts: for the tops of tabs, which the part hangs on. */
  readonly light?: boolean;
}

/** Everything but the depth and the chip, which the search changes. */
export interface MillingSetting extends PlanContext {
  readonly cutter: Cutter;
  readonly wish: MillingRequest;
  readonly speed: Rpm;
}

export interface Trial {
  readonly ap: Mm;
  readonly toothFeed: Mm;
  readonly feed: MmPerMin;
  /** In the plane of the table, worst of the force sets. */
  readonly force: Newton;
  /** At the motor. */
  readonly power: Watt;
  /** Of the tip: across the edge when finishing, in the plane when roughing. */
  readonly deflection: Mm;
  readonly stress: Stress;
}

export interface MillingLimit {
  readonly what: 'power' | 'cutter deflection' | 'cutter strength' | 'holding';
  /** `held by power: 320 of 350 W`, with the figures of the cut that keeps it. */
  says(kept: Trial): string;
}

/** One degree: entries and exits are looked at besides, and between them a force turns at most twice as fast, so peaks err by under 0.02 %. */
const TRIAL_STEP = Math.PI / 180;

export function isSlot(cutter: Cutter, wish: MillingRequest): boolean {
  return wish.ae >= cutter.diameter * 0.99;
}

export function tryCut(s: MillingSetting, ap: Mm, toothFeed: Mm): Trial {
  const { cutter, wish, speed } = s;
  const cut: MillingCut = {
    diameter: cutter.diameter,
    teeth: cutter.flutes,
    ap,
    span: spanOf(cutter, wish),
    toothFeed,
    helix: toRad(cutter.helixDeg),
    runout: s.job.machine.runout,
  };
  const force = forceOf(s, cut);
  const net = (force.meanTangential * Math.PI * cutter.diameter * speed) / 60_000;
  const beam = { ...cutter, modulus: CUTTER_MATERIALS[cutter.material].E.value };
  const across =
    wish.kind === 'finishing' ? Math.max(Math.abs(force.left.least), Math.abs(force.left.most)) : force.inPlane;
  return {
    ap,
    toothFeed,
    feed: tableFeed(toothFeed, cutter.flutes, speed),
    force: force.inPlane,
    power: motorPower(net, s.job.machine.efficiency),
    deflection: cutterDeflection(beam, across, ap / 2).tip,
    stress: cutterDeflection(beam, force.inPlane, ap / 2).stress,
  };
}

/** An eased plan tries much of what the plan before it did. */
function forceOf({ job, material, cutter, tables }: MillingSetting, cut: MillingCut): ForceSummary {
  const key = `${material.name} ${cutter.material} ${Object.values({ ...cut, ...cut.span }).join(' ')}`;
  return tables.once(FORCES, [job, key], () =>
    worstForce(cut, edgeForces(forceLaws(material), wearFactor(cutter.material)), TRIAL_STEP),
  );
}

const FORCES = table<[job: Job, cut: string], ForceSummary>('forces of the cuts that were tried');

function spanOf(cutter: Cutter, wish: MillingRequest): MillingCut['span'] {
  if (isSlot(cutter, wish)) return SLOT;
  const phi = engagementStraight(cutter.diameter, wish.ae);
  return wish.climb ? climb(phi) : conventional(phi);
}

export function firstLimit(s: MillingSetting, trial: Trial): MillingLimit | null {
  const { machine } = s.job;
  const available = powerAtSpeed(machine.power, s.speed, machine.baseSpeed);
  const bend = CUTTER_DEFLECTION[s.wish.kind].value;
  const allowed = CUTTER_MATERIALS[s.cutter.material].allowableBending.value;
  const hold = s.wish.mostForce;
  const slow = s.speed < machine.baseSpeed ? ` there are at ${s.speed} rev/min` : '';
  if (trial.power > available)
    return { what: 'power', says: (t) => `held by power: ${short(t.power, 0)} of ${short(available, 0)} W${slow}` };
  if (trial.deflection > bend)
    return {
      what: 'cutter deflection',
      says: (t) => `held by the cutter's bending: ${short(t.deflection, 3)} of ${short(bend, 3)} mm`,
    };
  if (trial.stress > allowed)
    return {
      what: 'cutter strength',
      says: (t) => `held by the cutter's strength: ${short(t.stress, 0)} of ${short(allowed, 0)} N/mm2`,
    };
  if (hold !== null && trial.force > hold)
    return {
      what: 'holding',
      says: (t) => `held by what the part hangs on: ${short(t.force, 0)} of ${short(hold, 0)} N`,
    };
  return null;
}
