/** BA (BS 93), Model Engineer (Whitworth form, 55 degrees) and small Unified threads. Lengths in millimetres. */
import { MM_PER_INCH, type Mm } from '../../base/units.ts';
import { drillNamed, fromInch } from './drills.ts';
import { micron, type Thread } from './thread-rows.ts';

/** [number, pitch, D, depth, largest minor of the nut, tap drill]. */
const BA_ROWS: readonly (readonly [number, Mm, Mm, Mm, Mm, Mm])[] = [
  [0, 1, 6, 0.6, 5.175, 5.1],
  [1, 0.9, 5.3, 0.54, 4.558, 4.5],
  [2, 0.81, 4.7, 0.485, 4.034, 4],
  [3, 0.73, 4.1, 0.44, 3.494, 3.4],
  [4, 0.66, 3.6, 0.395, 3.058, 3],
  [5, 0.59, 3.2, 0.355, 2.711, 2.65],
  [6, 0.53, 2.8, 0.32, 2.359, 2.3],
  [7, 0.48, 2.5, 0.29, 2.1, 2.05],
  [8, 0.43, 2.2, 0.26, 1.841, 1.8],
  [9, 0.39, 1.9, 0.235, 1.576, 1.55],
  [10, 0.35, 1.7, 0.21, 1.411, 1.4],
  [11, 0.31, 1.5, 0.185, 1.246, 1.2],
  [12, 0.28, 1.3, 0.17, 1.065, 1.05],
  [13, 0.25, 1.2, 0.15, 0.994, 0.98],
  [14, 0.23, 1, 0.14, 0.806, 0.8],
  [15, 0.21, 0.9, 0.125, 0.729, 0.7],
  [16, 0.19, 0.79, 0.115, 0.631, 0.6],
];

export const BA_THREADS: readonly Thread[] = BA_ROWS.map(([n, pitch, major, depth, nutMax, drill]) => ({
  name: `${n}BA`,
  family: 'BA',
  angle: 47.5,
  pitch,
  major,
  pitchDiameter: micron(major - depth),
  minor: micron(major - 2 * depth),
  largestMinor: { diameter: nutMax, class: 'BS 93 nut', source: 'BS 93: minor + 0.375 p', mark: 'published' },
  tapDrill: {
    diameter: drill,
    name: String(drill),
    source: n <= 2 ? 'ministeam.net page 30' : n === 3 ? '75-80 % depth' : 'britishfasteners.com BA page',
    mark: n === 3 ? 'from memory' : 'published',
  },
  source: "BS 93:1951 as in Machinery's Handbook 31st ed. p. 2115",
  mark: 'published',
}));

/** [size in inches, threads an inch, tap drill, clearance drill or null]. */
export const ME_ROWS: readonly (readonly [string, number, Mm, Mm | null])[] = [
  ['1/8', 40, 2.6, 3.5],
  ['5/32', 40, 3.3, 4.2],
  ['3/16', 40, 4.1, 5],
  ['7/32', 40, 5, 5.8],
  ['1/4', 40, 5.8, 6.6],
  ['5/16', 40, 7.3, null],
  ['3/8', 40, 8.9, null],
  ['1/4', 32, 5.6, null],
  ['9/32', 32, 6.35, 7.5],
  ['5/16', 32, 7.15, 8.2],
  ['3/8', 32, 8.75, 9.8],
  ['7/16', 26, 10.1, 11.5],
  ['1/2', 26, 11.9, 13.1],
];

/** Whitworth form: depth of thread in pitches. Constant from memory, form published. */
const WHITWORTH_DEPTH = 0.640327;

/** No model-engineering standard for the largest hole was found; below 60 % depth small screws strip, so that is the limit. */
const ME_LEAST_ENGAGEMENT = 0.6;

/** Not in the published list: chosen for 75 % depth, nearest BS 328 drill. */
const ME_COMPUTED = ['5/16x40', '3/8x40', '1/4x32'];

export const ME_THREADS: readonly Thread[] = ME_ROWS.map(([size, perInch, drill]) => {
  const major = fromInch(fraction(size));
  const pitch = MM_PER_INCH / perInch;
  const depth = WHITWORTH_DEPTH * pitch;
  const computed = ME_COMPUTED.includes(`${size}x${perInch}`);
  return {
    name: `ME ${size}x${perInch}`,
    family: 'ME',
    angle: 55,
    pitch,
    major,
    pitchDiameter: micron(major - depth),
    minor: micron(major - 2 * depth),
    largestMinor: {
      diameter: micron(major - 2 * depth * ME_LEAST_ENGAGEMENT),
      class: '60 % depth',
      source: 'least engagement worth cutting, 60 % of depth',
      mark: 'common practice',
    },
    tapDrill: {
      diameter: drill,
      name: String(drill),
      source: computed ? '75 % depth, nearest BS 328 drill' : 'ministeam.net page 30',
      mark: computed ? 'computed' : 'published',
    },
    source: 'ministeam.net page 30 sizes; Whitworth form h = 0.640327 p',
    mark: 'published',
  };
});

/** [size, series, 2B minor least and most (inch), tap drill, close and normal clearance drill]. */
export const UNIFIED_ROWS: readonly (readonly [string, 'UNC' | 'UNF', number, number, string, string, string])[] = [
  ['0-80', 'UNF', 0.0465, 0.0514, '3/64', '#51', '#48'],
  ['1-64', 'UNC', 0.0561, 0.0623, '#53', '#46', '#43'],
  ['1-72', 'UNF', 0.058, 0.0635, '#53', '#46', '#43'],
  ['2-56', 'UNC', 0.0667, 0.0737, '#50', '3/32', '#38'],
  ['2-64', 'UNF', 0.0691, 0.0753, '#50', '3/32', '#38'],
  ['3-48', 'UNC', 0.0764, 0.0845, '#47', '#36', '#32'],
  ['3-56', 'UNF', 0.0797, 0.0865, '#45', '#36', '#32'],
  ['4-40', 'UNC', 0.0849, 0.0939, '#43', '#31', '#30'],
  ['4-48', 'UNF', 0.0894, 0.0968, '#42', '#31', '#30'],
  ['5-40', 'UNC', 0.0979, 0.1062, '#38', '9/64', '5/32'],
  ['5-44', 'UNF', 0.1004, 0.1079, '#37', '9/64', '5/32'],
  ['6-32', 'UNC', 0.104, 0.114, '#36', '#23', '#18'],
  ['6-40', 'UNF', 0.111, 0.119, '#33', '#23', '#18'],
  ['8-32', 'UNC', 0.13, 0.139, '#29', '#15', '#9'],
  ['8-36', 'UNF', 0.134, 0.142, '#29', '#15', '#9'],
  ['10-24', 'UNC', 0.145, 0.156, '#25', '#5', '#2'],
  ['10-32', 'UNF', 0.156, 0.164, '#21', '#5', '#2'],
  ['12-24', 'UNC', 0.171, 0.181, '#16', '#2', '#1'],
  ['12-28', 'UNF', 0.177, 0.186, '#14', '#2', '#1'],
  ['1/4-20', 'UNC', 0.196, 0.207, '#7', '17/64', '9/32'],
  ['1/4-28', 'UNF', 0.211, 0.22, '#3', '17/64', '9/32'],
];

export const UNIFIED_THREADS: readonly Thread[] = UNIFIED_ROWS.map(([size, series, , minorMost, drill]) => {
  const [body, perInch] = size.split('-') as [string, string];
  const major = fromInch(body.includes('/') ? fraction(body) : 0.06 + 0.013 * Number(body));
  const pitch = MM_PER_INCH / Number(perInch);
  return {
    name: `${size} ${series}`,
    family: series,
    angle: 60,
    pitch,
    major,
    pitchDiameter: micron(major - 0.649519 * pitch),
    minor: micron(major - 1.082532 * pitch),
    largestMinor: {
      diameter: fromInch(minorMost),
      class: '2B',
      source: 'ASME B1.1 2B minor limits, in microadvances.com chart',
      mark: body.includes('/') ? 'from memory' : 'published',
    },
    tapDrill: {
      diameter: drillNamed(drill)!.diameter,
      name: drill,
      source: 'cq_warehouse tap drills, equal to the 75 % column of a thread/drill chart',
      mark: 'published',
    },
    source: 'ASME B1.1; numbered sizes 0.060 + 0.013 n in; D1 = D - 1.082532 P',
    mark: 'published',
  };
});

function fraction(text: string): number {
  const [top, bottom] = text.split('/').map(Number) as [number, number];
  return top / bottom;
}
