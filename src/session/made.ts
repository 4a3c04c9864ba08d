/** From plan and holding to checked programs, with all that sheet, page and plan file show. */
import { good, type Outcome, type Problem } from '../base/problem.ts';
import { checkPrograms } from '../check/check.ts';
import type { Report } from '../check/report.ts';
import type { Course } from '../course/course.ts';
import { courseOf } from '../course/course-of.ts';
import type { Holding, HoldScore } from '../hold/holding.ts';
import type { Job } from '../part/part.ts';
import type { Moves } from '../paths/moves.ts';
import { makeMoves } from '../paths/paths.ts';
import { withEdgeHoles } from '../plan/edge/edge-plan.ts';
import type { Plan } from '../plan/plan.ts';
import { abilitiesOf, type Post } from '../write/post.ts';
import type { WrittenProgram } from '../write/program.ts';
import { writePrograms } from '../write/write.ts';
import { alternatives } from './compare.ts';
import { type Context, named } from './context.ts';
import { EDGE_CAUTIONS, headCautions } from './head-cautions.ts';
import type { Held } from './held.ts';

export interface Made {
  readonly job: Job;
  readonly post: Post;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly moves: Moves;
  readonly programs: readonly WrittenProgram[];
  readonly report: Report;
  readonly course: Course;
  /** Ways of holding that were not taken and need no search, with what they would do. */
  readonly alternatives: readonly HoldScore[];
  /** Cautions and notes of every stage before the check. */
  readonly told: readonly Problem[];
}

/** A value and what was told on the way to it. */
export interface Noted<T> {
  readonly value: T;
  readonly problems: readonly Problem[];
}

/** The stages after the holding. `job`, `post`, `held`: what came before, with what each had to tell. */
export function finished(
  { job, post, held }: { readonly job: Noted<Job>; readonly post: Noted<Post>; readonly held: Noted<Held> },
  context: Context,
): Outcome<Made> {
  const { options, tables } = context;
  const { holding } = held.value;
  const whole = named(withEdgeHoles(job.value, held.value.plan, tables), context);
  if (!whole.ok) return whole;
  const plan = whole.value;
  options.say?.('paths');
  tables.mayStop();
  const abilities = abilitiesOf(post.value);
  const moves = named(
    makeMoves(
      {
        job: job.value,
        plan,
        holding,
        post: abilities,
        cautions: headCautions(held.problems),
        edgeCautions: EDGE_CAUTIONS,
      },
      tables,
    ),
    context,
  );
  if (!moves.ok) return moves;
  const programs = writePrograms(moves.value, post.value, job.value.name);
  options.say?.('checking');
  tables.mayStop();
  const report = checkPrograms(programs, job.value);
  options.say?.('forces and times along the program');
  tables.mayStop();
  const course = courseOf({ job: job.value, plan, holding, moves: moves.value, programs }, tables);
  tables.mayStop();
  const told = [job, post, held, whole, moves].flatMap((stage) => stage.problems);
  const made = {
    job: job.value,
    post: post.value,
    plan,
    holding: asCut(holding, moves.value),
    moves: moves.value,
    programs,
    report,
    course,
    alternatives: alternatives(job.value, plan, holding.by, tables),
    told,
  };
  return good(made, told);
}

/** Tabs and stubs with the edge that the paths leave them, as the programs' heads say. */
function asCut(holding: Holding, { programs }: Moves): Holding {
  const { tabs, hold } = programs[0]!.head;
  const stubs = hold.by === 'stub' ? hold.stubs : [];
  return {
    ...holding,
    tabs: holding.tabs.map((t, i) => ({ ...t, footprint: tabs[i]!.footprint })),
    stubs: holding.stubs.map((s, i) => ({ ...s, footprint: stubs[i]?.footprint ?? s.footprint })),
  };
}
