/** Screws through bores, and clamps: preload, what it holds by friction, how stiff it is until it slips. */
import type { Mm, Mm2, Newton, NewtonMm, NewtonPerMm, Stress } from '../base/units.ts';
import { type Elastic, shearModulus } from './beam.ts';

/** As = pi/4 (d - 0.9382 P)^2. ISO 898-1. */
export function stressArea(diameter: Mm, pitch: Mm): Mm2 {
  return (Math.PI / 4) * (diameter - 0.9382 * pitch) ** 2;
}

/** Stress under proof load, N/mm2, by property class. EN ISO 898-1. */
export const PROOF_STRESS = { '4.6': 225, '5.8': 380, '8.8': 580, '10.9': 830, '12.9': 970 } as const;
export type PropertyClass = keyof typeof PROOF_STRESS;

export function proofLoad(diameter: Mm, pitch: Mm, grade: PropertyClass): Newton {
  return stressArea(diameter, pitch) * PROOF_STRESS[grade];
}

/** T = K d F. Torque coefficient dry: 0.20, from 0.18 to 0.27 (Shigley / Bowman data as quoted in tables). */
export const TORQUE_COEFFICIENT = { least: 0.18, usual: 0.2, most: 0.27 } as const;

/** Torque for 0.75 of the proof load, the rule for joints undone again (Shigley). */
export function tighteningTorque(diameter: Mm, pitch: Mm, grade: PropertyClass): NewtonMm {
  return TORQUE_COEFFICIENT.usual * diameter * RE_USED * proofLoad(diameter, pitch, grade);
}

const RE_USED = 0.75;

/** On a small hex key by hand about half the full torque is reached (common practice). */
export const HAND_SHARE = 0.5;

/** Preload for a torque: the low case holds (slip), the high case strains screw and thread. */
export function preload(torque: NewtonMm, diameter: Mm): { readonly low: Newton; readonly high: Newton } {
  return { low: torque / (TORQUE_COEFFICIENT.most * diameter), high: torque / (TORQUE_COEFFICIENT.least * diameter) };
}

/** Most preload that a thread in soft metal takes: ultimate shear x pi d Le x 0.5 (from memory). */
export function threadPullOut(diameter: Mm, engaged: Mm, ultimateShear: Stress): Newton {
  return ultimateShear * Math.PI * diameter * engaged * 0.5;
}

export interface ScrewStiffness {
  /** Along the screw, while the joint is closed. */
  readonly axial: NewtonPerMm;
  /** Across, while friction holds. */
  readonly shear: NewtonPerMm;
}

/**
 * Screw and clamped plates side by side; the plates as 30-degree cones: k = 0.5774 pi E d/(2 ln(5 (0.5774 l + 0.5 d)/
 * (0.5774 l + 2.5 d))) (Shigley, 9th ed., eq. 8-22). Across: the cones in shear, k G/E (derived).
 */
export function screwStiffness(diameter: Mm, pitch: Mm, grip: Mm, screw: Elastic, plates: Elastic): ScrewStiffness {
  const bolt = (screw.modulus * stressArea(diameter, pitch)) / grip;
  const cone = coneStiffness(diameter, grip, plates.modulus);
  return { axial: bolt + cone, shear: (cone * shearModulus(plates)) / plates.modulus };
}

export function coneStiffness(diameter: Mm, grip: Mm, modulus: Stress): NewtonPerMm {
  const l = 0.5774 * grip;
  return (0.5774 * Math.PI * modulus * diameter) / (2 * Math.log((5 * (l + 0.5 * diameter)) / (l + 2.5 * diameter)));
}

/**
 * Times the present load at which the joint slips. `pull` lifts the part off (positive), and grows with the load just as
 * `across` does: across k = mu (preload - pull k). One friction face: that of the part on its backing. Infinity without load.
 */
export function slipMargin(low: Newton, friction: number, across: Newton, pull: Newton): number {
  const use = Math.abs(across) + friction * pull;
  return use > 0 ? (friction * low) / use : Number.POSITIVE_INFINITY;
}

/** Force at the toe of a clamp: screw b/(a + b), a from screw to toe, b from screw to heel. */
export function toeForce(screw: Newton, toToe: Mm, toHeel: Mm): Newton {
  return (screw * toHeel) / (toToe + toHeel);
}

/** Clamp force so that a cut does not move the work: wanted x cut/(faces mu). Two faces only if the clamp cannot swing. */
export function neededClamp(cut: Newton, friction: number, wanted: number, faces: 1 | 2): Newton {
  return (wanted * cut) / (faces * friction);
}
