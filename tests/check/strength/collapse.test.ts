/** What ties bear against tipping, lifting and turning: closed forms of statics (any textbook of statics and of plastic beams). */
import { describe, expect, it } from 'vitest';
import { carried, groundOf, type Tie } from '../../../src/check/strength/collapse.ts';
import { barTie } from '../../../src/check/strength/ties.ts';

const NO_AXIS = { x: 1, y: 0 };
const pin = (x: number, y: number, up: number, side: number): Tie => ({
  at: { x, y },
  out: NO_AXIS,
  tip: (rise) => up * Math.abs(rise),
  side,
  turn: 0,
});

/** A plate of 40 by 20 about the middle. */
const PLATE = [
  { x: -20, y: -10 },
  { x: 20, y: -10 },
  { x: 20, y: 10 },
  { x: -20, y: 10 },
];
const push = (x: number, y: number, sideways: number, up: number, z = 0) => ({ at: { x, y }, sideways, up, z });

describe('ties against a push', () => {
  const two = groundOf(PLATE, [pin(-20, 0, 100, 100), pin(20, 0, 100, 100)]);

  it('slide together, and turn about one when pushed beyond the other', () => {
    expect(carried(two, push(0, 0, 10, 0))).toBeCloseTo(20, 6);
    // About the left tie: 100 at 40 mm against 10 at 60 mm.
    expect(carried(two, push(40, 0, 10, 0))).toBeCloseTo((100 * 40) / (10 * 60), 6);
  });

  it('tip about the edge that is far from the pull', () => {
    // About y = -10 both ties are 10 mm off, the pull at y = 10 is 20 mm off.
    expect(carried(two, push(0, 10, 0, 10))).toBeCloseTo((200 * 10) / (10 * 20), 6);
    expect(carried(two, push(0, 0, 0, 10))).toBeCloseTo(20, 6);
  });

  it('tip when pushed high up: the push at 8 mm, the ties 10 mm from the hinge', () => {
    expect(carried(two, push(0, 0, 10, 0, 8))).toBeCloseTo(Math.min(20, (200 * 10) / (10 * 8)), 6);
    expect(carried(two, push(0, 0, 10, 0, 400))).toBeCloseTo((200 * 10) / (10 * 400), 6);
  });

  it('bear everything where nothing pushes, and nothing where none are', () => {
    expect(carried(two, push(0, 0, 0, 0))).toBe(Number.POSITIVE_INFINITY);
    expect(carried(groundOf(PLATE, []), push(0, 0, 1, 0))).toBe(0);
  });
});

describe('a bar of metal', () => {
  const bar = { at: { x: 0, y: 0 }, out: { x: 1, y: 0 }, waist: 2, height: 0.5, radius: 1.5 };
  const metal = { stress: 200, brittle: false };

  it('shears along the plate where it is wide: 0.577 Rp w h', () => {
    expect(barTie(bar, metal).side).toBeCloseTo(0.577 * 200 * 2 * 0.5, 6);
  });

  it('folds upwards where its flanks have not widened much: 2 M over the distance of the folds', () => {
    // Least of Rp h^2/4 (w + 2 (r - sqrt(r^2 - s^2)))/s over s; worked out here on a fine grid of s.
    let least = Number.POSITIVE_INFINITY;
    for (let s = 0.01; s <= 1.5; s += 0.001)
      least = Math.min(least, ((200 * 0.25) / 4) * ((2 + 2 * (1.5 - Math.sqrt(2.25 - s * s))) / s));
    const up = barTie(bar, metal).tip(1, 0, 0);
    expect(up).toBeGreaterThanOrEqual(least - 1e-9);
    expect(up).toBeLessThan(1.02 * least);
  });

  it('as the only support is a cantilever: turning about it takes one whole section', () => {
    // Hinge along the bar's own edge line: nothing rises there, and the slope bends one section at the part.
    const about = barTie({ ...bar, waist: 8, radius: 1.5 }, metal).tip(0, 1, 0);
    expect(about).toBeGreaterThan(0);
    expect(about).toBeLessThan(((200 * 8 * 0.25) / 4) * 3);
  });

  it('breaks sooner where it does not yield: b d^2/6 for b d^2/4', () => {
    const up = (brittle: boolean) => barTie(bar, { stress: 200, brittle }).tip(1, 0, 0);
    expect(up(true) / up(false)).toBeCloseTo(4 / 6, 6);
  });

  it('cut through bears nothing', () => {
    expect(barTie({ ...bar, height: 0 }, metal)).toMatchObject({ side: 0, turn: 0 });
  });
});
