/**
 * The input of a sheet without the search for places and the check, which have tests of their own: tabs stand at even
 * thirds round each part, and the report is written by hand. Everything else is what the stages make.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describeProblem, type Outcome } from '../../../src/base/problem.ts';
import { toDeg } from '../../../src/base/units.ts';
import type { Report } from '../../../src/check/report.ts';
import type { Course } from '../../../src/course/course.ts';
import { loopLength, pointAlong } from '../../../src/geometry/measure/loop.ts';
import { placeLoop } from '../../../src/geometry/measure/transform.ts';
import type { Tab } from '../../../src/hold/holding.ts';
import type { Job } from '../../../src/part/part.ts';
import { readJob } from '../../../src/part/read.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import type { SheetInput } from '../../../src/show/sheet/sheet.ts';
import { abilitiesOf, readPost } from '../../../src/write/post.ts';
import { writePrograms } from '../../../src/write/write.ts';
import { ROOT, readBesides, shippedPost } from '../../helpers.ts';

export const SAMPLES = readdirSync(join(ROOT, 'samples'))
  .filter((f) => f.endsWith('.json'))
  .map((f) => f.replace(/\.json$/, ''))
  .sort();

export function sampleText(name: string): string {
  return readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8');
}

export function quickInput(text: string, options: { post?: string; course?: boolean } = {}): SheetInput {
  const job = must(readJob(text, 'job.json', { read: readBesides(join(ROOT, 'samples')), post: options.post }));
  const plan = must(makePlan(job));
  const holding = {
    ...{ by: 'tabs' as const, floor: null, screws: [], screwThread: null, glue: null, stubs: [] },
    tabs: thirds(job),
    rail: 5.5,
    reasons: ['three tabs at even thirds, for a test'],
    evaluation: { parts: [], moments: [], modes: [], slotWidth: plan.slotWidth, hollow: false },
  };
  const post = must(readPost(shippedPost(options.post ?? 'standard'), 'posts'));
  const moves = must(makeMoves({ job, plan, holding, post: abilitiesOf(post), cautions: ['CAUTION: a test.'] }));
  const programs = writePrograms(moves, post, job.name);
  const course = options.course ? evenCourse(programs) : null;
  return { job, plan, holding, moves, programs, report: REPORT, told: [], course, alternatives: ALTERNATIVES };
}

/** A second a line, so that the time of an operation is its number of lines. */
function evenCourse(programs: SheetInput['programs']): Course {
  const found = { program: 0, block: 100, at: [20, 10] as const, state: 'cut through' };
  return {
    margin: { ...found, least: 2.5, wanted: 2 },
    movement: { ...found, block: 99, most: 0.013, wanted: 0.02, upwards: true },
    ...{ cutterDeflection: 0.008, together: 0.9, modes: [4000] },
    rhythm: [{ operation: 0, passing: 166, harmonic: 2, magnification: 1.1, chatter: 'low', says: 'chatter: low' }],
    programs: programs.map((p) => {
      const lines = p.text.split('\n').length;
      const blocks = Array.from({ length: lines }, (_, i) => ({
        ...{ block: i + 1, start: i, seconds: 1, force: 0, power: 0, cutterDeflection: 0 },
        ...{ margin: null, wantedMargin: null, movement: null, wantedMovement: null },
      }));
      return { seconds: lines, blocks };
    }),
  };
}

function thirds(job: Job): Tab[] {
  return job.places.flatMap((place, part) => {
    const loop = placeLoop(place, job.part.outline.loop);
    return [0.17, 0.5, 0.83].map((f) => {
      const spot = pointAlong(loop, f * loopLength(loop))!;
      const directionDeg = toDeg(Math.atan2(-spot.direction.x, spot.direction.y));
      const height = Math.min(0.8, job.part.thickness / 2);
      return { part, at: spot.point, directionDeg, width: 1.5, height: height / 2, cutHeight: height, footprint: 7 };
    });
  });
}

const ALTERNATIVES: SheetInput['alternatives'] = [
  {
    ...{ by: 'floor', name: 'floor 0.2', possible: true, cutterDeflection: 0.008 },
    ...{ margin: { least: 1.234, wanted: 2 }, movement: { most: 0.03, wanted: 0.02 } },
    ...{ effortMinutes: 12, stopMinutes: 0, verdict: 'lifts as the last pass goes through', reasons: [] },
  },
];

const REPORT: Report = {
  ...{ faults: [], cautions: [], notes: [], envelope: null, cutters: [], seconds: 440.3 },
  proven: [{ what: 'gouge', within: 0.001, errs: 'safe', says: 'every stroke stays outside the wanted part' }],
  notProven: [{ what: 'uncut stock', why: 'a program is absent' }],
};

function must<T>(out: Outcome<T>): T {
  if (out.ok) return out.value;
  throw new Error(out.problems.map(describeProblem).join('\n'));
}
