/** [F] = answer read in the named book or page; [D] = derived check (section numbers of the engineering data: 10). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { toRad } from '../../../src/base/units.ts';
import {
  arcSpeed,
  blendRadius,
  cornerSpeed,
  moveTime,
  moveTimeUnequal,
  pathTimes,
  type TimedMove,
} from '../../../src/mechanics/cutting/time.ts';
import { runs, SEED } from '../../runs.ts';

const X = [1, 0, 0] as const;
const line = (
  length: number,
  feed: number,
  enter: readonly [number, number, number] = X,
  leave = enter,
): TimedMove => ({ length, feed, enter, leave });

describe('acceleration-limited time', () => {
  it('T15 [F inputs and formula] triangular move: D 100, a 2, b 4 rest to rest -> peak 16.3299, 8.1650 + 4.0825 = 12.2474 s', () => {
    expect(moveTimeUnequal(100, 0, 0, 1e9, 2, 4)).toBeCloseTo(12.2474, 4);
    expect(Math.sqrt((2 * 2 * 4 * 100) / 6)).toBeCloseTo(16.3299, 4);
  });

  it('[D] v 10, a 50: d 50 takes 5.200 s, d 1 takes 0.28284 s (never reaches 10)', () => {
    expect(moveTime(50, 0, 0, 10, 50)).toBeCloseTo(5.2, 12);
    expect(moveTime(1, 0, 0, 10, 50)).toBeCloseTo(0.282843, 6);
  });

  it('[D] arc R 5, a 200: 31.623 mm/s = 1897.4 mm/min', () => {
    expect(arcSpeed(5, 200)).toBeCloseTo(31.623, 3);
    expect(arcSpeed(5, 200) * 60).toBeCloseTo(1897.4, 1);
  });

  it('[D] blended corners, a 200, e 0.01', () => {
    const rows = [
      [150, 0.283477, 7.5296, 451.8],
      [135, 0.121371, 4.9269, 295.6],
      [90, 0.0241421, 2.19737, 131.84],
      [45, 0.0061991, 1.1135, 66.8],
      [30, 0.00349198, 0.8357, 50.1],
    ] as const;
    for (const [deg, radius, speed, perMin] of rows) {
      expect(Math.abs(blendRadius(toRad(deg), 0.01) / radius - 1)).toBeLessThan(1e-5);
      const v = cornerSpeed(toRad(deg), 0.01, 200);
      expect(Math.abs(v / speed - 1)).toBeLessThan(5e-5);
      expect(Math.abs((v * 60) / perMin - 1)).toBeLessThan(1e-3);
    }
    expect(cornerSpeed(Math.PI, 0.01, 200)).toBe(Number.POSITIVE_INFINITY);
    expect(cornerSpeed(0, 0.01, 200)).toBe(0);
  });

  it('[D] a line cut in ten takes as long as whole; exact stops at every corner take ten rests', () => {
    const machine = { acceleration: 200, blend: 0.01 };
    const sum = (t: Float64Array) => t.reduce((a, b) => a + b, 0);
    const ten = Array.from({ length: 10 }, () => line(2, 600));
    expect(sum(pathTimes(ten, machine))).toBeCloseTo(sum(pathTimes([line(20, 600)], machine)), 9);
    const stops = ten.map((m) => ({ ...m, stop: true }));
    expect(sum(pathTimes(stops, machine))).toBeCloseTo(10 * moveTime(2, 0, 0, 10, 200), 9);
    const square = [X, [0, 1, 0], [-1, 0, 0], [0, -1, 0]] as const;
    const zero = pathTimes(
      square.map((d) => line(10, 600, d)),
      { acceleration: 200, blend: 0 },
    );
    expect(sum(zero)).toBeCloseTo(4 * moveTime(10, 0, 0, 10, 200), 9);
    const blended = pathTimes(
      square.map((d) => line(10, 600, d)),
      machine,
    );
    const v = cornerSpeed(Math.PI / 2, 0.01, 200);
    expect(sum(blended)).toBeCloseTo(2 * moveTime(10, 0, v, 10, 200) + 2 * moveTime(10, v, v, 10, 200), 9);
  });

  it('[D] a reversal stops; a short move between two fast ones limits both (backward, then forward)', () => {
    const t = pathTimes([line(10, 600), line(10, 600, [-1, 0, 0])], { acceleration: 200, blend: 0.1 });
    expect(t[0]).toBeCloseTo(moveTime(10, 0, 0, 10, 200), 9);
    const slow = pathTimes([line(50, 6000), line(0.5, 60), line(50, 6000)], { acceleration: 200, blend: 0.1 });
    expect(slow[1]).toBeCloseTo(0.5, 9);
    expect(slow[0]).toBeCloseTo(moveTime(50, 0, 1, 100, 200), 9);
  });

  it('law: never faster than the feed, never slower than a full rest at each end of each move; more acceleration never takes longer', () => {
    let seen = 0;
    const move = fc.record({
      length: fc.double({ min: 0.01, max: 40, noNaN: true }),
      feed: fc.double({ min: 10, max: 3000, noNaN: true }),
      turn: fc.double({ min: 0, max: 6.28, noNaN: true }),
      radius: fc.option(fc.double({ min: 0.1, max: 30, noNaN: true }), { nil: undefined }),
    });
    fc.assert(
      fc.property(
        fc.array(move, { minLength: 1, maxLength: 12 }),
        fc.double({ min: 20, max: 1000, noNaN: true }),
        (rows, a) => {
          seen++;
          const moves = rows.map((r): TimedMove => {
            const d = [Math.cos(r.turn), Math.sin(r.turn), 0] as const;
            return {
              length: r.length,
              feed: r.feed,
              enter: d,
              leave: d,
              ...(r.radius === undefined ? {} : { radius: r.radius }),
            };
          });
          const t = pathTimes(moves, { acceleration: a, blend: 0.01 });
          const quick = pathTimes(moves, { acceleration: 2 * a, blend: 0.01 });
          let total = 0,
            totalQuick = 0;
          moves.forEach((m, i) => {
            const v = Math.min(m.feed / 60, m.radius === undefined ? Infinity : arcSpeed(m.radius, a));
            expect(t[i]!).toBeGreaterThanOrEqual(m.length / v - 1e-9);
            expect(t[i]!).toBeLessThanOrEqual(moveTime(m.length, 0, 0, v, a) + 1e-9);
            total += t[i]!;
            totalQuick += quick[i]!;
          });
          expect(totalQuick).toBeLessThanOrEqual(total + 1e-9);
        },
      ),
      { numRuns: runs(1000), seed: SEED },
    );
    expect(seen).toBeGreaterThan(10);
  });
});
