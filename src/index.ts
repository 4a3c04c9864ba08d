/** The library: the same flow as the command, without files or console; in Node and in a browser alike. */
export type { Outcome, Place, Problem, Severity } from './base/problem.ts';
export { describeProblem } from './base/problem.ts';
export type { Report } from './check/report.ts';
export type { Holding, Tab } from './hold/holding.ts';
export { checkTexts, type JobInput, type Made, makeJob, readJob, type WayScore } from './job.ts';
export { check, compare, make, open, page, plan, sheet } from './library/library.ts';
export type { JobSource, LibraryOptions, StoppableOptions } from './library/options.ts';
export type { Job } from './part/part.ts';
export { emitJobSchema } from './part/schema/emit.ts';
export type { Plan } from './plan/plan.ts';
export type { Session, SessionAnswer, TabsToTry } from './session/session.ts';
export type { WrittenProgram } from './write/program.ts';
