/** The library: the same flow as the command, without files or console. */
export type { Outcome, Place, Problem, Severity } from './base/problem.ts';
export { describeProblem } from './base/problem.ts';
export type { Report } from './check/report.ts';
export type { Holding, Tab } from './hold/holding.ts';
export { checkTexts, type JobInput, type Made, makeJob, readJob } from './job.ts';
export type { Job } from './part/part.ts';
export { emitJobSchema } from './part/schema/schema.ts';
export type { Plan } from './plan/plan.ts';
export type { WrittenProgram } from './write/program.ts';
