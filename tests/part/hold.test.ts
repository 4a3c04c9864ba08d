/** Ways of holding: what is taken over, what cannot hold at all. */
import { describe, expect, it } from 'vitest';
import { distanceToLoop } from '../../src/geometry/measure/distance.ts';
import { jobAsking } from '../../src/part/read.ts';
import { type Loose, leverWith, read, readGood, theFault } from './jobs.ts';

const held = (hold: Loose, more: (j: Loose) => void = () => {}): Loose =>
  leverWith((j) => {
    j.hold = hold;
    more(j);
  });
const wish = (hold: Loose, more?: (j: Loose) => void) => readGood(held(hold, more)).hold;

describe('holding', () => {
  it('auto unless said', () => {
    expect(readGood(leverWith(() => {})).hold).toEqual({ by: 'auto' });
    expect(wish('auto')).toEqual({ by: 'auto' });
  });

  it('asked for another way, the stated drawer follows as if the job had asked, and a list of cutters stays', () => {
    const clear = (j: Loose) => {
      j.part.holes[0] = { at: [0, 0], clear: 'M4' };
    };
    const screws = readGood(held({ by: 'screws', through: [0], thread: 'M4' }, clear));
    const auto = readGood(held('auto', clear));
    expect(jobAsking(auto, screws.hold).cutters).toEqual(screws.cutters);
    expect(auto.cutters).not.toEqual(screws.cutters);
    const own = readGood(held('auto', (j) => (j.cutters = [{ number: 1, kind: 'end mill', diameter: 3 }])));
    expect(jobAsking(own, screws.hold).cutters).toBe(own.cutters);
  });

  it('tabs with nothing said leave everything to the program', () => {
    expect(wish({ by: 'tabs' })).toEqual({
      by: 'tabs',
      tabs: { count: null, width: null, height: null, lightenTo: null, at: null },
    });
  });

  it('places of tabs are brought onto the edge, and count themselves', () => {
    // The flank at x = 16 lies at y about 5.0; the drawing's 5.2 is meant for it.
    const job = readGood(
      held({
        by: 'tabs',
        tabs: {
          at: [
            [16, 5.2],
            [-6, 0.1],
          ],
        },
      }),
    );
    if (job.hold.by !== 'tabs') throw new Error('not tabs');
    expect(job.hold.tabs.count).toBe(2);
    for (const p of job.hold.tabs.at!) expect(distanceToLoop(job.part.outline.loop, p)).toBeLessThan(1e-9);
  });

  it('a forbidden stretch runs counter-clockwise, also over the start of the edge, and forbids nothing else', () => {
    const stretches: [from: number[], to: number[], allowed: number[][], forbidden: number[][]][] = [
      [
        [8, -5.5],
        [24, -4.5],
        [
          [16, 5],
          [-6, 0],
          [36, 0],
        ],
        [[16, -5]],
      ],
      // The edge begins at the lower flank's left end: this stretch passes it.
      [
        [-6, 0],
        [16, -5],
        [
          [16, 5],
          [24, -4.5],
          [36, 0],
        ],
        [
          [0, -6],
          [8, -5.5],
        ],
      ],
    ];
    for (const [from, to, allowed, forbidden] of stretches) {
      const free = (j: Loose) => (j.part.noTabs = [{ from, to }]);
      for (const at of allowed) expect(wish({ by: 'tabs', tabs: { at: [at] } }, free).by).toBe('tabs');
      for (const at of forbidden)
        expect(theFault(held({ by: 'tabs', tabs: { at: [at] } }, free)).code).toBe('tab-on-no-tab');
    }
  });

  it('glue stronger than catalogues allow for is questioned, not refused', () => {
    const told = (hold: Loose) => read(held(hold)).problems;
    expect(told({ by: 'glue', shear: 4, tension: 2 })).toEqual([]);
    expect(told({ by: 'glue', shear: 4.1, tension: 50 })).toMatchObject([
      { severity: 'caution', code: 'glue-bold', place: { path: 'hold.shear' } },
      { severity: 'caution', code: 'glue-bold', place: { path: 'hold.tension' } },
    ]);
  });

  it('floor, glue, screws, stub', () => {
    expect(wish({ by: 'floor' })).toEqual({ by: 'floor', thickness: 0.2 });
    expect(wish({ by: 'floor', thickness: 0.3 })).toEqual({ by: 'floor', thickness: 0.3 });
    const below = (j: Loose) => Object.assign(j.stock, { size: [75, 30, 4.3], measured: 4.3 });
    expect(wish({ by: 'floor' }, below)).toEqual({ by: 'floor', thickness: expect.closeTo(0.3, 9) });
    expect(wish({ by: 'glue' })).toEqual({ by: 'glue', shear: 2, tension: 1, wetted: 0.6 });
    expect(wish({ by: 'screws', through: [0], thread: 'M4' })).toEqual({
      by: 'screws',
      through: [0],
      thread: 'M4',
      tabs: null,
    });
    expect(wish({ by: 'screws', through: [0], thread: 'M4', tabs: { count: 1 } })).toMatchObject({
      tabs: { count: 1 },
    });
  });

  it('a stub on a boss stands where its direction leaves the boss', () => {
    const stub = wish({ by: 'stub', at: 0, direction: 180, width: 8 });
    if (stub.by !== 'stub') throw new Error('not a stub');
    expect(stub.at.x).toBeCloseTo(-6, 9);
    expect(stub.at.y).toBeCloseTo(0, 9);
    expect(Math.abs(stub.directionDeg)).toBeCloseTo(180, 9);
    expect(stub.width).toBe(8);
    expect(wish({ by: 'stub', at: [36, 0], direction: 0, width: 4 })).toMatchObject({ at: { x: 36, y: 0 } });
  });

  it('a stub stands square to the edge; a direction a little off is put right', () => {
    const stub = wish({ by: 'stub', at: [16, 5], direction: 90, width: 4 });
    if (stub.by !== 'stub') throw new Error('not a stub');
    // The flank of two bosses of 6 and 4 mm, 32 apart, leans by asin(2/32).
    expect(stub.directionDeg).toBeCloseTo(90 - (Math.asin(2 / 32) * 180) / Math.PI, 9);
  });
});

describe('holdings that cannot be', () => {
  it.each<[string, Loose, string, ((j: Loose) => void)?]>([
    ['tabs as tall as the part', { by: 'tabs', tabs: { height: 4 } }, 'tab-too-tall'],
    ['lightened to more', { by: 'tabs', tabs: { height: 0.4, lightenTo: 0.8 } }, 'tab-lighten'],
    [
      'more places than tabs',
      {
        by: 'tabs',
        tabs: {
          count: 1,
          at: [
            [-6, 0],
            [36, 0],
          ],
        },
      },
      'tab-count',
    ],
    ['a tab off the edge', { by: 'tabs', tabs: { at: [[16, 9]] } }, 'not-on-edge'],
    ['tabs all round', { by: 'tabs', tabs: { count: 10, width: 8 } }, 'tab-too-wide'],
    [
      'a tab on a forbidden boss',
      { by: 'tabs', tabs: { at: [[36, 0]] } },
      'tab-on-no-tab',
      (j) => (j.part.noTabs = [{ boss: 1 }]),
    ],
    [
      'a tab on a forbidden stretch',
      { by: 'tabs', tabs: { at: [[16, -5]] } },
      'tab-on-no-tab',
      (j) => (j.part.noTabs = [{ from: [8, -5.5], to: [24, -4.5] }]),
    ],
    [
      'a floor in the part over stock below it',
      { by: 'floor', thickness: 0.25 },
      'floor-twice',
      (j) => Object.assign(j.stock, { size: [75, 30, 4.3], measured: 4.3 }),
    ],
    ['floor as thick as the part', { by: 'floor', thickness: 4 }, 'floor-too-thick'],
    ['screws through no hole', { by: 'screws', through: [7], thread: 'M4' }, 'screw-hole-missing'],
    ['screws larger than the hole', { by: 'screws', through: [0], thread: 'M6' }, 'screw-hole-small'],
    ['screws of no known thread', { by: 'screws', through: [0], thread: 'M4.1' }, 'unknown-thread'],
    [
      'screws through a blind hole',
      { by: 'screws', through: [0], thread: 'M4' },
      'screw-hole-blind',
      (j) => (j.part.holes[0].depth = 2),
    ],
    ['the same hole twice', { by: 'screws', through: [0, 0], thread: 'M4' }, 'screw-hole-twice'],
    [
      'screws into a vice',
      { by: 'screws', through: [0], thread: 'M4' },
      'screws-without-plate',
      (j) => (j.under = { kind: 'vice' }),
    ],
    ['glue on acetal', { by: 'glue' }, 'glue-material', (j) => (j.material = 'POM')],
    ['glue to parallels', { by: 'glue' }, 'glue-without-plate', (j) => (j.under = { kind: 'parallels' })],
    ['a stub on no boss', { by: 'stub', at: 5, direction: 0, width: 4 }, 'stub-on-nothing'],
    ['a stub into the web', { by: 'stub', at: 0, direction: 0, width: 4 }, 'stub-on-nothing'],
    ['a stub off the edge', { by: 'stub', at: [60, 0], direction: 0, width: 4 }, 'not-on-edge'],
    ['a stub along the edge', { by: 'stub', at: [36, 0], direction: 90, width: 4 }, 'stub-direction'],
    ['a stub into the part', { by: 'stub', at: [36, 0], direction: 180, width: 4 }, 'stub-direction'],
    ['a stub wider than its boss', { by: 'stub', at: 1, direction: 0, width: 8.5 }, 'stub-too-wide'],
    [
      'a stub on a forbidden boss',
      { by: 'stub', at: 1, direction: 0, width: 4 },
      'stub-on-no-tab',
      (j) => (j.part.noTabs = [{ boss: 1 }]),
    ],
  ])('%s', (_, hold, code, more) => {
    const problem = theFault(held(hold, more));
    expect(problem.code).toBe(code);
    expect(problem.place.path).toMatch(/^hold/);
  });
});
