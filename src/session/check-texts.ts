/** Programs as text, whoever wrote them. */
import { type CheckOptions, checkPrograms, checkSources, type ProgramText } from '../check/check.ts';
import { readProgram } from '../check/language/read.ts';
import { eachLineOf, type LineReader } from '../check/language/text/lines.ts';
import { readHead } from '../check/program/head.ts';
import type { Report } from '../check/report.ts';
import type { Job } from '../part/part.ts';

/** A program as the check reads it: for the page, which shows what the text does whatever wrote it. */
export function readMoves(text: string, file: string) {
  const read = readProgram(text, { file, unknownAfterStop: true });
  return { moves: read.moves, head: readHead(read.comments, read.last.units) };
}

/** Programs against a job, or alone. */
export function checkTexts(programs: readonly ProgramText[], job: Job | null, options?: CheckOptions): Report {
  return checkPrograms(programs, job, options);
}

/** Programs read piece by piece, alone or against a job: memory does not grow with their length where `options` give a shelf. */
export function checkPieces(
  programs: readonly { readonly file: string; readonly pieces: () => Iterable<string> }[],
  job: Job | null,
  options?: CheckOptions,
): Report {
  const sources = programs.map(({ file, pieces }) => ({
    file,
    lines: (read: LineReader) => eachLineOf(pieces(), read),
  }));
  return checkSources(sources, job, options);
}
