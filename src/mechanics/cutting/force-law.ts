/**
 * From published cutting constants to the few numbers the force integral needs.
 * Every law becomes, per millimetre of edge: Ft = tc h^p + te, Fr = rc h^p + re, Fa = ac h^p + ae (N/mm, h in mm).
 */
import type { NewtonPerMm, Stress } from '../../base/units.ts';
import type { CutterMaterialName, Material } from '../../trade/materials/material-rows.ts';
import { FORCE_RATIOS, FORCE_WEAR } from '../../trade/milling-rules.ts';

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

/** Fr/Ft and Fa/Ft: both ends of the table's range are tried, since neither is the worse in every direction. */
export const RADIAL_RATIOS: readonly number[] = [FORCE_RATIOS['radial sharp'].low, FORCE_RATIOS['radial blunt'].high];
export const AXIAL_RATIOS: readonly number[] = [FORCE_RATIOS.axial.low, FORCE_RATIOS.axial.high];

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
 * What a worn edge does to a sharp edge's constants: the middle of the table's range, which is for high-speed steel and wear
 * together; for carbide without the share of the steel.
 */
export function wearFactor(cutter: CutterMaterialName): number {
  const both = (FORCE_WEAR.low + FORCE_WEAR.high) / 2;
  return cutter === 'HSS' ? both : both / HSS_SHARE;
}

/** High-speed steel or slow cutting against carbide: Tschaetsch, Applied Machining Technology, from memory. */
const HSS_SHARE = 1.15;

/** The published force constants of a material. A measured set without an axial term leaves the axial ratios to be tried. */
export function forceLaws(material: Pick<Material, 'kienzle' | 'mechanistic'>): readonly ForceLaw[] {
  return [
    ...material.kienzle.map(({ name, kc11, mc }): ForceLaw => ({ kind: 'kienzle', name, kc11, mc })),
    ...material.mechanistic.map((m): ForceLaw => {
      const kac = m.Kac > 0 ? m.Kac : null;
      return { kind: 'measured', name: m.name, ktc: m.Ktc, kte: m.Kte, krc: m.Krc, kre: m.Kre, kac, kae: m.Kae };
    }),
  ];
}
