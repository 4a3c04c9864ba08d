import { describe, expect, test } from 'vitest';
import { DRAWER_HOLDER, defaultDrawer, drawerDrills, drawerTap } from '../../src/trade/drawer.ts';
import { reamingStock } from '../../src/trade/hole-rules.ts';
import { DEFAULT_MACHINE, DEFAULT_UNDER } from '../../src/trade/machine.ts';
import { findMaterial } from '../../src/trade/materials/materials.ts';
import { FRACTION_DRILLS, SET_1_TO_13 } from '../../src/trade/threads/drills.ts';
import { COUNTERSINKS } from '../../src/trade/threads/heads.ts';
import { THREADS } from '../../src/trade/threads/threads.ts';

const drawer = defaultDrawer();
const drills = drawerDrills().map((d) => d.diameter);
const owned = (d: number): boolean => drills.some((x) => Math.abs(x - d) < 0.001);

describe('the stated drawer', () => {
  test('drills 1-13 by 0.1, the tapping sizes, 1/64 in steps to 1/2 in', () => {
    for (const d of [...SET_1_TO_13, ...FRACTION_DRILLS]) expect(owned(d.diameter)).toBe(true);
    for (const t of THREADS) expect(owned(t.tapDrill.diameter), t.name).toBe(true);
  });
  test('one of each size, by size', () => {
    expect(drills.length).toBeGreaterThan(160);
    for (let i = 1; i < drills.length; i++) expect(drills[i]! - drills[i - 1]!).toBeGreaterThan(0.001);
  });
  test('every reamer has a drill that leaves it the stock it wants', () => {
    const reamers = drawer.filter((c) => c.kind === 'reamer');
    expect(reamers.length).toBeGreaterThan(8);
    for (const r of reamers) {
      const stock = reamingStock(r.diameter);
      expect(
        drills.some((d) => r.diameter - d >= stock.low - 1e-9 && r.diameter - d <= stock.high + 1e-9),
        `reamer ${r.diameter}`,
      ).toBe(true);
    }
  });
  test('ISO 15065: a countersink for every head up to M8', () => {
    const widest = Math.max(...drawer.filter((c) => c.kind === 'countersink').map((c) => c.diameter));
    for (const c of COUNTERSINKS.filter((s) => s.head === 'ISO 7721' && s.size !== 'M10'))
      expect(c.most).toBeLessThan(widest);
  });
  test('mills of 2, 3, 4 and 6 mm, all able to plunge', () => {
    const mills = drawer.filter((c) => c.kind === 'end mill' || c.kind === 'slot drill');
    for (const d of [2, 3, 4, 6]) expect(mills.some((m) => m.diameter === d && m.material === 'carbide')).toBe(true);
    expect(mills.every((m) => m.centreCutting)).toBe(true);
    expect(mills.some((m) => m.material === 'HSS')).toBe(true);
  });
  test('flutes end below the holder, and every cutter says why it is there', () => {
    for (const c of drawer) {
      expect(c.stickOut).toBeGreaterThan(c.fluteLength);
      expect(c.flutes).toBeGreaterThanOrEqual(2);
      expect(c.reason.length).toBeGreaterThan(8);
      expect(c.point).toBeGreaterThan(0);
    }
    expect(DRAWER_HOLDER.diameter).toBeGreaterThan(13);
  });
  test.each(THREADS.map((t) => [t.name, t] as const))('a tap for %s', (name, t) => {
    const tap = drawerTap(t);
    expect(tap).toMatchObject({ kind: 'tap', thread: name, diameter: t.major });
    expect(tap.lead).toBeCloseTo(4 * t.pitch, 9);
    expect(tap.fluteLength).toBeGreaterThan(tap.lead);
  });
  test('the drawer is the same every time', () => {
    expect(defaultDrawer()).toEqual(drawer);
  });
});

describe('the stated machine', () => {
  test('lies in the range of light home-workshop mills: 200-750 W, 100-6000 rev/min', () => {
    expect(DEFAULT_MACHINE.power.value).toBeGreaterThanOrEqual(200);
    expect(DEFAULT_MACHINE.power.value).toBeLessThanOrEqual(750);
    expect(DEFAULT_MACHINE.minSpeed.value).toBeGreaterThanOrEqual(100);
    expect(DEFAULT_MACHINE.maxSpeed.value).toBeLessThanOrEqual(6000);
    expect(DEFAULT_MACHINE.baseSpeed.value).toBeLessThan(DEFAULT_MACHINE.maxSpeed.value);
    expect(DEFAULT_MACHINE.maxFeed.value).toBeLessThanOrEqual(DEFAULT_MACHINE.rapid.value);
  });
  test('each figure says why', () => {
    for (const s of Object.values(DEFAULT_MACHINE)) expect(s.reason.length).toBeGreaterThan(10);
  });
  test('6 mm backing plate of a known material', () => {
    expect(DEFAULT_UNDER.value.thickness).toBe(6);
    expect(findMaterial(DEFAULT_UNDER.value.material).kind).toBe('found');
  });
});
