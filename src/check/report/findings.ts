/** Collects what the check finds, in order, with a bound on how often the same thing is told. */
import { type NoteParts, type Problem, type ProblemParts, problem, type Severity } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import type { LanguageProblem } from '../language/report.ts';
import { MOST_OF_A_KIND } from '../limits.ts';
import type { Finding, Proof, Report } from '../report.ts';
import type { CautionCode, FaultCode, FindingCode, NoteCode, ProofName } from './codes.ts';
import { standing } from './standing.ts';

/** Line of a program; 0: something that no line alone has done. */
export interface ProgramLine {
  readonly program: number;
  readonly block: number;
}

export interface FindingPlace extends ProgramLine {
  readonly at?: Problem['place']['at'];
}

/** What is told: `size` as a finding has it. */
type ToldAs<Parts, Code> = Parts & { readonly code: Code; readonly at: FindingPlace; readonly size?: Mm };

export class Findings {
  readonly list: Finding<FindingCode>[] = [];
  readonly proven: Proof[] = [];
  readonly notProven: { what: string; why: string }[] = [];
  private readonly files: readonly string[];
  private readonly counts = new Map<string, number>();
  /** The block where something that no block alone has done is best mended. */
  private locate: ((spot: FindingPlace) => ProgramLine) | undefined;

  constructor(files: readonly string[]) {
    this.files = files;
  }

  /** From here on, findings without a block are given one. */
  locateBy(locate: (spot: FindingPlace) => ProgramLine): void {
    this.locate = locate;
  }

  fault(told: ToldAs<ProblemParts<FindingPlace>, FaultCode>): void {
    this.add('fault', told);
  }

  caution(told: ToldAs<ProblemParts<FindingPlace>, CautionCode>): void {
    this.add('caution', told);
  }

  note(told: ToldAs<NoteParts<FindingPlace>, NoteCode>): void {
    this.add('note', told);
  }

  /** A fault where it is so bad, else a caution. */
  faultIf(severe: boolean, told: ToldAs<ProblemParts<FindingPlace>, FaultCode & CautionCode>): void {
    this.add(severe ? 'fault' : 'caution', told);
  }

  /** A problem that another reader found, as a finding of program `program`. */
  take(found: LanguageProblem, program: number): void {
    this.list.push({ ...found, program, block: found.place.line ?? 0 });
  }

  /** All that was found apart, in its order. */
  absorb(other: Findings): void {
    this.list.push(...other.list);
    for (const [key, count] of other.counts) this.counts.set(key, (this.counts.get(key) ?? 0) + count);
    this.proven.push(...other.proven);
    for (const d of other.notProven) this.doubt(d.what, d.why);
  }

  prove(what: ProofName, within: Mm | null, errs: Proof['errs'], says: string): void {
    // Each set-up is proven alike: said once, with the coarsest of its tolerances.
    const same = this.proven.findIndex((p) => p.what === what && p.errs === errs && p.says === says);
    if (same < 0) this.proven.push({ what, within, errs, says });
    else if (within !== null && within > (this.proven[same]!.within ?? 0))
      this.proven[same] = { what, within, errs, says };
  }

  doubt(what: string, why: string): void {
    if (!this.notProven.some((d) => d.what === what && d.why === why)) this.notProven.push({ what, why });
  }

  faulty(...codes: readonly FaultCode[]): boolean {
    return this.list.some((f) => f.severity === 'fault' && codes.some((code) => code === f.code));
  }

  private add(severity: Severity, told: ToldAs<NoteParts<FindingPlace>, FindingCode>): void {
    const { code, at: given, size } = told;
    const near = given.block === 0 && this.locate !== undefined ? { ...given, ...this.locate(given) } : given;
    // What is missed in a program that does nothing is told at its first line.
    const block = near.block === 0 && severity !== 'note' ? 1 : near.block;
    const { program, at } = near;
    const key = `${program} ${severity} ${code}`;
    const count = (this.counts.get(key) ?? 0) + 1;
    this.counts.set(key, count);
    if (count > MOST_OF_A_KIND) return;
    const file = this.files[program];
    const place = {
      ...(file === undefined ? {} : { file }),
      ...(block > 0 ? { line: block } : {}),
      ...(at === undefined ? {} : { at }),
    };
    const found = { ...problem(severity, { ...told, at: place }), code, program, block };
    this.list.push(size === undefined ? found : { ...found, size });
  }

  private tellUnlisted(key: string, count: number): void {
    const [program, , code] = key.split(' ');
    const found = `${count} more findings of the kind ${code} are not listed`;
    this.note({ code: 'more-of-a-kind', at: { program: Number(program), block: 0 }, found });
  }

  report(rest: Pick<Report, 'envelope' | 'cutters' | 'seconds'>): Report {
    for (const [key, count] of this.counts) {
      if (count > MOST_OF_A_KIND) this.tellUnlisted(key, count - MOST_OF_A_KIND);
    }
    // What is added under a severity has a code of that severity.
    const of = <Code extends FindingCode>(s: Severity) => this.list.filter((f) => f.severity === s) as Finding<Code>[];
    const faults = of<FaultCode>('fault');
    const { proven, fallen } = standing(this.proven, faults);
    return {
      faults,
      cautions: of('caution'),
      notes: of('note'),
      proven,
      notProven: [...fallen, ...this.notProven],
      ...rest,
    };
  }
}
