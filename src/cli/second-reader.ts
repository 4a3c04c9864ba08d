/**
 * A second, foreign reader of every released program. It cannot be the check, because it swallows errors; but on a program
 * that passed, it must read the same words and so the same end points as the check's own reader.
 */
import { parseStringSync } from 'gcode-parser';
import { fault, type Problem } from '../base/problem.ts';
import { readWords } from '../job.ts';

interface ForeignLine {
  readonly words?: readonly (readonly [string, number | string])[];
}

/** Faults where the two readers find different words; the words of a line are compared in order of letter and value. */
export function compareReaders(text: string, file: string): readonly Problem[] {
  const foreign = (parseStringSync(text) as ForeignLine[])
    .map((l) =>
      (l.words ?? [])
        .filter(([letter]) => /^[A-Za-z]$/.test(letter))
        .map(([l2, v]) => `${l2.toUpperCase()}${Number(v)}`),
    )
    .filter((words) => words.length > 0);
  const own = readWords(text).filter((l) => l.words.length > 0);
  if (foreign.length !== own.length) {
    return [differ(file, 0, `${own.length} lines with words against ${foreign.length}`)];
  }
  for (const [i, line] of own.entries()) {
    const mine = line.words.map((w) => `${w.letter}${w.value}`).sort();
    const theirs = [...foreign[i]!].sort();
    if (mine.join(' ') !== theirs.join(' ')) {
      return [differ(file, line.block, `${mine.join(' ')} against ${theirs.join(' ')}`)];
    }
  }
  return [];
}

function differ(file: string, line: number, found: string): Problem {
  const place = line > 0 ? { file, line } : { file };
  return fault({
    code: 'readers-differ',
    at: place,
    found: `two readers of the program disagree: ${found}`,
    wanted: 'the same words from both',
    remedy: 'do not run it; report it with the job file',
  });
}
