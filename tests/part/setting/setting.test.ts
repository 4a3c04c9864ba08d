/** Stock, places, clamps: the conventions of the job file, defaults, what is refused. */
import { describe, expect, it } from 'vitest';
import { loopGap } from '../../../src/geometry/measure/distance.ts';
import { loopBox } from '../../../src/geometry/measure/loop.ts';
import { placeLoop, placePoint } from '../../../src/geometry/measure/transform.ts';
import type { Job } from '../../../src/part/part.ts';
import { faults, type Loose, leverWith, read, readGood, theFault } from '../jobs.ts';

describe('places', () => {
  it('mirror first, then turn, then move (design 4.2)', () => {
    // By hand: (3, 1) mirrored is (-3, 1); turned 90 degrees is (-1, -3); moved by (40, 45) is (39, 42).
    const job = readGood(
      leverWith((j) => {
        j.stock.size = [80, 90, 4];
        j.clamps = [
          { from: [0, 0], to: [8, 90], height: 10 },
          { from: [72, 0], to: [80, 90], height: 10 },
        ];
        j.place = [{ at: [40, 45], turn: 90, mirror: true }];
      }),
    );
    const p = placePoint(job.places[0]!, { x: 3, y: 1 });
    expect([p.x, p.y]).toEqual([39, 42]);
    // The far boss at x = 32 comes to y = 45 - 32.
    expect(placePoint(job.places[0]!, { x: 32, y: 0 })).toEqual({ x: 40, y: 13 });
  });

  it("zero stock counts from the stock's corner, zero part from part 1", () => {
    const stock = readGood(leverWith(() => {}));
    expect(stock.stock).toMatchObject({ min: [0, 0, -4], max: [75, 30, 0] });
    const part = readGood(leverWith((j) => (j.zero = 'part')));
    expect(part.places[0]!.at).toEqual({ x: 0, y: 0 });
    expect(part.stock).toMatchObject({ min: [-22, -15, -4], max: [53, 15, 0] });
    expect(part.clamps[0]).toEqual({ kind: 'block', min: [-22, -15], max: [-14, 15], top: 12 });
    expect(part.clamps[1]).toEqual({ kind: 'block', min: [45, -15], max: [53, 15], top: 12 });
  });

  it('stock above and below the part; clamp heights from the top of the stock', () => {
    const job = readGood(leverWith((j) => (j.stock = { size: [75, 30, 6], above: 0.5 })));
    expect(job.stock).toMatchObject({ above: 0.5, below: 1.5 });
    expect(job.stock.min[2]).toBe(-5.5);
    expect(job.stock.max[2]).toBe(0.5);
    expect(job.clamps[0]).toMatchObject({ top: 12.5 });
  });

  it('corners of a clamp may be given either way round', () => {
    const job = readGood(leverWith((j) => (j.clamps[0] = { from: [8, 30], to: [0, 0], height: 5 })));
    expect(job.clamps[0]).toMatchObject({ min: [0, 0], max: [8, 30] });
  });
});

describe('layout when the job says nothing', () => {
  const bare = (more: Loose): Loose =>
    leverWith((j) => {
      delete j.stock;
      delete j.place;
      delete j.clamps;
      Object.assign(j, more);
    });

  it.each([
    [{}, 1],
    [{ copies: { count: 2, mirrored: 1 } }, 2],
    [{ copies: { count: 5, mirrored: 2 } }, 5],
    [{ copies: { count: 10 } }, 10],
    [{ copies: { count: 3 }, stock: { size: [120, 150, 4] } }, 3],
    [{ copies: { count: 6 }, stock: { size: [150, 100, 4] } }, 6],
  ])('%j: everything lies clear of everything', (more, count) => {
    const job = readGood(bare(more));
    expect(job.places).toHaveLength(count);
    expectClear(job);
  });

  it('mirrored copies come last', () => {
    expect(readGood(bare({ copies: { count: 5, mirrored: 2 } })).places.map((p) => p.mirror)).toEqual([
      false,
      false,
      false,
      true,
      true,
    ]);
  });

  it.each([4, 6])('%i copies lie in as many columns as the travel asks for', (count) => {
    const travel = [150, 100, 150];
    const job = readGood(bare({ copies: { count }, machine: { travel } }));
    const boxes = job.places.map((p) => loopBox(placeLoop(p, job.part.outline.loop)));
    expect(boxes).toHaveLength(count);
    expect(Math.max(...boxes.map((b) => b.maxX)) - Math.min(...boxes.map((b) => b.minX))).toBeLessThan(150 - 5);
    expect(Math.max(...boxes.map((b) => b.maxY)) - Math.min(...boxes.map((b) => b.minY))).toBeLessThan(100 - 5);
  });

  it('more copies than the machine reaches are refused, with how many it would be', () => {
    const problem = theFault(bare({ copies: { count: 40 } }));
    expect(problem.code).toBe('copies-off-travel');
    const most = Number(/at most (\d+)/.exec(problem.remedy)?.[1]);
    expect(most).toBeGreaterThan(5);
    expectClear(readGood(bare({ copies: { count: most } })));
    expect(theFault(bare({ copies: { count: most + 1 } })).code).toBe('copies-off-travel');
  });

  it('lists what it chose', () => {
    const words = readGood(bare({})).defaults.join('\n');
    for (const word of [
      /stock is \d+ mm by \d+ mm/,
      /Clamps lie along the two short sides/,
      /places of the parts/,
      /sacrificial plate of EN-AW-6082-T6, 6 mm/,
      /flat within/,
    ])
      expect(words).toMatch(word);
  });

  it('whole millimetres of stock, clamps 8 mm along the short sides', () => {
    const job = readGood(bare({}));
    const [x, y] = [job.stock.max[0], job.stock.max[1]];
    expect([x, y]).toEqual([Math.round(x), Math.round(y)]);
    expect(job.clamps).toEqual([
      { kind: 'block', min: [0, 0], max: [8, y], top: 12 },
      { kind: 'block', min: [x - 8, 0], max: [x, y], top: 12 },
    ]);
  });

  it('the same job gives the same places', () => {
    const more = { copies: { count: 7, mirrored: 3 } };
    expect(JSON.stringify(readGood(bare(more)))).toBe(JSON.stringify(readGood(bare(more))));
  });

  it('a short piece is held by narrower strips before it is refused', () => {
    const wide = readGood(bare({ stock: { size: [75, 30, 4] } }));
    expect(wide.clamps[0]).toMatchObject({ max: [8, 30] });
    const short = readGood(bare({ stock: { size: [66, 30, 4] } }));
    expectClear(short);
    const [first] = short.clamps;
    if (first?.kind !== 'block') throw new Error('a block clamp was wanted');
    expect(first.max[0]).toBeLessThan(8);
    expect(first.max[0]).toBeGreaterThanOrEqual(3);
  });

  it('clamps in thick plate are low enough for the holder of a short mill', () => {
    const job = readGood({
      material: 'CuSn5',
      part: { thickness: 10, outline: { circle: { at: [0, 0], diameter: 20 } } },
    });
    const mills = job.cutters.filter((c) => c.kind === 'end mill' && c.fluteLength > 10);
    expect(mills.length).toBeGreaterThan(0);
    const tops = job.clamps.map((c) => (c.kind === 'block' ? c.top : Number.NaN));
    for (const m of mills) for (const top of tops) expect(m.stickOut - 10.2).toBeGreaterThanOrEqual(top + 0.5);
    expect(Math.min(...tops)).toBeGreaterThanOrEqual(5);
  });

  it('a vice holds by its jaws', () => {
    expect(readGood(bare({ under: { kind: 'vice' } })).clamps).toEqual([{ kind: 'jaws', axis: 'y', grip: 3 }]);
  });

  it('a stock that cannot hold them is refused with what is needed', () => {
    const problem = theFault(bare({ copies: { count: 4 }, stock: { size: [75, 30, 4] } }));
    expect(problem.code).toBe('stock-too-small');
    expect(problem.place.path).toBe('stock.size');
  });
});

describe('machine', () => {
  it('what is not said is that of the stated light mill, and is told', () => {
    const job = readGood(leverWith((j) => (j.machine = { power: 500 })));
    expect(job.machine).toMatchObject({
      power: 500,
      maxSpeed: 5000,
      baseSpeed: 2500,
      coolant: 'none',
      tapping: 'hand',
    });
    expect(job.defaults.join(' ')).toMatch(/light mill: highest speed 5000 rev\/min.*tapping by hand/);
  });

  it('a slow mill that states only its highest speed has its full power within it', () => {
    expect(readGood(leverWith((j) => (j.machine = { maxSpeed: 1800 }))).machine.baseSpeed).toBe(1800);
  });
});

describe('settings that cannot be', () => {
  it.each<[string, (j: Loose) => void, string]>([
    ['stock thinner than the part', (j) => (j.stock.size[2] = 3), 'stock-too-thin'],
    ['stock thinner than part and facing', (j) => (j.stock.above = 0.5), 'stock-too-thin'],
    ['measured far off', (j) => (j.stock.measured = 5), 'stock-measured'],
    ['part off the stock', (j) => (j.place = [{ at: [22, 3] }]), 'part-off-stock'],
    [
      'parts overlapping',
      (j) => {
        j.stock.size = [75, 60, 4];
        j.place = [{ at: [22, 15] }, { at: [22, 22] }];
      },
      'parts-overlap',
    ],
    ['parts one on the other', (j) => (j.place = [{ at: [22, 15] }, { at: [22, 15] }]), 'parts-overlap'],
    ['clamp on the part', (j) => (j.clamps[0].to = [20, 30]), 'clamp-on-part'],
    ['clamp inside the part', (j) => j.clamps.push({ from: [30, 14], to: [31, 16], height: 3 }), 'clamp-on-part'],
    ['clamp over all', (j) => j.clamps.push({ from: [-5, -5], to: [80, 40], height: 3 }), 'clamp-on-part'],
    ['clamp beside the stock', (j) => j.clamps.push({ from: [80, 0], to: [90, 30], height: 3 }), 'clamp-off-stock'],
    ['clamp without area', (j) => j.clamps.push({ from: [3, 0], to: [3, 30], height: 3 }), 'clamp-empty'],
    ['clamp without height', (j) => (j.clamps[0].height = 0), 'out-of-range'],
    ['jaws too deep', (j) => (j.clamps = [{ kind: 'jaws', axis: 'y', grip: 15 }]), 'jaws-too-deep'],
    ['copies disagree', (j) => (j.copies = { count: 2 }), 'copies-disagree'],
    ['mirrored disagree', (j) => (j.copies = { count: 1, mirrored: 1 }), 'copies-disagree'],
    [
      'more mirrored than parts',
      (j) => {
        delete j.place;
        j.copies = { count: 1, mirrored: 2 };
      },
      'copies-mirrored',
    ],
    [
      'no room for clamps',
      (j) => {
        delete j.clamps;
        j.stock.size = [60, 30, 4];
        j.place = [{ at: [12, 15] }];
      },
      'no-room-for-clamps',
    ],
    [
      'off the stock, clamps not said',
      (j) => {
        delete j.clamps;
        j.stock.size = [40, 30, 4];
      },
      'part-off-stock',
    ],
    ['under of no known stuff', (j) => (j.under = { material: 'cheese' }), 'unknown-material'],
    ['stock of nothing', (j) => (j.stock.size = [0, 30, 4]), 'out-of-range'],
    ['mill slower than itself', (j) => (j.machine = { maxSpeed: 100, minSpeed: 200 }), 'machine-speeds'],
  ])('%s', (_, change, code) => {
    const all = faults(leverWith(change));
    expect(all.map((p) => p.code)).toContain(code);
    expect(new Set(all.map((p) => p.code)).size).toBe(1);
  });

  it.each<[string, (j: Loose) => void, string]>([
    ['plate under size', (j) => (j.stock.measured = 3.96), 'stock-under-size'],
    ['no clamps', (j) => (j.clamps = []), 'no-clamps'],
  ])('%s is a caution', (_, change, code) => {
    const outcome = read(leverWith(change));
    expect(outcome.ok).toBe(true);
    expect(outcome.problems.map((p) => p.code)).toEqual([code]);
  });
});

function expectClear(job: Job): void {
  const loops = job.places.map((p) => placeLoop(p, job.part.outline.loop));
  for (const [i, a] of loops.entries()) {
    const box = loopBox(a);
    // A cutter of 6 mm goes round, and some rail is left.
    expect(box.minX - job.stock.min[0]).toBeGreaterThan(6);
    expect(job.stock.max[0] - box.maxX).toBeGreaterThan(6);
    expect(box.minY - job.stock.min[1]).toBeGreaterThan(6);
    expect(job.stock.max[1] - box.maxY).toBeGreaterThan(6);
    for (const b of loops.slice(i + 1)) expect(loopGap(a, b).distance).toBeGreaterThan(12);
    for (const c of job.clamps) {
      if (c.kind !== 'block') continue;
      const apart = Math.max(box.minX - c.max[0], c.min[0] - box.maxX, box.minY - c.max[1], c.min[1] - box.maxY);
      expect(apart).toBeGreaterThan(6);
    }
  }
}
