/** Speed and feed of drills, reamers, taps and countersinks, with the reason for each figure. */

import { short } from '../../base/text.ts';
import type { MetrePerMin, Mm, MmPerMin, Rpm, Watt } from '../../base/units.ts';
import { MM_PER_INCH, toRad } from '../../base/units.ts';
import {
  motorPower,
  powerAtSpeed,
  specificForce,
  spindleSpeed,
  surfaceSpeed,
} from '../../mechanics/cutting/cutting.ts';
import { drillChip, drillTorque, tapTorque } from '../../mechanics/cutting/drilling.ts';
import { wearFactor } from '../../mechanics/cutting/force-law.ts';
import type { Cutter, Job } from '../../part/part.ts';
import {
  deepHoleFactors,
  drillFeed,
  peckDepths,
  REAM_FEED_FACTOR,
  REAM_SPEED_FACTOR,
  TAP_SPEED_LIGHT,
} from '../../trade/hole-rules.ts';
import { hardestSet, type Material } from '../../trade/materials/materials.ts';
import { leastToothFeed } from '../../trade/milling-rules.ts';
import type { PlanContext } from '../context.ts';
import { withinMachine, writtenFeed } from '../milling/milling.ts';
import { say } from '../words.ts';

export interface DrillingChoice {
  readonly speed: Rpm;
  readonly feed: MmPerMin;
  readonly peck: Mm | null;
  /** At the motor, worn cutter. */
  readonly power: Watt;
  readonly reasons: readonly string[];
  readonly cautions: readonly string[];
}

/** What one cutter does in one hole. */
export interface HoleCut {
  readonly cutter: Cutter;
  /** The diameter that really cuts: a spot drill cuts only as wide as it has gone in. */
  readonly cutting: Mm;
  /** Diameter already open; 0: solid. */
  readonly open: Mm;
  readonly depth: Mm;
  /** A countersink: it chatters at a drill's speed. */
  readonly sinks?: boolean;
}

/** Carbide drills run this much faster than HSS (common practice 1.5-3; the lower end for a light machine). */
const CARBIDE_DRILL = 1.5;

/** Countersinks run at a third of the drilling speed, so that they do not chatter (common practice). */
const SINK_SPEED = 1 / 3;

export function chooseDrilling(context: PlanContext, cut: HoleCut): DrillingChoice {
  const { job, material } = context;
  const deep = deepHoleFactors(cut.depth / cut.cutting);
  const vc = drillSpeed(material, cut.cutter) * deep.speed * (cut.sinks ? SINK_SPEED : 1);
  const speed = speedFor(job, vc, cut.cutting);
  const perTurn = drillFeed(cut.cutting, material).value * deep.feed;
  const pecks = peckDepths(cut.cutting, cut.depth, material);
  const held = heldByPower(context, cut, perTurn, speed.value);
  return {
    speed: speed.value,
    ...fedAt(job, cut, held.perTurn, speed.value),
    peck: pecks ? Math.max(0.1, Math.round(pecks.next * 100) / 100) : null,
    power: held.power,
    reasons: [
      speed.reason + (cut.sinks ? ", a third of a drill's so that it does not chatter" : ''),
      `${sayTurn(job, held.perTurn)} a turn${deep.speed < 1 ? `, speed and feed eased for a hole of ${short(cut.depth / cut.cutting, 1)} diameters` : ''}${held.reason}`,
      ...(pecks ? [`pecks of ${say(job, pecks.next)} to clear the flutes`] : []),
    ],
  };
}

/** Half to two thirds of the drilling speed (rule of the trade) bounds the tables, which give aluminium more than a light machine wants. */
export function chooseReaming(context: PlanContext, cut: HoleCut): DrillingChoice {
  const { job, material } = context;
  const { cutter } = cut;
  const table = material.reamSpeed[cutter.material].value;
  const cap = drillSpeed(material, cutter) * REAM_SPEED_FACTOR.high;
  const speed = speedFor(job, Math.min(table, cap), cutter.diameter);
  const perTurn = drillFeed(cutter.diameter, material).value * REAM_FEED_FACTOR.low;
  const held = heldByPower(context, cut, perTurn, speed.value);
  return {
    speed: speed.value,
    ...fedAt(job, cut, held.perTurn, speed.value),
    peck: null,
    power: held.power,
    reasons: [
      speed.reason + (cap < table ? ', held to two thirds of the drilling speed' : ''),
      `${sayTurn(job, held.perTurn)} a turn, twice a drill's${held.reason}; in and out at feed, never backwards`,
    ],
  };
}

/** Feed is speed times pitch exactly, so the speed is one at which the written feed has no rounding. */
export function chooseTapping(context: PlanContext, tap: Cutter, pitch: Mm): DrillingChoice {
  const { job, material } = context;
  const { low, high } = TAP_SPEED_LIGHT;
  const wanted = Math.min(spindleSpeed(low, tap.diameter), job.machine.maxFeed / pitch);
  const step = speedStep(pitch);
  const slowest = Math.ceil(job.machine.minSpeed / step) * step;
  const speed = Math.max(slowest, Math.floor(wanted / step) * step);
  const actual = surfaceSpeed(speed, tap.diameter);
  const chip = pitch / Math.max(1, tap.flutes);
  const set = hardestSet(material, chip);
  // A blunt tap doubles the torque (mechanics/drilling.ts).
  const torque = tapTorque(tap.diameter, pitch, 2 * specificForce(set.kc11, set.mc, chip));
  const power = motorPower(torqueWatts(torque, speed), job.machine.efficiency);
  const available = powerAtSpeed(job.machine.power, speed, job.machine.baseSpeed);
  return {
    speed,
    feed: speed * pitch,
    peck: null,
    power,
    reasons: [
      `${short(actual, 1)} m/min, the low end of ${short(low)} to ${short(high)} for a light machine; feed is speed times the pitch of ${say(job, pitch)}`,
    ],
    cautions: [
      ...(actual > high * 1.02
        ? [
            `the tap runs at ${short(actual, 1)} m/min, the machine's slowest speed; over ${short(high)} it may break: tap by hand`,
          ]
        : []),
      ...(power > available
        ? [
            `tapping takes ${short(power, 0)} W of the ${short(available, 0)} W there are at ${speed} rev/min: tap by hand`,
          ]
        : []),
    ],
  };
}

/** A multiple of ten for metric pitches; for inch pitches a multiple of the threads to the inch, so that S times P has a short figure. */
function speedStep(pitch: Mm): number {
  const tpi = MM_PER_INCH / pitch;
  const wholeInch = Math.abs(tpi - Math.round(tpi)) < 1e-6 && Math.abs(pitch * 100 - Math.round(pitch * 100)) > 1e-6;
  return wholeInch ? Math.round(tpi) : 10;
}

function drillSpeed(material: Material, cutter: Cutter): MetrePerMin {
  return material.drillSpeed.value * (cutter.material === 'carbide' ? CARBIDE_DRILL : 1);
}

function speedFor(job: Job, vc: MetrePerMin, diameter: Mm): { value: Rpm; reason: string } {
  const wanted = spindleSpeed(vc, diameter);
  const value = withinMachine(job, wanted);
  const off = Math.abs(value - wanted) > 10 ? `; the machine gives ${value}` : '';
  const fast = value > wanted * 1.1 ? `, its slowest: ${short(surfaceSpeed(value, diameter), 0)} m/min` : '';
  const words = `${short(vc, 0)} m/min at ${say(job, Math.round(diameter * 100) / 100)} asks ${short(wanted, 0)} rev/min${off}${fast}`;
  return { value, reason: words };
}

/** Feed in whole mm/min within the machine; told when the lips then rub. */
function fedAt(job: Job, cut: HoleCut, perTurn: Mm, speed: Rpm): { feed: MmPerMin; cautions: string[] } {
  const feed = writtenFeed(job, perTurn * speed);
  const { cutter } = cut;
  const edge = feed / (speed * Math.max(1, cutter.flutes));
  const least = leastToothFeed(Math.min(cut.cutting, cutter.diameter)).value;
  const rubs = edge < least * RUB_SLACK;
  return {
    feed,
    cautions: [
      ...(rubs
        ? [
            `cutter ${cutter.number} (${cutter.kind} ${say(job, cutter.diameter)}) takes ${short(edge, 4)} mm an edge, under ${short(least, 3)}: it will rub; open the hole in steps, or have it milled ("bore")`,
          ]
        : []),
    ],
  };
}

/** Whole mm/min are written, so a feed may fall a little short of the least chip without being called rubbing. */
const RUB_SLACK = 0.95;

/** Torque law T = f D^2 kc/8 (mechanics/drilling.ts), less what a pilot has opened: feed comes down until the motor carries it. */
function heldByPower(context: PlanContext, cut: HoleCut, wanted: Mm, speed: Rpm) {
  const { job } = context;
  const available = powerAtSpeed(job.machine.power, speed, job.machine.baseSpeed);
  let perTurn = wanted;
  let power = drillPower(context, cut, perTurn, speed);
  for (let i = 0; i < 40 && power > available; i++) {
    perTurn *= 0.9;
    power = drillPower(context, cut, perTurn, speed);
  }
  const used = `${short(power, 0)} of ${short(available, 0)} W`;
  return { perTurn, power, reason: perTurn < wanted ? `, feed held by power: ${used}` : `; ${used}` };
}

/** Worn edges, like the milling forces. */
function drillPower(context: PlanContext, cut: HoleCut, perTurn: Mm, speed: Rpm): Watt {
  const { job, material } = context;
  const edges = Math.max(2, cut.cutter.flutes);
  const chip = drillChip((perTurn * 2) / edges, toRad(cut.cutter.pointDeg));
  const set = hardestSet(material, chip);
  const kc = wearFactor(cut.cutter.material) * specificForce(set.kc11, set.mc, chip);
  const ring = 1 - (Math.min(cut.open, cut.cutting) / cut.cutting) ** 2;
  return motorPower(torqueWatts(drillTorque(cut.cutting, perTurn, kc) * ring, speed), job.machine.efficiency);
}

function torqueWatts(torque: number, speed: Rpm): Watt {
  return (torque * 2 * Math.PI * speed) / 60_000;
}

function sayTurn(job: Job, perTurn: Mm): string {
  return job.units === 'mm' ? `${short(perTurn, 3)} mm` : `${short(perTurn / MM_PER_INCH, 5)} in`;
}
