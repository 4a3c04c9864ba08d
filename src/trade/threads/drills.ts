/** Twist drills: the series that are made, and the point they leave. */
import { tangent } from '../../base/angles.ts';
import { type Deg, MM_PER_INCH, type Mm, toRad } from '../../base/units.ts';
import type { Sourced, SourceMark } from '../source.ts';

export type DrillSeries = 'metric' | 'number' | 'letter' | 'fraction';

export interface DrillSize extends Sourced {
  readonly diameter: Mm;
  /** As marked on the drill: `2.5`, `#50`, `F`, `13/64`. */
  readonly name: string;
  readonly series: DrillSeries;
}

/** The drill with that mark; spelling of inch marks: `#50`, `F`, `13/64`; metric `2.5`. */
export function drillNamed(name: string): DrillSize | undefined {
  return ALL_DRILLS.find((d) => d.name === name);
}

/** The drill of `from` nearest to a diameter; the smaller one when two are equally near. `from` must not be empty. */
export function nearestDrill(diameter: Mm, from: readonly DrillSize[] = METRIC_DRILLS): DrillSize {
  let best = from[0]!;
  for (const d of from) if (Math.abs(d.diameter - diameter) < Math.abs(best.diameter - diameter) - HALF_STEP) best = d;
  return best;
}

/** Drills of `from` within [least, most], smallest first. */
export function drillsBetween(least: Mm, most: Mm, from: readonly DrillSize[] = METRIC_DRILLS): readonly DrillSize[] {
  return from.filter((d) => d.diameter >= least - HALF_STEP && d.diameter <= most + HALF_STEP);
}

/** Length of a cone from its full diameter to its tip: D / (2 tan(A/2)). Geometry; 118 degrees gives 0.3004 D. */
export function pointLength(diameter: Mm, includedAngle: Deg): Mm {
  return diameter / (2 * tangent(toRad(includedAngle) / 2));
}

/** Inches to millimetres; six decimals hold every listed inch size exactly and drop the binary tail. */
export function fromInch(inch: number): Mm {
  return Math.round(inch * MM_PER_INCH * 1e6) / 1e6;
}

/** Below any step of any series: only guards comparisons against the last bit. */
const HALF_STEP = 1e-6;

/** Diameter of a metric series given in hundredths, so that the sizes are exact decimals. */
function metric(hundredths: number, source: string, mark: SourceMark): DrillSize {
  const diameter = hundredths / 100;
  return { diameter, name: String(diameter), series: 'metric', source, mark };
}

function steps(from: number, to: number, by: number): number[] {
  return Array.from({ length: Math.floor((to - from) / by) + 1 }, (_, i) => from + i * by);
}

const BS_328 =
  'BS 328 metric series: n/10 with .02 .05 .08 below 1, every 0.05 to 3, every 0.1 to 14, every 0.25 to 25';

/** The stock metric series. Read second-hand; the count to 25.0 by the stated rule is 227. */
export const METRIC_DRILLS: readonly DrillSize[] = [
  ...steps(20, 90, 10).flatMap((tenth) => [tenth, tenth + 2, tenth + 5, tenth + 8]),
  ...steps(100, 295, 5),
  ...steps(300, 1390, 10),
  ...steps(1400, 2500, 25),
].map((h) => metric(h, BS_328, 'published'));

/** The set nearly every workshop owns. */
export const SET_1_TO_13: readonly DrillSize[] = steps(100, 1300, 10).map((h) =>
  metric(h, 'drill set 1-13 by 0.1', 'common practice'),
);

/** Inch, number 1 first. Six sizes are rounded differently in one open parts library (5, 10, 18, 25, 28, 69). */
const NUMBER_INCH: readonly number[] = [
  0.228, 0.221, 0.213, 0.209, 0.2055, 0.204, 0.201, 0.199, 0.196, 0.1935, 0.191, 0.189, 0.185, 0.182, 0.18, 0.177,
  0.173, 0.1695, 0.166, 0.161, 0.159, 0.157, 0.154, 0.152, 0.1495, 0.147, 0.144, 0.1405, 0.136, 0.1285, 0.12, 0.116,
  0.113, 0.111, 0.11, 0.1065, 0.104, 0.1015, 0.0995, 0.098, 0.096, 0.0935, 0.089, 0.086, 0.082, 0.081, 0.0785, 0.076,
  0.073, 0.07, 0.067, 0.0635, 0.0595, 0.055, 0.052, 0.0465, 0.043, 0.042, 0.041, 0.04, 0.039, 0.038, 0.037, 0.036,
  0.035, 0.033, 0.032, 0.031, 0.0292, 0.028, 0.026, 0.025, 0.024, 0.0225, 0.021, 0.02, 0.018, 0.016, 0.0145, 0.0135,
];

const LETTER_INCH: readonly number[] = [
  0.234, 0.238, 0.242, 0.246, 0.25, 0.257, 0.261, 0.266, 0.272, 0.277, 0.281, 0.29, 0.295, 0.302, 0.316, 0.323, 0.332,
  0.339, 0.348, 0.358, 0.368, 0.377, 0.386, 0.397, 0.404, 0.413,
];

export const NUMBER_DRILLS: readonly DrillSize[] = NUMBER_INCH.map((inch, i) => ({
  diameter: fromInch(inch),
  name: `#${i + 1}`,
  series: 'number',
  source: 'number drills, ASME B94.11M / BS 328 gauge sizes',
  // Most tables agree; number 5 = 0.2055 in was found only rounded.
  mark: i + 1 === 5 ? 'from memory' : 'published',
}));

export const LETTER_DRILLS: readonly DrillSize[] = LETTER_INCH.map((inch, i) => ({
  diameter: fromInch(inch),
  name: String.fromCharCode(65 + i),
  series: 'letter',
  source: 'letter drills, ASME B94.11M',
  mark: 'published',
}));

/** 1/64 to 1/2 in by 1/64. */
export const FRACTION_DRILLS: readonly DrillSize[] = steps(1, 32, 1).map((n) => ({
  diameter: fromInch(n / 64),
  name: fractionOf64(n),
  series: 'fraction',
  source: 'n/64 in, 25.4 mm an inch exactly',
  mark: 'computed',
}));

export const ALL_DRILLS: readonly DrillSize[] = [
  ...METRIC_DRILLS,
  ...NUMBER_DRILLS,
  ...LETTER_DRILLS,
  ...FRACTION_DRILLS,
];

function fractionOf64(n: number): string {
  let [top, bottom] = [n, 64];
  while (top % 2 === 0) [top, bottom] = [top / 2, bottom / 2];
  return `${top}/${bottom}`;
}
