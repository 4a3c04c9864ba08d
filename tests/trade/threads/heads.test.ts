import { describe, expect, test } from 'vitest';
import { clearanceOf } from '../../../src/trade/threads/clearance.ts';
import {
  COUNTERBORES,
  COUNTERSINKS,
  counterboreFor,
  countersinkDepth,
  countersinkFor,
} from '../../../src/trade/threads/heads.ts';
import { findThread } from '../../../src/trade/threads/threads.ts';

function medium(size: string): number {
  const found = findThread(size);
  if (found.kind === 'unknown') throw new Error(`no thread ${size}`);
  return clearanceOf(found.value, 'medium')!.diameter;
}

describe('counterbores', () => {
  /** HST, DIN 974-1 tool-catalogue pages: size, counterbore, depth. */
  const DIN_974: readonly (readonly [string, number, number])[] = [
    ['M2', 4.4, 2.4],
    ['M2.5', 5.5, 2.9],
    ['M3', 6.5, 3.4],
    ['M4', 8, 4.4],
    ['M5', 10, 5.4],
    ['M6', 11, 6.4],
    ['M8', 15, 8.6],
  ];
  test.each(DIN_974)('DIN 974-1 row 1: %s is %d wide, %d deep', (size, diameter, depth) => {
    expect(counterboreFor(size)).toMatchObject({ diameter, depth });
  });

  /** ISO 4762 (DIN 912) heads, creativefasteners: size, dk, k. */
  const ISO_4762: readonly (readonly [string, number, number])[] = [
    ['M2', 3.8, 2],
    ['M3', 5.5, 3],
    ['M4', 7, 4],
    ['M5', 8.5, 5],
    ['M6', 10, 6],
    ['M8', 13, 8],
    ['M10', 16, 10],
    ['M12', 18, 12],
  ];
  test.each(ISO_4762)('ISO 4762 head: %s', (size, headDiameter, headHeight) => {
    expect(counterboreFor(size)).toMatchObject({ headDiameter, headHeight });
  });

  test.each(COUNTERBORES.map((c) => [c.size, c.head, c] as const))(
    'counterbore > head > through hole: %s %s',
    (size, _head, c) => {
      expect(c.diameter).toBeGreaterThan(c.headDiameter ?? medium(size));
      if (c.headDiameter !== null) expect(c.headDiameter).toBeGreaterThan(medium(size));
      if (c.depth !== null) expect(c.depth).toBeGreaterThan(c.headHeight!);
    },
  );
  test('unknown sizes are undefined', () => {
    expect(counterboreFor('6BA')).toBeUndefined();
    expect(counterboreFor('M8', 'pan')).toBeUndefined();
  });
});

describe('countersinks', () => {
  /** FF, ISO 7047: theoretical sharp head diameter, equal to the least countersink. */
  const ISO_7047: readonly (readonly [string, number])[] = [
    ['M1.6', 3.6],
    ['M2', 4.4],
    ['M2.5', 5.5],
    ['M3', 6.3],
    ['M3.5', 8.2],
    ['M4', 9.4],
    ['M5', 10.4],
    ['M6', 12.6],
    ['M8', 17.3],
    ['M10', 20],
  ];
  test.each(ISO_7047)('ISO 7047 theoretical head: %s is %d', (size, head) => {
    expect(countersinkFor(size)?.least).toBe(head);
  });

  /** Depth t1 of ISO 15065 from memory: half of greatest diameter less medium hole. */
  const ISO_15065: readonly (readonly [string, number])[] = [
    ['M1.6', 0.95],
    ['M2', 1.05],
    ['M2.5', 1.35],
    ['M3', 1.55],
    ['M3.5', 2.25],
    ['M4', 2.55],
    ['M5', 2.58],
    ['M6', 3.13],
    ['M8', 4.28],
    ['M10', 4.65],
  ];
  test.each(ISO_15065)('ISO 15065 t1, remembered: %s is %d deep', (size, t1) => {
    const c = countersinkFor(size)!;
    expect(Math.abs(countersinkDepth(c.most, medium(size), c.angle) - t1)).toBeLessThanOrEqual(0.0051);
  });

  /** Spahr catalogue T-42, DIN 74-1 form A medium: d2 and t1; (d2 - d1) / 2 reproduces t1 to 0.05. */
  const DIN_74_A: readonly (readonly [string, number, number])[] = [
    ['M1.6', 3.7, 0.9],
    ['M2', 4.6, 1.1],
    ['M2.5', 5.7, 1.4],
    ['M3', 6.5, 1.6],
    ['M3.5', 7.6, 1.9],
    ['M4', 8.6, 2.1],
    ['M5', 10.4, 2.5],
    ['M6', 12.4, 2.9],
    ['M8', 16.4, 3.7],
  ];
  test.each(DIN_74_A)('DIN 74-1:1980 form A: %s is %d wide, %d deep', (size, d2, t1) => {
    expect(countersinkFor(size, 'DIN 963')?.least).toBe(d2);
    expect(Math.abs(countersinkDepth(d2, medium(size), 90) - t1)).toBeLessThanOrEqual(0.0501);
  });

  /** HST, DIN 74 form F. */
  const DIN_74_F: readonly (readonly [string, number])[] = [
    ['M3', 6.94],
    ['M4', 9.18],
    ['M5', 11.47],
    ['M6', 13.71],
    ['M8', 18.25],
  ];
  test.each(DIN_74_F)('DIN 74 form F: %s is %d', (size, d) => {
    expect(countersinkFor(size, 'ISO 10642')?.least).toBe(d);
  });
  test.each(['M5', 'M6', 'M8', 'M10'])('Klein: socket heads of %s need more room than slotted ones', (size) => {
    expect(countersinkFor(size, 'ISO 10642')!.least).toBeGreaterThan(countersinkFor(size)!.most);
  });
  test.each(COUNTERSINKS.map((c) => [c.size, c.head, c] as const))(
    'countersink > through hole: %s %s',
    (size, _head, c) => {
      expect(c.least).toBeGreaterThan(medium(size));
      expect(c.most).toBeGreaterThanOrEqual(c.least);
    },
  );
  test('Engineers Edge: cone depth factors of 82 and 90 degrees', () => {
    expect(countersinkDepth(10, 0, 90)).toBeCloseTo(5, 9);
    expect(countersinkDepth(10, 0, 82)).toBeCloseTo(5.752, 3);
  });
  test('an unknown size is undefined', () => {
    expect(countersinkFor('4BA')).toBeUndefined();
  });
});
