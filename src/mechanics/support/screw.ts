/** Screws through bores, and clamps: preload, what it holds by friction, how stiff it is until it slips. */
import { logarithm } from '../../base/powers.ts';
import type { Mm, Newton, NewtonMm, NewtonPerMm, Stress } from '../../base/units.ts';
import {
  HAND_TORQUE,
  PRELOAD_REUSED,
  type PropertyClass,
  PULL_OUT,
  proofLoad,
  stressArea,
  TORQUE_COEFFICIENTS,
  tighteningTorque,
} from '../../trade/threads/screws.ts';
import type { Thread } from '../../trade/threads/thread-rows.ts';
import { type ElasticModuli, shearModulus } from './beam.ts';

export type ThreadState = keyof typeof TORQUE_COEFFICIENTS;

/** Torque by hand that the sheet asks for: for 0.75 of the proof load at the usual coefficient, by the hand's share of it. */
export function handTorque(thread: Thread, grade: PropertyClass, state: ThreadState = 'dry'): NewtonMm {
  const wanted = PRELOAD_REUSED.value * proofLoad(thread, grade).value;
  return HAND_TORQUE.value * tighteningTorque(wanted, thread.major, TORQUE_COEFFICIENTS[state].value);
}

/** Preload for a torque, T = K d F: the low case holds (slip), the high case strains screw and thread. */
export function preload(
  torque: NewtonMm,
  diameter: Mm,
  state: ThreadState = 'dry',
): { readonly low: Newton; readonly high: Newton } {
  const { low, high } = TORQUE_COEFFICIENTS[state].spread;
  return { low: torque / (high * diameter), high: torque / (low * diameter) };
}

/** Most preload that a thread in soft metal takes: ultimate shear x pi d Le, half of it. */
export function threadPullOut(diameter: Mm, engaged: Mm, ultimateShear: Stress): Newton {
  return ultimateShear * Math.PI * diameter * engaged * PULL_OUT.value;
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
export function screwStiffness(
  thread: Pick<Thread, 'major' | 'pitch'>,
  grip: Mm,
  screw: ElasticModuli,
  plates: ElasticModuli,
): ScrewStiffness {
  const bolt = (screw.modulus * stressArea(thread)) / grip;
  const cone = coneStiffness(thread.major, grip, plates.modulus);
  return { axial: bolt + cone, shear: (cone * shearModulus(plates)) / plates.modulus };
}

export function coneStiffness(diameter: Mm, grip: Mm, modulus: Stress): NewtonPerMm {
  const l = 0.5774 * grip;
  return (0.5774 * Math.PI * modulus * diameter) / (2 * logarithm((5 * (l + 0.5 * diameter)) / (l + 2.5 * diameter)));
}

/**
 * Times the present load at which the joint slips. `pull` lifts the part off (positive), and grows with the load just as
 * `across` does: across k = mu (preload - pull k). One friction face: that of the part on its backing. Infinity without load.
 */
export function slipMargin(low: Newton, friction: number, across: Newton, pull: Newton): number {
  const use = Math.abs(across) + friction * pull;
  return use > 0 ? (friction * low) / use : Number.POSITIVE_INFINITY;
}
