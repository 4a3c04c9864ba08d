/** Loads of drilling and tapping on a part that is no longer whole plate. */
import { sine, tangent } from '../../base/angles.ts';
import type { Mm, Newton, NewtonMm, Rad, Stress } from '../../base/units.ts';
import { specificForce } from './cutting.ts';

/** Chip thickness of one lip of a two-lip drill: half the feed of a turn, times the sine of half the point angle. */
export function drillChip(feedPerTurn: Mm, pointAngle: Rad): Mm {
  return (feedPerTurn / 2) * sine(pointAngle / 2);
}

/**
 * Thrust, N: 0.5 kc (D/2) f sin(kr) for the lips (Sandvik handbook form, from memory), times a factor for the chisel edge:
 * 1.5-2 for a plain point or a blunt drill (common practice; the upper end is the default).
 */
export function drillThrust(
  diameter: Mm,
  feedPerTurn: Mm,
  pointAngle: Rad,
  kc: Stress,
  chisel: number = CHISEL,
): Newton {
  return 0.5 * kc * (diameter / 2) * feedPerTurn * sine(pointAngle / 2) * chisel;
}

export const CHISEL = 2;

/** Torque, N mm: f D^2 kc/8. Same form as De-Sta-Co manual p.13 (its 49 500 is 396 000/8). */
export function drillTorque(diameter: Mm, feedPerTurn: Mm, kc: Stress): NewtonMm {
  return (feedPerTurn * diameter ** 2 * kc) / 8;
}

/**
 * Pull on the part, up the drill, when the point has broken through and the lips screw themselves into the last skin:
 * at most what the torque gives on a screw of the drill's lead without friction, F = 2 M tan(helix)/D. Derived; common
 * practice says only that the part climbs. Straight-fluted drills do not pull.
 */
export function breakThroughPull(diameter: Mm, torque: NewtonMm, helix: Rad): Newton {
  return Math.max(0, (2 * torque * tangent(helix)) / diameter);
}

export interface DrillLoad {
  readonly thrust: Newton;
  readonly torque: NewtonMm;
  readonly pull: Newton;
}

/** All three loads from Kienzle constants. `wear` multiplies them. */
export function drillLoad(
  drill: { readonly diameter: Mm; readonly pointAngle: Rad; readonly helix: Rad },
  feedPerTurn: Mm,
  metal: { readonly kc11: Stress; readonly mc: number },
  wear: number,
): DrillLoad {
  const kc = wear * specificForce(metal.kc11, metal.mc, drillChip(feedPerTurn, drill.pointAngle));
  const torque = drillTorque(drill.diameter, feedPerTurn, kc);
  return {
    thrust: drillThrust(drill.diameter, feedPerTurn, drill.pointAngle, kc),
    torque,
    pull: breakThroughPull(drill.diameter, torque, drill.helix),
  };
}

/**
 * Torque of a cutting tap, N mm: P^2 d kc/8 (tap makers' form, from memory), P the pitch. A blunt tap doubles it
 * (common practice), so callers pass a wear factor in kc.
 */
export function tapTorque(diameter: Mm, pitch: Mm, kc: Stress): NewtonMm {
  return (pitch ** 2 * diameter * kc) / 8;
}
