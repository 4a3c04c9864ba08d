/** Pages for the tests: the hand-made lever of tests/check, good or spoiled, and long made-up paths. */

import { checkPrograms } from '../../../src/check/check.ts';
import { readProgram } from '../../../src/check/language/read.ts';
import { readHead } from '../../../src/check/program/head.ts';
import type { Course } from '../../../src/course/course.ts';
import type { Job } from '../../../src/part/part.ts';
import { type ViewProgramInput, viewData } from '../../../src/show/page/data/make-view-data.ts';
import type { PageReader, ReadMove } from '../../../src/show/page/data/read-program.ts';
import type { ViewData } from '../../../src/show/page/data/view-data.ts';
import { type Knobs, leverJob, leverProgram } from '../../check/lever.ts';

export const checkReader: PageReader = (text, file) => {
  const r = readProgram(text, { file, unknownAfterStop: true });
  return { moves: r.moves, head: readHead(r.comments, r.last.units) };
};

export function leverView(knobs: Knobs = {}, course: Course | null = null, job: Job | null = leverJob()): ViewData {
  const programs = [{ file: 'lever.ngc', text: leverProgram(knobs) }];
  return pageData(programs, job, course);
}

export function pageData(
  texts: readonly { readonly file: string; readonly text: string }[],
  job: Job | null,
  course: Course | null = null,
): ViewData {
  const programs: ViewProgramInput[] = texts.map((t) => ({ ...t, setup: 0, operations: [] }));
  const report = checkPrograms(texts, job);
  return viewData({ name: 'lever.ngc', job, plan: null, holding: null, programs, report, course, read: checkReader });
}

/** Loops that creep over the lever's plate at slowly falling depth, in `count` short straight moves. Not a real program. */
export function longView(count: number, withText: boolean): ViewData {
  const moves: ReadMove[] = [];
  let from = place(0, count);
  for (let i = 1; i <= count; i++) {
    const to = place(i, count);
    moves.push({ kind: 'feed', block: i, from, to, tool: 1, feed: 300 });
    from = to;
  }
  const line = (m: ReadMove) => `G1 X${m.to.x!.toFixed(4)} Y${m.to.y!.toFixed(4)} Z${m.to.z!.toFixed(4)}`;
  const text = withText ? moves.map(line).join('\n') : '\n'.repeat(count);
  const head = checkReader(leverProgram(), 'lever.ngc').head;
  const report = { ...checkPrograms([], null) };
  const programs = [{ file: 'long.ngc', text, setup: 0, operations: [] }];
  const read: PageReader = () => ({ moves, head });
  return viewData({ name: 'long', job: null, plan: null, holding: null, programs, report, course: null, read });
}

function place(i: number, count: number) {
  const turn = (i * 2 * Math.PI) / 400;
  const r = 6 + 3 * Math.sin(i / 977);
  const along = i / count;
  return {
    x: 12 + 50 * along + r * Math.cos(turn),
    y: 15 + r * Math.sin(turn),
    // Level stretches: a ramp of every move is no milling program.
    z: -0.5 - 3 * (Math.floor(along * 10) / 10),
  };
}

/** A course with a figure for every feed block: margin falls and movement grows towards one known block. */
export function madeUpCourse(view: ViewData, worst: number): Course {
  const blocks: Course['programs'][number]['blocks'][number][] = [];
  const lines = view.programs[0]!.lines;
  let start = 0;
  for (let block = 10; block < lines - 2; block++) {
    const near = 1 / (1 + Math.abs(block - worst) / 3);
    blocks.push({
      block,
      start,
      seconds: 2,
      force: 40,
      power: 60,
      margin: 8 - 6.5 * near,
      wantedMargin: 2,
      movement: 0.004 + 0.03 * near,
      wantedMovement: 0.02,
      cutterDeflection: 0.004,
    });
    start += 2;
  }
  const found = { program: 0, block: worst, at: [22, 9] as const, state: 'cut through' };
  return {
    programs: [{ seconds: start, blocks }],
    margin: { ...found, least: 1.5, wanted: 2 },
    movement: { ...found, most: 0.034, wanted: 0.02, upwards: false },
    cutterDeflection: 0.004,
    together: 1.9,
    modes: [900],
    rhythm: [],
  };
}
