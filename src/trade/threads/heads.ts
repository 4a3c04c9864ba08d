/** Screw heads and the counterbores and countersinks they sit in. Millimetres, degrees. */
import { tangent } from '../../base/angles.ts';
import { type Deg, type Mm, toRad } from '../../base/units.ts';
import type { Sourced } from '../source.ts';

/** Which head a countersink is for: ISO 10642 heads are larger than ISO 7721 heads of the same thread. */
export type CountersunkHead = 'ISO 7721' | 'DIN 963' | 'ISO 10642';

export interface Countersink extends Sourced {
  readonly size: string;
  readonly head: CountersunkHead;
  readonly angle: Deg;
  readonly least: Mm;
  /** Equal to `least` where the standard gives one figure. */
  readonly most: Mm;
}

export interface Counterbore extends Sourced {
  readonly size: string;
  /** `cap`: ISO 4762 socket and ISO 1207 cheese heads; `pan`: ISO 1580 and ISO 7045 heads. */
  readonly head: 'cap' | 'pan';
  readonly diameter: Mm;
  /** null for pan heads: their height is not in the tables at hand. */
  readonly depth: Mm | null;
  readonly headDiameter: Mm | null;
  readonly headHeight: Mm | null;
}

export function countersinkFor(size: string, head: CountersunkHead = 'ISO 7721'): Countersink | undefined {
  return COUNTERSINKS.find((c) => c.size === size && c.head === head);
}

export function counterboreFor(size: string, head: 'cap' | 'pan' = 'cap'): Counterbore | undefined {
  return COUNTERBORES.find((c) => c.size === size && c.head === head);
}

/** Depth of the cone below the face: (Dc - d) / (2 tan(A/2)). Geometry; at 90 degrees half the difference. */
export function countersinkDepth(diameter: Mm, hole: Mm, angle: Deg): Mm {
  return (diameter - hole) / (2 * tangent(toRad(angle) / 2));
}

/** [size, head diameter, head height, counterbore]. Depth: head + 0.2 up to M1.4, + 0.4 up to M6, + 0.6 up to M20. */
const CAP_ROWS: readonly (readonly [string, Mm, Mm, Mm])[] = [
  ['M1.6', 3, 1.6, 3.5],
  ['M2', 3.8, 2, 4.4],
  ['M2.5', 4.5, 2.5, 5.5],
  ['M3', 5.5, 3, 6.5],
  ['M4', 7, 4, 8],
  ['M5', 8.5, 5, 10],
  ['M6', 10, 6, 11],
  ['M8', 13, 8, 15],
  ['M10', 16, 10, 18],
  ['M12', 18, 12, 20],
];

const PAN_ROWS: readonly (readonly [string, Mm])[] = [
  ['M1.6', 3.5],
  ['M2', 5],
  ['M2.5', 6],
  ['M3', 7],
  ['M4', 9],
  ['M5', 11],
  ['M6', 13],
];

/** M3 is 6.5 by DIN 974-1; piloted counterbore cutters (older DIN 74 form K) are 6.0. */
export const COUNTERBORES: readonly Counterbore[] = [
  ...CAP_ROWS.map(([size, headDiameter, headHeight, diameter]): Counterbore => {
    const depth = Math.round((headHeight + (headHeight > 6 ? 0.6 : 0.4)) * 10) / 10;
    return {
      size,
      head: 'cap',
      diameter,
      depth,
      headDiameter,
      headHeight,
      source: 'DIN 974-1 row 1 in Klein, Einfuehrung in die DIN-Normen; ISO 4762 heads',
      mark: 'published',
    };
  }),
  ...PAN_ROWS.map(
    ([size, diameter]): Counterbore => ({
      size,
      head: 'pan',
      diameter,
      depth: null,
      headDiameter: null,
      headHeight: null,
      source: 'DIN 974-1 row 2 in Klein, Einfuehrung in die DIN-Normen',
      mark: 'published',
    }),
  ),
];

/** Least diameter published, greatest remembered: [size, least, most]. */
const ISO_15065_ROWS: readonly (readonly [string, Mm, Mm])[] = [
  ['M1.6', 3.6, 3.7],
  ['M2', 4.4, 4.5],
  ['M2.5', 5.5, 5.6],
  ['M3', 6.3, 6.5],
  ['M3.5', 8.2, 8.4],
  ['M4', 9.4, 9.6],
  ['M5', 10.4, 10.65],
  ['M6', 12.6, 12.85],
  ['M8', 17.3, 17.55],
  ['M10', 20, 20.3],
];

const DIN_74_A_ROWS: readonly (readonly [string, Mm])[] = [
  ['M1.6', 3.7],
  ['M2', 4.6],
  ['M2.5', 5.7],
  ['M3', 6.5],
  ['M3.5', 7.6],
  ['M4', 8.6],
  ['M5', 10.4],
  ['M6', 12.4],
  ['M8', 16.4],
];

const DIN_74_F_ROWS: readonly (readonly [string, Mm])[] = [
  ['M3', 6.94],
  ['M4', 9.18],
  ['M5', 11.47],
  ['M6', 13.71],
  ['M8', 18.25],
  ['M10', 22.73],
  ['M12', 27.21],
];

export const COUNTERSINKS: readonly Countersink[] = [
  ...ISO_15065_ROWS.map(
    ([size, least, most]): Countersink => ({
      size,
      head: 'ISO 7721',
      angle: 90,
      least,
      most,
      source: 'ISO 15065:2005 in Klein (least); greatest diameter remembered',
      mark: 'from memory',
    }),
  ),
  ...DIN_74_A_ROWS.map(([size, d]) =>
    single(size, d, 'DIN 963', 'DIN 74-1:1980 form A medium, in Spahr catalogue T-42'),
  ),
  ...DIN_74_F_ROWS.map(([size, d]) =>
    single(size, d, 'ISO 10642', 'DIN 74 form F in Klein, Einfuehrung in die DIN-Normen'),
  ),
];

function single(size: string, diameter: Mm, head: CountersunkHead, source: string): Countersink {
  return { size, head, angle: 90, least: diameter, most: diameter, source, mark: 'published' };
}
