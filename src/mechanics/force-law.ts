/**
 * From published cutting constants to the few numbers the force integral needs.
 * Every law becomes, per millimetre of edge: Ft = tc h^p + te, Fr = rc h^p + re, Fa = ac h^p + ae (N/mm, h in mm).
 */
import type { NewtonPerMm, Stress } from '../base/units.ts';

export type ForceLaw =
  /** Kienzle: Ft = b kc1.1 h^(1-mc). The other two components are ratios of Ft, both ends of their range tried. */
  | {
      readonly kind: 'kienzle';
      readonly name: string;
      readonly kc11: Stress;
      readonly mc: number;
      readonly edge?: NewtonPerMm;
    }
  /** Measured on an end mill, with edge terms. `kac` null: not measured, so the axial ratios are tried on Ft. */
  | {
      readonly kind: 'measured';
      readonly name: string;
      readonly ktc: Stress;
      readonly kte: NewtonPerMm;
      readonly krc: Stress;
      readonly kre: NewtonPerMm;
      readonly kac: Stress | null;
      readonly kae: NewtonPerMm;
    };

/** One law with its ratios fixed. */
export interface EdgeForce {
  readonly power: number;
  readonly tc: number;
  readonly te: number;
  readonly rc: number;
  readonly re: number;
  readonly ac: number;
  readonly ae: number;
}

/** Fr/Ft: sharp 0.3-0.5, blunt up to 0.7-1. Common practice; measured sets lie at 0.16-0.60. Both ends are tried. */
export const RADIAL_RATIOS: readonly number[] = [0.3, 1];
/** Fa/Ft: 0.2-0.4 along the helix; 0 covers straight teeth. Common practice. Both ends are tried. */
export const AXIAL_RATIOS: readonly number[] = [0, 0.4];

/** All fixed-ratio forms of the laws, each multiplied by the wear factor. At most four a law. */
export function edgeForces(laws: readonly ForceLaw[], wear = 1): readonly EdgeForce[] {
  return laws.flatMap((law) => (law.kind === 'kienzle' ? fromKienzle(law, wear) : fromMeasured(law, wear)));
}

/** A Kienzle law at given ratios. */
export function kienzle(
  kc11: Stress,
  mc: number,
  radial: number,
  axial: number,
  edge: NewtonPerMm = 0,
  wear = 1,
): EdgeForce {
  const tc = kc11 * wear;
  const te = edge * wear;
  return { power: 1 - mc, tc, te, rc: radial * tc, re: radial * te, ac: axial * tc, ae: axial * te };
}

function fromKienzle(law: Extract<ForceLaw, { kind: 'kienzle' }>, wear: number): EdgeForce[] {
  return RADIAL_RATIOS.flatMap((radial) =>
    AXIAL_RATIOS.map((axial) => kienzle(law.kc11, law.mc, radial, axial, law.edge ?? 0, wear)),
  );
}

function fromMeasured(law: Extract<ForceLaw, { kind: 'measured' }>, wear: number): EdgeForce[] {
  const base = { power: 1, tc: law.ktc * wear, te: law.kte * wear, rc: law.krc * wear, re: law.kre * wear };
  if (law.kac !== null) return [{ ...base, ac: law.kac * wear, ae: law.kae * wear }];
  return AXIAL_RATIOS.map((axial) => ({ ...base, ac: axial * base.tc, ae: axial * base.te }));
}

/**
 * What a worn edge does to a sharp edge's constants: worn x 1.3-1.5, high-speed steel or slow cutting x 1.15 (Tschaetsch,
 * Applied Machining Technology, from memory); 1.5-1.7 together in holding checks (common practice).
 */
export function wearFactor(cutter: 'HSS' | 'carbide'): number {
  return cutter === 'HSS' ? 1.6 : 1.4;
}
