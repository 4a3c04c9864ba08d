/**
 * What the film bears at the ends of a single-lap joint, where it tears first: the same springs that `rim.ts` lays under a part, so
 * that a published strength of such joints says what they may take at a rim. Two plates alike, pulled in their length.
 */
import { cube, hyperbolicTangent, power } from '../../base/powers.ts';
import type { Mm, Stress } from '../../base/units.ts';
import type { ElasticModuli } from './beam.ts';
import { bondStiffness, type GlueFilm } from './glue.ts';

export interface LapJoint {
  readonly thickness: Mm;
  readonly overlap: Mm;
  readonly metal: ElasticModuli;
}

/** Greatest pull and shear in the film at a mean shear over the overlap (Goland and Reissner, J. Appl. Mech. 11, 1944, from memory). */
export function lapPeaks(
  joint: LapJoint,
  bond: GlueFilm,
  mean: Stress,
): { readonly pull: Stress; readonly shear: Stress } {
  const { thickness: t, overlap, metal } = joint;
  const { up, along } = bondStiffness(bond);
  const load = mean * overlap;
  const bending = (metal.modulus * cube(t)) / (12 * (1 - metal.poisson ** 2));
  const slope = Math.sqrt(load / bending);
  // The joint turns into the line of pull, which takes some of the moment off its ends.
  const share = 1 / (1 + 2 * Math.SQRT2 * hyperbolicTangent((slope * overlap) / (4 * Math.SQRT2)));
  const moment = (share * load * t) / 2;
  // Both plates bend away from the film: 2 k over one plate's stiffness.
  const beta = power(up / (2 * bending), 0.25);
  const x = Math.sqrt((8 * along) / (metal.modulus * t)) * (overlap / 2);
  return {
    pull: beta ** 2 * moment + beta * moment * slope,
    shear: ((mean * (x * (1 + 3 * share))) / hyperbolicTangent(x) + 3 * mean * (1 - share)) / 4,
  };
}
