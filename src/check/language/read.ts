/**
 * The independent reader of RS-274/NGC programs: text in, problems and canonical moves out. It shares no code with the
 * writer. Language and meaning follow NISTIR 6556 (Kramer, Proctor, Messina, 2000); `conditions.ts` lists what is refused.
 */
import type { CanonicalMove, ProgramComment, ReadOptions, ReadResult, ReadSummary, Sink } from './canonical.ts';
import { ProgramReader } from './reader.ts';

/** Reads a whole program. Never throws; every problem has its line and column. */
export function readProgram(text: string, options: ReadOptions = {}): ReadResult {
  const moves: CanonicalMove[] = [];
  const comments: ProgramComment[] = [];
  const sink: Sink = { move: (move) => void moves.push(move), comment: (comment) => void comments.push(comment) };
  const summary = readProgramInto(text, options, sink);
  return { ...summary, moves, comments };
}

/** As `readProgram`, but hands out each move as it is found and keeps none: memory does not grow with the program. */
export function readProgramInto(text: string, options: ReadOptions, sink: Sink): ReadSummary {
  const reader = new ProgramReader(options, sink);
  const returns = text.includes('\r');
  let start = 0;
  let feed = -1;
  while (start < text.length && !reader.done) {
    // Looked for again only once passed: a file with lone CRs would otherwise be searched to its end for every line.
    if (feed < start) feed = text.indexOf('\n', start);
    if (feed < 0) feed = text.length;
    const end = returns ? carriage(text, start, feed) : feed;
    reader.line(text, start, end);
    start = end + 1;
    if (end < feed && text.charCodeAt(start) === 10) start++;
  }
  return reader.finish();
}

/** First CR of the stretch, or its end. */
function carriage(text: string, start: number, end: number): number {
  for (let i = start; i < end; i++) if (text.charCodeAt(i) === 13) return i;
  return end;
}
