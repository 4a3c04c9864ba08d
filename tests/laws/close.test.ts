/**
 * Copies close together and clamps close to them: whatever is made touches no copy and no clamp, with cutter, shank or holder; whatever
 * has no room is refused with its place and what to do. The judge walks the text in small steps and measures by itself.
 */
import { describe, expect, it } from 'vitest';
import { bad, fault } from '../../src/base/problem.ts';
import { checkPrograms } from '../../src/check/check.ts';
import { readProgram } from '../../src/check/language/read.ts';
import { loopGap } from '../../src/geometry/measure/distance.ts';
import { loopBox } from '../../src/geometry/measure/loop.ts';
import { placeLoop } from '../../src/geometry/measure/transform.ts';
import type { Job } from '../../src/part/part.ts';
import { readJob } from '../../src/part/read.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { readPost } from '../../src/write/post.ts';
import { writePrograms } from '../../src/write/write.ts';
import { shippedPost } from '../helpers.ts';
import { abilities, must, onThreeTabs } from '../paths/helpers.ts';
import { random, runs, SEED } from '../runs.ts';
import { randomLever } from './random-lever.ts';

const noFiles = { read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })) };

interface Close {
  readonly job: Job;
  /** Between the copies. */
  readonly gap: number;
  /** Between the third clamp and the part beside it. */
  readonly room: number;
}

/** A lever twice, the second turned and brought near; a clamp brought near the first. */
function close(seed: number): Close {
  const raw = JSON.parse(randomLever(seed).text);
  const r = random(seed + 3);
  raw.part.chamfer = 0.2;
  raw.cutters[0].shank = r() < 0.5 ? 6 : raw.cutters[0].diameter;
  for (const c of raw.cutters.slice(1)) c.stickOut = 45;
  raw.cutters.push({ number: 8, kind: 'chamfer cutter', diameter: 6, angle: 90, stickOut: 45 });
  raw.hold = { by: 'floor', thickness: 0.3 };
  const size = raw.stock.size[0];
  raw.stock.size = [2 * size, size, raw.part.thickness];
  raw.machine.travel = [600, 600, 200];
  raw.place = [raw.place[0]];
  raw.clamps = [
    { from: [0, 0], to: [4, size], height: 8 },
    { from: [2 * size - 4, 0], to: [2 * size, size], height: 8 },
  ];
  const first = must(readJob(JSON.stringify(raw), 'job.json', noFiles));
  const loop = placeLoop(first.places[0]!, first.part.outline.loop);
  const turn = Math.round(360 * r());
  const mirror = r() < 0.5;
  // One of the two close, by turns: else the copies are refused before the clamp is looked at.
  const wanted = seed % 2 === 0 ? 1 + 9 * r() : 12;
  const second = (x: number) => ({ at: [Math.round(x * 1000) / 1000, size / 2 + 2], turn, mirror });
  const gapAt = (x: number) =>
    loopGap(
      loop,
      placeLoop({ at: { x, y: size / 2 + 2 }, turn: (turn * Math.PI) / 180, mirror }, first.part.outline.loop),
    ).distance;
  // From far off towards the first until the gap is as wanted.
  let [near, far] = [size / 2, 1.5 * size];
  while (gapAt(far) < wanted) far += 5;
  for (let x = far; x > near; x -= 0.5) {
    if (gapAt(x) < wanted) {
      near = x;
      break;
    }
    far = x;
  }
  raw.place.push(second(far));
  const box = loopBox(loop);
  const room = seed % 2 === 0 ? 25 : 3.6 + 8 * r();
  const height = Math.round(4 + 12 * r());
  const edge = Math.round((box.minX - room) * 1000) / 1000;
  raw.clamps.push({ from: [edge - 10, box.minY], to: [edge, box.maxY], height });
  return { job: must(readJob(JSON.stringify(raw), 'job.json', noFiles)), gap: gapAt(second(far).at[0]!), room };
}

/** Least way between anything that turns and a clamp lower than its top; in steps of a fifth of a millimetre. */
function leastRoom(job: Job, texts: readonly string[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const m of texts.flatMap((t) => readProgram(t).moves)) {
    if (m.kind !== 'rapid' && m.kind !== 'feed' && m.kind !== 'arc') continue;
    const c = job.cutters.find((k) => k.number === m.tool);
    const { x: ax, y: ay, z: az } = m.from;
    const { x: bx, y: by, z: bz } = m.to;
    if (!c || ax === null || ay === null || az === null || bx === null || by === null || bz === null) continue;
    const at = (f: number): [number, number] => {
      if (m.kind !== 'arc') return [ax + (bx - ax) * f, ay + (by - ay) * f];
      const { x, y } = m.centre as { x: number; y: number };
      const a = Math.atan2(ay - y, ax - x) + m.sweep * f;
      const q = Math.hypot(ax - x, ay - y);
      return [x + q * Math.cos(a), y + q * Math.sin(a)];
    };
    const way =
      m.kind === 'arc'
        ? Math.hypot(ax - m.centre.x!, ay - m.centre.y!) * Math.abs(m.sweep)
        : Math.hypot(bx - ax, by - ay);
    const steps = Math.max(1, Math.ceil(way / 0.2));
    for (let i = 0; i <= steps; i++) {
      const [x, y] = at(i / steps);
      const z = az + ((bz - az) * i) / steps;
      for (const clamp of job.clamps) {
        if (clamp.kind !== 'block') continue;
        const away = Math.hypot(
          Math.max(clamp.min[0] - x, 0, x - clamp.max[0]),
          Math.max(clamp.min[1] - y, 0, y - clamp.max[1]),
        );
        const bodies = [
          [c.diameter / 2, 0],
          [c.shank / 2, c.fluteLength],
          [c.holder.diameter / 2, c.stickOut],
        ] as const;
        for (const [radius, from] of bodies) if (z + from < clamp.top) least = Math.min(least, away - radius);
      }
    }
  }
  return least;
}

describe('copies and clamps close together', () => {
  const count = runs(80);
  const seen = { made: 0, near: 0, clamp: 0 };

  it(`${count} of them: made and touching nothing, or refused with a place and what to do`, () => {
    for (let i = 0; i < count; i++) {
      const { job, gap, room } = close(SEED + i);
      const seed = `seed ${SEED + i}, gap ${gap.toFixed(3)}, clamp ${room.toFixed(3)}`;
      const plan = makePlan(job);
      if (!plan.ok) {
        const told = plan.problems.filter((p) => p.severity === 'fault');
        expect(
          told.map((p) => p.code),
          seed,
        ).toEqual(['copies-too-near']);
        expect(told[0]!.remedy).toMatch(/move one of them away by [\d.]+ mm/);
        expect(told[0]!.place.at, seed).toBeDefined();
        const slot = Number(told[0]!.wanted.match(/at least ([\d.]+) mm/)![1]);
        expect(gap, seed).toBeLessThan(slot);
        seen.near++;
        continue;
      }
      expect(gap, seed).toBeGreaterThan(plan.value.slotWidth - 1e-3);
      const holding = { ...onThreeTabs(job, plan.value), by: 'floor' as const, tabs: [], floor: 0.3 };
      const moves = makeMoves({ job, plan: plan.value, holding, post: abilities('standard'), cautions: [] });
      if (!moves.ok) {
        const told = moves.problems;
        expect(new Set(told.map((p) => p.code)), seed).toEqual(new Set(['clamp-in-way']));
        for (const p of told)
          expect(`${p.place.path} ${p.remedy}`, seed).toMatch(/^clamps\[\d\] move the clamp away .* by [\d.]+ mm/);
        // Nothing turns wider than a holder beyond the slot's far side.
        expect(room, seed).toBeLessThan(plan.value.slotWidth + 15 + 0.5);
        seen.clamp++;
        continue;
      }
      seen.made++;
      const programs = writePrograms(moves.value, must(readPost(shippedPost('standard'), 'standard')), job.name);
      expect(
        checkPrograms(programs, job).faults.map((f) => `${f.code} ${f.found}`),
        seed,
      ).toEqual([]);
      expect(
        leastRoom(
          job,
          programs.map((p) => p.text),
        ),
        seed,
      ).toBeGreaterThan(0.499);
    }
    console.log(`close: ${JSON.stringify(seen)}`);
    expect(Math.min(seen.made, seen.near, seen.clamp)).toBeGreaterThan(0);
  }, 300_000);
});
