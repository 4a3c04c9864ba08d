/**
 * A thin floor of metal left in the slot round a part: a strip built in at the frame, guided at the part, all per
 * millimetre of edge. Membrane pull after large lifts is not counted (safe side).
 */
import { cube } from '../../base/powers.ts';
import type { Mm, Stress } from '../../base/units.ts';
import { type ElasticModuli, KAPPA, shearModulus, vonMises } from './beam.ts';

/** Stiffness of what is spread along a line (N/mm per mm) or over an area (N/mm per mm2). */
export interface SpreadStiffness {
  readonly out: number;
  readonly along: number;
  readonly up: number;
}

export interface FloorStrip {
  readonly thickness: Mm;
  /** Width of the slot, from the part's edge to the frame. */
  readonly span: Mm;
}

/** Stiffness per mm of edge, N/mm per mm: plane strain along the edge, so E/(1 - nu^2). */
export function floorStiffness(floor: FloorStrip, metal: ElasticModuli): SpreadStiffness {
  const { thickness: t, span: s } = floor;
  const plate = metal.modulus / (1 - metal.poisson ** 2);
  const g = shearModulus(metal);
  const bend = (plate * cube(t)) / cube(s);
  const phi = (plate * t ** 2) / (KAPPA * g * s ** 2);
  return { out: (plate * t) / s, along: (g * t) / s, up: bend / (1 + phi) };
}

/** 1/sqrt 3, von Mises, in the three figures that handbooks print. */
/** Greatest von Mises stress for forces per mm of edge. */
export function floorStress(floor: FloorStrip, out: number, along: number, up: number): Stress {
  const { thickness: t, span: s } = floor;
  const bend = (6 * Math.abs(up) * s) / 2 / t ** 2;
  return vonMises(Math.abs(out) / t + bend, Math.abs(along) / t);
}
