/** Shared by the tests of paths: samples up to their programs, and the strokes of a program as read back. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Outcome } from '../../src/base/problem.ts';
import { toDeg, toRad } from '../../src/base/units.ts';
import type { CanonicalMove } from '../../src/check/language/canonical.ts';
import { readProgram } from '../../src/check/language/read.ts';
import { RegionEdge } from '../../src/geometry/measure/approach.ts';
import { loopLength, pointAlong } from '../../src/geometry/measure/loop.ts';
import { dist } from '../../src/geometry/measure/point.ts';
import { arc, line } from '../../src/geometry/measure/segment.ts';
import { type Placement, placeLoop, placeRegion } from '../../src/geometry/measure/transform.ts';
import type { Loop, Segment } from '../../src/geometry/types.ts';
import type { Holding } from '../../src/hold/holding.ts';
import type { Job } from '../../src/part/part.ts';
import { readJob } from '../../src/part/read.ts';
import type { Moves, PostAbilities } from '../../src/paths/moves.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Plan } from '../../src/plan/plan.ts';
import { abilitiesOf, readPost } from '../../src/write/post.ts';
import type { WrittenProgram } from '../../src/write/program.ts';
import { writePrograms } from '../../src/write/write.ts';
import { ROOT, readBesides, shippedPost } from '../helpers.ts';

export interface Sample {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly moves: Moves;
  readonly programs: readonly WrittenProgram[];
}

/** A sample on three plain tabs of our own: what holds it is not the subject here, and the search for it takes its time. */
export function sample(name: string, postName = 'standard'): Sample {
  const text = readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8');
  const job = must(readJob(text, `${name}.json`, { read: readBesides(join(ROOT, 'samples')) }));
  const plan = must(makePlan(job));
  const post = must(readPost(shippedPost(postName), postName));
  const holding = onThreeTabs(job, plan);
  const moves = must(makeMoves({ job, plan, holding, post: abilitiesOf(post), cautions: [] }));
  return { job, plan, holding, moves, programs: writePrograms(moves, post, name) };
}

/** Footprints as the path leaves them on a straight edge; elsewhere they are shorter. */
export function onThreeTabs(job: Job, plan: Plan): Holding {
  const height = Math.min(0.8, job.part.thickness / 2);
  const rise = -job.part.thickness + height - plan.profileBottom;
  const ramps = rise / Math.tan(toRad(plan.tabRamp.upDeg)) + rise / Math.tan(toRad(plan.tabRamp.downDeg));
  const finishing = plan.setups[0]!.operations.find((o) => o.what === 'finish')!.cutter;
  const { diameter } = plan.cutters.find((c) => c.number === finishing)!;
  const tabs = job.places.flatMap((place, part) =>
    [0.1, 0.45, 0.8].map((share) => {
      const loop = placeLoop(place, job.part.outline.loop);
      const spot = spotBeside(loop, share * loopLength(loop), cutAway(plan, place));
      const directionDeg = toDeg(Math.atan2(-spot.direction.x, spot.direction.y));
      return {
        part,
        at: spot.point,
        directionDeg,
        width: 2,
        height,
        cutHeight: height,
        footprint: 2 + diameter + ramps,
      };
    }),
  );
  const bare = { floor: null, screws: [], screwThread: null, glue: null, stubs: [], rail: 5, reasons: [] };
  // The reckoning of forces is of no use to a path.
  return { by: 'tabs', tabs, ...bare } as unknown as Holding;
}

/** What the plan cuts away beside a part, where no tab would reach the frame. */
function cutAway(plan: Plan, place: Placement): readonly RegionEdge[] {
  return plan.setups[0]!.operations.flatMap(({ target }) =>
    target.kind === 'corners' ? target.areas.map((a) => new RegionEdge(placeRegion(place, a))) : [],
  );
}

/** The first place from `s` on that keeps off what is cut away. */
function spotBeside(loop: Loop, s: number, away: readonly RegionEdge[]) {
  for (let on = 0; on < loopLength(loop); on += 0.5) {
    const spot = pointAlong(loop, (s + on) % loopLength(loop))!;
    if (away.every((a) => a.signedDistance(spot.point) > OFF_CUT)) return spot;
  }
  throw new Error('no place for a tab');
}

/** Half a tab's waist and a millimetre. */
const OFF_CUT = 2;

export function must<T>(out: Outcome<T>): T {
  if (!out.ok) throw new Error(JSON.stringify(out.problems));
  return out.value;
}

export function abilities(name: string): PostAbilities {
  return abilitiesOf(must(readPost(shippedPost(name), name)));
}

export interface Cut {
  readonly path: Segment;
  readonly za: number;
  readonly zb: number;
  readonly tool: number | null;
  readonly block: number;
}

/** Feed moves of a text as read back. */
export function cutsOf(text: string): Cut[] {
  return readProgram(text).moves.flatMap(cutOf);
}

function cutOf(m: CanonicalMove): Cut[] {
  if (m.kind !== 'feed' && m.kind !== 'arc') return [];
  const { x: ax, y: ay, z: za } = m.from;
  const { x: bx, y: by, z: zb } = m.to;
  if (ax === null || ay === null || za === null || bx === null || by === null || zb === null) return [];
  const a = { x: ax, y: ay };
  const b = { x: bx, y: by };
  const rest = { za, zb, tool: m.tool, block: m.block };
  if (m.kind !== 'arc') return [{ path: line(a, b), ...rest }];
  const { x, y } = m.centre;
  if (x === null || y === null) return [];
  const centre = { x, y };
  const start = Math.atan2(a.y - y, a.x - x);
  return [{ path: { ...arc(centre, dist(a, centre), start, m.sweep), a, b }, ...rest }];
}

/** Counter-clockwise from its lower left corner. */
export function rectangle(x: number, y: number, wide: number, high: number): Loop {
  const corners = [
    { x, y },
    { x: x + wide, y },
    { x: x + wide, y: y + high },
    { x, y: y + high },
  ];
  return corners.map((a, i) => line(a, corners[(i + 1) % 4]!));
}

/** Counter-clockwise, as two halves that share their ends. */
export function circle(x: number, y: number, radius: number): Loop {
  const first = arc({ x, y }, radius, 0, Math.PI);
  const second = arc({ x, y }, radius, Math.PI, Math.PI);
  return [
    { ...first, b: second.a },
    { ...second, b: first.a },
  ];
}
