import { describe, expect, test } from 'vitest';
import { METRIC_DRILLS } from '../../../src/trade/threads/drills.ts';
import {
  drillForEngagement,
  engagementOf,
  findThread,
  holeForEngagement,
  RUN_OUTS,
  runOutOf,
  THREADS,
  type Thread,
  tappingHoleRange,
} from '../../../src/trade/threads/threads.ts';

function thread(name: string): Thread {
  const found = findThread(name);
  if (found.kind === 'unknown') throw new Error(`no thread ${name}`);
  return found.value;
}

const metric = THREADS.filter((t) => t.family.startsWith('metric'));
const named = (list: readonly Thread[]): [string, Thread][] => list.map((t) => [t.name, t]);

describe('ISO metric', () => {
  // The exact profile: H = sqrt(3)/2 P, D2 = D - 3H/4, D1 = D - 5H/4, printed to 0.001.
  test.each(named(metric))('ISO 724 profile: %s', (_name, t) => {
    const H = (Math.sqrt(3) / 2) * t.pitch;
    expect(Math.abs(t.pitchDiameter - (t.major - (3 / 4) * H))).toBeLessThanOrEqual(0.00051);
    expect(Math.abs(t.minor - (t.major - (5 / 4) * H))).toBeLessThanOrEqual(0.00051);
  });

  /** Klein, Einfuehrung in die DIN-Normen (DIN 13-1) and echosupply.com: thread, P, D2, D1. */
  const KLEIN: readonly (readonly [string, number, number, number])[] = [
    ['M1', 0.25, 0.838, 0.729],
    ['M1.2', 0.25, 1.038, 0.929],
    ['M1.6', 0.35, 1.373, 1.221],
    ['M2', 0.4, 1.74, 1.567],
    ['M2.5', 0.45, 2.208, 2.013],
    ['M3', 0.5, 2.675, 2.459],
    ['M3.5', 0.6, 3.11, 2.85],
    ['M4', 0.7, 3.545, 3.242],
    ['M5', 0.8, 4.48, 4.134],
    ['M6', 1, 5.35, 4.917],
    ['M8', 1.25, 7.188, 6.647],
    ['M10', 1.5, 9.026, 8.376],
    ['M12', 1.75, 10.863, 10.106],
  ];
  test.each(KLEIN)('DIN 13-1 as printed in Klein: %s', (name, pitch, d2, d1) => {
    expect(thread(name)).toMatchObject({ pitch, pitchDiameter: d2, minor: d1 });
  });

  /** ISO 261/262 as copied by liquisearch.com: fine pitches by diameter. */
  const FINE: readonly (readonly [number, number[]])[] = [
    [8, [1, 0.75]],
    [10, [1.25, 1, 0.75]],
    [12, [1.5, 1.25, 1]],
  ];
  test.each(FINE)('ISO 261/262: fine pitches of M%d', (size, pitches) => {
    const have = metric.filter((t) => t.family === 'metric fine' && t.major === size).map((t) => t.pitch);
    expect(have).toEqual(pitches);
  });

  /** HST, quoting the preview of ISO 2306:1972 Table 1. */
  const ISO_2306: readonly (readonly [string, number])[] = [
    ['M2', 1.6],
    ['M2.5', 2.05],
    ['M3', 2.5],
    ['M4', 3.3],
    ['M5', 4.2],
    ['M6', 5],
    ['M8', 6.8],
  ];
  test.each(ISO_2306)('ISO 2306:1972 Table 1: tapping drill of %s', (name, drill) => {
    expect(thread(name).tapDrill).toMatchObject({ diameter: drill, mark: 'published' });
  });

  test('common practice: a 2.5 mm drill for an M3 thread', () => {
    expect(thread('M3').tapDrill.diameter).toBe(2.5);
  });

  test.each(named(metric))(
    'common practice: the tapping drill of %s is D - P to the nearest stock drill',
    (_name, t) => {
      const off = t.tapDrill.diameter - (t.major - t.pitch);
      expect(Math.abs(off)).toBeLessThanOrEqual(0.0501);
    },
  );

  // ISO 965-1 TD1 for class 6, remembered: 433 P - 190 P^1.22 below 1 mm, 230 P^0.7 from 1 mm; the table is within 6 um.
  test.each(named(metric.filter((t) => t.largestMinor.class === '6H')))('ISO 965-1 TD1 formula, 6H: %s', (_name, t) => {
    const P = t.pitch;
    const formula = P < 1 ? 433 * P - 190 * P ** 1.22 : 230 * P ** 0.7;
    expect(Math.abs((t.largestMinor.diameter - t.minor) * 1000 - formula)).toBeLessThan(6.6);
  });
  test.each(named(metric.filter((t) => t.largestMinor.class !== '6H')))(
    'ISO 965-1 TD1, 5H is 0.8 of 6H: %s',
    (_name, t) => {
      const formula = 0.8 * (433 * t.pitch - 190 * t.pitch ** 1.22);
      expect(Math.abs((t.largestMinor.diameter - t.minor) * 1000 - formula)).toBeLessThan(3);
    },
  );
});

describe('BA, BS 93', () => {
  const ba = THREADS.filter((t) => t.family === 'BA');
  const number = (t: Thread): number => Number(t.name.replace('BA', ''));

  test('0 to 16', () => {
    expect(ba.map(number)).toEqual(Array.from({ length: 17 }, (_, i) => i));
  });

  // The unrounded 0.9^n: with the rounded pitch 13 BA comes out 1.1 and 16 BA 0.82, which no table has.
  test.each(named(ba))("Machinery's Handbook 31 p. 2115 rule, p = 0.9^n and D = 6 p^1.2: %s", (_name, t) => {
    const p = 0.9 ** number(t);
    expect(t.pitch).toBeCloseTo(Math.round(p * 100) / 100, 9);
    const places = number(t) === 16 ? 100 : 10;
    expect(t.major).toBeCloseTo(Math.round(6 * p ** 1.2 * places) / places, 9);
  });

  test.each(named(ba))('BS 93 depth 0.6 p to 0.005, effective D - h, minor D - 2h: %s', (_name, t) => {
    const depth = t.major - t.pitchDiameter;
    expect(Math.abs(depth - 0.6 * t.pitch)).toBeLessThanOrEqual(0.0031);
    expect(t.minor).toBeCloseTo(t.major - 2 * depth, 6);
  });

  test.each(named(ba))('BS 93 nut tolerance 0.375 p: %s', (_name, t) => {
    expect(Math.abs(t.largestMinor.diameter - t.minor - 0.375 * t.pitch)).toBeLessThanOrEqual(0.0011);
  });

  /** Rows of Machinery's Handbook 31 p. 2115: number, pitch, D, effective, minor. */
  const MH31: readonly (readonly [number, number, number, number, number])[] = [
    [0, 1, 6, 5.4, 4.8],
    [2, 0.81, 4.7, 4.215, 3.73],
    [4, 0.66, 3.6, 3.205, 2.81],
    [6, 0.53, 2.8, 2.48, 2.16],
    [8, 0.43, 2.2, 1.94, 1.68],
    [10, 0.35, 1.7, 1.49, 1.28],
    [12, 0.28, 1.3, 1.13, 0.96],
  ];
  test.each(MH31)("Machinery's Handbook 31 p. 2115 row: %d BA", (n, pitch, major, pitchDiameter, minor) => {
    expect(thread(`${n}BA`)).toMatchObject({ pitch, major, pitchDiameter, minor });
  });

  test('ibls.org number 70 drill for 14 BA (0.711) is below its minor diameter and has not been copied', () => {
    expect(thread('14BA').minor).toBeGreaterThan(0.711);
    expect(thread('14BA').tapDrill.diameter).toBe(0.8);
  });
});

describe('Model Engineer and Unified', () => {
  const me = THREADS.filter((t) => t.family === 'ME');
  const unified = THREADS.filter((t) => t.family === 'UNC' || t.family === 'UNF');

  // Whitworth: triangle height 0.960491 p (55 degrees), two thirds of it thread; derived from the angle, not the constant.
  test.each(named(me))('Whitworth form from its angle, two thirds of p/(2 tan 27.5): %s', (_name, t) => {
    const depth = ((2 / 3) * t.pitch) / (2 * Math.tan((27.5 * Math.PI) / 180));
    expect(Math.abs(t.pitchDiameter - (t.major - depth))).toBeLessThan(0.0011);
    expect(Math.abs(t.minor - (t.major - 2 * depth))).toBeLessThan(0.0011);
  });

  test.each(named(unified))('ASME B1.1 profile: %s', (_name, t) => {
    const H = (Math.sqrt(3) / 2) * t.pitch;
    expect(Math.abs(t.minor - (t.major - (5 / 4) * H))).toBeLessThanOrEqual(0.00051);
    expect(Math.abs(t.pitchDiameter - (t.major - (3 / 4) * H))).toBeLessThanOrEqual(0.00051);
  });

  /** ASME B1.1 major diameters in inches, in Machinery's Handbook 31 p. 2155. */
  const MAJORS: readonly (readonly [string, number])[] = [
    ['0-80 UNF', 0.06],
    ['1-72 UNF', 0.073],
    ['2-56 UNC', 0.086],
    ['3-48 UNC', 0.099],
    ['4-40 UNC', 0.112],
    ['5-40 UNC', 0.125],
    ['6-32 UNC', 0.138],
    ['8-32 UNC', 0.164],
    ['10-32 UNF', 0.19],
    ['12-24 UNC', 0.216],
    ['1/4-20 UNC', 0.25],
  ];
  test.each(MAJORS)("Machinery's Handbook 31 p. 2155: major of %s is %d in", (name, inch) => {
    expect(thread(name).major).toBeCloseTo(inch * 25.4, 6);
  });

  /** Per cent thread of drills on the chart basis, thread/drill chart (docslib.org 4942776). */
  const CHART: readonly (readonly [string, number])[] = [
    ['0-80 UNF', 81],
    ['2-56 UNC', 69],
    ['4-40 UNC', 71],
    ['6-32 UNC', 78],
    ['8-32 UNC', 69],
    ['10-24 UNC', 75],
    ['10-32 UNF', 76],
    ['1/4-20 UNC', 75],
    ['1/4-28 UNF', 80],
  ];
  test.each(CHART)('thread/drill chart: %s leaves %d %%', (name, percent) => {
    const t = thread(name);
    expect(Math.abs(engagementOf(t, t.tapDrill.diameter, 'chart') - percent)).toBeLessThanOrEqual(1);
  });
});

describe('tapping holes', () => {
  test.each(named(THREADS))('D1 <= tapping drill <= largest D1: %s', (_name, t) => {
    const range = tappingHoleRange(t);
    expect(t.tapDrill.diameter).toBeGreaterThanOrEqual(range.least);
    expect(t.tapDrill.diameter).toBeLessThanOrEqual(range.most);
    expect(range.most).toBeLessThan(t.major);
  });

  /** Harold Hall's tapping notes quoting Model Engineer's Handbook: thread, chart per cent, hole. */
  const HALL: readonly (readonly [string, number, number])[] = [
    ['M3', 75, 2.51],
    ['M3', 65, 2.58],
    ['M3', 60, 2.61],
    ['M4', 75, 3.32],
    ['M4', 65, 3.41],
    ['M2', 75, 1.61],
    ['M2', 65, 1.66],
    ['M2.5', 80, 2.03],
    ['M2.5', 75, 2.06],
    ['M2.5', 70, 2.09],
    ['M2.5', 65, 2.12],
    ['M2.5', 60, 2.15],
  ];
  test.each(HALL)("Model Engineer's Handbook in Hall's notes: %s at %d %% is %d mm", (name, percent, hole) => {
    expect(Math.abs(holeForEngagement(thread(name), percent, 'chart') - hole)).toBeLessThanOrEqual(0.0051);
  });

  test.each(named(metric))(
    'chart 75 %% is overlap 90 %%, ratio 1.2 (fmcarbide.com against ASME B1.1): %s',
    (_name, t) => {
      const hole = holeForEngagement(t, 75, 'chart');
      expect(Math.abs(engagementOf(t, hole, 'overlap') - 90)).toBeLessThan(0.5);
      expect(engagementOf(t, hole, 'chart')).toBeCloseTo(75, 9);
    },
  );

  test('a drill is never offered below the basic minor diameter', () => {
    const t = thread('M3');
    expect(drillForEngagement(t, 100, 'chart', METRIC_DRILLS)?.diameter).toBe(2.5);
    expect(drillForEngagement(t, 60, 'chart', METRIC_DRILLS)?.diameter).toBe(2.6);
    expect(drillForEngagement(t, 60, 'chart', [])).toBeUndefined();
  });

  /** DIN 76-2 in Klein: pitch, normal, short. */
  const DIN_76: readonly (readonly [string, number, number])[] = [
    ['M2', 2.3, 1.5],
    ['M2.5', 2.6, 1.6],
    ['M3', 2.8, 1.8],
    ['M4', 3.8, 2.4],
    ['M5', 4.2, 2.7],
    ['M6', 5.1, 3.2],
    ['M8', 6.2, 3.9],
    ['M10', 7.3, 4.6],
    ['M12', 8.3, 5.2],
  ];
  test.each(DIN_76)('DIN 76-2: run-out of %s', (name, normal, short) => {
    expect(runOutOf(thread(name))).toMatchObject({ normal, short });
  });
  test('DIN 76-2 for pitches it does not list: the next larger one', () => {
    expect(runOutOf(thread('6BA'))).toMatchObject({ pitch: 0.6, normal: 3.4 });
    expect(runOutOf(thread('1/4-20 UNC'))).toMatchObject({ pitch: 1.5 });
    expect(runOutOf({ ...thread('M12'), pitch: 2 }).normal).toBeGreaterThan(8.3);
  });
  test.each(RUN_OUTS.map((r) => [r.pitch, r] as const))(
    'common practice: run-out of pitch %d is 4.5-6.6 P',
    (pitch, r) => {
      expect(r.normal / pitch).toBeGreaterThan(4.5);
      expect(r.normal / pitch).toBeLessThan(6.6);
      expect(r.short).toBeLessThan(r.normal);
    },
  );
});

describe('spelling', () => {
  const SPELLINGS: readonly (readonly [string, string])[] = [
    ['M3', 'M3'],
    ['m 3', 'M3'],
    ['M3.0', 'M3'],
    ['M3x0.5', 'M3'],
    ['M3 X 0,50', 'M3'],
    ['M3-6H', 'M3'],
    ['M3 × .35', 'M3x0.35'],
    ['M10', 'M10'],
    ['M10x1.0', 'M10x1'],
    ['M2,5', 'M2.5'],
    ['6BA', '6BA'],
    ['6 ba', '6BA'],
    ['BA 6', '6BA'],
    ['10BA', '10BA'],
    ['ME 1/4x40', 'ME 1/4x40'],
    ['1/4 x 40 ME', 'ME 1/4x40'],
    ['1/4X32', 'ME 1/4x32'],
    ['2-56 UNC', '2-56 UNC'],
    ['#2-56', '2-56 UNC'],
    ['No. 2-56 unc', '2-56 UNC'],
    ['1/4-20', '1/4-20 UNC'],
    ['UNF 10-32', '10-32 UNF'],
  ];
  test.each(SPELLINGS)('"%s" is %s', (text, name) => {
    expect(thread(text).name).toBe(name);
  });
  test.each(named(THREADS))('%s is found by its own name', (name) => {
    expect(thread(name).name).toBe(name);
  });

  const UNKNOWN: readonly (readonly [string, string | undefined])[] = [
    ['M9', 'M8'],
    ['M3x0.3', 'M3x0.35'],
    ['M3x0.6', 'M3'],
    ['2-57 UNC', '2-56 UNC'],
    ['ME 1/4-40', 'ME 1/4x40'],
    ['17BA', '16BA'],
    ['BA20', '16BA'],
    ['', undefined],
    ['a quarter inch', undefined],
    ['__proto__', undefined],
  ];
  test.each(UNKNOWN)('"%s" is unknown; nearest %s', (text, nearest) => {
    expect(findThread(text)).toEqual({ kind: 'unknown', nearest });
  });
});
