import type { Problem } from '../../base/problem.ts';
import type { Report } from '../../check/report.ts';
import type { Course } from '../../course/course.ts';
import type { Holding, HoldScore } from '../../hold/holding.ts';
import type { Cutter, Job } from '../../part/part.ts';
import type { Moves } from '../../paths/moves.ts';
import type { Operation, Plan } from '../../plan/plan.ts';
import type { WrittenProgram } from '../../write/program.ts';

/** Of the plate with its parts; a hole from the edge is made in a set-up of its own. */
export function plateOperations({ plan }: SheetInput): readonly Operation[] {
  return plan.setups.filter((s) => s.edge === null).flatMap((s) => s.operations);
}

/** A cutter of the plan by its number. */
export function cutterOf({ plan }: SheetInput, number: number | undefined): Cutter | undefined {
  return plan.cutters.find((c) => c.number === number);
}

/** What the sheet is made from: the same as the plan file, and the moves, which hold what is said at each stop. */
export interface SheetInput {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly moves: Moves;
  readonly programs: readonly WrittenProgram[];
  readonly report: Report;
  /** Cautions and notes of the stages before the check. */
  readonly told: readonly Problem[];
  /** null: forces and times along the program were not worked out. */
  readonly course: Course | null;
  /** The ways of holding that were compared; empty: none were. */
  readonly alternatives: readonly HoldScore[];
}
