/**
 * Speed, feed, chip and power of a milling cut: the handbook formulas in the units of this program.
 * Domain of every function: positive, finite arguments; callers check the job at its door.
 */
import { power } from '../../base/powers.ts';
import type { MetrePerMin, Mm, MmPerMin, Rpm, Stress, Watt } from '../../base/units.ts';

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

/** N mm/min to W: 60 s in a minute, 1000 mm in a metre. */
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

/** Kienzle's law: kc = kc1.1 h^-mc, h in mm. Kyocera catalogue 2021/22 p.1070; VDI 3323 groups carry kc1.1 and mc. */
export function specificForce(kc11: Stress, mc: number, h: Mm): Stress {
  return kc11 * power(h, -mc);
}
