/** What a program asks of the library. Every answer is an `Outcome`: nothing is thrown at bad input, and nothing touches a disk. */
import { bad, good, type Outcome } from '../base/problem.ts';
import type { Report } from '../check/report.ts';
import { checkTexts, compareJob, type Made, makeJob, readJob, readMoves, type WayScore } from '../job.ts';
import { openSession, type Session } from '../session/session.ts';
import { jobPage } from '../show/page/job-page.ts';
import { planFile } from '../show/plan-file.ts';
import { setupSheet } from '../show/sheet/sheet.ts';
import { builtIn } from './built-in.ts';
import { type JobSource, type LibraryOptions, type StoppableOptions, sessionOptions, textOf } from './options.ts';

/**
 * Programs and their plan, checked. Refused: the job cannot be made. Made: they may be run only where `report.faults` is empty; the
 * command has each program read by a second reader as well.
 */
export function make(job: JobSource, options: LibraryOptions = {}): Outcome<Made> {
  return makeJob({ text: textOf(job), ...sessionOptions(options) });
}

/** Ways of holding the part, best first. */
export function compare(job: JobSource, options: LibraryOptions = {}): Outcome<readonly WayScore[]> {
  const compared = compareJob({ text: textOf(job), ...sessionOptions(options) });
  return compared.ok ? good(compared.value.scores, compared.problems) : compared;
}

/** A job to be changed and tried, many times over. */
export function open(job: JobSource, options: StoppableOptions = {}): Outcome<Session> {
  return openSession(textOf(job), sessionOptions(options));
}

/** Programs in running order, as text: against a job, or alone in language, state and extent. Refused: the job cannot be read. */
export function check(
  programs: string | readonly { readonly file: string; readonly text: string }[],
  { job, ...options }: LibraryOptions & { readonly job?: JobSource } = {},
): Outcome<Report> {
  const texts = typeof programs === 'string' ? [{ file: 'program.ngc', text: programs }] : programs;
  if (job === undefined) return good(checkTexts(texts, null));
  const { file, read } = sessionOptions(options);
  const known = readJob(textOf(job), file, { read });
  return known.ok ? good(checkTexts(texts, known.value), known.problems) : bad(...known.problems);
}

/** The set-up sheet as one HTML text. */
export function sheet(made: Made): string {
  return setupSheet(made);
}

/** The page as one HTML text that opens from disk; its script runs in a browser. */
export function page(made: Made): string {
  return jobPage(made, builtIn().page, readMoves);
}

/** The plan file's contents: millimetres and program coordinates. */
export function plan(made: Made): object {
  return planFile(made);
}
