/**
 * The independent reader of RS-274/NGC programs: text in, problems and canonical moves out. It shares no code with the
 * writer. Language and meaning follow NISTIR 6556 (Kramer, Proctor, Messina, 2000); `conditions.ts` lists what is refused.
 */
import type { CanonicalMove, ProgramComment, ReaderOptions, ReadResult, ReadSummary, Sink } from './canonical.ts';
import { ProgramReader } from './reader.ts';
import { eachLine } from './text/lines.ts';

/** Reads a whole program. Never throws; every problem has its line and column. */
export function readProgram(text: string, options: ReaderOptions = {}): ReadResult {
  const moves: CanonicalMove[] = [];
  const comments: ProgramComment[] = [];
  const sink: Sink = { move: (move) => void moves.push(move), comment: (comment) => void comments.push(comment) };
  const summary = readProgramInto(text, options, sink);
  return { ...summary, moves, comments };
}

/** As `readProgram`, but hands out each move as it is found and keeps none: memory does not grow with the program. */
export function readProgramInto(text: string, options: ReaderOptions, sink: Sink): ReadSummary {
  const reader = new ProgramReader(options, sink);
  eachLine(text, (all, start, end) => {
    reader.line(all, start, end);
    return !reader.done;
  });
  return reader.finish();
}
