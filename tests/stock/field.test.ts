import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { arc, line, nearestOn, pointAt } from '../../src/geometry/measure/segment.ts';
import type { Segment } from '../../src/geometry/types.ts';
import { Sweeper } from '../../src/stock/cutter.ts';
import { cellFor, fieldOf, highestUnder, volumeOf } from '../../src/stock/field.ts';
import { shapeOf } from '../../src/stock/shape.ts';
import { cutter } from '../check/lever.ts';
import { random, runs, SEED } from '../runs.ts';

const flat = (d: number) => shapeOf(cutter(1, 'end mill', d));

/** Area counted on cells differs from the true one by at most the cells that the border crosses. */
function expectVolume(found: number, wanted: number, perimeter: number, depth: number, cell: number): void {
  expect(Math.abs(found - wanted)).toBeLessThan(0.1 * perimeter * cell * depth);
}

describe('volumes against closed forms', () => {
  const cell = 0.05;
  const fresh = () => new Sweeper(fieldOf([0, 0], [60, 40], -4, 0, cell));

  it('a slot: stadium of length 30, radius 3, depth 2', () => {
    const s = fresh();
    const v = s.cut(line({ x: 10.013, y: 10.007 }, { x: 40.013, y: 10.007 }), -2, -2, flat(6));
    expectVolume(v, 2 * (30 * 6 + Math.PI * 9), 60 + 6 * Math.PI, 2, cell);
    expect(volumeOf(s.field)).toBeCloseTo(60 * 40 * 4 - v, 6);
  });

  it('a slanting slot, and the same again removes nothing', () => {
    const s = fresh();
    const path = line({ x: 10, y: 10 }, { x: 34, y: 28 });
    expectVolume(s.cut(path, -2, -2, flat(6)), 2 * (30 * 6 + Math.PI * 9), 60 + 6 * Math.PI, 2, cell);
    expect(s.cut(path, -2, -2, flat(6))).toBe(0);
  });

  it('a ring: whole turn of radius 10 with radius 2', () => {
    const s = fresh();
    const v = s.cut(arc({ x: 30.01, y: 20.02 }, 10, 0.3, 2 * Math.PI), -1, -1, flat(4));
    expectVolume(v, Math.PI * (144 - 64), 2 * Math.PI * 20, 1, cell);
  });

  it('a turn smaller than the cutter leaves no core', () => {
    const s = fresh();
    const v = s.cut(arc({ x: 30, y: 20 }, 1, 0, 2 * Math.PI), -1, -1, flat(6));
    expectVolume(v, Math.PI * 16, 2 * Math.PI * 4, 1, cell);
  });

  it('a plunge of a drill: cylinder and cone', () => {
    const s = fresh();
    const at = { x: 30.01, y: 20.01 };
    const drill = shapeOf(cutter(1, 'drill', 6, { pointDeg: 90 }));
    const v = s.cut(line(at, at), 1, -3.5, drill);
    // Tip at -3.5, cone of 45 degrees 3 high, cylinder 0.5 above it.
    expectVolume(v, Math.PI * 9 * 0.5 + Math.PI * 9, 2 * Math.PI * 3, 3, cell);
  });

  it('a plunge of a countersink with a flat at its end: a frustum', () => {
    const s = fresh();
    const at = { x: 30.01, y: 20.01 };
    const v = s.cut(line(at, at), 1, -2.4, shapeOf(cutter(1, 'countersink', 6.3, { tip: 1.5 })));
    // (6.3 - 1.5) / 2 = 2.4 deep: pi h / 3 (R2 + R r + r2).
    expectVolume(v, ((Math.PI * 2.4) / 3) * (3.15 ** 2 + 3.15 * 0.75 + 0.75 ** 2), 2 * Math.PI * 3.15, 2.4, cell);
  });

  it('a ball-nosed slot: half round below the middle', () => {
    const s = fresh();
    const v = s.cut(
      line({ x: 10, y: 20.01 }, { x: 50, y: 20.01 }),
      -3,
      -3,
      shapeOf(cutter(1, 'ball-nosed end mill', 6)),
    );
    expectVolume(v, (40 * (Math.PI * 9)) / 2 + (2 / 3) * Math.PI * 27, 80 + 6 * Math.PI, 3, cell);
  });

  it('a ramp: mean depth along its length', () => {
    const s = fresh();
    // Deep at one end only: the flat end disc reaches its own depth, so compare with the exact integral by fine steps.
    const v = s.cut(line({ x: 10, y: 20 }, { x: 40, y: 20 }), 0, -3, flat(2));
    const t = fresh();
    let sum = 0;
    for (let i = 0; i < 3000; i++) {
      const a = { x: 10 + i / 100, y: 20 };
      const b = { x: 10 + (i + 1) / 100, y: 20 };
      sum += t.cut(line(a, b), -((i + 1) / 1000), -((i + 1) / 1000), flat(2));
    }
    expect(v).toBeCloseTo(sum, 0);
    expect(Math.abs(v - sum) / sum).toBeLessThan(0.002);
  });
});

/** Cell by cell, along finely spaced points of the path: slow, and shares nothing with the spans. */
function bruteHeights(
  path: Segment,
  za: number,
  zb: number,
  r: number,
  lift: (d: number) => number,
  cols: number,
  rows: number,
  cell: number,
) {
  const h = new Float64Array(cols * rows);
  const steps = 400;
  for (let row = 0; row < rows; row++) {
    for (let col = 0; col < cols; col++) {
      const p = { x: (col + 0.5) * cell, y: (row + 0.5) * cell };
      let low = 0;
      for (let i = 0; i <= steps; i++) {
        const c = pointAt(path, i / steps);
        const d = Math.hypot(c.x - p.x, c.y - p.y);
        if (d <= r) low = Math.min(low, za + ((zb - za) * i) / steps + lift(d));
      }
      h[row * cols + col] = low;
    }
  }
  return h;
}

describe('spans against brute force', () => {
  it('random strokes of every kind agree away from the border of the sweep', () => {
    let seen = 0;
    const shapes = [
      flat(3),
      shapeOf(cutter(1, 'ball-nosed end mill', 4)),
      shapeOf(cutter(1, 'chamfer cutter', 5)),
      shapeOf(cutter(1, 'end mill', 5, { cornerRadius: 1 })),
    ];
    const coord = fc.double({ min: 1, max: 9, noNaN: true });
    const height = fc.double({ min: -3, max: -0.2, noNaN: true });
    const shot = fc.record({
      ax: coord,
      ay: coord,
      bx: coord,
      by: coord,
      za: height,
      zb: height,
      level: fc.boolean(),
      turn: fc.double({ min: -6.28, max: 6.28, noNaN: true }),
      straight: fc.boolean(),
      shape: fc.nat(3),
    });
    fc.assert(
      fc.property(shot, (s) => {
        const a = { x: s.ax, y: s.ay };
        const b = { x: s.bx, y: s.by };
        const r = Math.hypot(b.x - a.x, b.y - a.y) / 2;
        fc.pre(r > 0.05 && Math.abs(s.turn) > 0.05);
        const path = s.straight
          ? line(a, b)
          : arc({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, r, Math.atan2(a.y - b.y, a.x - b.x), s.turn);
        const shape = shapes[s.shape]!;
        const zb = s.level ? s.za : s.zb;
        const field = fieldOf([0, 0], [10, 10], -9, 0, 0.25);
        new Sweeper(field).cut(path, s.za, zb, shape);
        const brute = bruteHeights(path, s.za, zb, shape.radius, shape.lift, field.cols, field.rows, 0.25);
        let worst = 0;
        for (let k = 0; k < brute.length; k++) {
          const p = { x: ((k % field.cols) + 0.5) * 0.25, y: (Math.floor(k / field.cols) + 0.5) * 0.25 };
          if (Math.abs(nearestOn(path, p).distance - shape.radius) < 0.02) continue;
          seen++;
          worst = Math.max(worst, Math.abs(field.heights[k]! - Math.min(0, brute[k]!)));
        }
        expect(worst).toBeLessThan(0.08);
      }),
      { numRuns: runs(200), seed: SEED },
    );
    expect(seen).toBeGreaterThan(10_000);
  });

  it('skipping the disc of the stroke before changes no cell', () => {
    const next = random(SEED);
    const a = new Sweeper(fieldOf([0, 0], [60, 40], -4, 0, 0.1));
    const b = new Sweeper(fieldOf([0, 0], [60, 40], -4, 0, 0.1));
    let p = { x: 30, y: 20 };
    let z = -1;
    for (let i = 0; i < 3000; i++) {
      const q = { x: p.x + next() - 0.5, y: p.y + next() - 0.5 };
      if (next() < 0.02) z = -3 * next();
      a.cut(line(p, q), z, z, flat(6));
      b.lift();
      b.cut(line(p, q), z, z, flat(6));
      p = q;
    }
    expect(a.field.heights).toEqual(b.field.heights);
    expect(volumeOf(a.field)).toBeLessThan(60 * 40 * 4 - 100);
  });
});

describe('cells and queries', () => {
  it('the size of a cell follows the smallest feature and the bound on cells', () => {
    expect(cellFor(75, 30, 1)).toBeCloseTo(0.1, 12);
    expect(cellFor(75, 30, 2)).toBeCloseTo(0.2, 12);
    expect((75 * 30) / cellFor(75, 30, 0.01) ** 2).toBeLessThanOrEqual(1_500_000);
  });

  it('finds the highest stock under a disc', () => {
    const s = new Sweeper(fieldOf([0, 0], [20, 20], -4, 0, 0.1));
    s.cut(line({ x: 5, y: 10 }, { x: 15, y: 10 }), -2, -2, flat(6));
    expect(highestUnder(s.field, 10, 10, 2.9)).toBe(-2);
    expect(highestUnder(s.field, 10, 10, 3.2)).toBe(0);
    expect(highestUnder(s.field, 50, 50, 1)).toBeUndefined();
  });
});
