import { describe, expect, test } from 'vitest';
import { FITS, generalTolerance } from '../../src/trade/fits.ts';
import { FRICTION, GLUE_ALLOWABLE, LAP_SPECIMEN, WANTED_MARGIN } from '../../src/trade/holding-rules.ts';
import { deepHoleFactors, drillFeed, peckDepths, REAMING_STOCK, reamingStock } from '../../src/trade/hole-rules.ts';
import { holeLimits, type Limits, shaftLimits, type UnknownLimits } from '../../src/trade/iso286.ts';
import { MATERIALS, material } from '../../src/trade/materials/materials.ts';
import { CUTTER_MATERIALS, leastToothFeed, slotDepth, toothFeedStart } from '../../src/trade/milling-rules.ts';
import { FLAT_THICKNESS, thicknessDeviation } from '../../src/trade/stock.ts';
import { PROOF_LOADS, PROOF_STRESS, proofLoad, stressArea, tighteningTorque } from '../../src/trade/threads/screws.ts';
import { findThread, type Thread } from '../../src/trade/threads/threads.ts';

function thread(name: string): Thread {
  const found = findThread(name);
  if (found.kind === 'unknown') throw new Error(`no thread ${name}`);
  return found.value;
}
function known(l: Limits | UnknownLimits): Limits {
  if (l.kind === 'unknown') throw new Error(l.wanted);
  return l;
}

describe('screws', () => {
  /** EN ISO 898-1 stress areas as printed by fastener distributors, mm2. */
  const AREAS: readonly (readonly [string, number])[] = [
    ['M2', 2.07],
    ['M2.5', 3.39],
    ['M3', 5.03],
    ['M4', 8.78],
    ['M5', 14.2],
    ['M6', 20.1],
  ];
  test.each(AREAS)('EN ISO 898-1: stress area of %s is %d', (name, area) => {
    expect(Math.abs(stressArea(thread(name)) / area - 1)).toBeLessThan(0.004);
  });

  // EN ISO 898-1 class 8.8, newtons, as quoted by fastener distributors; stress area pi/4 (d - 0.9382 P)^2.
  test.each([
    ['M3', 2920, 5.03],
    ['M4', 5100, 8.78],
    ['M5', 8230, 14.2],
    ['M6', 11_600, 20.1],
  ] as const)('EN ISO 898-1: %s of class 8.8 proves at %d N on %d mm2', (size, load, area) => {
    expect(proofLoad(thread(size), '8.8').value).toBe(load);
    expect(Math.abs(stressArea(thread(size)) - area)).toBeLessThan(0.05);
    expect(Math.abs(load - 580 * area) / load).toBeLessThan(0.01);
  });

  const LOADS = PROOF_LOADS.flatMap((r) =>
    (Object.keys(PROOF_STRESS) as (keyof typeof PROOF_STRESS)[]).map((g) => [r.size, g, r.loads[g]] as const),
  );
  test.each(LOADS)('EN ISO 898-1: proof load of %s, class %s, is As x Sp to 1 %', (size, grade, load) => {
    expect(Math.abs((stressArea(thread(size)) * PROOF_STRESS[grade].value) / load - 1)).toBeLessThan(0.01);
    expect(proofLoad(thread(size), grade)).toMatchObject({ value: load, mark: 'published' });
  });
  test('sizes that are not printed are computed and say so', () => {
    const m2 = proofLoad(thread('M2'), '8.8');
    expect(m2.mark).toBe('computed');
    expect(Math.abs(m2.value - 1202)).toBeLessThan(5);
  });

  /** Torque of class 8.8 at 0.75 of proof load and K 0.2, N m, from the same tables. */
  const TORQUES: readonly (readonly [string, number])[] = [
    ['M2', 0.36],
    ['M2.5', 0.74],
    ['M3', 1.31],
    ['M4', 3.06],
    ['M5', 6.17],
    ['M6', 10.4],
  ];
  test.each(TORQUES)('Shigley T = K d F: %s', (name, torque) => {
    const t = tighteningTorque(0.75 * proofLoad(thread(name), '8.8').value, thread(name).major, 0.2) / 1000;
    expect(Math.abs(t / torque - 1)).toBeLessThan(0.01);
  });
});

describe('holding', () => {
  test.each([
    ['smooth', 0.07, 0.1, 0.15],
    ['diamond serrated', 0.12, 0.2, 0.3],
    ['claw serrated', 0.2, 0.35, 0.45],
  ] as const)('clamping-force standard RN-1391 p. 44: %s jaws', (face, ground, machined, unmachined) => {
    const row = FRICTION[face];
    expect([row.ground.value, row.machined.value, row.unmachined.value]).toEqual([ground, machined, unmachined]);
  });
  test.each([
    ['EN-AW-6082-T6', 0.95],
    ['CuZn39Pb3', 0.9],
    ['EN-GJL-250', 0.8],
    ['S275JR', 1],
  ] as const)('clamping-force standard RN-1391 p. 44: factor of %s is %d', (name, factor) => {
    expect(material(name).frictionFactor.value).toBe(factor);
  });
  test('Petrie p. 390: what may be asked of glue is 5-10 times under every test on metal', () => {
    // Lap shear as tested: steel after 10 min and 48 h, aluminium the same.
    for (const shear of [LAP_SPECIMEN.strength.value, 22.8, 10.2, 15.7])
      expect(shear / GLUE_ALLOWABLE.shear.value).toBeGreaterThanOrEqual(5);
  });
  test('common practice: margins wanted lie in their ranges', () => {
    for (const m of Object.values(WANTED_MARGIN)) {
      expect(m.value).toBeGreaterThanOrEqual(m.range.low);
      expect(m.value).toBeLessThanOrEqual(m.range.high);
    }
  });
});

describe('drilling and reaming', () => {
  const sizes = [0.5, 1, 2, 3, 3.2, 4, 6, 6.4, 8, 10, 12];
  test.each(sizes)('ProtoCutter drill feeds: D %d never above its band', (d) => {
    const top = d <= 3.2 ? 0.076 : d <= 6.4 ? 0.15 : 0.25;
    for (const m of MATERIALS) {
      const f = drillFeed(d, m).value;
      expect(f).toBeLessThanOrEqual(top);
      expect(f).toBeLessThanOrEqual(0.0201 * d);
      expect(f).toBeGreaterThanOrEqual(Math.min(0.0099 * d, top));
    }
  });
  // HSS drilling tutorial, D 6 and D 12, mm a turn: a light machine stays below.
  test.each([
    ['EN-AW-6082-T6', 0.3, 0.4],
    ['CuZn39Pb3', 0.2, 0.25],
    ['EN-GJL-250', 0.13, 0.18],
    ['S275JR', 0.2, 0.25],
    ['1.4301', 0.13, 0.18],
    ['POM', 0.1, 0.18],
  ] as const)('HSS drilling tutorial: %s', (name, at6, at12) => {
    expect(drillFeed(6, material(name)).value).toBeLessThanOrEqual(at6);
    expect(drillFeed(12, material(name)).value).toBeLessThanOrEqual(at12);
  });
  test.each([
    [2, 1, 1],
    [3, 0.9, 0.9],
    [4, 0.8, 0.9],
    [5.5, 0.7, 0.8],
    [9, 0.6, 0.8],
  ])('Metal drilling reference guide: hole of %d D at %d speed, %d feed', (depth, speed, feed) => {
    expect(deepHoleFactors(depth)).toMatchObject({ speed, feed });
  });
  test('common practice: pecks', () => {
    expect(peckDepths(3, 2, material('S275JR'))).toBeNull();
    expect(peckDepths(3, 6, material('S275JR'))).toEqual({ first: 3, next: 2.25 });
    expect(peckDepths(3, 8, material('CuZn39Pb3'))).toBeNull();
    expect(peckDepths(1, 3, material('CuZn39Pb3'))).toEqual({ first: 0.5, next: 0.5 });
  });
  test.each([
    [3, 2.9],
    [5, 4.9],
    [8, 7.8],
  ])('model-engineer.co.uk workshop figures: ream %d after %d', (ream, drill) => {
    expect(ream - reamingStock(ream).usual).toBeCloseTo(drill, 9);
  });
  test.each(REAMING_STOCK.map((r) => [r.upTo, r] as const))(
    'IBE reaming handbook: usual stock to %d mm within its range',
    (_d, r) => {
      expect(r.usual).toBeGreaterThanOrEqual(r.low);
      expect(r.usual).toBeLessThanOrEqual(r.high);
    },
  );
});

describe('milling', () => {
  test.each([
    [1, 0.004],
    [1.5, 0.004],
    [2, 0.008],
    [3, 0.008],
    [4, 0.012],
    [10, 0.012],
  ])('common practice: a cutter of %d mm rubs under %d mm a tooth', (d, floor) => {
    expect(leastToothFeed(d).value).toBe(floor);
    for (const m of MATERIALS) {
      expect(toothFeedStart(d, m, 'HSS').value).toBeGreaterThanOrEqual(floor);
      expect(toothFeedStart(d, m, 'carbide').value).toBeGreaterThanOrEqual(floor);
    }
  });
  // ATA Group catalogue 2022 p. 1301, carbide in steel under 500 N/mm2: 0.01 at D 3 to 0.08 at D 10. A light mill stays under twice that.
  test.each([
    [3, 0.01],
    [4, 0.02],
    [5, 0.03],
    [6, 0.04],
    [8, 0.06],
    [10, 0.08],
  ])('ATA 2022 p. 1301: carbide of %d mm in mild steel, %d a tooth', (d, published) => {
    const fz = toothFeedStart(d, material('S275JR'), 'carbide').value;
    expect(fz).toBeLessThanOrEqual(published * 2);
    expect(fz).toBeGreaterThanOrEqual(published / 3);
  });
  test('HSS milling tutorial: slots never deeper than half a diameter to start with', () => {
    for (const m of MATERIALS) for (const d of [1, 2, 3, 6, 10]) expect(slotDepth(d, m).high).toBeLessThanOrEqual(0.5);
  });
  test('handbook moduli: carbide is nearly three times as stiff as HSS', () => {
    const ratio = CUTTER_MATERIALS.carbide.E.value / CUTTER_MATERIALS.HSS.E.value;
    expect(ratio).toBeGreaterThan(2.5);
    expect(ratio).toBeLessThan(3.1);
    for (const c of Object.values(CUTTER_MATERIALS)) {
      expect(c.E.value).toBeGreaterThanOrEqual(c.E.range.low);
      expect(c.E.value).toBeLessThanOrEqual(c.E.range.high);
    }
  });
});

describe('stock and drawings', () => {
  // EN 10278 flats are h11: the same cells as ISO 286.
  const drawn = FLAT_THICKNESS.filter((r) => r.finish === 'bright drawn').map((r) => [r.upTo, r] as const);
  test.each(drawn)('EN 10278 against ISO 286 h11: bright flat to %d mm', (upTo, row) => {
    expect(row.lower * 1000).toBeCloseTo(known(shaftLimits(upTo, 'h11')).lower, 9);
    expect(row.upper).toBe(0);
  });
  test('EN 10058: a hot-rolled 3 mm strip may be 3.5', () => {
    expect(thicknessDeviation(3, 'hot rolled')).toMatchObject({ upper: 0.5, lower: -0.5 });
    expect(thicknessDeviation(0.5, 'bright drawn')).toBeUndefined();
  });

  test.each([
    ['m', 2, 0.1],
    ['m', 10, 0.2],
    ['m', 50, 0.3],
    ['f', 5, 0.05],
    ['c', 30, 0.5],
    ['c', 31, 0.8],
    ['v', 4, 0.5],
  ] as const)('ISO 2768-1 Table 1: class %s, %d mm is +-%d', (grade, size, tolerance) => {
    expect(generalTolerance(size, grade)).toBe(tolerance);
  });
  test('ISO 2768-1: below 0.5 and class v below 3 there is none', () => {
    expect(generalTolerance(0.4, 'm')).toBeUndefined();
    expect(generalTolerance(2, 'v')).toBeUndefined();
    expect(generalTolerance(2001, 'm')).toBeUndefined();
  });

  test.each(FITS.map((f) => [`${f.hole}/${f.shaft}`, f] as const))('ISO 286 knows the advised fit %s', (_name, f) => {
    expect(holeLimits(6, f.hole).kind).toBe('limits');
    expect(shaftLimits(6, f.shaft).kind).toBe('limits');
  });
  test('the advised fits run from loose to tight', () => {
    const mean = FITS.map((f) => {
      const [h, s] = [known(holeLimits(8, f.hole)), known(shaftLimits(8, f.shaft))];
      return (h.upper + h.lower - s.upper - s.lower) / 2;
    });
    for (let i = 1; i < mean.length; i++) expect(mean[i]!).toBeLessThan(mean[i - 1]!);
    expect(mean[0]!).toBeGreaterThan(0);
    expect(mean.at(-1)!).toBeLessThan(0);
  });
});
