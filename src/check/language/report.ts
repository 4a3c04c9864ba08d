/** Collects the problems of one reading, each once, up to a stated number of faults; and the codes that they have. */
import { type Problem, type ProblemParts, problem, type Severity } from '../../base/problem.ts';
import { CONDITIONS } from './conditions.ts';

/** Those of the 120 conditions, what no reader can go on from, and, where a program is to be proven, what hangs on the control. */
export type LanguageFault =
  | `rs274-${number}`
  | 'value-out-of-range'
  /** A move whose meaning hangs on a place that the program never stated. */
  | 'position-unknown'
  | 'too-many-repeats'
  | 'too-many-pecks'
  | 'too-many-problems'
  | 'line-optional'
  | 'offset-unknown'
  | 'compensation-unknown';

export type LanguageCaution =
  | 'stored-offsets'
  | 'tool-data-missing'
  | 'return-level-unset'
  | 'level-unknown'
  | 'probe-result-unknown'
  | 'arc-chord-doubtful'
  | 'feed-after-inverse-time';

export interface LanguageProblem extends Problem {
  readonly code: LanguageFault | LanguageCaution;
}

/** Counted from 1. */
export interface Column {
  readonly line: number;
  readonly column: number;
}

/** What is told of a place in the text. */
export type ToldOf<Code, At = Column> = ProblemParts<At> & { readonly code: Code; readonly at: At };

/** Enough to mend a program by; a binary file would otherwise give one for every line. */
export const MAX_PROBLEMS = 100;

export class Reporter {
  readonly problems: LanguageProblem[] = [];
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

  /** Condition `n` of the report at a place; `more` is added to the general words when more is known. */
  refuse(n: number, line: number, column: number, more = ''): void {
    const [general, wanted, remedy] = CONDITIONS[n]!;
    const found = more === '' ? general : `${general}: ${more}`;
    this.add('fault', { code: `rs274-${n}`, at: { line, column }, found, wanted, remedy });
  }

  add(severity: Severity, told: ToldOf<LanguageProblem['code']>): void {
    const { line, column } = told.at;
    const key = `${told.code}:${line}:${column}`;
    if (this.full || this.seen.has(key)) return;
    // Cautions beyond the limit are dropped: they must not end the reading of a program that is otherwise good.
    if (severity !== 'fault' && this.problems.length - this.faults >= this.limit) return;
    this.seen.add(key);
    this.push(severity, { ...told, found: told.found + this.circumstance });
    if (severity !== 'fault' || ++this.faults < this.limit) return;
    this.full = true;
    const found = `${this.limit} faults, reading stopped here`;
    const remedy = 'mend these and read again';
    this.push('fault', { code: 'too-many-problems', at: told.at, found, wanted: 'fewer', remedy });
  }

  private push(severity: Severity, told: ToldOf<LanguageProblem['code']>): void {
    const { line, column } = told.at;
    const at = this.file === undefined ? { line, column } : { file: this.file, line, column };
    this.problems.push({ ...problem(severity, { ...told, at }), code: told.code });
  }
}
