/** Whole columns as printed by the named page, so that one wrong cell cannot slip through a sample. */
import { describe, expect, test } from 'vitest';
import { drawerDrills } from '../../src/trade/drawer.ts';
import { generalTolerance } from '../../src/trade/fits.ts';
import { SIZE_STEPS, STANDARD_TOLERANCES } from '../../src/trade/iso286.ts';
import { type MaterialName, material } from '../../src/trade/materials/materials.ts';
import { CLEARANCE_HOLES } from '../../src/trade/threads/clearance.ts';
import { NUMBER_DRILLS } from '../../src/trade/threads/drills.ts';
import { COUNTERBORES, countersinkFor } from '../../src/trade/threads/heads.ts';
import { PRELOAD_REUSED, TORQUE_COEFFICIENTS } from '../../src/trade/threads/screws.ts';
import { RUN_OUTS } from '../../src/trade/threads/threads.ts';

describe('ISO 273:1979 in Klein: whole table', () => {
  const KLEIN =
    'M1 1.1 1.2 1.3; M1.2 1.3 1.4 1.5; M1.4 1.5 1.6 1.8; M1.6 1.7 1.8 2; M1.8 2 2.1 2.2; M2 2.2 2.4 2.6; M2.5 2.7 2.9 3.1; M3 3.2 3.4 3.6; M3.5 3.7 3.9 4.2; M4 4.3 4.5 4.8; M4.5 4.8 5 5.3; M5 5.3 5.5 5.8; M6 6.4 6.6 7; M7 7.4 7.6 8; M8 8.4 9 10; M10 10.5 11 12; M12 13 13.5 14.5';
  test.each(KLEIN.split('; '))('ISO 273: %s', (line) => {
    const [size, ...holes] = line.split(' ');
    const row = CLEARANCE_HOLES.find((r) => r.size === size)!;
    expect([row.fine, row.medium, row.coarse]).toEqual(holes.map(Number));
  });
});

test.each([
  ['1/8x40', 3.5],
  ['5/32x40', 4.2],
  ['3/16x40', 5],
  ['7/32x40', 5.8],
  ['1/4x40', 6.6],
  ['9/32x32', 7.5],
  ['5/16x32', 8.2],
  ['3/8x32', 9.8],
  ['7/16x26', 11.5],
  ['1/2x26', 13.1],
] as const)('ministeam.net page 30: clearance of ME %s is %d', (size, hole) => {
  expect(CLEARANCE_HOLES.find((r) => r.size === `ME ${size}`)?.medium).toBe(hole);
});

const DIN_76 =
  '0.2 1.3 0.8; 0.25 1.5 1; 0.3 1.8 1.2; 0.35 2.1 1.3; 0.4 2.3 1.5; 0.45 2.6 1.6; 0.5 2.8 1.8; 0.6 3.4 2.1; 0.7 3.8 2.4; 0.75 4 2.5; 0.8 4.2 2.7; 1 5.1 3.2; 1.25 6.2 3.9; 1.5 7.3 4.6; 1.75 8.3 5.2';
test.each(DIN_76.split('; ').map((l, i) => [l, i] as const))('DIN 76-2 in Klein: %s', (line, i) => {
  const r = RUN_OUTS[i]!;
  expect([r.pitch, r.normal, r.short]).toEqual(line.split(' ').map(Number));
});

const DIN_974 =
  'M1.6 3.5 2; M2 4.4 2.4; M2.5 5.5 2.9; M3 6.5 3.4; M4 8 4.4; M5 10 5.4; M6 11 6.4; M8 15 8.6; M10 18 10.6; M12 20 12.6';
test.each(DIN_974.split('; ').map((l, i) => [l, i] as const))('DIN 974-1 row 1 in Klein: %s', (line, i) => {
  const c = COUNTERBORES[i]!;
  expect(`${c.size} ${c.diameter} ${c.depth}`).toBe(line);
});

test.each([
  ['M10', 22.73],
  ['M12', 27.21],
] as const)('DIN 74 form F in Klein: %s is %d', (size, d) => {
  expect(countersinkFor(size, 'ISO 10642')?.least).toBe(d);
});

/** Each line is ten number drills, thousandths of an inch (ASME B94.11M sizes: Toolmex, CHART, and cq_warehouse for the rest). */
const NUMBERS = [
  '228 221 213 209 205.5 204 201 199 196 193.5',
  '191 189 185 182 180 177 173 169.5 166 161',
  '159 157 154 152 149.5 147 144 140.5 136 128.5',
  '120 116 113 111 110 106.5 104 101.5 99.5 98',
  '96 93.5 89 86 82 81 78.5 76 73 70',
  '67 63.5 59.5 55 52 46.5 43 42 41 40',
  '39 38 37 36 35 33 32 31 29.2 28',
  '26 25 24 22.5 21 20 18 16 14.5 13.5',
]
  .join(' ')
  .split(' ')
  .map(Number);
test.each(NUMBERS.map((thou, i) => [i + 1, thou] as const))('ASME B94.11M: number %d is %d thousandths', (n, thou) => {
  expect(NUMBER_DRILLS[n - 1]!.diameter).toBeCloseTo((thou / 1000) * 25.4, 6);
});

describe('ISO 2768-1 Table 1: whole table', () => {
  const SIZES = [2, 5, 20, 100, 300, 800, 1500];
  test.each([
    ['f', '0.05 0.05 0.1 0.15 0.2 0.3 0.5'],
    ['m', '0.1 0.1 0.2 0.3 0.5 0.8 1.2'],
    ['c', '0.2 0.3 0.5 0.8 1.2 2 3'],
    ['v', '- 0.5 1 1.5 2.5 4 6'],
  ] as const)('class %s', (grade, line) => {
    expect(SIZES.map((s) => generalTolerance(s, grade) ?? '-').join(' ')).toBe(line);
  });
});

/** ProtoCutter drilling and reaming tables (HSS drill, HSS and carbide reamer), m/min from ft/min. */
test.each([
  ['11SMn30', 37, 24, 107],
  ['S275JR', 27, 18, 84],
  ['C45', 23, 15, 61],
  ['O1', 14, 9, 46],
  ['1.4305', 21, 14, 61],
  ['1.4301', 15, 9, 38],
  ['EN-GJL-250', 24, 17, 55],
  ['EN-AW-6082-T6', 107, 107, 229],
] as const)('ProtoCutter tables: %s', (name, drill, hss, carbide) => {
  const m = material(name);
  expect([m.drillSpeed.value, m.reamSpeed.HSS.value, m.reamSpeed.carbide.value]).toEqual([drill, hss, carbide]);
});
test.each([
  ['CuZn39Pb3', 46, 91],
  ['CuSn5', 21, 46],
  ['POM', 30, 91],
] as const)('Metal drilling reference guide: %s starts at the low end of %d-%d', (name, low, high) => {
  expect(material(name).drillSpeed.value).toBe(low);
  expect(material(name).reamSpeed.HSS.value / low).toBeCloseTo(2 / 3, 1);
  expect(low).toBeLessThan(high);
});

/** VDI 3323 groups in the Iscar turning catalogue 2017 p. 558. */
test.each([
  ['11SMn30', 1350, 0.21],
  ['S275JR', 1350, 0.21],
  ['C45', 1500, 0.22],
  ['O1', 2450, 0.23],
  ['1.4305', 2150, 0.2],
  ['1.4301', 2150, 0.2],
  ['CuZn39Pb3', 700, 0.27],
  ['EN-AW-6082-T6', 800, 0.25],
  ['EN-GJL-250', 1150, 0.2],
  ['EN-GJL-250', 1350, 0.28],
] as const)('VDI 3323 constants: %s %d %d', (name, kc11, mc) => {
  expect(material(name).kienzle.some((k) => k.kc11 === kc11 && k.mc === mc && k.mark === 'published')).toBe(true);
});

/** Brinell hardness as delivered. */
test.each([
  ['Lucefin', 'S275JR', 128, 172],
  ['EN 10277-3', '11SMn30', 154, 243],
  ['data sheets of O1', 'O1', 183, 221],
  ['EN 1561', 'EN-GJL-250', 170, 240],
] as const)('%s: hardness of %s is %d-%d', (_source, name: MaterialName, low, high) => {
  expect(material(name).hardness).toMatchObject({ low, high });
});

/** Thread length in diameters. */
test.each([
  ['S275JR', 1, 1],
  ['CuZn39Pb3', 1.25, 1.5],
  ['EN-AW-6082-T6', 1.5, 2],
  ['EN-GJL-250', 1.25, 2],
  ['POM', 2, 2],
] as const)('common practice (calcengines.com for iron and plastic): thread length in %s', (name, low, high) => {
  expect(material(name).threadLength).toMatchObject({ low, high });
});

test.each([
  ['dry', 0.2, 0.18, 0.27],
  ['oiled', 0.15, 0.1, 0.26],
  ['zinc', 0.2, 0.17, 0.35],
  ['black', 0.3, 0.3, 0.3],
] as const)('Shigley / Bowman torque coefficients: %s', (state, value, low, high) => {
  expect(TORQUE_COEFFICIENTS[state]).toMatchObject({ value, spread: { low, high } });
  expect(PRELOAD_REUSED.value).toBe(0.75);
});

/** DIN 338 / ISO 235, remembered: drill and flute length. */
test.each([
  [1, 12],
  [1.6, 20],
  [2, 24],
  [2.5, 30],
  [3, 33],
  [4, 43],
  [5, 52],
  [6, 57],
  [7, 69],
  [8, 75],
  [9, 81],
  [10, 87],
  [11, 94],
  [13, 101],
])('DIN 338, remembered: a %d mm drill has %d mm of flute', (d, length) => {
  expect(drawerDrills().find((x) => x.diameter === d)?.fluteLength).toBe(length);
});
test('flutes grow with the drill', () => {
  const all = drawerDrills();
  for (let i = 1; i < all.length; i++) expect(all[i]!.fluteLength).toBeGreaterThanOrEqual(all[i - 1]!.fluteLength);
});

test.each(STANDARD_TOLERANCES[4]!.values.map((it4, i) => [i, it4] as const))(
  'ISO 286-1: IT2 to IT4 are geometric steps between IT1 = 0.8 + 0.02 D and IT5: step %i, IT4 = %d',
  (i, it4) => {
    const it5 = STANDARD_TOLERANCES[5]!.values[i]!;
    const D = Math.sqrt(Math.max(1, SIZE_STEPS[i]!.over) * SIZE_STEPS[i]!.upTo);
    const it1 = 0.8 + 0.02 * D;
    expect(Number.isInteger(it4)).toBe(true);
    expect(Math.abs(it1 * (it5 / it1) ** (3 / 4) - it4)).toBeLessThan(1);
  },
);
