import { caution, fault, note, type Place, type Problem } from '../../base/problem.ts';
import { MOST_FAULTS, MOST_NOTES } from './limits.ts';

/** Collects what is found while a drawing is read; long runs of one kind of note are cut short and counted. */
export class Findings {
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

  fault(code: string, found: string, wanted: string, remedy: string, place: Place): void {
    if (!this.full) this.faults.push(fault(code, found, wanted, remedy, this.placed(place)));
  }

  defect(code: string, found: string, wanted: string, remedy: string, place: Place): void {
    if (this.room(code)) this.defects.push(caution(code, found, wanted, remedy, this.placed(place)));
  }

  note(code: string, found: string, place: Place, wanted = '', remedy = ''): void {
    if (this.room(code)) this.notes.push(note(code, found, wanted, remedy, this.placed(place)));
  }

  /** Adds "and n more" for every kind that was cut short. */
  close(): void {
    for (const [code, count] of this.told) {
      if (count > MOST_NOTES) {
        this.notes.push(
          note(`${code}-more`, `${count - MOST_NOTES} more of the kind ${code}`, '', '', this.placed({})),
        );
      }
    }
  }

  private room(code: string): boolean {
    const count = (this.told.get(code) ?? 0) + 1;
    this.told.set(code, count);
    return count <= MOST_NOTES;
  }

  private placed(place: Place): Place {
    return this.file === undefined ? place : { file: this.file, ...place };
  }
}

export function count(map: Map<string, number>, key: string, by = 1): void {
  map.set(key, (map.get(key) ?? 0) + by);
}
