import { describe, expect, test } from 'vitest';
import { CAUTIONS, cautionText, USUAL_CAUTIONS } from '../../../src/trade/cautions.ts';
import {
  findMaterial,
  hardestSet,
  MATERIAL_NAMES,
  MATERIALS,
  type MaterialName,
  material,
} from '../../../src/trade/materials/materials.ts';

const rows = MATERIALS.map((m) => [m.name, m] as const);

test('the list is closed and in order', () => {
  expect(MATERIALS.map((m) => m.name)).toEqual([...MATERIAL_NAMES]);
});

describe('look-up', () => {
  test.each(MATERIAL_NAMES)('%s in any case', (name) => {
    expect(findMaterial(` ${name.toLowerCase()} `)).toMatchObject({ kind: 'found', value: { name } });
  });
  test.each([
    ['S275', 'S275JR'],
    ['1.4304', '1.4305'],
    ['CuZn39Pb', 'CuZn39Pb3'],
    ['EN-AW-6082', 'EN-AW-6082-T6'],
    ['brass', 'CuZn39Pb3'],
    ['EN8', 'C45'],
    ['6082', 'EN-AW-6082-T6'],
    ['wood of some kind', undefined],
    ['', undefined],
  ] as const)('"%s" is unknown; nearest %s', (text, nearest) => {
    expect(findMaterial(text)).toEqual({ kind: 'unknown', nearest });
  });
});

describe('properties', () => {
  /** Shear moduli as quoted (N/mm2): Lucefin and EN data, makeitfrom.com, foundries, Engineering Plastics Handbook. */
  const SHEAR: readonly (readonly [MaterialName, number, number])[] = [
    ['S275JR', 80_000, 0.03],
    ['11SMn30', 80_000, 0.03],
    ['C45', 81_000, 0.03],
    ['O1', 73_000, 0.03],
    ['1.4301', 77_000, 0.03],
    ['1.4305', 77_000, 0.03],
    ['CuZn39Pb3', 37_000, 0.03],
    ['CuSn5', 42_000, 0.03],
    ['EN-AW-6082-T6', 26_300, 0.03],
    ['EN-GJL-250', 42_000, 0.03],
    ['POM', 900, 0.03],
  ];
  test.each(SHEAR)('quoted shear modulus against E/(2(1+nu)): %s', (name, G, slack) => {
    expect(Math.abs(material(name).elastic.G / G - 1)).toBeLessThanOrEqual(slack);
  });

  /** Least yield and tensile strengths of standards, N/mm2. */
  const STANDARDS: readonly (readonly [string, MaterialName, string, number | null, number])[] = [
    ['EN 10025-2:2004', 'S275JR', 'hot rolled up to 16 mm', 275, 410],
    ['EN 10025-2:2004', 'S275JR', 'hot rolled 16-40 mm', 265, 410],
    ['EN 10277-3:2008', '11SMn30', '+C bright drawn 5-10 mm', 440, 510],
    ['EN 10277-3:2008', '11SMn30', '+C bright drawn 10-16 mm', 410, 490],
    ['EN 10277-3:2008', '11SMn30', '+C bright drawn 16-40 mm', 375, 460],
    ['EN 10088-3', '1.4301', 'annealed bar', 190, 500],
    ['EN 1561', 'EN-GJL-250', 'wall 5 mm', null, 250],
    ['EN 1561', 'EN-GJL-250', 'wall 10 mm', null, 225],
    ['EN 1561', 'EN-GJL-250', 'wall 20 mm', null, 195],
    ['EN 1561', 'EN-GJL-250', 'wall 40 mm', null, 170],
    ['EN 12164 (remembered)', 'CuZn39Pb3', 'half-hard bar R430', 220, 430],
    ['EN 485-2 (remembered)', 'EN-AW-6082-T6', 'T651 plate up to 12.5 mm', 255, 300],
    ['EN 10083-2 (remembered)', 'C45', 'normalised up to 16 mm', 340, 620],
  ];
  test.each(STANDARDS)('%s: %s, %s', (_standard, name, condition, yieldStress, tensile) => {
    const row = material(name).strengths.find((s) => s.condition === condition);
    expect(row).toMatchObject({ yield: yieldStress, tensile });
  });

  test.each(rows)('yield does not exceed tensile strength, and only brittle metal has none: %s', (_name, m) => {
    for (const s of m.strengths) {
      if (s.yield !== null) expect(s.yield).toBeLessThanOrEqual(s.tensile);
      expect(s.yield === null).toBe(m.brittle);
    }
  });
  test.each(rows)('handbook densities and stiffness are in order of magnitude: %s', (_name, m) => {
    expect(m.density.value).toBeGreaterThan(1.3);
    expect(m.density.value).toBeLessThan(9);
    expect(m.elastic.nu).toBeGreaterThanOrEqual(0.25);
    expect(m.elastic.nu).toBeLessThanOrEqual(0.4);
  });
  test('Handbook of Adhesive Technology: only acetal is not to be glued', () => {
    expect(MATERIALS.filter((m) => !m.glueing.glueable).map((m) => m.name)).toEqual(['POM']);
  });
});

describe('cutting force', () => {
  /** kc at h 0.03 and 0.10 mm, N/mm2, worked from the VDI 3323 groups of the Iscar catalogue. */
  const KC: readonly (readonly [MaterialName, string, number, number])[] = [
    ['C45', 'VDI 3323 group 2', 3244, 2489],
    ['C45', 'turning tables, C45', 3627, 3064],
    ['EN-AW-6082-T6', 'VDI 3323 group 22', 1922, 1423],
    ['1.4301', 'VDI 3323 group 14', 4335, 3408],
    ['CuZn39Pb3', 'VDI 3323 group 26', 1804, 1303],
    ['O1', 'VDI 3323 group 10', 5488, 4161],
  ];
  test.each(KC)('worked specific cutting force: %s, %s', (name, set, at03, at10) => {
    const k = material(name).kienzle.find((s) => s.name === set)!;
    expect(Math.abs(k.kc11 * 0.03 ** -k.mc - at03)).toBeLessThan(1);
    expect(Math.abs(k.kc11 * 0.1 ** -k.mc - at10)).toBeLessThan(1);
  });

  /** Remembered Koenig/Klocke constants stand beside fits of the published clamping table: same force within 5 % at 0.3 mm. */
  const FITS: readonly (readonly [MaterialName, string, number, number])[] = [
    ['S275JR', 'turning row St 42', 1780, 0.17],
    ['C45', 'turning row St 60-2 (C45/C60 family)', 2110, 0.17],
    ['1.4301', 'turning row MnCrNi / austenitic', 2350, 0.21],
    ['EN-GJL-250', 'turning row GJL-250', 1160, 0.26],
  ];
  test.each(FITS)('Koenig/Klocke (remembered) near the fit: %s', (name, set, kc11, mc) => {
    const k = material(name).kienzle.find((s) => s.name === set)!;
    expect(Math.abs((k.kc11 * 0.3 ** -k.mc) / (kc11 * 0.3 ** -mc) - 1)).toBeLessThan(0.05);
  });

  test('the hardest set depends on the chip: C45 at 0.03 mm takes the turning set', () => {
    expect(hardestSet(material('C45'), 0.03).kc11).toBe(2085);
    expect(hardestSet(material('CuSn5'), 0.03).kc11).toBe(1100);
  });
  test.each(rows)('no set forces less than the hardest: %s', (_name, m) => {
    for (const h of [0.003, 0.01, 0.03, 0.1, 0.3]) {
      const hardest = hardestSet(m, h);
      for (const k of m.kienzle)
        expect(k.kc11 * h ** -k.mc).toBeLessThanOrEqual(hardest.kc11 * h ** -hardest.mc + 1e-9);
    }
  });

  test('6082-T6 end-milling coefficients: Chin. J. Mech. Eng. 2021 Table 5, Krc/Ktc 0.16', () => {
    const [set] = material('EN-AW-6082-T6').mechanistic;
    expect(set!.Krc / set!.Ktc).toBeCloseTo(0.16, 2);
    // A mechanistic and a Kienzle account of one metal must agree in size where chips are thick enough to cut.
    const kc = set!.Ktc + set!.Kte / 0.06;
    const kienzle = 800 * 0.06 ** -0.25;
    expect(kc / kienzle).toBeGreaterThan(0.5);
    expect(kc / kienzle).toBeLessThan(2);
  });
});

describe('start values stay within the published ranges', () => {
  /** Published ceilings, m/min: HSS from the HSS charts (S5, S6, S10), carbide from catalogues (Iscar 2022, Tungaloy, ATA). */
  const CEILINGS: readonly (readonly [MaterialName, number, number])[] = [
    ['11SMn30', 35, 300],
    ['S275JR', 35, 300],
    ['C45', 25, 180],
    ['O1', 21, 200],
    ['1.4305', 20, 110],
    ['1.4301', 20, 100],
    ['CuZn39Pb3', 150, 457],
    ['CuSn5', 91, 457],
    ['EN-AW-6082-T6', 150, 457],
    ['EN-GJL-250', 24, 200],
    ['POM', 160, 300],
  ];
  test.each(CEILINGS)('HSS and carbide charts: %s at most %d and %d m/min', (name, hss, carbide) => {
    const { milling } = material(name);
    expect(milling.HSS.speed).toBeLessThanOrEqual(hss);
    expect(milling.carbide.speed).toBeLessThanOrEqual(carbide);
    expect(milling.carbide.speed).toBeGreaterThan(milling.HSS.speed);
  });
  // Iscar solid-carbide catalogue 2022 p. 92: 0.002-0.010 D for every metal group.
  test.each(rows.filter(([, m]) => m.group !== 'plastic'))(
    'Iscar 2022 p. 92: carbide feed of %s within 0.002-0.010 D',
    (_name, m) => {
      expect(m.milling.carbide.feedPerDiameter).toBeGreaterThanOrEqual(0.002);
      expect(m.milling.carbide.feedPerDiameter).toBeLessThanOrEqual(0.01);
    },
  );
  test.each(rows)('ProtoCutter / trade rule: reaming is no faster than drilling: %s', (_name, m) => {
    expect(m.reamSpeed.HSS.value).toBeLessThanOrEqual(m.drillSpeed.value);
    expect(m.reamSpeed.carbide.value).toBeGreaterThanOrEqual(m.reamSpeed.HSS.value);
  });
  test.each(rows)('Harvey Performance ramp angles: %s', (_name, m) => {
    const soft = m.group === 'N' || m.group === 'plastic';
    expect([m.rampAngle.low, m.rampAngle.high]).toEqual(soft ? [3, 10] : [1, 3]);
  });
});

describe('cautions', () => {
  test('every name has one text, and the usual ones cover eyes, guards, gloves, holding and the dry run', () => {
    expect(new Set(CAUTIONS.map((c) => c.name)).size).toBe(CAUTIONS.length);
    for (const name of [
      'eyes',
      'guards',
      'gloves',
      'held',
      'dry run',
      'first part',
      'loose part',
      'swarf',
      'judgement',
    ] as const)
      expect(USUAL_CAUTIONS).toContain(name);
    for (const name of USUAL_CAUTIONS) expect(cautionText(name)).toMatch(/\.$/);
  });
  test.each([
    ['POM', 'acetal fire'],
    ['EN-GJL-250', 'iron dust'],
    ['CuZn39Pb3', 'brass needles'],
    ['CuZn39Pb3', 'leaded metal'],
    ['1.4301', 'stainless burr'],
  ] as const)('trade practice: %s warns of %s', (name, caution) => {
    expect(material(name).cautions).toContain(caution);
    expect(cautionText(caution).length).toBeGreaterThan(20);
  });
});
