/** A bonded face: springs over its area, and what the film bears. What a stiff part smooths away at its rim is in `rim.ts`. */
import { cube, power } from '../../base/powers.ts';
import type { Mm, Stress } from '../../base/units.ts';
import type { ElasticModuli } from './beam.ts';
import type { SpreadStiffness } from './floor.ts';

export interface GlueFilm {
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
export const CYANOACRYLATE: GlueFilm = { modulus: 1000, poisson: 0.35, thickness: 0.05, wetted: 0.6 };

/** N/mm per mm2 of face; the film is held sideways, but its oedometric stiffening is not credited. */
export function bondStiffness(bond: GlueFilm): SpreadStiffness {
  const normal = (bond.wetted * bond.modulus) / bond.thickness;
  const shear = normal / (2 * (1 + bond.poisson));
  return { out: shear, along: shear, up: normal };
}

/** 1/mm; the distance over which an edge load fades is about pi/lambda. `foundation` in N/mm per mm2. */
export function characteristic(foundation: number, thickness: Mm, metal: ElasticModuli): number {
  return power((3 * foundation) / (metal.modulus * cube(thickness)), 0.25);
}

/** Times the present load that the bond carries; shear and pull are added linearly (safe side). Infinity without load. */
export function bondMargin(
  shear: Stress,
  pull: Stress,
  allowed: { readonly shear: Stress; readonly tension: Stress },
): number {
  return 1 / (Math.abs(shear) / allowed.shear + Math.max(0, pull) / allowed.tension);
}
