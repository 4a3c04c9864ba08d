/** Collects the problems of one reading, each once, up to a stated number. */
import type { Problem, Severity } from '../../base/problem.ts';
import { CONDITIONS } from './conditions.ts';

/** Enough to mend a program by; a binary file would otherwise give one for every line. */
export const MAX_PROBLEMS = 100;

export class Reporter {
  readonly problems: Problem[] = [];
  readonly file: string | undefined;
  readonly limit: number;
  full = false;
  private readonly seen = new Set<string>();

  constructor(file: string | undefined, limit: number) {
    this.file = file;
    this.limit = Math.max(1, limit);
  }

  /** Condition `n` of the report at a place; `found` replaces the general words when more is known. */
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
    this.seen.add(key);
    const place = this.file === undefined ? { line, column } : { file: this.file, line, column };
    this.problems.push({ severity, code, place, found, wanted, remedy });
    if (this.problems.length >= this.limit) this.stop(line, column);
  }

  private stop(line: number, column: number): void {
    this.full = true;
    const place = this.file === undefined ? { line, column } : { file: this.file, line, column };
    const found = `${this.limit} problems, reading stopped here`;
    this.problems.push({
      severity: 'fault',
      code: 'too-many-problems',
      place,
      found,
      wanted: 'fewer',
      remedy: 'mend these and read again',
    });
  }
}
