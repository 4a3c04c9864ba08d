/** What one row of the material table holds. N, mm, degrees; stresses in N/mm2, speeds in m/min. */
import type { MetrePerMin, Stress } from '../../base/units.ts';
import type { CautionName } from '../cautions.ts';
import type { Figure, FigureRange, Sourced } from '../source.ts';

/** Closed list, by standard designation. */
export const MATERIAL_NAMES = [
  '11SMn30',
  'S275JR',
  'C45',
  'O1',
  '1.4305',
  '1.4301',
  'CuZn39Pb3',
  'CuSn5',
  'EN-AW-6082-T6',
  'EN-GJL-250',
  'POM',
] as const;
export type MaterialName = (typeof MATERIAL_NAMES)[number];

/** ISO 513 main groups; plastics are outside that standard. */
export type IsoGroup = 'P' | 'M' | 'K' | 'N' | 'plastic';
export type CutterMaterialName = 'HSS' | 'carbide';

export interface ElasticConstants extends Sourced {
  /** Young's modulus. The lower end of the quoted range, so that movements err on the large side. */
  readonly E: Stress;
  /** Poisson's ratio. */
  readonly nu: number;
  /** Shear modulus, E / (2 (1 + nu)). */
  readonly G: Stress;
}

export interface Strength extends Sourced {
  readonly condition: string;
  /** ReH or Rp0.2; null where the material breaks without yielding. */
  readonly yield: Stress | null;
  /** Rm. */
  readonly tensile: Stress;
}

/** Kienzle constants: cutting force Ft = kc11 b h^(1 - mc), b and h in mm. */
export interface KienzleSet extends Sourced {
  readonly name: string;
  readonly kc11: Stress;
  readonly mc: number;
}

/** Mechanistic end-milling coefficients: c terms N/mm2 of chip section, e terms N/mm of edge. */
export interface MechanisticSet extends Sourced {
  readonly name: string;
  readonly Ktc: number;
  readonly Kte: number;
  readonly Krc: number;
  readonly Kre: number;
  readonly Kac: number;
  readonly Kae: number;
}

/** Start values for a light machine. */
export interface MillingStart extends Sourced {
  readonly speed: MetrePerMin;
  /** Feed a tooth over cutter diameter. */
  readonly feedPerDiameter: number;
}

/** Whether cyanoacrylate holds it well enough to be a way of holding the part. */
export interface Glueing extends Sourced {
  readonly glueable: boolean;
  readonly reason: string;
}

export interface Material {
  readonly name: MaterialName;
  /** Name in everyday words. */
  readonly words: string;
  readonly group: IsoGroup;
  readonly elastic: ElasticConstants;
  /** The first is the one reckoned with unless the job says otherwise: the weakest condition usually sold as flat stock. */
  readonly strengths: readonly [Strength, ...Strength[]];
  /** g/cm3. */
  readonly density: Figure;
  /** Brinell, null where none was found. */
  readonly hardness: FigureRange | null;
  readonly kienzle: readonly [KienzleSet, ...KienzleSet[]];
  readonly mechanistic: readonly MechanisticSet[];
  readonly brittle: boolean;
  readonly glueing: Glueing;
  readonly milling: Readonly<Record<CutterMaterialName, MillingStart>>;
  /** HSS twist drill, m/min. */
  readonly drillSpeed: Figure;
  /** Reamer, m/min. */
  readonly reamSpeed: Readonly<Record<CutterMaterialName, Figure>>;
  /** Feed a turn over drill diameter. */
  readonly drillFeedPerDiameter: Figure;
  /** Ramp angle into the solid, degrees. */
  readonly rampAngle: FigureRange;
  /** Depth of full thread wanted, in major diameters. */
  readonly threadLength: FigureRange;
  /** Factor on the friction of a steel clamp face. */
  readonly frictionFactor: Figure;
  /** Depth of the first peck and of the next ones, in drill diameters; null: no pecking until 3 diameters. */
  readonly peck: Sourced & { readonly first: number | null; readonly next: number };
  readonly coolant: Sourced & { readonly advice: string };
  readonly cautions: readonly CautionName[];
  readonly delivery: string;
}
