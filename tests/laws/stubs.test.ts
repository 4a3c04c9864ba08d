/**
 * Random levers on stubs, two from a plate, one of them mirrored, from job to text. The judge is not the check: it looks at the
 * discs of the program's own moves, as read back. How well a stub holds has its own laws, and takes its time.
 */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../src/base/problem.ts';
import { toDeg, toRad } from '../../src/base/units.ts';
import { checkPrograms } from '../../src/check/check.ts';
import { loopLength, pointAlong } from '../../src/geometry/measure/loop.ts';
import { nearestOn } from '../../src/geometry/measure/segment.ts';
import { placeLoop, placePoint } from '../../src/geometry/measure/transform.ts';
import type { Holding } from '../../src/hold/holding.ts';
import { readJob } from '../../src/part/read.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { readPost } from '../../src/write/post.ts';
import { writePrograms } from '../../src/write/write.ts';
import { shippedPost } from '../helpers.ts';
import { abilities, type Cut, cutsOf, must, onThreeTabs } from '../paths/helpers.ts';
import { random, runs, SEED } from '../runs.ts';
import { randomLever } from './random-lever.ts';

const POSTS = ['standard', 'plain', 'lines'];

/** A random lever on a stub somewhere round the free side of its first boss, and its mirror image beside it. */
function onStub(seed: number): string {
  const job = JSON.parse(randomLever(seed).text);
  const r = random(seed + 7);
  const radius = job.part.outline.bosses[0].radius;
  const direction = Math.round(130 + 100 * r());
  const width = Math.round(10 * (2 + r() * (1.5 * radius - 2))) / 10;
  const bosses: { at: [number, number]; radius: number }[] = job.part.outline.bosses;
  const long = Math.ceil(Math.max(...bosses.map((b) => b.at[0] + b.radius)) + 48);
  job.stock.size = [long, 92, job.part.thickness];
  const turn = () => Math.round(8 * (r() - 0.5));
  job.place = [
    { at: [30, 24], turn: turn() },
    { at: [30, 68], turn: 180 + turn(), mirror: true },
  ];
  job.clamps = [
    { from: [0, 0], to: [8, 92], height: 12 },
    { from: [long - 8, 0], to: [long, 92], height: 12 },
  ];
  job.machine.travel = [500, 500, 200];
  job.part.chamfer = r() < 0.5 ? 0.2 : 0;
  for (const c of job.cutters) c.stickOut = c.number === 1 ? 18 : 45;
  job.cutters.push({ number: 8, kind: 'chamfer cutter', diameter: 6, angle: 90, stickOut: 30 });
  job.hold = { by: 'stub', at: 0, direction, width };
  return JSON.stringify(job);
}

function make(text: string, postName: string) {
  const job = must(
    readJob(text, 'job.json', { read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })) }),
  );
  const plan = must(makePlan(job));
  const { hold } = job;
  if (hold.by !== 'stub') throw new Error('not on a stub');
  const stubs = job.places.map((place, part) => ({
    part,
    at: placePoint(place, hold.at),
    directionDeg: (place.mirror ? 180 - hold.directionDeg : hold.directionDeg) + toDeg(place.turn),
    width: hold.width,
    footprint: hold.width,
  }));
  const holding: Holding = { ...onThreeTabs(job, plan), by: 'stub', tabs: [], stubs };
  const moves = must(makeMoves({ job, plan, holding, post: abilities(postName), cautions: [] }));
  const programs = writePrograms(moves, must(readPost(shippedPost(postName), postName)), job.name);
  return { job, plan, holding, programs, report: checkPrograms(programs, job) };
}

interface Found {
  /** Least clear distance from a stub's middle line, less half its width, over all stubs and both sides. */
  readonly flank: number;
  /** Thickest stock left on an edge outside the stubs. */
  readonly uncut: number;
}

function judge(made: ReturnType<typeof make>): Found {
  const finish = made.plan.setups[0]!.operations.find((o) => o.what === 'finish')!;
  const radius = made.plan.cutters.find((c) => c.number === finish.cutter)!.diameter / 2;
  const cuts = made.programs
    .flatMap((p) => {
      // One cutter a program needs no T word.
      const only = Number(p.text.match(/\(CUTTER (\d+)/)![1]);
      return cutsOf(p.text).filter((c) => (c.tool ?? only) === finish.cutter);
    })
    .filter((c) => Math.min(c.za, c.zb) < -0.01);
  const bottom = -made.job.part.thickness + 1e-3;
  const through = cuts.filter((c) => Math.max(c.za, c.zb) <= bottom);
  let flank = Number.POSITIVE_INFINITY;
  let uncut = 0;
  const stated = [...made.programs[0]!.text.matchAll(/HOLD stub .*FOOTPRINT ([\d.]+)/g)].map((m) => Number(m[1]));
  for (const stub of made.holding.stubs) {
    const out = { x: Math.cos(toRad(stub.directionDeg)), y: Math.sin(toRad(stub.directionDeg)) };
    // The strip of the stub, from where a round part's flanks begin to the far wall of the slot: no disc may reach it.
    for (let x = -0.4 * stub.width; x < made.plan.slotWidth; x += 0.1) {
      const side = (k: number) => ({
        x: stub.at.x + out.x * x - out.y * k * (stub.width / 2),
        y: stub.at.y + out.y * x + out.x * k * (stub.width / 2),
      });
      for (const p of [side(1), side(-1)]) flank = Math.min(flank, away(cuts, p) - radius);
    }
    const loop = placeLoop(made.job.places[stub.part]!, made.job.part.outline.loop);
    for (let s = 0; s < loopLength(loop); s += 0.2) {
      const p = pointAlong(loop, s)!.point;
      if (Math.hypot(p.x - stub.at.x, p.y - stub.at.y) < stated[stub.part]! - stub.width / 2) continue;
      uncut = Math.max(uncut, away(through, p) - radius);
    }
  }
  return { flank, uncut };
}

function away(cuts: readonly Cut[], p: { x: number; y: number }): number {
  return cuts.reduce((least, c) => Math.min(least, nearestOn(c.path, p).distance), Number.POSITIVE_INFINITY);
}

describe('levers on stubs', () => {
  const count = runs(30);
  it(`${count} pairs stand on exactly their stubs, and all else of their edges is cut`, () => {
    let flank = Number.POSITIVE_INFINITY;
    let slack = 0;
    let uncut = 0;
    for (let i = 0; i < count; i++) {
      const made = make(onStub(SEED + i), POSTS[i % 3]!);
      const seed = `seed ${SEED + i}`;
      expect(
        // How well it holds is not asked here.
        made.report.faults.filter((f) => f.code !== 'tabs-weak').map((f) => `${f.code} ${f.found}`),
        seed,
      ).toEqual([]);
      expect(
        made.holding.stubs.map((s) => s.part),
        seed,
      ).toEqual([0, 1]);
      expect(made.programs[0]!.text.match(/\(HOLD stub PART/g)?.length, seed).toBe(2);
      expect(
        made.report.proven.map((p) => p.what),
        seed,
      ).toEqual(expect.arrayContaining(['stubs', 'edge reached', 'still held']));
      const found = judge(made);
      flank = Math.min(flank, found.flank);
      slack = Math.max(slack, found.flank);
      uncut = Math.max(uncut, found.uncut);
    }
    console.log(
      `stubs: flanks ${flank.toFixed(4)} to ${slack.toFixed(4)} mm off, worst uncut edge ${uncut.toFixed(4)} mm`,
    );
    expect(flank).toBeGreaterThan(-0.01);
    expect(slack).toBeLessThan(0.03);
    expect(uncut).toBeLessThanOrEqual(0.01);
  }, 300_000);
});
