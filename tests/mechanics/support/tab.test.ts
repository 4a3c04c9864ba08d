/** [D] = derived check (6.1 and 6.2 of the engineering data, and an independent plane-stress solution); [F]/[M] named where used. */
import { describe, expect, it } from 'vitest';
import { notchFactors, sideShear, tabSections, tabStress } from '../../../src/mechanics/held/tab-stress.ts';
import { tabFlexibility } from '../../../src/mechanics/support/tab.ts';
import { slopeAt, type TabShape, widthAt } from '../../../src/mechanics/support/tab-shape.ts';
import { random, runs, SEED } from '../../runs.ts';
import { tabStiffness, withFrame } from '../oracles/chain.ts';
import { beamStiffness, planArea, rectangle, rootWidths } from '../oracles/handbook.ts';
import { solveStrip } from '../plane-fe.ts';
import { planStrip, uprightStrip } from '../strips.ts';

const steel = { modulus: 210_000, poisson: 0.3 };
const aluminium = { modulus: 70_000, poisson: 0.33 };
const flared: TabShape = { waist: 2, height: 1, cutterRadius: 3, slotWidth: 6 };
const prism = (waist: number, height: number, slotWidth: number): TabShape => ({
  waist,
  height,
  cutterRadius: 0,
  slotWidth,
});

describe('shape', () => {
  it('[D] w 2, r 3: plan area 2 r w + (4 - pi) r^2 = 19.7257, roots 8 wide, waist in the middle', () => {
    expect(planArea(flared)).toBeCloseTo(19.7257, 4);
    expect(widthAt(flared, 3)).toBe(2);
    expect(widthAt(flared, 0)).toBe(8);
    expect(rootWidths(flared)).toEqual({ part: 8, frame: 8 });
    expect(slopeAt(flared, 3)).toBe(0);
    expect(slopeAt(flared, 0)).toBeCloseTo(Math.PI / 2, 9);
  });

  it('[D] a widened slot has a flat waist between its two rows of discs; different radii leave each its own flare', () => {
    const wide = { ...flared, slotWidth: 7 };
    for (const s of [3, 3.5, 4]) expect(widthAt(wide, s)).toBeCloseTo(2, 12);
    expect(widthAt(wide, 2.9)).toBeGreaterThan(2);
    expect(planArea(wide)).toBeCloseTo(19.7257 + 2, 4);
    const two = { ...flared, frameRadius: 2, slotWidth: 6 };
    expect(widthAt(two, 6)).toBe(6);
    expect(planArea(two)).toBeCloseTo(12 + (4 - Math.PI) * (9 + 4) * 0.5, 4);
    const met = { ...flared, cutterRadius: 1.5, frameRadius: 2, slotWidth: 3 };
    for (let s = 0; s <= 3; s += 0.1) expect(widthAt(met, s)).toBeGreaterThanOrEqual(2);
  });
});

describe('pure beam with rigid roots', () => {
  it('[D] w 2, r 3, h 1: in-plane 19 092, vertical 3495, axial 100 663 N/mm steel; 6278, 1162, 33 554 aluminium', () => {
    for (const [metal, inPlane, vertical, axial] of [
      [steel, 19_092, 3495, 100_663],
      [aluminium, 6278, 1162, 33_554],
    ] as const) {
      const k = tabStiffness(tabFlexibility(flared, metal, null));
      expect([k[7]!, k[14]!, k[0]!].map(Math.round)).toEqual([inPlane, vertical, axial]);
    }
  });

  it('[D] prism w 2: 5776, 1789, 70 000; prism w 3: 14 747, 2684, 105 000', () => {
    for (const [w, inPlane, vertical, axial] of [
      [2, 5776, 1789, 70_000],
      [3, 14_747, 2684, 105_000],
    ] as const) {
      const k = tabStiffness(tabFlexibility(prism(w, 1, 6), steel, null));
      expect([k[7]!, k[14]!, k[0]!].map(Math.round)).toEqual([inPlane, vertical, axial]);
      expect(k[7]! / beamStiffness('guided', 6, rectangle(1, w), steel)).toBeCloseTo(1, 9);
    }
  });

  it('[D] beam stress per newton: vertical 3.4017 at y 1.984, in-plane 1.1609 at y 1.327, waist shear 0.75', () => {
    const best = (f: (y: number) => number) => {
      let at = 0;
      for (let y = 0; y < 3; y += 0.0005) if (f(y) > f(at)) at = y;
      return { at, value: f(at) };
    };
    const up = best((y) => (6 * y) / widthAt(flared, 3 + y));
    const flat = best((y) => (6 * y) / widthAt(flared, 3 + y) ** 2);
    expect(up.value).toBeCloseTo(3.4017, 4);
    expect(up.at).toBeCloseTo(1.984, 2);
    expect(flat.value).toBeCloseTo(1.1609, 4);
    expect(flat.at).toBeCloseTo(1.327, 2);
    const waist = tabSections(flared).find((q) => Math.abs(q.s - 3) < 1e-9)!;
    expect(waist.shear).toBeCloseTo(0.75, 12);
  });

  it('[D] a prism on a prism as its frame is one long prism: the series form carries the arm', () => {
    const first = tabFlexibility(prism(2, 1, 4), steel, null);
    const second = tabFlexibility(prism(2, 1, 3), steel, null);
    const whole = tabFlexibility(prism(2, 1, 7), steel, null);
    const joined = withFrame(first, second, 4);
    for (let i = 0; i < 36; i++)
      expect(Math.abs(joined[i]! - whole[i]!)).toBeLessThan(1e-12 + 1e-9 * Math.abs(whole[i]!));
  });
});

/** Stiffness and stress of the model and of the plane solution for moves along the edge, outwards, and a turn. */
const PLAN = [
  [2, 3, 6, 1],
  [2, 1.5, 3, 1],
  [1, 1.5, 3.4, 0.5],
  [4, 2, 4, 1],
  [3, 0.75, 1.5, 0.8],
  [1, 3, 8, 1],
] as const;

describe('against the independent plane-stress solution, walls reaching four root widths', () => {
  it('the solver itself: a straight cantilevered strip bends as Timoshenko says', () => {
    const rows = Array.from({ length: 41 }, (_, i) => i * 0.25);
    const s = solveStrip(
      {
        length: 10,
        lower: () => -0.5,
        upper: () => 0.5,
        thickness: () => 1,
        rows,
        across: 6,
        block: { depth: 0.01, lower: -0.5, upper: 0.5, thickness: 1e3, sidesHeld: 'both' },
        modulus: 210_000,
        poisson: 0.3,
      },
      0,
      1,
    );
    expect(Math.abs(s.stiffness / beamStiffness('guided', 10, rectangle(1, 1), steel) - 1)).toBeLessThan(0.02);
  });

  it.each(PLAN)(
    'w %d r %d slot %d h %d: model 0.80-1.00 of the plane stiffness, 0.98-1.25 of its stress',
    (w, r, slot, h) => {
      const tab: TabShape = { waist: w, height: h, cutterRadius: r, slotWidth: slot };
      const k = tabStiffness(tabFlexibility(tab, steel, { part: h, frame: h }));
      const strip = planStrip(w, r, slot, h, 4);
      const along = solveStrip(strip, 0, 1);
      const out = solveStrip(strip, 1, 0);
      const turn = solveStrip(strip, 0, 0, 1);
      const sections = tabSections(tab);
      const per = (load: readonly number[]) => tabStress(sections, load).stress;
      const stiffness = [k[7]! / along.stiffness, k[0]! / out.stiffness, k[35]! / turn.stiffness];
      const stress = [
        per([0, 1, 0, 0, 0, slot / 2]) / (along.stress / along.stiffness),
        per([1, 0, 0, 0, 0, 0]) / (out.stress / out.stiffness),
        per([0, k[11]! / k[35]!, 0, 0, 0, 1]) / (turn.stress / turn.stiffness),
      ];
      for (const v of stiffness) {
        expect(v).toBeGreaterThan(0.8);
        expect(v).toBeLessThan(1);
      }
      for (const v of stress) {
        expect(v).toBeGreaterThan(0.98);
        expect(v).toBeLessThan(1.25);
      }
    },
  );

  it.each([
    [2, 3, 6, 1, 4],
    [2, 1.5, 3, 0.5, 3],
    [4, 2, 4, 1, 5],
    [3, 1, 2, 1, 4],
    [2, 0.75, 1.5, 0.5, 4],
    [2, 1.5, 3.4, 1, 2],
  ] as const)(
    'upright w %d r %d slot %d h %d in a wall of %d: model 0.6-1.0 of the plane stiffness (part and frame clamped above)',
    (w, r, slot, h, wall) => {
      const k = tabStiffness(
        tabFlexibility({ waist: w, height: h, cutterRadius: r, slotWidth: slot }, steel, { part: wall, frame: wall }),
      );
      const ratio = k[14]! / solveStrip(uprightStrip(w, r, slot, h, wall), 0, 1).stiffness;

      expect(ratio).toBeGreaterThan(0.6);
      expect(ratio).toBeLessThan(1);
    },
  );
});

describe('stress', () => {
  it('[M] Neuber deep notch: a shallow curve gives 1, a semicircle (a = rho) 1.556 in pull; sharper is worse', () => {
    expect(notchFactors(1e-6, 1).pull).toBeCloseTo(1, 3);
    expect(notchFactors(1, 1).pull).toBeCloseTo(4 / (2 * (Math.PI / 4) + 1), 9);
    expect(notchFactors(2, 1).pull).toBeGreaterThan(notchFactors(1, 1).pull);
    expect(notchFactors(0.333, 1).bend).toBeGreaterThan(1);
    expect(notchFactors(0.333, 1).bend).toBeLessThan(notchFactors(0.333, 1).pull);
  });

  it('[D] Michell wedge of 45 degrees: 1/(pi/2 - 1) - 1 over half the width', () => {
    expect(sideShear(Math.PI / 4)).toBeCloseTo(2 * (1 / (Math.PI / 2 - 1) - 1), 12);
  });

  it('[D] upright: not below the beam, and within the notch factor of it', () => {
    const found = tabStress(tabSections(flared), [0, 0, 1, 0, -3, 0]).stress;
    expect(found).toBeGreaterThan(3.4);
    expect(found).toBeLessThan(3.4017 * notchFactors(1, 3).pull + 0.01);
  });

  it('law: stress scales with load; a wider waist or a higher tab never has more', () => {
    const rand = random(SEED);
    for (let n = 0; n < runs(1000); n++) {
      const tab: TabShape = {
        waist: 0.5 + 3 * rand(),
        height: 0.3 + rand(),
        cutterRadius: 0.5 + 2.5 * rand(),
        slotWidth: 6 + rand(),
      };
      const load = Array.from({ length: 6 }, () => rand() * 20 - 10);
      const s = tabStress(tabSections(tab), load);
      const twice = tabStress(
        tabSections(tab),
        load.map((v) => -2 * v),
      );
      expect(twice.stress).toBeCloseTo(2 * s.stress, 6);
      expect(s.normal).toBeGreaterThan(0.4 * s.stress);
      expect(tabStress(tabSections({ ...tab, height: tab.height * 1.2 }), load).stress).toBeLessThanOrEqual(
        s.stress * (1 + 1e-9),
      );
      expect(tabStress(tabSections({ ...tab, waist: tab.waist * 1.2 }), load).stress).toBeLessThanOrEqual(
        s.stress * 1.02,
      );
    }
  });
});

describe('laws of the stiffness', () => {
  it('doubling the modulus doubles it; wider, higher, shorter never is softer; end for end it is the same', () => {
    const rand = random(SEED + 2);
    for (let n = 0; n < runs(500); n++) {
      const tab: TabShape = {
        waist: 0.5 + 3 * rand(),
        height: 0.3 + rand(),
        cutterRadius: 0.5 + 2 * rand(),
        slotWidth: 5 + 2 * rand(),
      };
      const walls = { part: tab.height * (1 + 4 * rand()), frame: tab.height * (1 + 4 * rand()) };
      const f = tabFlexibility(tab, steel, walls);
      const stiff = tabFlexibility(tab, { ...steel, modulus: 420_000 }, walls);
      const others = [
        { ...tab, waist: tab.waist * 1.3 },
        { ...tab, slotWidth: 2 * tab.cutterRadius },
      ].map((t) => tabFlexibility(t, steel, walls));
      for (const i of [0, 7, 14, 21, 28, 35]) {
        expect(stiff[i]! * 2).toBeCloseTo(f[i]!, 12);
        for (const o of others) expect(o[i]!).toBeLessThanOrEqual(f[i]! * (1 + 1e-9));
      }
      const even = tabFlexibility(tab, steel, { part: 2, frame: 2 });
      expect(even[11]! / even[35]!).toBeCloseTo(-tab.slotWidth / 2, 9);
      expect(even[16]! / even[28]!).toBeCloseTo(tab.slotWidth / 2, 9);
      const k = tabStiffness(f);
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) {
          let sum = 0;
          for (let m = 0; m < 6; m++) sum += k[6 * i + m]! * f[6 * m + j]!;
          expect(Math.abs(sum - (i === j ? 1 : 0))).toBeLessThan(1e-9);
        }
    }
  });
});
