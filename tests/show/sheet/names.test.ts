/** Names on the drawing keep off what stands there; sentences of earlier stages are told in the sheet's units. */
import { describe, expect, it } from 'vitest';
import { besideBox, besideRound, boxOfPoints, type InTheWay } from '../../../src/show/sheet/drawing/name-place.ts';
import { inProse, unitsOf } from '../../../src/show/sheet/figures.ts';
import { supplyOf } from '../../../src/show/sheet/tables/bar.ts';

const box = (minX: number, minY: number, maxX: number, maxY: number) => ({ minX, minY, maxX, maxY });
const apart = (a: ReturnType<typeof box>, w: InTheWay) =>
  a.maxX <= w.box.minX || a.minX >= w.box.maxX || a.maxY <= w.box.minY || a.minY >= w.box.maxY;

describe('a name beside its thing', () => {
  it('stands right above it when nothing is there, and elsewhere when something is', () => {
    const free = besideRound({ x: 20, y: 20 }, 2, '1', []);
    expect(free.at.x).toBeGreaterThan(20);
    expect(free.at.y).toBeLessThan(20);
    const tab: InTheWay = { weight: 1, box: box(20, 10, 30, 20) };
    expect(apart(free.box, tab)).toBe(false);
    expect(apart(besideRound({ x: 20, y: 20 }, 2, '1', [tab]).box, tab)).toBe(true);
  });

  it('is no farther off than it must be, and takes what is least in the way where all is full', () => {
    const full: InTheWay[] = [
      { weight: 1, box: box(0, 0, 40, 40) },
      { weight: 5, box: box(20, 0, 40, 40) },
    ];
    const { at } = besideRound({ x: 20, y: 20 }, 2, 'touch Z', full);
    expect(at.x).toBeLessThan(20);
    expect(20 - at.x).toBeLessThan(12);
  });

  it('stands outside a box, on the side that is free', () => {
    const around = boxOfPoints([
      { x: 10, y: 10 },
      { x: 60, y: 30 },
    ]);
    const above: InTheWay = { weight: 1, box: box(0, 0, 80, 10) };
    const { box: name } = besideBox(around, 'part 1', [above]);
    expect(name.minY).toBeGreaterThan(30);
  });
});

describe('prose in inches', () => {
  const inch = unitsOf('inch');

  // 25.4 mm an inch exactly (ISO 80000-3).
  it('turns single figures, ranges and lists, and leaves feeds and other words alone', () => {
    expect(inProse(inch, '3 tabs 2.54 mm wide and 1.27 mm high')).toBe('3 tabs 0.1 in wide and 0.05 in high');
    expect(inProse(inch, 'break edges by 0.254 to 0.508 mm')).toBe('break edges by 0.01 to 0.02 in');
    expect(inProse(inch, '25.4, 50.8 and 76.2 mm')).toBe('1, 2 and 3 in');
    expect(inProse(inch, '100 mm/min at 16.1 N/mm2')).toBe('100 mm/min at 16.1 N/mm2');
  });

  it('leaves millimetres as they are on a metric sheet', () => {
    expect(inProse(unitsOf('mm'), '2.54 mm')).toBe('2.54 mm');
  });
});

describe('stock of an inch job', () => {
  it('comes from inch bar: 3 by 1.5 in from 1 1/2 flat, 11 from a yard with cuts of 1/8', () => {
    const supply = supplyOf([76.2, 38.1], 'inch');
    if (supply.kind !== 'bar') throw new Error('no bar');
    expect(supply.width).toBeCloseTo(38.1, 9);
    // n pieces and n - 1 cuts: 11 x 3 + 10 / 8 = 34.25 <= 36, and 12 x 3 + 11 / 8 is more.
    expect(supply.pieces.map((p) => p.count)).toEqual([3, 11]);
  });
});
