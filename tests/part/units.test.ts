/** One job in two units is one job. The inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
import { describe, expect, it } from 'vitest';
import { good } from '../../src/base/problem.ts';
import { type Loose, leverWith, read, readGood } from './jobs.ts';

const full = (): Loose =>
  leverWith((j) => {
    j.part.holes.push(
      { at: [8, 0], clear: 'M2', countersink: { diameter: 4.4 } },
      { at: [16, 0], drill: 2.5, depth: 3, counterbore: { diameter: 4, depth: 1 } },
      { at: [24, 0], bore: 3 },
    );
    j.part.pockets = [{ outline: { slot: { from: [3.6, 3.5], to: [4.6, 3.5], width: 0.6 } }, depth: 1 }];
    j.part.edgeHoles = [{ boss: 0, direction: 90, tap: 'M2', depth: 3 }];
    j.part.chamfer = 0.2;
    j.part.noTabs = [{ boss: 1 }, { from: [-6, 0], to: [0.375, -5.988] }];
    j.stock = { size: [75, 30, 5], above: 0.5, measured: 4.9, flatness: 0.05 };
    j.under = { kind: 'plate', thickness: 10 };
    j.clamps.push({ kind: 'jaws', axis: 'y', grip: 2 });
    j.machine = {
      maxSpeed: 4000,
      minSpeed: 90,
      baseSpeed: 2000,
      power: 300,
      efficiency: 0.6,
      travel: [200, 150, 140],
      rapid: 1500,
      maxFeed: 800,
      acceleration: 200,
      backlash: 0.02,
      runout: 0.02,
      coolant: 'mist',
      tapping: 'machine',
    };
    j.cutters = [
      {
        number: 1,
        kind: 'end mill',
        diameter: 3,
        measured: 2.98,
        flutes: 2,
        fluteLength: 9,
        stickOut: 18,
        shank: 6,
        material: 'carbide',
        helix: 30,
        centreCutting: true,
        cornerRadius: 0.1,
        holder: { diameter: 30, length: 40 },
      },
      {
        number: 4,
        kind: 'reamer',
        diameter: 5,
        lead: 1.5,
        fluteLength: 20,
        stickOut: 30,
        flutes: 6,
        shank: 5,
        material: 'HSS',
        holder: { diameter: 30, length: 40 },
      },
    ];
    j.hold = {
      by: 'tabs',
      tabs: {
        count: 2,
        width: 2,
        height: 0.8,
        lightenTo: 0.4,
        at: [
          [16, 5.1],
          [-6, 0.1],
        ],
      },
    };
    j.finish = { allowance: 0.2, measured: { feature: 'outside', nominal: 12, actual: 12.06 } };
    j.part.outline.fillet = 1;
  });

/** Keys whose numbers are no lengths, whatever the units. */
const PLAIN = new Set([
  'maxSpeed',
  'minSpeed',
  'baseSpeed',
  'power',
  'efficiency',
  'helix',
  'angle',
  'point',
  'number',
  'flutes',
  'turn',
  'direction',
  'count',
  'mirrored',
  'boss',
  'shear',
  'tension',
  'wetted',
  'engagement',
  'webs',
  'through',
]);

function inInches(value: Loose): Loose {
  if (typeof value === 'number') return value / 25.4;
  if (Array.isArray(value)) return value.map(inInches);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([k, v]) => [k, PLAIN.has(k) ? v : inInches(v)]));
}

let numbers = 0;
function expectSame(a: Loose, b: Loose, path = ''): void {
  if (typeof a === 'number') {
    numbers++;
    expect(Math.abs(a - b), `${path}: ${a} and ${b}`).toBeLessThan(1e-9 * Math.max(1, Math.abs(a)));
  } else if (typeof a === 'object' && a !== null) {
    expect(Object.keys(b), path).toEqual(Object.keys(a));
    for (const key of Object.keys(a)) expectSame(a[key], b[key], `${path}.${key}`);
  } else expect(b, path).toBe(a);
}

describe('units', () => {
  it('an inch job is the mm job', () => {
    const inMm = readGood(full());
    const inInch = readGood({ ...inInches(full()), units: 'inch' });
    const { defaults: _d, units: u1, ...a } = inMm;
    const { defaults: _e, units: u2, ...b } = inInch;
    expect([u1, u2]).toEqual(['mm', 'inch']);
    numbers = 0;
    expectSame(a, b);
    expect(numbers).toBeGreaterThan(150);
  });

  it('feeds and accelerations are lengths a time; watts, degrees, speeds and stresses are not', () => {
    const job = readGood({
      ...inInches(leverWith((j) => (j.hold = { by: 'glue', shear: 2, tension: 1, wetted: 0.6 }))),
      units: 'inch',
      machine: { maxFeed: 20, rapid: 60, acceleration: 8, power: 350, maxSpeed: 5000 },
    });
    expect(job.machine).toMatchObject({ maxFeed: 508, rapid: 1524, power: 350, maxSpeed: 5000 });
    expect(job.machine.acceleration).toBeCloseTo(203.2, 9);
    expect(job.hold).toEqual({ by: 'glue', shear: 2, tension: 1, wetted: 0.6 });
  });

  it('defaults do not change with the units', () => {
    const bare = (units: string, s: number) => ({
      units,
      material: 'O1',
      part: { thickness: 3 * s, outline: { circle: { at: [0, 0], diameter: 20 * s } } },
    });
    const { defaults: _d, units: _u, ...a } = readGood(bare('mm', 1));
    const { defaults: _e, units: _v, ...b } = readGood(bare('inch', 1 / 25.4));
    expectSame(a, b);
  });

  it('separate machine and cutter files state their own units', () => {
    const files: Record<string, string> = {
      'mill.json': '{ "units": "inch", "maxFeed": 20, "travel": [8, 6, 5] }',
      'drawer.json': '{ "units": "mm", "cutters": [ { "number": 7, "kind": "end mill", "diameter": 3 } ] }',
    };
    const job = readGood(
      { ...inInches(leverWith(() => {})), units: 'inch', machine: 'mill.json', cutters: 'drawer.json' },
      (name) => good(files[name]!),
    );
    expect(job.machine.maxFeed).toBe(508);
    expect(job.machine.travel[0]).toBeCloseTo(203.2, 9);
    expect(job.cutters).toHaveLength(1);
    expect(job.cutters[0]).toMatchObject({ number: 7, nominal: 3, diameter: 3, fromDrawer: false });
  });
});

describe('lengths in the other units', () => {
  const doubted = (change: (j: Loose) => void) =>
    read(leverWith(change))
      .problems.filter((p) => p.code === 'units-doubtful')
      .map((p) => p.found);

  it('are asked after: inches for a foil of 0.16 mm, millimetres for a plate of 4 in', () => {
    expect(doubted((j) => (j.part.thickness = 0.16))).toEqual([expect.stringMatching(/perhaps in inches\?$/)]);
    expect(doubted((j) => (j.units = 'inch'))).toEqual([expect.stringMatching(/perhaps in millimetres\?$/)]);
  });

  it('are not suspected of a part of usual size, nor of a small one', () => {
    expect(doubted(() => {})).toEqual([]);
    const tiny = {
      bosses: [
        { at: [0, 0], radius: 1.5 },
        { at: [4, 0], radius: 1 },
      ],
    };
    expect(doubted((j) => Object.assign(j.part, { thickness: 0.8, outline: tiny, holes: [] }))).toEqual([]);
    expect(
      doubted((j) =>
        Object.assign(j, { units: 'inch', part: { ...j.part, thickness: 0.16, outline: tiny, holes: [] } }),
      ),
    ).toEqual([]);
  });
});
