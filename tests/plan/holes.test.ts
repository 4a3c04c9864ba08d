/** Hole recipes: which drill, how deep, in which order. Figures of the trade with their sources beside them. */
import { describe, expect, it } from 'vitest';
import { cutterOf, lever, only, type Planned, planOf, refusals, withHole } from './jobs.ts';

const MILL = {
  ...{ number: 1, kind: 'end mill', diameter: 3, fluteLength: 9, stickOut: 18, shank: 6 },
  ...{ material: 'carbide', centreCutting: true },
};
const SPOT = { number: 2, kind: 'spot drill', diameter: 6 };
const drill = (number: number, diameter: number) => ({ number, kind: 'drill', diameter });

function drilled(p: Planned): number[] {
  return p.operations.filter((o) => o.what === 'drill').map((o) => cutterOf(p, o).diameter);
}

describe('the drill of a thread', () => {
  it.each([
    // ISO 2306:1972 table 1, quoted by public hole-size tables.
    ['M2', 1.6],
    ['M2.5', 2.05],
    ['M3', 2.5],
    ['M4', 3.3],
    ['M5', 4.2],
    ['M6', 5.0],
    // Common practice lists of BA tapping drills.
    ['6BA', 2.3],
    ['4BA', 3.0],
  ])('%s is drilled %d mm', (tap, size) => {
    expect(drilled(planOf(withHole({ tap })))).toEqual([size]);
  });

  it('the nearest drill within the limits of the thread stands in, and is told', () => {
    const p = planOf(withHole({ tap: 'M2.5' }, (j) => (j.cutters = [MILL, SPOT, drill(3, 2.1), drill(4, 2.2)])));
    expect(drilled(p)).toEqual([2.1]);
    const told = only(p.told.filter((x) => x.code === 'drill-nearest'));
    // ISO 965-1, M2.5 6H: minor diameter 2.013 to 2.138.
    expect(told.found).toContain('2.013 mm to 2.138 mm');
    expect(told.severity).toBe('note');
  });

  it('none within the limits: refused with the sizes that would do', () => {
    const told = only(refusals(withHole({ tap: 'M2.5' }, (j) => (j.cutters = [MILL, SPOT, drill(3, 2.3)]))));
    expect(told.code).toBe('cutter-missing');
    expect(told.wanted).toContain('2.05, 2.1');
    expect(told.found).toContain('2.3 mm');
  });

  it('a wanted engagement is of the ISO overlap, and what the drill leaves is said on both bases', () => {
    const p = planOf(withHole({ tap: 'M3', engagement: 0.75 }));
    // D - 1.082532 P x 0.75 = 2.594 (ISO 68-1 profile): 2.6 is over the 6H limit of 2.599, which the part stage tells.
    expect(drilled(p)).toEqual([2.6]);
    const usual = planOf(withHole({ tap: 'M3' }));
    // holes table: 2.5 mm leaves 92 % of the overlap, 77 % on drill charts.
    expect(usual.operations.find((o) => o.what === 'drill')!.reasons.join(' ')).toMatch(/92 % .*77 % on drill charts/);
  });
});

describe('drill and ream', () => {
  it.each([
    // Small-shop practice: 0.1 under to 5 mm, 0.2 under to 10 mm; half as much again in aluminium (trainee reaming handbook).
    ['CuZn39Pb3', 5, 4.9],
    ['CuZn39Pb3', 6, 5.8],
    ['EN-AW-6082-T6', 6, 5.7],
    ['1.4301', 3, 2.85],
  ])('%s: under a %d mm reamer a %d mm drill', (material, ream, size) => {
    const p = planOf(withHole({ ream }, (j) => (j.material = material)));
    const last = drilled(p).at(-1)!;
    expect(Math.abs(last - size)).toBeLessThan(0.051);
    const order = p.operations.map((o) => o.what).filter((w) => w === 'spot' || w === 'drill' || w === 'ream');
    expect(order.indexOf('ream')).toBe(order.length - 1);
    expect(order[0]).toBe('spot');
  });

  it('the drill goes deep enough into the backing that the reamer does not meet its cone', () => {
    const p = planOf(withHole({ ream: 5 }));
    const bored = p.operations.find((o) => o.what === 'drill')!;
    const reamed = p.operations.find((o) => o.what === 'ream')!;
    const { diameter, pointDeg } = cutterOf(p, bored);
    const full = bored.depths[0]! + diameter / 2 / Math.tan((pointDeg * Math.PI) / 360);
    const { lead } = cutterOf(p, reamed);
    expect(reamed.depths[0]!).toBeGreaterThan(full + 0.4);
    expect(reamed.depths[0]!).toBeLessThanOrEqual(-(4 + lead + 1) + 1e-9);
    expect(bored.depths[0]!).toBeGreaterThanOrEqual(-(4 + p.job.under.thickness));
  });

  it('a through drill passes with its full diameter', () => {
    let seen = 0;
    for (const d of [1, 2.5, 5, 8]) {
      const p = planOf(withHole({ drill: d }));
      const op = p.operations.filter((o) => o.what === 'drill').at(-1)!;
      // Cone of 118 degrees is 0.3004 D long (geometry).
      expect(op.depths[0]!).toBeLessThanOrEqual(-(4 + 0.3004 * d));
      seen++;
    }
    expect(seen).toBe(4);
  });
});

describe('depths of blind holes', () => {
  const thick = (j: { part: { thickness: number }; stock: { size: number[]; measured?: number } }) => {
    j.part.thickness = 9;
    j.stock.size = [140, 60, 9];
    delete j.stock.measured;
  };
  it('a blind thread gets the run-out of DIN 76-2, and no more than five pitches, below its full depth', () => {
    const p = planOf(withHole({ tap: 'M3', depth: 4 }, thick));
    const op = p.operations.find((o) => o.what === 'drill')!;
    const full = -op.depths[0]! - 0.3004 * 2.5;
    // DIN 76-2, P 0.5: 2.8 normal, 1.8 short; five pitches are 2.5.
    expect(full).toBeGreaterThanOrEqual(4 + 1.8);
    expect(full).toBeLessThanOrEqual(4 + 2.8);
  });

  it('a blind reamed hole is drilled deeper by the lead of the reamer, which ends above the cone', () => {
    const p = planOf(withHole({ ream: 5, depth: 4 }, thick));
    const reamed = p.operations.find((o) => o.what === 'ream')!;
    const bored = p.operations.find((o) => o.what === 'drill')!;
    expect(reamed.depths[0]!).toBeCloseTo(-(4 + cutterOf(p, reamed).lead), 9);
    expect(-bored.depths[0]! - 0.3004 * cutterOf(p, bored).diameter).toBeGreaterThanOrEqual(-reamed.depths[0]! + 0.4);
  });
});

describe('pilots', () => {
  it('a wide drill follows a pilot of 0.3 to 0.5 of its diameter on a light machine', () => {
    const p = planOf(withHole({ drill: 10 }));
    const [pilot, wide] = drilled(p);
    expect(wide).toBe(10);
    expect(pilot).toBeGreaterThanOrEqual(3);
    expect(pilot).toBeLessThanOrEqual(5);
  });

  it('not on a strong one, and not for small drills', () => {
    expect(drilled(planOf(withHole({ drill: 10 }, (j) => (j.machine = { power: 1500 }))))).toEqual([10]);
    expect(drilled(planOf(withHole({ drill: 5 })))).toEqual([5]);
  });
});

describe('tapping', () => {
  it('by hand: the spindle waits over the hole, before the profile, with the thread named', () => {
    const p = planOf(withHole({ tap: 'M3' }));
    const tap = only(p.operations.filter((o) => o.what === 'tap'));
    expect(tap.byHand!.join(' ')).toContain('hole 1 M3, through');
    expect(tap.speed).toBe(0);
    expect(tap.id).toBeLessThan(p.operations.find((o) => o.what === 'rough')!.id);
    expect(p.plan.bench.join(' ')).toContain('M3');
  });

  it('by hand with no tap listed: a stop before the profile tells thread, depth and place', () => {
    const p = planOf(withHole({ tap: 'M3' }, (j) => (j.cutters = [MILL, SPOT, drill(3, 2.5)])));
    expect(p.operations.filter((o) => o.what === 'tap')).toEqual([]);
    const stop = p.operations.find((o) => o.what === 'rough')!.stopBefore!;
    expect(stop.kind).toBe('tap');
    const at = p.job.places[0]!.at;
    expect(stop.lines.join(' ')).toContain(`hole 1 M3, through`);
    expect(stop.lines.join(' ')).toContain(`X ${at.x} Y ${at.y}`);
  });

  it('by the machine: one pitch a turn; without a tap refused', () => {
    const machine = { tapping: 'machine' };
    const p = planOf(withHole({ tap: 'M3' }, (j) => (j.machine = machine)));
    const tap = only(p.operations.filter((o) => o.what === 'tap'));
    expect(tap.byHand).toBeNull();
    expect(tap.feed).toBeCloseTo(0.5 * tap.speed, 9);
    expect(p.plan.bench).toEqual([]);
    const listed = withHole({ tap: 'M3' }, (j) => Object.assign(j, { machine, cutters: [MILL, SPOT, drill(3, 2.5)] }));
    expect(only(refusals(listed)).found).toContain('no tap M3');
  });
});

describe('bores with a fit', () => {
  const stiff = { backlash: 0.001, runout: 0.002 };
  it('milled where the machine is good enough, aimed at the mean of the limits', () => {
    const p = planOf(withHole({ bore: 10, fit: 'H9' }, (j) => (j.machine = stiff)));
    const op = only(p.operations.filter((o) => o.what === 'bore'));
    // ISO 286-2: 10 H9 is +36/0 micrometres.
    expect(op.target.kind === 'bore' && op.target.diameter).toBeCloseTo(10.018, 6);
    expect(p.told.map((x) => x.code)).toContain('bore-milled');
  });

  it('else reamed where there is a reamer', () => {
    const p = planOf(withHole({ bore: 10, fit: 'H7' }));
    expect(p.operations.filter((o) => o.what === 'bore')).toEqual([]);
    expect(p.operations.some((o) => o.what === 'ream')).toBe(true);
    expect(p.told.map((x) => x.code)).toContain('bore-reamed');
  });

  it('else refused, naming reamer and boring head', () => {
    const told = only(refusals(withHole({ bore: 8.3, fit: 'H7' })));
    expect(told.code).toBe('bore-fit-out-of-reach');
    expect(told.remedy).toMatch(/reamer of 8.3 mm.*boring head/);
  });

  it('without a fit it is simply milled', () => {
    expect(planOf(withHole({ bore: 8.3 })).operations.some((o) => o.what === 'bore')).toBe(true);
  });
});

describe('the drawer of a job', () => {
  it('never more cutters than a control has places for, numbered without gaps', () => {
    const holes = [1, 1.5, 2, 2.2, 2.7, 3.1, 3.4, 3.9, 4.1, 4.6, 5.3, 6.5, 7.1, 8.4, 9.2, 10.3, 11.5, 12.1];
    const raw = lever((j) => {
      j.part.outline = {
        vertices: [
          [0, 0],
          [200, 0],
          [200, 60],
          [0, 60],
        ],
      };
      j.stock = { size: [260, 120, 4] };
      j.part.holes = holes.map((d, i) => ({ at: [10 + 20 * (i % 9), i < 9 ? 15 : 40], drill: d }));
      j.machine = { travel: [400, 300, 150] };
    });
    const p = planOf(raw);
    // NISTIR 6556, B.5.4: 68 places.
    expect(p.job.cutters.length).toBeLessThanOrEqual(60);
    expect(p.job.cutters.map((c) => c.number)).toEqual(p.job.cutters.map((_, i) => i + 1));
    expect(new Set(drilled(p).filter((d) => holes.includes(d))).size).toBe(holes.length);
  });
});

describe('a countersink', () => {
  const sunk = (tip: number) =>
    planOf(
      withHole({ clear: 'M2', countersink: { diameter: 4.4, angle: 90 } }, (j) => {
        j.cutters = [
          MILL,
          { ...SPOT, diameter: 3 },
          drill(3, 2.4),
          { number: 4, kind: 'countersink', diameter: 6.3, tip },
        ];
      }),
    ).operations.find((o) => o.what === 'countersink')!;

  it('of 90 degrees goes half its diameter deep from a point, and half the flat less from a flat (geometry)', () => {
    expect(sunk(0).depths[0]).toBeCloseTo(-2.2, 9);
    expect(sunk(1.5).depths[0]).toBeCloseTo(-1.45, 9);
    expect(JSON.stringify(sunk(1.5).stopBefore)).toContain('1.5 mm wide');
  });

  it('whose flat does not go into the hole is not taken', () => {
    const cutters = [
      MILL,
      { ...SPOT, diameter: 3 },
      drill(3, 2.4),
      { number: 4, kind: 'countersink', diameter: 12.4, tip: 2.8 },
    ];
    const change = (j: { cutters?: unknown }) => (j.cutters = cutters);
    const told = only(refusals(withHole({ clear: 'M2', countersink: { diameter: 4.4, angle: 90 } }, change as never)));
    expect(told.code).toBe('cutter-missing');
  });
});
