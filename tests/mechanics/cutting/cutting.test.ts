/** [F] = answer read in the named book or page; [D] = derived check. T numbers are rows of the worked-example table. */

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MM_PER_INCH, toDeg } from '../../../src/base/units.ts';
import {
  motorPower,
  powerAtSpeed,
  specificForce,
  spindleSpeed,
  surfaceSpeed,
  tableFeed,
} from '../../../src/mechanics/cutting/cutting.ts';
import {
  chipThinning,
  engagementInside,
  engagementStraight,
  equivalentWidth,
} from '../../../src/mechanics/cutting/engagement.ts';
import { runs, SEED } from '../../runs.ts';
import {
  approachLength,
  cuttingPower,
  edgeForce,
  engagementOutside,
  maxChip,
  meanChip,
  meanChipShallow,
  removalRate,
  toothFeed,
  torqueOf,
} from '../oracles/handbook.ts';

const law = (n: number) => ({ numRuns: runs(n), seed: SEED });
const LB = 4.4482216152605;

describe('speed, feed, power', () => {
  it('T8 [F] Mitsubishi face milling: n 101.91 (pi = 3.14), fz 0.228, Pc 1.68 kW', () => {
    const n = spindleSpeed(80, 250);
    expect((n * Math.PI) / 3.14).toBeCloseTo(101.91, 2);
    expect(Math.floor(1000 * toothFeed(280, 12, (n * Math.PI) / 3.14))).toBe(228); // the page cuts off, 0.22896
    expect(motorPower(cuttingPower(removalRate(2, 80, 280), 1800), 0.8) / 1000).toBeCloseTo(1.68, 6);
  });

  it('T9 [F] Ghosh & Mallik Example 4.16: mean chip 0.043, 817 W (821.5 unrounded)', () => {
    const fz = toothFeed(100, 10, 60);
    const h = meanChipShallow(fz, 5, 75);
    expect(h).toBeCloseTo(0.04303, 5);
    const rate = removalRate(5, 20, 100);
    const rounded = specificForce(1.4 * 1000, 0.4, 0.043); // the book goes on with its rounded 0.043
    expect(rounded / 1000).toBeCloseTo(4.929, 3);
    expect(cuttingPower(rate, rounded)).toBeCloseTo(821.5, 1);
    expect(Math.abs(cuttingPower(rate, specificForce(1.4 * 1000, 0.4, h)) / 817 - 1)).toBeLessThan(0.006);
  });

  it('T10 [F inputs] Groover slab milling: 136.42 rev/min, 10.913 in/min, approach 0.980, 1.189 min, 8.185 in3/min', () => {
    const n = spindleSpeed((125 * 12 * MM_PER_INCH) / 1000, 3.5 * MM_PER_INCH);
    expect(n).toBeCloseTo(136.42, 2);
    const vf = tableFeed(0.008, 10, n);
    expect(vf).toBeCloseTo(10.913, 3);
    const approach = approachLength(0.3, 3.5);
    expect(approach).toBeCloseTo(0.98, 3);
    expect((12 + approach) / vf).toBeCloseTo(1.189, 3);
    expect(removalRate(0.3, 2.5, vf)).toBeCloseTo(8.185, 3);
  });

  it('T11 [F inputs] Kalpakjian & Schmid face milling: vf 300, 101 250 mm3/min, 8437.5 W', () => {
    const vf = tableFeed(0.125, 8, 300);
    expect(vf).toBeCloseTo(300, 9);
    const rate = removalRate(3, 0.75 * 150, vf);
    expect(rate).toBeCloseTo(101_250, 6);
    expect(cuttingPower(rate, 5000)).toBeCloseTo(8437.5, 6);
  });

  it('T12 [F] Harvey Performance: 2.08 in3/min', () => {
    expect(Math.abs(removalRate(0.1, 0.5, 41.5) - 2.08)).toBeLessThanOrEqual(0.0051);
  });

  it('T18 [F] De-Sta-Co manual p.13 boring force 121 lb', () => {
    const kc = (1.7 * 396_000 * LB) / MM_PER_INCH ** 2;
    const f = edgeForce(0.06 * 0.003 * MM_PER_INCH ** 2, kc) / LB;
    expect(f).toBeCloseTo(121.2, 1);
  });

  it('[D] C45 by mean thickness: hm 0.019099, kc 3583.2, 57.03 W, 0.4106 N.m', () => {
    const n = spindleSpeed(25, 6);
    expect(n).toBeCloseTo(1326.3, 1);
    const vf = tableFeed(0.03, 2, n);
    const hm = meanChip(0.03, 6, 6);
    expect(hm).toBeCloseTo(0.019099, 6);
    const kc = specificForce(1500, 0.22, hm);
    expect(kc).toBeCloseTo(3583.2, 1);
    const p = cuttingPower(removalRate(2, 6, vf), kc);
    expect(p).toBeCloseTo(57.03, 2);
    expect(torqueOf(p, n) / 1000).toBeCloseTo(0.4106, 4);
  });

  it('[D] kc at h 0.03 and 0.10 of the VDI 3323 groups', () => {
    const rows: readonly [number, number, number, number][] = [
      [1500, 0.22, 3244, 2489],
      [2220, 0.14, 3627, 3064],
      [800, 0.25, 1922, 1423],
      [2150, 0.2, 4335, 3408],
      [700, 0.27, 1804, 1303],
      [2450, 0.23, 5488, 4161],
    ];
    for (const [kc11, mc, a, b] of rows) {
      expect(Math.round(specificForce(kc11, mc, 0.03))).toBe(a);
      expect(Math.round(specificForce(kc11, mc, 0.1))).toBe(b);
    }
  });

  it('[D] surface speed undoes spindle speed; power falls with speed below the base speed only', () => {
    expect(surfaceSpeed(spindleSpeed(33, 7), 7)).toBeCloseTo(33, 12);
    expect(powerAtSpeed(350, 1250, 2500)).toBe(175);
    expect(powerAtSpeed(350, 5000, 2500)).toBe(350);
  });

  it('[D] thickest chip is fz from half immersion, fz sin(phi) below', () => {
    expect(maxChip(0.1, 3, 6)).toBe(0.1);
    expect(maxChip(0.1, 0.6, 6)).toBeCloseTo(0.1 * 2 * Math.sqrt(0.1 - 0.01), 12);
  });
});

describe('engagement and feeds on arcs', () => {
  it('T13 [F] radial chip thinning: factor 1.667, 36.9 degrees, 36.7 in/min', () => {
    expect(chipThinning(0.05, 0.5)).toBeCloseTo(1.66667, 5);
    expect(toDeg(engagementStraight(0.5, 0.05))).toBeCloseTo(36.87, 3);
    const n = spindleSpeed((400 * 12 * MM_PER_INCH) / 1000, 0.5 * MM_PER_INCH);
    expect(n).toBeCloseTo(3056, 0);
    expect(tableFeed(0.003, 4, n)).toBeCloseTo(36.7, 1);
    expect(chipThinning(0.05, 1)).toBeCloseTo(2.294, 3);
    expect(chipThinning(0.25, 1)).toBeCloseTo(1.155, 3);
  });

  it('T13 [D] the cap holds below 4.2 % and nothing is thinned from half immersion', () => {
    expect(chipThinning(0.03, 1, 3)).toBeCloseTo(2.931, 3);
    expect(chipThinning(0.01, 1)).toBe(2.5);
    expect(chipThinning(0.5, 1)).toBe(1);
  });

  it('[D] engagement on arcs by direct geometry: the angle at which the stock circle meets the cutter', () => {
    const rho = 4,
      r = 3,
      s = 0.4;
    for (const [phi, stock, outward] of [
      [engagementInside(rho, r, s), rho + r - s, 1],
      [engagementOutside(rho, r, s), rho - r + s, -1],
    ] as const) {
      const x = rho + outward * r * Math.cos(phi),
        y = r * Math.sin(phi);
      expect(Math.hypot(x, y)).toBeCloseTo(stock, 12);
    }
  });

  it('law: inside >= straight >= outside, all meet as the path grows straight', () => {
    let seen = 0;
    fc.assert(
      fc.property(
        fc.double({ min: 0.5, max: 6, noNaN: true }),
        fc.double({ min: 0.01, max: 0.99, noNaN: true }),
        fc.double({ min: 1.01, max: 30, noNaN: true }),
        (r, share, times) => {
          seen++;
          const s = 2 * r * share,
            straight = engagementStraight(2 * r, s),
            rho = r * times;
          expect(engagementInside(rho, r, s)).toBeGreaterThanOrEqual(straight - 1e-12);
          expect(engagementOutside(rho, r, s)).toBeLessThanOrEqual(straight + 1e-12);
          expect(Math.abs(engagementInside(1e7, r, s) - straight)).toBeLessThan(1e-4);
          expect(Math.abs(engagementOutside(1e7, r, s) - straight)).toBeLessThan(1e-4);
          expect(engagementStraight(2 * r, equivalentWidth(2 * r, straight))).toBeCloseTo(straight, 6);
        },
      ),
      law(500),
    );
    expect(seen).toBeGreaterThan(10);
  });
});
