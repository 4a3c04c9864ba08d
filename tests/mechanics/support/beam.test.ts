/** [F] = answer read in the named book or page; [M] from memory; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import {
  beamMovement,
  KAPPA,
  shearModulus,
  torsionConstant,
  torsionStressFactor,
  vonMises,
} from '../../../src/mechanics/support/beam.ts';
import { axialStiffness, beamStiffness, greatestMoment, kappaCowper, rectangle } from '../oracles/handbook.ts';

const steel = { modulus: 210_000, poisson: 0.3 };
const aluminium = { modulus: 70_000, poisson: 0.33 };

describe('Timoshenko beams', () => {
  it('T16 [F formulas] centre load 125 kN, 700 x 40 x 18 cm, E 20 000 kN/cm2: fixed 0.574350 / 0.578998, pinned 2.297400 / 2.302049 cm', () => {
    const metal = { modulus: 20_000, poisson: 0.3 };
    const kappa = kappaCowper(0.3);
    expect(kappa).toBeCloseTo(0.849673, 6);
    // The published example bends with b 40 upright to h 18: I = b h^3/12 with h = 40 across.
    const section = [rectangle(40, 18), rectangle(18, 40)].find(
      (s) => Math.abs(beamMovement('fixed-centre', 125, 700, s, metal, kappa).bending - 0.57435) < 1e-3,
    );
    if (section === undefined) throw new Error('neither way up gives the published figure');
    const fixed = beamMovement('fixed-centre', 125, 700, section, metal, kappa);
    const pinned = beamMovement('pinned-centre', 125, 700, section, metal, kappa);
    expect(fixed.bending).toBeCloseTo(0.57435, 6);
    expect(fixed.total).toBeCloseTo(0.578998, 6);
    expect(pinned.bending).toBeCloseTo(2.2974, 6);
    expect(pinned.total).toBeCloseTo(2.302049, 6);
  });

  it('[D] prism tab 3 x 1, L 6: in-plane, vertical and axial stiffness, steel and aluminium', () => {
    const rows = [
      [steel, 2.25, 26_250, 14_747, 2684, 105_000],
      [aluminium, 2.25, 8750, 4867, 893, 35_000],
    ] as const;
    for (const [metal, inertia, bend, inPlane, vertical, axial] of rows) {
      const flat = rectangle(1, 3),
        upright = rectangle(3, 1);
      expect(flat.inertia).toBeCloseTo(inertia, 12);
      expect((12 * metal.modulus * flat.inertia) / 216).toBeCloseTo(bend, 6);
      expect(Math.abs(beamStiffness('guided', 6, flat, metal) - inPlane)).toBeLessThan(0.6);
      expect(Math.abs(beamStiffness('guided', 6, upright, metal) - vertical)).toBeLessThan(0.6);
      expect(axialStiffness(6, 3, metal)).toBeCloseTo(axial, 6);
    }
    expect((greatestMoment('guided', 100, 6) * 1.5) / rectangle(1, 3).inertia).toBeCloseTo(200, 9);
    expect((greatestMoment('guided', 100, 6) * 0.5) / rectangle(3, 1).inertia).toBeCloseTo(600, 9);
  });

  it('[D] shear over bending of a square cantilever, nu 0.3: 0.780 at L/h 1, 0.195 at 2, 0.0078 at 10', () => {
    for (const [l, ratio, digits] of [
      [1, 0.78, 3],
      [2, 0.195, 3],
      [10, 0.0078, 4],
    ] as const) {
      const m = beamMovement('cantilever', 1, l, rectangle(1, 1), steel);
      expect(m.shear / m.bending).toBeCloseTo(ratio, digits);
    }
    expect(KAPPA).toBeCloseTo(5 / 6, 12);
    expect(shearModulus(steel)).toBeCloseTo(80_769.23, 2);
  });

  it('[F] torsion of a rectangle against the exact series (Timoshenko & Goodier art. 109): k1 0.1406, 0.229, 0.333', () => {
    for (const [a, k] of [
      [1, 0.1406],
      [1.5, 0.196],
      [2, 0.229],
      [4, 0.281],
      [10, 0.312],
      [1000, 0.3333],
    ] as const) {
      expect(Math.abs(torsionConstant(a, 1) / a / k - 1)).toBeLessThan(0.006);
      expect(torsionConstant(1, a)).toBe(torsionConstant(a, 1));
    }
    // Greatest shear T/(k2 a b^2): k2 0.208 square, 0.246 at 2, 0.282 at 4.
    for (const [a, k2] of [
      [1, 0.208],
      [2, 0.246],
      [4, 0.282],
    ] as const)
      expect(Math.abs(torsionStressFactor(a, 1) * a * k2 - 1)).toBeLessThan(0.05);
  });

  it('[D] von Mises: pure shear yields at 0.577 of pull', () => {
    expect(1 / vonMises(0, 1)).toBeCloseTo(0.57735, 5);
    expect(vonMises(3, 0)).toBe(3);
  });
});
