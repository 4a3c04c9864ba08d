/** Random pockets with islands: what is left on the floor, and how the cutter is engaged. */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../../src/base/problem.ts';
import { toDeg } from '../../../src/base/units.ts';
import { RegionEdge } from '../../../src/geometry/measure/approach.ts';
import { orient } from '../../../src/geometry/measure/loop.ts';
import { dist } from '../../../src/geometry/measure/point.ts';
import { placeLoop } from '../../../src/geometry/measure/transform.ts';
import type { Point, Region } from '../../../src/geometry/types.ts';
import type { Holding } from '../../../src/hold/holding.ts';
import { readJob } from '../../../src/part/read.ts';
import type { Bite, Declared } from '../../../src/paths/moves.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { SLOT_FIRST_SHARE } from '../../../src/plan/plan.ts';
import { readPost } from '../../../src/write/post.ts';
import { writePrograms } from '../../../src/write/write.ts';
import { shippedPost } from '../../helpers.ts';
import { randomJob } from '../../laws/random-job.ts';
import { random, runs, SEED } from '../../runs.ts';
import { floorCoverage } from '../coverage.ts';
import { type Before, engagements, RIM_STEP } from '../engagement.ts';
import { abilities, type Cut, cutsOf, must } from '../helpers.ts';

/** Nothing that a pocket's path looks at. */
const ON_GLUE = {
  ...{ by: 'glue', tabs: [], floor: null, screws: [], screwThread: null, glue: null, stubs: [], rail: 5, reasons: [] },
} as unknown as Holding;

interface Cleared {
  readonly region: Region;
  readonly cuts: readonly (Cut & { readonly declared: Declared | undefined })[];
  readonly radius: number;
  readonly floor: number;
  /** Degrees, as the plan states it. */
  readonly limit: number;
  readonly allowance: number;
  readonly bite: Bite;
  /** What a wider cutter had cleared. */
  readonly before: Before | null;
}

/** The pockets of a job, with the strokes of their operations as read back from the text. How the part is held does not matter here. */
function pocketsOf(text: string): readonly Cleared[] {
  const known = cleared.get(text) ?? clear(text);
  cleared.set(text, known);
  return known;
}

/** Several laws look at the same jobs. */
const cleared = new Map<string, readonly Cleared[]>();

function clear(text: string): readonly Cleared[] {
  const job = must(
    readJob(text, 'job.json', { read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })) }),
  );
  const plan = must(makePlan(job));
  const all = must(makeMoves({ job, plan, holding: ON_GLUE, post: abilities('standard'), cautions: [] }));
  const programs = writePrograms(all, must(readPost(shippedPost('standard'), 'standard')), 'pockets');
  const wide = new Map<number, Before>();
  return plan.setups[0]!.operations.flatMap((op): Cleared[] => {
    if (op.target.kind !== 'pocket') return [];
    const before = wide.get(op.target.pocket) ?? null;
    expect(before === null).toBe(op.target.after === null);
    const { outline, islands } = job.part.pockets[op.target.pocket]!;
    const radius = plan.cutters.find((c) => c.number === op.cutter)!.diameter / 2;
    const cuts = programs.flatMap((p, n) => {
      const span = p.operations.find((o) => o.id === op.id);
      const moves = all.programs[n]!.moves;
      return span
        ? cutsOf(p.text).flatMap((c) => {
            if (c.block < span.from || c.block > span.to) return [];
            const move = moves[p.moveOfLine[c.block - 1]!]!;
            return [{ ...c, declared: 'as' in move ? move.as : undefined }];
          })
        : [];
    });
    wide.set(op.target.pocket, { cuts, radius });
    const bite = all.bites.find((b) => b.operation === op.id)!;
    const floor = op.depths[op.depths.length - 1]!;
    return op.target.parts.map((part) => {
      const place = job.places[part]!;
      const region = {
        outer: placeLoop(place, outline.loop),
        holes: islands.map((i) => orient(placeLoop(place, i.loop), 'cw')),
      };
      return { region, cuts, radius, floor, limit: toDeg(op.engagement), allowance: op.allowance, bite, before };
    });
  });
}

/** The first jobs of the law that have a pocket. */
function* withPockets(count: number): Generator<Cleared> {
  let seen = 0;
  for (let i = 0; seen < count; i++) {
    const job = randomJob(SEED + i);
    if (!job.has.some((h) => ['pocket', 'polygon', 'island', 'slot', 'through'].includes(h))) continue;
    // How the part is held and what lies beneath do not matter, and glue and tables refuse some jobs.
    for (const p of pocketsOf(JSON.stringify({ ...JSON.parse(job.text), hold: 'auto', under: undefined }))) {
      seen++;
      yield p;
    }
  }
}

describe('pockets', () => {
  it('leave under 0.01 % of the floor that the cutter can reach', () => {
    let points = 0;
    let worst = 0;
    let count = 0;
    for (const p of withPockets(runs(100))) {
      const found = floorCoverage(p.region, p.cuts, p.radius, p.floor, 0.06, p.before);
      expect(found.points).toBeGreaterThan(500);
      worst = Math.max(worst, found.uncut / found.points);
      points += found.points;
      count++;
    }
    expect(count).toBeGreaterThanOrEqual(runs(100));
    expect(worst).toBeLessThan(1e-4);
    console.log(`pockets: ${count}, ${points} points, worst share uncut ${(100 * worst).toFixed(4)} %`);
  }, 120_000);

  it('a pass left out is seen as uncut floor', () => {
    let seen = 0;
    for (const p of withPockets(4)) {
      const half = p.cuts.slice(0, Math.floor(p.cuts.length / 2));
      seen += floorCoverage(p.region, half, p.radius, p.floor, 0.1, p.before).uncut;
    }
    expect(seen).toBeGreaterThan(100);
  });

  it('engage the cutter by no more than the stated limit outside declared entries and slots, and say how much', () => {
    let strokes = 0;
    let declared = 0;
    let slots = 0;
    let above = 0;
    let peak = 0;
    let count = 0;
    for (const p of [...withPockets(runs(40)), ...necked(runs(20))]) {
      count++;
      let own = 0;
      for (const e of engagements(p.cuts, p.radius, p.floor, 0.4, p.before)) {
        const as = p.cuts[e.stroke]!.declared;
        strokes++;
        if (as !== undefined) declared++;
        if (as === 'slot' && e.degrees > p.limit + RIM_STEP) {
          slots++;
          expect(hasRoom(p, e.at), JSON.stringify(e)).toBe(false);
        }
        if (as === undefined) {
          own = Math.max(own, e.degrees);
          expect(e.degrees, JSON.stringify(e)).toBeLessThanOrEqual(p.limit + RIM_STEP);
        }
      }
      expect(own).toBeLessThanOrEqual(toDeg(p.bite.peak) + RIM_STEP);
      above += toDeg(p.bite.peak) - own;
      peak = Math.max(peak, own);
    }
    // Places are looked at 0.4 mm apart here and never at the ends of strokes, where short peaks are: 12.5 degrees are missed on average.
    expect(above / count).toBeLessThan(20);
    expect(strokes).toBeGreaterThan(100 * runs(20));
    expect(declared).toBeGreaterThan(count);
    expect(slots).toBeGreaterThan(runs(20));
    console.log(
      `engagement: ${count} pockets, ${strokes} level strokes, peak ${peak} degrees, ${declared} declared, ${slots} slots, stated peaks above measured by ${(above / count).toFixed(1)}`,
    );
  }, 120_000);

  it('a slot that is not declared is seen', () => {
    const seen = [...withPockets(3)].map((p) => {
      const half = p.cuts.filter((_, i) => i % 4 !== 1);
      return engagements(half, p.radius, p.floor, 0.4, p.before).filter((e) => e.degrees > p.limit + RIM_STEP).length;
    });
    expect(seen.reduce((a, b) => a + b)).toBeGreaterThan(0);
  });

  it('corners and a neck that the first cutter leaves are cut by a smaller one, there and nowhere else', () => {
    const [first, rest, ...more] = pocketsOf(
      pocketJob({ vertices: TWO_ROOMS }, [{ number: 1, kind: 'end mill', diameter: 3 }]),
    );
    expect(more).toEqual([]);
    expect([first!.radius, rest!.radius]).toEqual([3, 1.5]);
    const alone = floorCoverage(first!.region, [], 1.5, first!.floor, 0.06, first!);
    const both = floorCoverage(rest!.region, rest!.cuts, 1.5, rest!.floor, 0.06, rest!.before);
    expect(alone.uncut).toBeGreaterThan(1000);
    expect(both.uncut).toBe(0);
    const bites = engagements(rest!.cuts, 1.5, rest!.floor, 0.4, rest!.before).filter((e) => e.degrees > RIM_STEP);
    expect(bites.length).toBeGreaterThan(20);
    // Plate and programs are 30, 15 apart.
    const corners = TWO_ROOMS.map(([x, y]) => ({ x: x! + 30, y: y! + 15 }));
    for (const { at } of bites) {
      const inNeck = at.x > 45 && at.x < 55;
      expect(inNeck || Math.min(...corners.map((c) => dist(c, at))) < 4, JSON.stringify(at)).toBe(true);
    }
  });

  it('an arm as wide as the cutter is a slot, and declared', () => {
    const p = pocketsOf(pocketJob({ vertices: keyhole(2.02) }, [{ number: 1, kind: 'end mill', diameter: 2 }])).at(-1);
    expect(p!.bite.slots).toBeGreaterThan(5);
    const wide = engagements(p!.cuts, p!.radius, p!.floor, 0.3, p!.before).filter(
      (e) => e.degrees > p!.limit + RIM_STEP,
    );
    expect(wide.length).toBeGreaterThan(0);
    for (const e of wide) expect(p!.cuts[e.stroke]!.declared).toBeDefined();
  });
});

/** Room for loops within a radius of a place: no slot is needed there. Looked for on a grid, by distances to the walls alone. */
function hasRoom({ region, radius, allowance }: Cleared, at: Point): boolean {
  const edge = new RegionEdge(region);
  const need = radius * (1 + SLOT_FIRST_SHARE) + allowance;
  const grid = Array.from({ length: 21 }, (_, i) => (i / 10 - 1) * radius);
  return grid.some((dx) =>
    grid.some((dy) => Math.hypot(dx, dy) <= radius && edge.signedDistance({ x: at.x + dx, y: at.y + dy }) <= -need),
  );
}

/** Wide enough for a 6 mm cutter, the neck between them for one of 3 mm. */
const TWO_ROOMS = [
  [4, 6],
  [16, 6],
  [16, 11],
  [24, 11],
  [24, 6],
  [38, 6],
  [38, 20],
  [24, 20],
  [24, 15],
  [16, 15],
  [16, 20],
  [4, 20],
];

/** A room 10 mm square with an arm 8 mm long. */
function keyhole(arm: number): number[][] {
  const [low, high] = [15 - arm / 2, 15 + arm / 2];
  return [
    [10, 10],
    [20, 10],
    [20, low],
    [28, low],
    [28, high],
    [20, high],
    [20, 20],
    [10, 20],
  ];
}

/** Two rooms joined by a neck, wide and narrow: the width runs from a little over the cutter's to twice that. */
function* necked(count: number): Generator<Cleared> {
  const next = random(SEED);
  for (let i = 0; i < count; i++) {
    const half = Math.round(100 * (0.6 + 1.4 * next())) / 100;
    const far = Math.round(10 * (26 + 6 * next())) / 10;
    const vertices = [
      [10, 10],
      [20, 10],
      [20, 15 - half],
      [far, 15 - half],
      [far, 9],
      [far + 9, 11],
      [far + 9, 19],
      [far, 21],
      [far, 15 + half],
      [20, 15 + half],
      [20, 20],
      [10, 20],
    ];
    yield* pocketsOf(pocketJob({ vertices }, [{ number: 1, kind: 'end mill', diameter: 2, flutes: 2, shank: 6 }]));
  }
}

/** One plate with one pocket. */
function pocketJob(outline: object, mills: readonly object[]): string {
  return JSON.stringify({
    name: 'pocket',
    material: 'EN-AW-6082-T6',
    part: {
      thickness: 4,
      outline: {
        vertices: [
          [0, 0],
          [48, 0],
          [48, 30],
          [0, 30],
        ],
      },
      pockets: [{ outline, depth: 1 }],
    },
    stock: { size: [110, 60, 4] },
    machine: { travel: [400, 400, 250] },
    place: [{ at: [30, 15] }],
    cutters: [...mills, { number: 9, kind: 'end mill', diameter: 6 }],
    hold: { by: 'glue', shear: 8, tension: 4 },
  });
}
