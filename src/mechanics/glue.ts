/** A bonded face: springs over the area, and the local peel at an edge that a stiff-body model smooths away. */
import type { Mm, Stress } from '../base/units.ts';
import type { Elastic } from './beam.ts';
import type { SpreadStiffness } from './spread.ts';

export interface Bond {
  /** Young's modulus of the adhesive, N/mm2. */
  readonly modulus: Stress;
  readonly poisson: number;
  readonly thickness: Mm;
  /** Share of the face that is wetted, 0-1. */
  readonly wetted: number;
}

/**
 * Cyanoacrylate in a ground joint: E about 1000-1700 N/mm2, gap 0.05 mm (thin grade's limit; from memory). The soft end:
 * movement errs upwards. Foamed tape is some thousand times softer and creeps: a warning class, not computed here.
 */
export const CYANOACRYLATE: Bond = { modulus: 1000, poisson: 0.35, thickness: 0.05, wetted: 0.6 };

/** N/mm per mm2 of face; the film is held sideways, but its oedometric stiffening is not credited. */
export function bondStiffness(bond: Bond): SpreadStiffness {
  const normal = (bond.wetted * bond.modulus) / bond.thickness;
  const shear = normal / (2 * (1 + bond.poisson));
  return { out: shear, along: shear, up: normal };
}

/**
 * Greatest pull-off stress under a strip of plate loaded upwards at its free end, N per mm of width over N/mm2: a free
 * beam on an elastic foundation (Hetenyi, Beams on Elastic Foundation, 1946, from memory):
 * p = 2 q l (sinh cosh - sin cos)/(sinh^2 - sin^2) of l L, l = (k/(4 E I))^(1/4). Short and stiff it tends to the
 * stiff-body 4 q/L, long to 2 q l.
 */
export function edgePeel(
  load: number,
  foundation: number,
  plate: { readonly thickness: Mm; readonly length: Mm; readonly metal: Elastic },
): Stress {
  const lambda = characteristic(foundation, plate.thickness, plate.metal);
  const x = lambda * plate.length;
  if (x < 0.05) return (4 * load) / plate.length;
  if (x > 10) return 2 * load * lambda;
  const sh = Math.sinh(x);
  const s = Math.sin(x);
  return (2 * load * lambda * (sh * Math.cosh(x) - s * Math.cos(x))) / (sh * sh - s * s);
}

/** 1/mm; the distance over which an edge load fades is about pi/lambda. `foundation` in N/mm per mm2. */
export function characteristic(foundation: number, thickness: Mm, metal: Elastic): number {
  return ((3 * foundation) / (metal.modulus * thickness ** 3)) ** 0.25;
}

/** Times the present load that the bond carries; shear and pull are added linearly (safe side). Infinity without load. */
export function bondMargin(
  shear: Stress,
  pull: Stress,
  allowed: { readonly shear: Stress; readonly tension: Stress },
): number {
  return 1 / (Math.abs(shear) / allowed.shear + Math.max(0, pull) / allowed.tension);
}
