/**
 * Collects the problems of one reading, each once, up to a stated number of faults.
 *
 * Besides `rs274-1` to `rs274-120` the reader has codes of its own. Faults: `value-out-of-range`, `position-unknown`
 * (a move whose meaning hangs on a place that the program never stated), `too-many-repeats`, `too-many-pecks`,
 * `too-many-problems`; and, where a program is to be proven, `line-optional`, `offset-unknown`, `compensation-unknown`. Cautions: `stored-offsets`, `tool-data-missing`, `return-level-unset`, `level-unknown`,
 * `probe-result-unknown`, `arc-chord-doubtful`, `feed-after-inverse-time`.
 */
import type { Place, Problem, Severity } from '../../base/problem.ts';
import { CONDITIONS } from './conditions.ts';

/** Enough to mend a program by; a binary file would otherwise give one for every line. */
export const MAX_PROBLEMS = 100;

export class Reporter {
  readonly problems: Problem[] = [];
  readonly file: string | undefined;
  readonly limit: number;
  full = false;
  /** Added to what was found, for instance when it holds only with block delete on. */
  circumstance = '';
  private readonly seen = new Set<string>();
  private faults = 0;

  constructor(file: string | undefined, limit: number) {
    this.file = file;
    this.limit = Math.max(1, limit);
  }

  /** Condition `n` of the report at a place; `found` is added to the general words when more is known. */
  refuse(n: number, line: number, column: number, found = ''): void {
    const row = CONDITIONS[n]!;
    const words = found === '' ? row[0] : `${row[0]}: ${found}`;
    this.add('fault', `rs274-${n}`, line, column, words, row[1], row[2]);
  }

  add(
    severity: Severity,
    code: string,
    line: number,
    column: number,
    found: string,
    wanted: string,
    remedy: string,
  ): void {
    const key = `${code}:${line}:${column}`;
    if (this.full || this.seen.has(key)) return;
    // Cautions beyond the limit are dropped: they must not end the reading of a program that is otherwise good.
    if (severity !== 'fault' && this.problems.length - this.faults >= this.limit) return;
    this.seen.add(key);
    this.problems.push({
      severity,
      code,
      place: this.place(line, column),
      found: found + this.circumstance,
      wanted,
      remedy,
    });
    if (severity === 'fault' && ++this.faults >= this.limit) this.stop(line, column);
  }

  private place(line: number, column: number): Place {
    return this.file === undefined ? { line, column } : { file: this.file, line, column };
  }

  private stop(line: number, column: number): void {
    this.full = true;
    const found = `${this.limit} faults, reading stopped here`;
    const words = { found, wanted: 'fewer', remedy: 'mend these and read again' };
    this.problems.push({ severity: 'fault', code: 'too-many-problems', place: this.place(line, column), ...words });
  }
}
