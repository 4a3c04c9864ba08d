/** Floor, glue, screws, stub. [F] = value read in the named text; [M] formula from memory; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import { beamMovement } from '../../src/mechanics/support/beam.ts';
import { floorStiffness, floorStress } from '../../src/mechanics/support/floor.ts';
import { bondMargin, bondStiffness, CYANOACRYLATE } from '../../src/mechanics/support/glue.ts';
import {
  coneStiffness,
  handTorque,
  preload,
  screwStiffness,
  slipMargin,
  threadPullOut,
} from '../../src/mechanics/support/screw.ts';
import { stubShape } from '../../src/mechanics/support/stub.ts';
import { tabFlexibility } from '../../src/mechanics/support/tab.ts';
import { stressArea } from '../../src/trade/threads/screws.ts';
import { findThread } from '../../src/trade/threads/threads.ts';
import { floorCapacity, rectangle, SHEAR_YIELD } from './oracles/handbook.ts';
import { holdBody, lineSprings } from './oracles/rigid-body.ts';

const steel = { modulus: 210_000, poisson: 0.3 };

describe('thin floor', () => {
  it('[D] 0.2 mm: S275 31.7, 6082-T6 29.4, brass 15.0 N/mm in shear; lift 0.61 N/mm over 6 mm (6.4)', () => {
    for (const [rp, along] of [
      [275, 31.7],
      [255, 29.4],
      [130, 15],
    ] as const)
      expect(floorCapacity({ thickness: 0.2, span: 6 }, rp).along).toBeCloseTo(along, 1);
    expect(floorCapacity({ thickness: 0.2, span: 6 }, 275).up).toBeCloseTo(0.61, 2);
  });

  it('[D] at its capacity the stress is the yield stress, each way', () => {
    const floor = { thickness: 0.3, span: 4 };
    const most = floorCapacity(floor, 200);
    expect(floorStress(floor, 0, 0, most.up)).toBeCloseTo(200, 9);
    expect(floorStress(floor, 0, most.along, 0)).toBeCloseTo(200 * Math.sqrt(3) * SHEAR_YIELD, 9);
    expect(floorStress(floor, 60, 0, 0)).toBeCloseTo(200, 9);
  });

  it('[D] upwards it is a guided strip; round a loop it holds a part in all six ways, softest upwards', () => {
    const floor = { thickness: 0.2, span: 3 };
    const k = floorStiffness(floor, steel);
    const plate = { modulus: 210_000 / (1 - 0.09), poisson: 0.3 };
    const strip = beamMovement('guided', 1, 3, rectangle(1, 0.2), plate);
    expect(Math.abs(1 / k.up / (strip.bending + strip.shear * shearRatio(plate, steel)) - 1)).toBeLessThan(1e-9);
    const body = holdBody(
      lineSprings(
        [
          [0, 0, 0],
          [30, 0, 0],
          [30, 10, 0],
          [0, 10, 0],
          [0, 0, 0],
        ],
        k,
        1,
      ),
    );
    if (body.kind !== 'held') throw new Error('loose');
    expect(body.stiffness[14]).toBeCloseTo(80 * k.up, 6);
    expect(body.stiffness[14]!).toBeLessThan(body.stiffness[0]!);
  });
});

/** The strip's shear uses the true G, not that of the stiffened modulus. */
function shearRatio(a: { modulus: number; poisson: number }, b: { modulus: number; poisson: number }): number {
  return a.modulus / (1 + a.poisson) / (b.modulus / (1 + b.poisson));
}

describe('glue', () => {
  it('[D] stiffness grows with the wetted share and falls with the gap; margins add', () => {
    const k = bondStiffness(CYANOACRYLATE);
    expect(k.up).toBeCloseTo((0.6 * 1000) / 0.05, 9);
    expect(k.out).toBeCloseTo(k.up / 2.7, 9);
    expect(bondMargin(1, 0, { shear: 2, tension: 1 })).toBeCloseTo(2, 12);
    expect(bondMargin(1, 0.5, { shear: 2, tension: 1 })).toBeCloseTo(1, 12);
    expect(bondMargin(1, -5, { shear: 2, tension: 1 })).toBeCloseTo(2, 12);
  });
});

describe('screws', () => {
  const named = (name: string) => {
    const t = findThread(name);
    if (t.kind !== 'found') throw new Error(name);
    return t.value;
  };

  it('[D] half the torque at 0.75 Fp, K 0.2, class 8.8: M2 0.36, M3 1.31, M4 3.06, M5 6.17, M6 10.4 N.m', () => {
    const rows = [
      ['M2', 0.36],
      ['M3', 1.31],
      ['M4', 3.06],
      ['M5', 6.17],
      ['M6', 10.4],
    ] as const;
    for (const [name, nm] of rows) expect(Math.abs(handTorque(named(name), '8.8') / 500 / nm - 1)).toBeLessThan(0.01);
  });

  it('[D] the low case is what friction may count on: half the torque, the worst coefficient', () => {
    const f = preload(handTorque(named('M4'), '8.8'), 4);
    expect(f.low).toBeCloseTo((0.5 * 0.75 * 5100 * 0.2) / 0.27, 6);
    expect(f.high / f.low).toBeCloseTo(1.5, 9);
    expect(slipMargin(1000, 0.1, 50, 0)).toBeCloseTo(2, 12);
    const k = slipMargin(1000, 0.1, 50, 200);
    expect(50 * k).toBeCloseTo(0.1 * (1000 - 200 * k), 9);
    expect(slipMargin(1000, 0.1, 0, 0)).toBe(Number.POSITIVE_INFINITY);
    expect(threadPullOut(4, 8, 180)).toBeCloseTo(9047.8, 0);
  });

  it('[F formula] Shigley eq. 8-22: the cones agree with the sum of slices of a hollow 30-degree cone', () => {
    const d = 5,
      l = 12,
      e = 100_000,
      n = 20_000;
    let give = 0;
    for (let i = 0; i < n; i++) {
      const x = ((i + 0.5) / n) * (l / 2);
      const outer = 1.5 * d + 2 * x * Math.tan(Math.PI / 6);
      give += l / 2 / n / ((e * Math.PI * (outer ** 2 - d ** 2)) / 4);
    }
    expect(Math.abs(coneStiffness(d, l, e) * 2 * give - 1)).toBeLessThan(1e-3);
    const k = screwStiffness(named('M5'), 12, steel, { modulus: e, poisson: 0.33 });
    expect(k.axial).toBeCloseTo(coneStiffness(d, l, e) + (210_000 * stressArea(named('M5'))) / 12, 6);
    expect(k.shear).toBeLessThan(k.axial / 2);
  });
});

describe('stub', () => {
  it('[D] a straight stub with stiff roots is a cantilever: F L^3/(3 E I) + F L/(kappa G A)', () => {
    const stub = { width: 8, height: 4, length: 10, cutterRadius: 0 };
    const f = tabFlexibility(stubShape(stub), steel, null);
    expect(f[7]).toBeCloseTo(beamMovement('cantilever', 1, 10, rectangle(4, 8), steel).total, 12);
    expect(f[14]).toBeCloseTo(beamMovement('cantilever', 1, 10, rectangle(8, 4), steel).total, 12);
  });
});
