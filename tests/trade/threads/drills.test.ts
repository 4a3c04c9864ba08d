import { describe, expect, test } from 'vitest';
import { toleranceGrade } from '../../../src/trade/iso286.ts';
import { CLEARANCE_HOLES, CLEARANCE_TOLERANCE, clearanceOf } from '../../../src/trade/threads/clearance.ts';
import {
  ALL_DRILLS,
  drillNamed,
  drillsBetween,
  FRACTION_DRILLS,
  LETTER_DRILLS,
  METRIC_DRILLS,
  NUMBER_DRILLS,
  nearestDrill,
  pointLength,
  SET_1_TO_13,
} from '../../../src/trade/threads/drills.ts';
import { findThread, THREADS, type Thread } from '../../../src/trade/threads/threads.ts';

function thread(name: string): Thread {
  const found = findThread(name);
  if (found.kind === 'unknown') throw new Error(`no thread ${name}`);
  return found.value;
}

describe('series', () => {
  test('BS 328: 227 sizes from 0.2 to 25.0 by its rule', () => {
    expect(METRIC_DRILLS.length).toBe(227);
    expect(METRIC_DRILLS[0]!.diameter).toBe(0.2);
    expect(METRIC_DRILLS.at(-1)!.diameter).toBe(25);
  });
  test.each([0.2, 0.22, 0.98, 1, 1.05, 2.05, 2.95, 3, 3.1, 13.9, 14, 14.25])('BS 328 has %d', (d) => {
    expect(METRIC_DRILLS.some((x) => x.diameter === d)).toBe(true);
  });
  test.each([0.21, 0.99, 3.05, 4.85, 5.25, 14.1])('BS 328 has no %d', (d) => {
    expect(METRIC_DRILLS.some((x) => Math.abs(x.diameter - d) < 1e-6)).toBe(false);
  });
  test('common practice: the set 1-13 by 0.1 has 121 drills', () => {
    expect(SET_1_TO_13.length).toBe(121);
    expect(SET_1_TO_13.at(-1)!.diameter).toBe(13);
  });
  test('number drills fall and letters rise, and A follows number 1', () => {
    expect(NUMBER_DRILLS.length).toBe(80);
    expect(LETTER_DRILLS.length).toBe(26);
    for (let i = 1; i < 80; i++) expect(NUMBER_DRILLS[i]!.diameter).toBeLessThan(NUMBER_DRILLS[i - 1]!.diameter);
    for (let i = 1; i < 26; i++) expect(LETTER_DRILLS[i]!.diameter).toBeGreaterThan(LETTER_DRILLS[i - 1]!.diameter);
    expect(LETTER_DRILLS[0]!.diameter).toBeGreaterThan(NUMBER_DRILLS[0]!.diameter);
  });
  test('names are unique', () => {
    expect(new Set(ALL_DRILLS.map((d) => d.name)).size).toBe(ALL_DRILLS.length);
  });

  /** Millimetre columns of ibls.org (BA threads page), three decimals. */
  const IBLS: readonly (readonly [string, number])[] = [
    ['#10', 4.915],
    ['#17', 4.394],
    ['#24', 3.861],
    ['#29', 3.454],
    ['#32', 2.946],
    ['#37', 2.642],
    ['#43', 2.261],
    ['#46', 2.057],
    ['#50', 1.778],
    ['#53', 1.511],
    ['#55', 1.321],
    ['#56', 1.181],
    ['#60', 1.016],
    ['#70', 0.711],
  ];
  test.each(IBLS)('ibls.org drill table: %s is %d mm', (name, mm) => {
    expect(Math.abs(drillNamed(name)!.diameter - mm)).toBeLessThanOrEqual(0.00051);
  });

  /** Toolmex table, inches. */
  const TOOLMEX: readonly (readonly [string, number])[] = [
    ['#1', 0.228],
    ['#7', 0.201],
    ['#16', 0.177],
    ['#21', 0.159],
    ['#30', 0.1285],
    ['#36', 0.1065],
    ['#42', 0.0935],
    ['#52', 0.0635],
    ['#64', 0.036],
    ['#80', 0.0135],
    ['A', 0.234],
    ['F', 0.257],
    ['O', 0.316],
    ['Z', 0.413],
  ];
  test.each(TOOLMEX)('Toolmex drill table: %s is %d in', (name, inch) => {
    expect(drillNamed(name)!.diameter).toBeCloseTo(inch * 25.4, 6);
  });
  test.each([
    ['1/64', 0.396875],
    ['1/8', 3.175],
    ['13/64', 5.159375],
    ['1/2', 12.7],
  ] as const)('n/64 in: %s is %d mm', (name, mm) => {
    expect(drillNamed(name)!.diameter).toBe(mm);
  });
  test('1/64 steps to 1/2 are 32', () => {
    expect(FRACTION_DRILLS.length).toBe(32);
    expect(drillNamed('4/8')).toBeUndefined();
  });
});

describe('choosing', () => {
  test('nearest drill, the smaller one of two', () => {
    expect(nearestDrill(4.85).diameter).toBe(4.8);
    expect(nearestDrill(2.51).diameter).toBe(2.5);
    expect(nearestDrill(2.06).diameter).toBe(2.05);
    expect(nearestDrill(0).diameter).toBe(0.2);
  });
  test('between includes both ends', () => {
    expect(drillsBetween(2.459, 2.599).map((d) => d.diameter)).toEqual([2.5, 2.55]);
    expect(drillsBetween(2.5, 2.5).length).toBe(1);
    expect(drillsBetween(3.01, 3.09)).toEqual([]);
  });
});

describe('points', () => {
  /** Engineers Edge, countersink and spot-drill depth, to four places. */
  const FACTORS: readonly (readonly [number, number])[] = [
    [60, 0.866],
    [82, 0.5752],
    [90, 0.5],
    [100, 0.4195],
    [118, 0.3004],
    [120, 0.2887],
    [130, 0.2332],
    [135, 0.2071],
    [140, 0.182],
    [142, 0.1722],
  ];
  test.each(FACTORS)('Engineers Edge: point of %d degrees is %d D long', (angle, factor) => {
    expect(Math.abs(pointLength(1, angle) - factor)).toBeLessThanOrEqual(0.00006);
  });
});

describe('clearance', () => {
  /** Machinery's Handbook 31 p. 2173 (BS 4186:1967, same figures as ISO 273 up to M10): fine, medium, coarse. */
  const MH31: readonly (readonly [string, number, number, number])[] = [
    ['M1.6', 1.7, 1.8, 2],
    ['M2', 2.2, 2.4, 2.6],
    ['M2.5', 2.7, 2.9, 3.1],
    ['M3', 3.2, 3.4, 3.6],
    ['M4', 4.3, 4.5, 4.8],
    ['M5', 5.3, 5.5, 5.8],
    ['M6', 6.4, 6.6, 7],
    ['M8', 8.4, 9, 10],
    ['M10', 10.5, 11, 12],
  ];
  test.each(MH31)("Machinery's Handbook 31 p. 2173 / ISO 273: %s", (name, fine, medium, coarse) => {
    expect(clearanceOf(thread(name), 'fine')?.diameter).toBe(fine);
    expect(clearanceOf(thread(name), 'medium')?.diameter).toBe(medium);
    expect(clearanceOf(thread(name), 'coarse')?.diameter).toBe(coarse);
  });
  test('ISO 273:1979 has 13.5 medium for M12, where BS 4186 has 14', () => {
    expect(clearanceOf(thread('M12'), 'medium')?.diameter).toBe(13.5);
  });

  const rows = CLEARANCE_HOLES.map((r) => [r.size, r] as const);
  test.each(rows)('clearance > thread, fine < medium < coarse: %s', (size, row) => {
    const major = size === 'M4.5' ? 4.5 : thread(size).major;
    const holes = [row.fine, row.medium, row.coarse].filter((d) => d !== null);
    expect(holes.length).toBeGreaterThan(0);
    expect(holes[0]!).toBeGreaterThan(major);
    for (let i = 1; i < holes.length; i++) expect(holes[i]!).toBeGreaterThan(holes[i - 1]!);
  });

  test.each(THREADS.map((t) => [t.name, t] as const))(
    'a screw of %s passes its clearance hole at least limit',
    (_name, t) => {
      for (const series of ['fine', 'medium', 'coarse'] as const) {
        const hole = clearanceOf(t, series);
        // Every tolerance of ISO 273 is an H: the least limit is the figure itself.
        if (hole !== undefined) expect(hole.diameter).toBeGreaterThan(t.major);
      }
      if (t.family === 'metric coarse' && t.name !== 'M2.2') expect(clearanceOf(t, 'medium')).toBeDefined();
    },
  );

  test('fine-pitch screws use the hole of their diameter', () => {
    expect(clearanceOf(thread('M3x0.35'), 'medium')?.diameter).toBe(3.4);
  });
  test('what is not listed is undefined, not guessed', () => {
    expect(clearanceOf(thread('13BA'), 'medium')).toBeUndefined();
    expect(clearanceOf(thread('6BA'), 'fine')).toBeUndefined();
  });
  test('ISO 273 tolerances H12, H13, H14 exist in the ISO 286 table', () => {
    for (const cls of Object.values(CLEARANCE_TOLERANCE))
      expect(toleranceGrade(3.4, Number(cls.slice(1)))).toBeGreaterThan(0);
  });
  // Royal Signals / BHI "rule of 4": the tapping drill of an even BA size is the clearance drill of the next even size.
  test('BHI rule of 4: number 34 clears 6 BA, 44 is near 8 BA', () => {
    expect(clearanceOf(thread('6BA'), 'medium')?.diameter).toBe(drillNamed('#34')!.diameter);
    expect(Math.abs(clearanceOf(thread('8BA'), 'medium')!.diameter - drillNamed('#44')!.diameter)).toBeLessThan(0.1);
  });
});
