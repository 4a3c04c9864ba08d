/** Random pockets with islands: what is left on the floor, and how the cutter is engaged. */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../src/base/problem.ts';
import { orient } from '../../src/geometry/measure/loop.ts';
import { placeLoop } from '../../src/geometry/measure/transform.ts';
import type { Region } from '../../src/geometry/types.ts';
import type { Holding } from '../../src/hold/holding.ts';
import { readJob } from '../../src/part/read.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { readPost } from '../../src/write/post.ts';
import { writePrograms } from '../../src/write/write.ts';
import { shippedPost } from '../helpers.ts';
import { randomJob } from '../laws/random-job.ts';
import { runs, SEED } from '../runs.ts';
import { floorCoverage } from './coverage.ts';
import { engagements } from './engagement.ts';
import { abilities, type Cut, cutsOf, must } from './helpers.ts';

/** Nothing that a pocket's path looks at. */
const ON_GLUE = {
  ...{ by: 'glue', tabs: [], floor: null, screws: [], screwThread: null, glue: null, stubs: [], rail: 5, reasons: [] },
} as unknown as Holding;

interface Cleared {
  readonly region: Region;
  readonly cuts: readonly Cut[];
  readonly radius: number;
  readonly floor: number;
  readonly widthOfCut: number;
}

/** The pockets of a job, with the strokes of their operations as read back from the text. How the part is held does not matter here. */
function pocketsOf(text: string): Cleared[] {
  const job = must(readJob(text, 'job.json', { read: () => bad(fault('file-missing', '', '', '')) }));
  const plan = must(makePlan(job));
  const moves = must(makeMoves(job, plan, ON_GLUE, abilities('standard'), []));
  const programs = writePrograms(moves, must(readPost(shippedPost('standard'), 'standard')), 'pockets');
  return plan.setups[0]!.operations.flatMap((op): Cleared[] => {
    if (op.target.kind !== 'pocket') return [];
    const { outline, islands } = job.part.pockets[op.target.pocket]!;
    const radius = plan.cutters.find((c) => c.number === op.cutter)!.diameter / 2;
    const cuts = programs.flatMap((p) => {
      const span = p.operations.find((o) => o.id === op.id);
      return span ? cutsOf(p.text).filter((c) => c.block >= span.from && c.block <= span.to) : [];
    });
    const floor = op.depths[op.depths.length - 1]!;
    return op.target.parts.map((part) => {
      const place = job.places[part]!;
      const region = {
        outer: placeLoop(place, outline.loop),
        holes: islands.map((i) => orient(placeLoop(place, i.loop), 'cw')),
      };
      return { region, cuts, radius, floor, widthOfCut: op.widthOfCut };
    });
  });
}

/** The first jobs of the law that have a pocket. */
function* withPockets(count: number): Generator<Cleared> {
  let seen = 0;
  for (let i = 0; seen < count; i++) {
    const job = randomJob(SEED + i);
    if (!job.has.some((h) => ['pocket', 'polygon', 'island', 'slot', 'through'].includes(h))) continue;
    for (const p of pocketsOf(job.text)) {
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
    for (const p of withPockets(runs(150))) {
      const found = floorCoverage(p.region, p.cuts, p.radius, p.floor, 0.06);
      expect(found.points).toBeGreaterThan(500);
      worst = Math.max(worst, found.uncut / found.points);
      points += found.points;
      count++;
    }
    expect(count).toBeGreaterThanOrEqual(runs(150));
    expect(worst).toBeLessThan(1e-4);
    console.log(`pockets: ${count}, ${points} points, worst share uncut ${(100 * worst).toFixed(4)} %`);
  }, 120_000);

  it('a pass left out is seen as uncut floor', () => {
    let seen = 0;
    for (const p of withPockets(4)) {
      const half = p.cuts.slice(0, Math.floor(p.cuts.length / 2));
      seen += floorCoverage(p.region, half, p.radius, p.floor, 0.1).uncut;
    }
    expect(seen).toBeGreaterThan(100);
  });

  it('are planned for a full slot, and never engage more; the rest of the way is reported', () => {
    let strokes = 0;
    let heavy = 0;
    let peak = 0;
    for (const p of withPockets(runs(80))) {
      // Two steps of the rim, 5 degrees each, are the accuracy of the measure.
      for (const e of engagements(p.cuts, p.radius, p.floor, 0.3)) {
        strokes++;
        peak = Math.max(peak, e.degrees);
        if (e.degrees > 120) heavy++;
        expect(e.degrees).toBeLessThanOrEqual(190);
      }
    }
    expect(strokes).toBeGreaterThan(100);
    console.log(`engagement: ${strokes} level strokes, peak ${peak} degrees, ${heavy} over 120 degrees`);
  }, 120_000);
});
