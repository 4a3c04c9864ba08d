/** Roughing as written turns inside corners on arcs of at least a fifth of the cutter's radius; its paths are walked as read back. */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../../src/base/problem.ts';
import { toDeg } from '../../../src/base/units.ts';
import { RegionEdge } from '../../../src/geometry/measure/approach.ts';
import { cross, dist, dot } from '../../../src/geometry/measure/point.ts';
import { directionAt, pointAt, segmentLength } from '../../../src/geometry/measure/segment.ts';
import { placeLoop } from '../../../src/geometry/measure/transform.ts';
import type { Holding } from '../../../src/hold/holding.ts';
import { readJob } from '../../../src/part/read.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { LEAST_ROUND_SHARE } from '../../../src/plan/plan.ts';
import { readPost } from '../../../src/write/post.ts';
import { writePrograms } from '../../../src/write/write.ts';
import { shippedPost } from '../../helpers.ts';
import { abilities, type Cut, cutsOf, must } from '../helpers.ts';

const ON_GLUE = {
  ...{ by: 'glue', tabs: [], floor: null, screws: [], screwThread: null, glue: null, stubs: [], rail: 5, reasons: [] },
} as unknown as Holding;

/** An L with a notch, a step of 20 degrees and a tight hollow: outline corners of 90, 120 and 160 degrees. */
const PART = {
  vertices: [
    [0, 0],
    [60, 0],
    [60, 14],
    [44, 18],
    [30, 18],
    [24, 30],
    [24, 44, -0.5],
    [20, 44],
    [14, 44],
    [14, 36],
    [6, 36],
    [6, 44],
    [0, 44],
  ],
};
/** Corners of 90, 60 and 135 degrees. */
const POCKET = {
  vertices: [
    [4, 3],
    [26, 3],
    [26, 11],
    [18, 15],
    [10, 15],
  ],
};

interface Roughed {
  readonly cuts: readonly Cut[];
  readonly radius: number;
  readonly climb: boolean;
}

function made(direction: 'climb' | 'conventional') {
  const text = JSON.stringify({
    name: 'corners',
    material: 'EN-AW-6082-T6',
    part: { thickness: 2, outline: PART, pockets: [{ outline: POCKET, depth: 1 }] },
    stock: { size: [150, 110, 2] },
    place: [{ at: [40, 30] }],
    cutters: [{ number: 1, kind: 'end mill', diameter: 3, flutes: 2, fluteLength: 9, stickOut: 18, shank: 3 }],
    finish: { direction },
    hold: { by: 'glue', shear: 8, tension: 4 },
  });
  const job = must(
    readJob(text, 'job.json', { read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })) }),
  );
  const plan = must(makePlan(job));
  const all = must(makeMoves({ job, plan, holding: ON_GLUE, post: abilities('standard'), cautions: [] }));
  const [program] = writePrograms(all, must(readPost(shippedPost('standard'), 'standard')), 'corners');
  return { job, plan, all, program };
}

const MADE = { climb: made('climb'), conventional: made('conventional') };

function roughed(what: 'rough' | 'pocket', direction: 'climb' | 'conventional'): Roughed {
  const { job, plan, program } = MADE[direction];
  const ids = plan.setups[0]!.operations.filter((o) => o.what === what).map((o) => o.id);
  const spans = program!.operations.filter((o) => ids.includes(o.id));
  const allowance = plan.setups[0]!.operations.find((o) => o.what === what)!.allowance;
  const wall = new RegionEdge({ outer: placeLoop(job.places[0]!, job.part.pockets[0]!.outline.loop), holes: [] });
  // Of a pocket, what runs along its wall with the allowance left: links in the middle turn where it is open, the last pass goes into corners.
  const rough = (c: Cut) => {
    const off = -wall.signedDistance(pointAt(c.path, 0.5));
    return what === 'rough' || (off > 1.5 + allowance - 0.01 && off < 1.5 + allowance + 0.01);
  };
  const cuts = cutsOf(program!.text).filter((c) => spans.some((s) => c.block >= s.from && c.block <= s.to) && rough(c));
  return { cuts, radius: 1.5, climb: plan.climb };
}

/** Turns towards the work, degrees, and radii of arcs that bend to it. A pocket's work lies outside its path, the part's inside. */
function corners({ cuts, climb }: Roughed, side: 1 | -1): { sharpest: number; tightest: number; turns: number } {
  // Climb milling has the work on the right.
  const away = climb ? 1 : -1;
  let [sharpest, tightest, turns] = [0, Infinity, 0];
  for (const [i, c] of cuts.entries()) {
    const { path } = c;
    if (path.kind === 'arc' && Math.sign(path.sweep) === away * side) {
      tightest = Math.min(tightest, path.radius);
      turns++;
    }
    const next = cuts[i + 1];
    if (
      next === undefined ||
      next.block !== c.block + 1 ||
      dist(next.path.a, path.b) > 1e-6 ||
      dist(path.a, path.b) === 0
    )
      continue;
    if (Math.min(segmentLength(path), segmentLength(next.path)) < SHORT) continue;
    const [out, into] = [directionAt(path, 1), directionAt(next.path, 0)];
    sharpest = Math.max(sharpest, away * side * toDeg(Math.atan2(cross(out, into), dot(out, into))));
  }
  return { sharpest, tightest, turns };
}

/** Coordinates are written to a ten thousandth: over pieces no shorter than this a direction is off by under a degree. */
const SHORT = 0.02;
const WRITTEN_DEG = 1;

describe('inside corners of roughing as written', () => {
  it.each(['climb', 'conventional'] as const)('round a part, %s', (direction) => {
    const way = roughed('rough', direction);
    const { sharpest, tightest, turns } = corners(way, 1);
    expect(way.cuts.length).toBeGreaterThan(30);
    expect(turns).toBeGreaterThan(6);
    expect(sharpest).toBeLessThan(WRITTEN_DEG);
    expect(tightest).toBeGreaterThan(LEAST_ROUND_SHARE * way.radius - 1e-3);
  });

  it.each(['climb', 'conventional'] as const)('in a pocket, %s', (direction) => {
    const way = roughed('pocket', direction);
    const { sharpest, tightest, turns } = corners(way, 1);
    expect(way.cuts.length).toBeGreaterThan(30);
    expect(turns).toBeGreaterThan(6);
    expect(sharpest).toBeLessThan(WRITTEN_DEG);
    expect(tightest).toBeGreaterThan(LEAST_ROUND_SHARE * way.radius - 1e-3);
  });
});
