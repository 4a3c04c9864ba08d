/**
 * Speed, feed, chip and power of a milling cut: the handbook formulas in the units of this program.
 * Domain of every function: positive, finite arguments; callers check the job at its door.
 */
import type { MetrePerMin, Mm, Mm2, MmPerMin, Rad, Rpm, Stress, Watt } from '../../base/units.ts';
import { engagementStraight } from './engagement.ts';

/** n = 1000 vc / (pi D). Kyocera catalogue 2021/22 p.1070. */
export function spindleSpeed(vc: MetrePerMin, diameter: Mm): Rpm {
  return (1000 * vc) / (Math.PI * diameter);
}

/** Surface speed at a spindle speed: the inverse of `spindleSpeed`. */
export function surfaceSpeed(n: Rpm, diameter: Mm): MetrePerMin {
  return (Math.PI * diameter * n) / 1000;
}

/** vf = fz z n. Kyocera catalogue 2021/22 p.1070. */
export function tableFeed(toothFeed: Mm, teeth: number, n: Rpm): MmPerMin {
  return toothFeed * teeth * n;
}

/** fz = vf / (z n). */
export function toothFeed(feed: MmPerMin, teeth: number, n: Rpm): Mm {
  return feed / (teeth * n);
}

/** Removal rate in mm3/min: ap ae vf (the handbook form divides by 1000 for cm3/min). */
export function removalRate(ap: Mm, ae: Mm, feed: MmPerMin): number {
  return ap * ae * feed;
}

/** Net cutting power, W: removal rate times specific cutting force. Mitsubishi, "Cutting power for face milling". */
export function cuttingPower(rate: number, kc: Stress): Watt {
  return (rate * kc) / MM3_PER_MIN_NMM_TO_WATT;
}

/** N mm/min to W: 60 s in a minute, 1000 mm in a metre. */
const MM3_PER_MIN_NMM_TO_WATT = 60_000;

/** Power the motor must give for a net cutting power; belt-driven spindles 0.7-0.8 (Mitsubishi, same page). */
export function motorPower(net: Watt, efficiency: number): Watt {
  return net / efficiency;
}

/**
 * Power at the spindle at a speed: constant torque below the base speed of the motor, constant power above it
 * (common practice for variable-speed drives of small mills).
 */
export function powerAtSpeed(rated: Watt, n: Rpm, baseSpeed: Rpm): Watt {
  return rated * Math.min(1, n / baseSpeed);
}

/** Torque at the spindle in N mm for a net power at a speed. */
export function torqueOf(net: Watt, n: Rpm): number {
  return (net * 1000 * 60) / (2 * Math.PI * n);
}

/** Kienzle's law: kc = kc1.1 h^-mc, h in mm. Kyocera catalogue 2021/22 p.1070; VDI 3323 groups carry kc1.1 and mc. */
export function specificForce(kc11: Stress, mc: number, h: Mm): Stress {
  return kc11 * h ** -mc;
}

/** Mean chip thickness of a side cut: hm = 2 ae fz sin(kr) / (D phi). Kyocera catalogue 2021/22 p.1070. */
export function meanChip(fz: Mm, ae: Mm, diameter: Mm, leadAngle: Rad = Math.PI / 2): Mm {
  return (2 * ae * fz * Math.sin(leadAngle)) / (diameter * engagementStraight(diameter, ae));
}

/** The slab-milling form for shallow cuts, h = fz sqrt(d/D). Ghosh & Mallik, Manufacturing Science, Example 4.16. */
export function meanChipShallow(fz: Mm, ae: Mm, diameter: Mm): Mm {
  return fz * Math.sqrt(ae / diameter);
}

/** Thickest chip over the engagement: fz from half immersion on, fz sin(phi) below. */
export function maxChip(fz: Mm, ae: Mm, diameter: Mm): Mm {
  return ae >= diameter / 2 ? fz : fz * Math.sin(engagementStraight(diameter, ae));
}

/** Area of one chip's face times kc: main force of a single edge (turning and boring form). Stated with T18. */
export function edgeForce(area: Mm2, kc: Stress): number {
  return area * kc;
}
