/** Collects what the check finds, in order, with a bound on how often the same thing is told. */
import type { Problem, Severity } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { MOST_OF_A_KIND } from '../limits.ts';
import type { Finding, Proof, Report } from '../report.ts';
import { standing } from './standing.ts';

export interface Spot {
  readonly program: number;
  readonly block: number;
  readonly at?: readonly [number, number] | readonly [number, number, number];
  readonly size?: Mm;
}

export class Findings {
  readonly list: Finding[] = [];
  readonly proven: Proof[] = [];
  readonly notProven: { what: string; why: string }[] = [];
  private readonly files: readonly string[];
  private readonly counts = new Map<string, number>();
  /** The block where something that no block alone has done is best mended. */
  private locate: ((spot: Spot) => Pick<Spot, 'program' | 'block'>) | undefined;

  constructor(files: readonly string[]) {
    this.files = files;
  }

  /** From here on, findings without a block are given one. */
  locateBy(locate: (spot: Spot) => Pick<Spot, 'program' | 'block'>): void {
    this.locate = locate;
  }

  fault(code: string, found: string, wanted: string, remedy: string, spot: Spot): void {
    this.add('fault', code, found, wanted, remedy, spot);
  }

  caution(code: string, found: string, wanted: string, remedy: string, spot: Spot): void {
    this.add('caution', code, found, wanted, remedy, spot);
  }

  note(code: string, found: string, spot: Spot, wanted = '', remedy = ''): void {
    this.add('note', code, found, wanted, remedy, spot);
  }

  /** A problem that another reader found, as a finding of program `program`. */
  take(problem: Problem, program: number): void {
    this.list.push({ ...problem, program, block: problem.place.line ?? 0 });
  }

  /** All that was found apart, in its order. */
  absorb(other: Findings): void {
    this.list.push(...other.list);
    for (const [key, count] of other.counts) this.counts.set(key, (this.counts.get(key) ?? 0) + count);
    this.proven.push(...other.proven);
    for (const d of other.notProven) this.doubt(d.what, d.why);
  }

  prove(what: string, within: Mm | null, errs: Proof['errs'], says: string): void {
    // Each set-up is proven alike: said once, with the coarsest of its tolerances.
    const same = this.proven.findIndex((p) => p.what === what && p.errs === errs && p.says === says);
    if (same < 0) this.proven.push({ what, within, errs, says });
    else if (within !== null && within > (this.proven[same]!.within ?? 0))
      this.proven[same] = { what, within, errs, says };
  }

  doubt(what: string, why: string): void {
    if (!this.notProven.some((d) => d.what === what && d.why === why)) this.notProven.push({ what, why });
  }

  faulty(...codes: readonly string[]): boolean {
    return this.list.some((f) => f.severity === 'fault' && (codes.length === 0 || codes.includes(f.code)));
  }

  private add(severity: Severity, code: string, found: string, wanted: string, remedy: string, told: Spot): void {
    const near = told.block === 0 && this.locate !== undefined ? { ...told, ...this.locate(told) } : told;
    // What is missed in a program that does nothing is told at its first line.
    const spot = near.block === 0 && severity !== 'note' ? { ...near, block: 1 } : near;
    const key = `${spot.program} ${severity} ${code}`;
    const count = (this.counts.get(key) ?? 0) + 1;
    this.counts.set(key, count);
    if (count > MOST_OF_A_KIND) return;
    const file = this.files[spot.program];
    const place = {
      ...(file === undefined ? {} : { file }),
      ...(spot.block > 0 ? { line: spot.block } : {}),
      ...(spot.at === undefined ? {} : { at: spot.at }),
    };
    const size = spot.size === undefined ? {} : { size: spot.size };
    const { program, block } = spot;
    this.list.push({ severity, code, place, found, wanted, remedy, program, block, ...size });
  }

  private tellUnlisted(key: string, count: number): void {
    const [program, , code] = key.split(' ');
    const spot = { program: Number(program), block: 0 };
    this.note('more-of-a-kind', `${count} more findings of the kind ${code} are not listed`, spot);
  }

  report(rest: Pick<Report, 'envelope' | 'cutters' | 'seconds'>): Report {
    for (const [key, count] of this.counts) {
      if (count > MOST_OF_A_KIND) this.tellUnlisted(key, count - MOST_OF_A_KIND);
    }
    const of = (s: Severity) => this.list.filter((f) => f.severity === s);
    const { proven, fallen } = standing(this.proven, of('fault'));
    return {
      faults: of('fault'),
      cautions: of('caution'),
      notes: of('note'),
      proven,
      notProven: [...fallen, ...this.notProven],
      ...rest,
    };
  }
}
