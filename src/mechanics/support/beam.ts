/** Short beams with bending and shear (Timoshenko), and the sections they are made of. Lengths mm, stiffness N/mm. */
import { cube, power } from '../../base/powers.ts';
import type { Mm, Mm2, Newton, Stress } from '../../base/units.ts';

export interface ElasticModuli {
  /** Young's modulus, N/mm2. */
  readonly modulus: Stress;
  readonly poisson: number;
}

/** G = E/(2 (1 + nu)). */
export function shearModulus(metal: ElasticModuli): Stress {
  return metal.modulus / (2 * (1 + metal.poisson));
}

/** Shear coefficient of a rectangle: 5/6 (energy), used everywhere here unless another is given. */
export const KAPPA = 5 / 6;

/** Section of a straight beam, for bending in one plane. */
export interface BeamSection {
  readonly area: Mm2;
  /** mm4. */
  readonly inertia: number;
}

/**
 * Torsion constant of a rectangle, mm4: a b^3 (1/3 - 0.21 (b/a) (1 - b^4/(12 a^4))), a >= b (Roark, table of torsion
 * constants, rewritten for full sides; from memory; within 0.5 % of the series).
 */
export function torsionConstant(side1: Mm, side2: Mm): number {
  const a = Math.max(side1, side2);
  const b = Math.min(side1, side2);
  return a * cube(b) * (1 / 3 - 0.21 * (b / a) * (1 - power(b, 4) / (12 * power(a, 4))));
}

/** Greatest shear of a twisted rectangle per unit torque: (3 a + 1.8 b)/(a^2 b^2) (Roark's older form, from memory). */
export function torsionStressFactor(side1: Mm, side2: Mm): number {
  const a = Math.max(side1, side2);
  const b = Math.min(side1, side2);
  return (3 * a + 1.8 * b) / (a * a * b * b);
}

/** How a beam of length L is held and loaded; the deflection meant is that of the loaded place in the load's direction. */
export type BeamCase = 'cantilever' | 'guided' | 'fixed-centre' | 'pinned-centre';

/** Denominators of F L^3/(n E I) and F L/(m kappa G A). Megson sec. 2.6; open notes on Timoshenko beams; Roark table 8.1. */
const CASES: Record<BeamCase, { readonly bend: number; readonly shear: number }> = {
  cantilever: { bend: 3, shear: 1 },
  guided: { bend: 12, shear: 1 },
  'fixed-centre': { bend: 192, shear: 4 },
  'pinned-centre': { bend: 48, shear: 4 },
};

export interface BeamMovement {
  readonly bending: Mm;
  readonly shear: Mm;
  readonly total: Mm;
}

export function beamMovement(
  kind: BeamCase,
  load: Newton,
  length: Mm,
  s: BeamSection,
  metal: ElasticModuli,
  kappa: number = KAPPA,
): BeamMovement {
  const { bend, shear } = CASES[kind];
  const bending = (load * cube(length)) / (bend * metal.modulus * s.inertia);
  const sheared = (load * length) / (shear * kappa * shearModulus(metal) * s.area);
  return { bending, shear: sheared, total: bending + sheared };
}

/** von Mises stress of bending or pull with shear: sqrt(sigma^2 + 3 tau^2). */
export function vonMises(sigma: Stress, tau: Stress): Stress {
  return Math.sqrt(sigma * sigma + 3 * tau * tau);
}
