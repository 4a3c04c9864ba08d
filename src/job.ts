/** Each thing that is asked of a job, in one call: a session opened, used and dropped. */
import { good, type Outcome } from './base/problem.ts';
import { readWords } from './check/language/text/plain-words.ts';
import type { Tab } from './hold/holding.ts';
import type { Job } from './part/part.ts';
import { readJob } from './part/read.ts';
import type { WayScore } from './session/compare.ts';
import type { SessionOptions } from './session/context.ts';
import type { Made } from './session/made.ts';
import { openSession, type Session, type SessionAnswer } from './session/session.ts';

export interface JobInput extends Omit<SessionOptions, 'stopped'> {
  readonly text: string;
}

/** Every stage in order. Refused: the input cannot be made. Made: `report.faults` says whether it may be released. */
export function makeJob(input: JobInput): Outcome<Made> {
  return once(input, (session) => session.finish());
}

/** Every way of holding a job's part, compared; nothing is written. */
export function compareJob(input: JobInput): Outcome<{ readonly job: Job; readonly scores: readonly WayScore[] }> {
  return once(input, (session) => session.compare());
}

/** What a job's own drawing shows: edges, holes and, where the plan allows it, the tabs of the first part; part axes. */
export function layoutOf(input: JobInput): Outcome<{ readonly job: Job; readonly tabs: readonly Tab[] }> {
  return once(input, (session) => {
    const held = outcomeOf(session.hold());
    const tabs = held.ok ? held.value.holding.tabs.filter((t) => t.part === 0) : [];
    return { kind: 'answered', outcome: good({ job: session.job, tabs }, held.problems) };
  });
}

function once<T>({ text, ...options }: JobInput, ask: (session: Session) => SessionAnswer<T>): Outcome<T> {
  const session = openSession(text, options);
  return session.ok ? outcomeOf(ask(session.value)) : session;
}

function outcomeOf<T>(answer: SessionAnswer<T>): Outcome<T> {
  if (answer.kind === 'stopped') throw new Error('a session that nobody may stop was stopped: a bug');
  return answer.outcome;
}

export { PAGES_OPEN, type Shelf } from './check/strokes/spool.ts';
export { jobFromDrawing } from './part/drawing/draft.ts';
export type { Drawing } from './part/drawing/drawing.ts';
export { readDrawing } from './part/drawing/read.ts';
export { type SortedDrawing, sortDrawing } from './part/drawing/sort.ts';
export { readMachineFile } from './part/setting/machine-file.ts';
export { newJob, START_QUESTIONS, type StartKey, startAnswers } from './part/start.ts';
export { checkPieces, checkTexts, readMoves } from './session/check-texts.ts';
export type { WayScore } from './session/compare.ts';
export type { Made } from './session/made.ts';
export { readJob, readWords };
