import { type NoteParts, type Problem, type ProblemParts, problem, type Severity } from '../../base/problem.ts';
import { MOST_FAULTS, MOST_NOTES } from './limits.ts';

/** Collects what is found while a drawing is read; long runs of one kind of note are cut short and counted. */
export class DrawingFindings {
  readonly faults: Problem[] = [];
  readonly notes: Problem[] = [];
  readonly defects: Problem[] = [];
  readonly ignored = new Map<string, number>();
  readonly unknown = new Map<string, number>();
  private readonly told = new Map<string, number>();
  private readonly file: string | undefined;

  constructor(file?: string) {
    this.file = file;
  }

  /** True when so much is wrong that reading on tells nothing new. */
  get full(): boolean {
    return this.faults.length >= MOST_FAULTS;
  }

  fault(parts: ProblemParts): void {
    if (!this.full) this.faults.push(this.made('fault', parts));
  }

  defect(parts: ProblemParts): void {
    if (this.room(parts.code)) this.defects.push(this.made('caution', parts));
  }

  note(parts: NoteParts): void {
    if (this.room(parts.code)) this.notes.push(this.made('note', parts));
  }

  /** Adds "and n more" for every kind that was cut short. */
  close(): void {
    for (const [code, count] of this.told) {
      if (count > MOST_NOTES) {
        const found = `${count - MOST_NOTES} more of the kind ${code}`;
        this.notes.push(this.made('note', { code: `${code}-more`, found }));
      }
    }
  }

  private room(code: string): boolean {
    const count = (this.told.get(code) ?? 0) + 1;
    this.told.set(code, count);
    return count <= MOST_NOTES;
  }

  private made(severity: Severity, parts: NoteParts): Problem {
    return problem(severity, {
      ...parts,
      at: this.file === undefined ? (parts.at ?? {}) : { file: this.file, ...parts.at },
    });
  }
}

export function count(map: Map<string, number>, key: string, by = 1): void {
  map.set(key, (map.get(key) ?? 0) + by);
}
