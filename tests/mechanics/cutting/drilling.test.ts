/** [F] = answer read in the named book or page; [M] from memory; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import { MM_PER_INCH, toRad } from '../../../src/base/units.ts';
import { specificForce } from '../../../src/mechanics/cutting/cutting.ts';
import { cutterDeflection, rodInertia, rodStress } from '../../../src/mechanics/cutting/deflection.ts';
import {
  breakThroughPull,
  drillChip,
  drillLoad,
  drillThrust,
  drillTorque,
  tapTorque,
} from '../../../src/mechanics/cutting/drilling.ts';

const IN_LB = 4.4482216152605 * MM_PER_INCH;

describe('drilling and tapping', () => {
  it('T17 [F] De-Sta-Co manual p.13: D 0.75 in, 0.010 ipr, magnesium 0.2 -> 56 in.lb (55.69, 6.29 N.m)', () => {
    const kc = (0.2 * 396_000 * 4.4482216152605) / MM_PER_INCH ** 2;
    const torque = drillTorque(0.75 * MM_PER_INCH, 0.01 * MM_PER_INCH, kc);
    expect(torque / IN_LB).toBeCloseTo(55.69, 2);
    expect(Math.round(torque / IN_LB)).toBe(56);
    expect(torque / 1000).toBeCloseTo(6.29, 2);
  });

  it('[D] torque and thrust agree with the lips as two chips: each lip carries kc D/2 f/2 at a mean radius of D/4', () => {
    const d = 5,
      f = 0.1,
      kc = 3000;
    const lip = kc * (d / 2) * (f / 2);
    expect(drillTorque(d, f, kc)).toBeCloseTo(2 * lip * (d / 4), 9);
    expect(drillThrust(d, f, toRad(118), kc, 1)).toBeCloseTo(0.5 * 2 * lip * Math.sin(toRad(59)), 9);
    expect(drillThrust(d, f, toRad(118), kc)).toBeCloseTo(2 * drillThrust(d, f, toRad(118), kc, 1), 9);
    expect(drillChip(0.1, toRad(118))).toBeCloseTo(0.05 * Math.sin(toRad(59)), 12);
  });

  it('[D] break-through pull does the same work per turn as the torque', () => {
    const pull = breakThroughPull(5, 900, toRad(30));
    const lead = (Math.PI * 5) / Math.tan(toRad(30));
    expect(pull * lead).toBeCloseTo(2 * Math.PI * 900, 9);
    expect(breakThroughPull(5, 900, 0)).toBe(0);
  });

  it('[D] all loads of a 5 mm drill in C45 lie where a hand check puts them', () => {
    const load = drillLoad({ diameter: 5, pointAngle: toRad(118), helix: toRad(30) }, 0.1, { kc11: 1500, mc: 0.22 }, 1);
    const kc = specificForce(1500, 0.22, drillChip(0.1, toRad(118)));
    expect(load.torque).toBeCloseTo((0.1 * 25 * kc) / 8, 6);
    expect(load.thrust).toBeGreaterThan(400);
    expect(load.thrust).toBeLessThan(900);
  });

  it('[M] tap torque P^2 d kc/8: M6 in a steel of kc 2000 is 1.5 N.m', () => {
    expect(tapTorque(6, 1, 2000) / 1000).toBeCloseTo(1.5, 12);
  });
});

describe('cutter deflection', () => {
  const plain = (d: number, stickOut: number, modulus: number) => ({
    diameter: d,
    fluteLength: stickOut,
    stickOut,
    shank: d,
    modulus,
  });

  it('[D] worked: D 10, core 8, L 40, carbide 600 GPa, 100 N: I 201.06, 0.017684 mm', () => {
    expect(rodInertia(8)).toBeCloseTo(201.06, 2);
    expect(cutterDeflection(plain(10, 40, 600_000), 100).tip).toBeCloseTo(0.017684, 6);
  });

  it('[D] worked: L = 4 D, 50 N: D 3 HSS 0.0842 and 442, carbide 0.0295; D 6 HSS 0.0421 and 110.5, carbide 0.0147', () => {
    const rows = [
      [3, 210_000, 0.0842, 442],
      [3, 600_000, 0.0295, 442],
      [6, 210_000, 0.0421, 110.5],
      [6, 600_000, 0.0147, 110.5],
    ] as const;
    for (const [d, e, tip, stress] of rows) {
      const result = cutterDeflection(plain(d, 4 * d, e), 50);
      expect(Math.abs(result.tip - tip)).toBeLessThan(5.1e-5);
      expect(Math.abs(result.stress - stress)).toBeLessThan(0.5);
    }
  });

  it('T19 [F] end-mill maker: overhang x 2 -> 8 times (0.2 -> 1.6); D x 2 -> 1/16 (25 -> about 1.5 micrometres)', () => {
    const base = cutterDeflection(plain(6, 20, 200_000), 100).tip;
    expect((0.2 * cutterDeflection(plain(6, 40, 200_000), 100).tip) / base).toBeCloseTo(1.6, 9);
    expect((25 * cutterDeflection(plain(12, 20, 200_000), 100).tip) / base).toBeCloseTo(25 / 16, 9);
  });

  it('[D] stepped tool equals F/(3E) (Lf^3/If + (Lt^3 - Lf^3)/Is); stress is the worse of the step and the holder', () => {
    const beam = { diameter: 3, fluteLength: 9, stickOut: 18, shank: 6, modulus: 580_000 };
    const r = cutterDeflection(beam, 40);
    const expected = (40 / (3 * 580_000)) * (9 ** 3 / rodInertia(2.4) + (18 ** 3 - 9 ** 3) / rodInertia(6));
    expect(r.tip).toBeCloseTo(expected, 12);
    expect(r.stress).toBeCloseTo(rodStress(40, 9, 2.4), 9);
  });

  it('[D] load at c above the tip: F (L - c)^2 (2 L + c)/(6 E I) at the tip, F (L - c)^3/(3 E I) at the load', () => {
    const [l, c, f, e] = [30, 8, 50, 200_000];
    const r = cutterDeflection(plain(8, l, e), f, c);
    const ei = e * rodInertia(6.4);
    expect(r.tip).toBeCloseTo((f * (l - c) ** 2 * (2 * l + c)) / (6 * ei), 12);
    expect(r.atLoad).toBeCloseTo((f * (l - c) ** 3) / (3 * ei), 12);
  });
});
