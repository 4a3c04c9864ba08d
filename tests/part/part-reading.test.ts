/** Outlines, pockets, edge holes and edges without tabs: what is taken over, what is refused. */
import { describe, expect, it } from 'vitest';
import { loopArea } from '../../src/geometry/measure/loop.ts';
import { faults, type Loose, leverWith, read, readGood, theFault } from './jobs.ts';

const outline = (shape: Loose): Loose => ({ material: 'O1', part: { thickness: 3, outline: shape } });
const areaOf = (shape: Loose): number => loopArea(readGood(outline(shape)).part.outline.loop);

describe('outlines', () => {
  it('areas by hand: square, circle, slot, stadium of bulges, single boss', () => {
    expect(
      areaOf({
        vertices: [
          [0, 0],
          [10, 0],
          [10, 10],
          [0, 10],
        ],
      }),
    ).toBeCloseTo(100, 9);
    expect(
      areaOf({
        vertices: [
          [0, 10],
          [10, 10],
          [10, 0],
          [0, 0],
        ],
      }),
    ).toBeCloseTo(100, 9);
    expect(areaOf({ circle: { at: [3, 4], diameter: 20 } })).toBeCloseTo(100 * Math.PI, 9);
    expect(areaOf({ slot: { from: [0, 0], to: [10, 0], width: 4 } })).toBeCloseTo(40 + 4 * Math.PI, 9);
    // A bulge of 1 is a half circle.
    expect(
      areaOf({
        vertices: [
          [0, 0],
          [10, 0, 1],
          [10, 4],
          [0, 4, 1],
        ],
      }),
    ).toBeCloseTo(40 + 4 * Math.PI, 9);
    expect(areaOf({ bosses: [{ at: [0, 0], radius: 10 }] })).toBeCloseTo(100 * Math.PI, 9);
  });

  it('keeps what it was made from', () => {
    const { source } = readGood(leverWith((j) => (j.part.outline.fillet = 2))).part.outline;
    expect(source).toEqual({
      kind: 'bosses',
      bosses: [
        { at: { x: 0, y: 0 }, radius: 6 },
        { at: { x: 32, y: 0 }, radius: 4 },
      ],
      webs: [[0, 1]],
      fillet: 2,
    });
    expect(readGood(outline({ slot: { from: [0, 0], to: [10, 0], width: 4 } })).part.outline.source).toMatchObject({
      kind: 'slot',
      width: 4,
    });
  });

  const two = (a: Loose, b: Loose) => ({ bosses: [a, b] });
  it.each<[string, Loose, string]>([
    ['boss in boss', two({ at: [0, 0], radius: 10 }, { at: [1, 0], radius: 2 }), 'boss-inside-another'],
    [
      'web to no boss',
      {
        bosses: [
          { at: [0, 0], radius: 5 },
          { at: [20, 0], radius: 5 },
        ],
        webs: [[0, 2]],
      },
      'web-unknown-boss',
    ],
    [
      'web to itself',
      {
        bosses: [
          { at: [0, 0], radius: 5 },
          { at: [20, 0], radius: 5 },
        ],
        webs: [[1, 1]],
      },
      'web-to-itself',
    ],
    [
      'bosses apart',
      {
        bosses: [
          { at: [0, 0], radius: 5 },
          { at: [20, 0], radius: 5 },
          { at: [40, 0], radius: 5 },
        ],
        webs: [[0, 1]],
      },
      'bosses-apart',
    ],
    ['radius of nothing', two({ at: [0, 0], radius: 0 }, { at: [20, 0], radius: 2 }), 'out-of-range'],
    [
      'two corners',
      {
        vertices: [
          [0, 0],
          [10, 0],
        ],
      },
      'too-few-points',
    ],
    [
      'corners on a line',
      {
        vertices: [
          [0, 0],
          [10, 0],
          [20, 0],
        ],
      },
      'no-area',
    ],
    [
      'figure of eight',
      {
        vertices: [
          [0, 0],
          [10, 10],
          [10, 0],
          [0, 12],
        ],
      },
      'outline-unsound',
    ],
    ['slot of no length', { slot: { from: [0, 0], to: [0, 0], width: 4 } }, 'no-size'],
    ['half a metre', { circle: { at: [0, 0], diameter: 500 } }, 'part-too-large'],
    [
      'two shapes at once',
      { circle: { at: [0, 0], diameter: 5 }, slot: { from: [0, 0], to: [1, 0], width: 4 } },
      'unknown-key',
    ],
  ])('%s is refused', (_, shape, code) => {
    const problem = theFault(outline(shape));
    expect(problem.code).toBe(code);
    expect(problem.place.path).toMatch(/^part\.outline/);
    expect(problem.place.line).toBeGreaterThan(0);
  });

  it('points at the boss that is wrong', () => {
    const problem = theFault(
      outline({
        bosses: [
          { at: [0, 0], radius: 10 },
          { at: [1, 0], radius: 2 },
        ],
      }),
    );
    expect(problem.place.path).toContain('bosses[1]');
  });

  it('a drawing that is not there', () => {
    const problem = theFault(outline({ dxf: '../no/such.dxf', layer: '0' }));
    expect(problem.code).toBe('file-missing');
  });
});

describe('pockets', () => {
  const plate = (pockets: Loose[], holes: Loose[] = []): Loose => ({
    material: 'EN-AW-6082-T6',
    part: {
      thickness: 5,
      outline: {
        vertices: [
          [0, 0],
          [60, 0],
          [60, 40],
          [0, 40],
        ],
      },
      pockets,
      holes,
    },
  });
  const round = (x: number, y: number, diameter: number) => ({ circle: { at: [x, y], diameter } });

  it('blind and through, with an island and a hole in the floor', () => {
    const job = readGood(
      plate(
        [
          { outline: round(15, 20, 20), depth: 2, islands: [round(15, 20, 6)] },
          { outline: round(45, 20, 16), through: true },
        ],
        [
          { at: [15, 20], drill: 3 },
          { at: [15, 26.5], drill: 2 },
        ],
      ),
    );
    expect(job.part.pockets.map((p) => [p.depth, p.islands.length])).toEqual([
      [2, 1],
      [null, 0],
    ]);
  });

  it('a floor thinner than plates vary is told, not refused', () => {
    const told = (depth: number) => read(plate([{ outline: round(15, 20, 10), depth }])).problems.map((p) => p.code);
    expect(told(4.7)).not.toContain('pocket-floor-thin');
    expect(told(4.75)).toContain('pocket-floor-thin');
  });

  it.each<[string, Loose[], Loose[], string]>([
    ['no depth', [{ outline: round(15, 20, 10) }], [], 'pocket-depth'],
    ['both', [{ outline: round(15, 20, 10), depth: 1, through: true }], [], 'pocket-depth'],
    ['as deep as the part', [{ outline: round(15, 20, 10), depth: 5 }], [], 'pocket-too-deep'],
    ['wholly outside', [{ outline: round(90, 20, 10), depth: 1 }], [], 'pocket-outside'],
    ['round the part', [{ outline: round(30, 20, 100), depth: 1 }], [], 'pocket-outside'],
    ['thin wall', [{ outline: round(5.1, 20, 10), depth: 1 }], [], 'wall-too-thin'],
    [
      'two at once',
      [
        { outline: round(15, 20, 10), depth: 1 },
        { outline: round(20, 20, 10), depth: 1 },
      ],
      [],
      'pockets-overlap',
    ],
    [
      'one in the other',
      [
        { outline: round(15, 20, 20), depth: 1 },
        { outline: round(15, 20, 5), depth: 2 },
      ],
      [],
      'pockets-overlap',
    ],
    [
      'wall through a hole',
      [{ outline: round(15, 20, 10), depth: 1 }],
      [{ at: [20, 20], drill: 4 }],
      'pocket-over-hole',
    ],
    [
      'hole in an opening',
      [{ outline: round(15, 20, 10), through: true }],
      [{ at: [15, 20], drill: 2 }],
      'pocket-over-hole',
    ],
    [
      'island over the wall',
      [{ outline: round(15, 20, 10), depth: 1, islands: [round(20, 20, 4)] }],
      [],
      'island-outside',
    ],
    [
      'island in an opening',
      [{ outline: round(15, 20, 10), through: true, islands: [round(15, 20, 4)] }],
      [],
      'pocket-islands',
    ],
  ])('%s', (_, pockets, holes, code) => {
    expect(theFault(plate(pockets, holes)).code).toBe(code);
  });
});

describe('edge holes, chamfer, edges without tabs', () => {
  it('takes them over', () => {
    const job = readGood(
      leverWith((j) => {
        j.part.edgeHoles = [{ boss: 0, direction: 90, tap: 'M2', depth: 6 }];
        j.part.noTabs = [{ boss: 1 }, { from: [0, -6], to: [16, -5] }];
        j.part.chamfer = 0.3;
      }),
    );
    expect(job.part.edgeHoles[0]).toMatchObject({
      boss: 0,
      directionDeg: 90,
      diameter: 1.6,
      depth: 6,
      make: { kind: 'tap', thread: 'M2' },
    });
    expect(job.part.noTabs[0]).toEqual({ kind: 'boss', boss: 1 });
    expect(job.part.noTabs[1]).toMatchObject({ kind: 'stretch' });
    expect(job.part.chamfer).toBe(0.3);
  });

  it.each<[string, (j: Loose) => void, string]>([
    [
      'edge hole at no boss',
      (j) => (j.part.edgeHoles = [{ boss: 2, direction: 90, drill: 2, depth: 3 }]),
      'edge-hole-boss',
    ],
    [
      'edge hole into the web',
      (j) => (j.part.edgeHoles = [{ boss: 0, direction: 0, drill: 2, depth: 3 }]),
      'edge-hole-in-web',
    ],
    [
      'edge hole through the boss',
      (j) => (j.part.edgeHoles = [{ boss: 0, direction: 90, drill: 2, depth: 13 }]),
      'edge-hole-too-deep',
    ],
    [
      'edge hole as wide as the edge',
      (j) => (j.part.edgeHoles = [{ boss: 0, direction: 90, drill: 4, depth: 3 }]),
      'edge-hole-too-wide',
    ],
    ['edge hole of no kind', (j) => (j.part.edgeHoles = [{ boss: 0, direction: 90, depth: 3 }]), 'hole-recipe'],
    ['chamfer as tall as the part', (j) => (j.part.chamfer = 4), 'chamfer-too-large'],
    ['no tabs at no boss', (j) => (j.part.noTabs = [{ boss: 2 }]), 'no-tab-nowhere'],
    ['no tabs along nothing', (j) => (j.part.noTabs = [{ from: [-6, 0], to: [-6, 0] }]), 'no-tab-nowhere'],
    ['material of no table', (j) => (j.material = 'CuZn39Pb4'), 'unknown-material'],
  ])('%s', (_, change, code) => {
    expect(theFault(leverWith(change)).code).toBe(code);
  });

  it('offers the nearest material', () => {
    expect(theFault(leverWith((j) => (j.material = 'CuZn39Pb4'))).remedy).toContain('CuZn39Pb3');
  });

  it('no tabs away from the edge', () => {
    const all = faults(leverWith((j) => (j.part.noTabs = [{ from: [0, 0], to: [1, 1] }])));
    expect(all.map((p) => p.code)).toEqual(['not-on-edge', 'not-on-edge']);
  });
});
