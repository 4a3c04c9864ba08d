/** Speed and feed of drills, reamers and spot drills, with the reason for each figure. */
import { short } from '../base/text.ts';
import type { Mm, MmPerMin, Rpm, Watt } from '../base/units.ts';
import { toRad } from '../base/units.ts';
import { motorPower, powerAtSpeed, specificForce, spindleSpeed } from '../mechanics/cutting.ts';
import { drillChip, drillTorque } from '../mechanics/drilling.ts';
import type { Cutter, Job } from '../part/part.ts';
import { deepHoleFactors, drillFeed, peckDepths, REAM_FEED_FACTOR } from '../trade/hole-rules.ts';
import { hardestSet, type Material } from '../trade/materials.ts';
import { withinMachine } from './milling.ts';

export interface DrillingChoice {
  readonly speed: Rpm;
  readonly feed: MmPerMin;
  readonly peck: Mm | null;
  readonly power: Watt;
  readonly reasons: readonly string[];
}

/** `cutting`: the diameter that really cuts; a spot drill cuts only as wide as it has gone in. */
export function chooseDrilling(job: Job, material: Material, cutter: Cutter, cutting: Mm, depth: Mm): DrillingChoice {
  const deep = deepHoleFactors(depth / cutting);
  const vc = material.drillSpeed.value * deep.speed * (cutter.material === 'carbide' ? 1.5 : 1);
  const wanted = spindleSpeed(vc, cutting);
  const speed = withinMachine(job, wanted);
  const perTurn = drillFeed(cutting, material).value * deep.feed;
  const pecks = peckDepths(cutting, depth, material);
  const byTorque = heldByPower(job, material, cutter, cutting, perTurn, speed);
  return {
    speed,
    feed: feedOf(job, byTorque.perTurn, speed),
    peck: pecks ? Math.max(0.1, Math.round(pecks.next * 100) / 100) : null,
    power: byTorque.power,
    reasons: [
      `${short(vc, 0)} m/min at ${short(cutting, 2)} mm asks ${short(wanted, 0)} rev/min${Math.abs(speed - wanted) > 10 ? `; the machine gives ${speed}` : ''}`,
      `${short(byTorque.perTurn, 3)} mm a turn${byTorque.held ? ', held by power' : ''}${deep.speed < 1 ? ', eased for a deep hole' : ''}`,
    ],
  };
}

export function chooseReaming(job: Job, material: Material, cutter: Cutter): DrillingChoice {
  const vc = material.reamSpeed[cutter.material].value;
  const wanted = spindleSpeed(vc, cutter.diameter);
  const speed = withinMachine(job, wanted);
  const perTurn = drillFeed(cutter.diameter, material).value * REAM_FEED_FACTOR.low;
  return {
    speed,
    feed: feedOf(job, perTurn, speed),
    peck: null,
    power: 0,
    reasons: [
      `${short(vc, 0)} m/min asks ${short(wanted, 0)} rev/min${Math.abs(speed - wanted) > 10 ? `; the machine gives ${speed}` : ''}`,
      `${short(perTurn, 3)} mm a turn, twice a drill's; in and out at feed, never backwards`,
    ],
  };
}

/** Torque law T = f D^2 kc / 8 (mechanics/drilling.ts): feed comes down until the motor carries it. */
function heldByPower(job: Job, material: Material, cutter: Cutter, cutting: Mm, perTurn: Mm, speed: Rpm) {
  const available = powerAtSpeed(job.machine.power, speed, job.machine.baseSpeed);
  let feed = perTurn;
  for (let i = 0; i < 40; i++) {
    const power = drillPower(job, material, cutter, cutting, feed, speed);
    if (power <= available) return { perTurn: feed, power, held: i > 0 };
    feed *= 0.9;
  }
  return { perTurn: feed, power: drillPower(job, material, cutter, cutting, feed, speed), held: true };
}

function drillPower(job: Job, material: Material, cutter: Cutter, cutting: Mm, feed: Mm, speed: Rpm): Watt {
  const chip = drillChip(feed, toRad(cutter.pointDeg));
  const set = hardestSet(material, chip);
  const torque = drillTorque(cutting, feed, specificForce(set.kc11, set.mc, chip));
  return motorPower((torque * 2 * Math.PI * speed) / 60_000, job.machine.efficiency);
}

function feedOf(job: Job, perTurn: Mm, speed: Rpm): MmPerMin {
  return Math.max(1, Math.min(job.machine.maxFeed, Math.floor(perTurn * speed)));
}
