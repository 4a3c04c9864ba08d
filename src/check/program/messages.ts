/**
 * What messages tell a person to do, against the job: the cutter to fit, its size and how far it stands out, the screws, what the plate is of.
 * Hands do what they are told, so a message that says otherwise than the job spoils the part as a wrong move does.
 */
import { MM_PER_INCH, type Mm } from '../../base/units.ts';
import type { Job } from '../../part/part.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import type { CanonicalMove, ProgramComment } from '../language/canonical.ts';
import { MOST_OF_A_KIND } from '../limits.ts';
import type { Findings } from '../report/findings.ts';

interface Misstatement {
  readonly found: string;
  readonly wanted: string;
}

const CUTTER = /^Fit cutter (\d+): ([a-z -]+?) ([\d.]+) (mm|in)\b(?:, stick out ([\d.]+) (mm|in)\b)?/i;
const SCREWS = /\bscrews?\b.*?\b(M\d+(?:\.\d+)?)\b/i;
const MATERIAL = /^Material ([^\s,]+),/i;
const LENGTHS = /\bLengths in (millimetres|inches)\b/i;
/** What holds is not undone as long as a cut is to come. */
const THINGS = String.raw`(?:(?:all|both|the|each|every|one|of|cap|\d+) )*(?:screws?|clamps?|jaws?|vice)\b`;
const UNDOES = new RegExp(
  String.raw`\b(?:remove|loosen|undo|slacken|unscrew|withdraw|take (?:out|off)) ${THINGS}|\btake ${THINGS} (?:\w+ )?(?:out|off|away)\b`,
  'i',
);
const NOT = /\b(?:not|never|don't|without)\b/i;
/** A size is written with four decimals, of inches too. */
const SIZE: Mm = 0.005;
/** A stick-out is set with a rule. */
const STICK_OUT: Mm = 0.5;

export class Messages {
  private readonly wrong: (Misstatement & { readonly block: number })[] = [];
  private undone: ProgramComment | null = null;
  private lengths: { readonly inches: boolean; readonly block: number } | null = null;
  private readonly job: Job;
  private readonly program: number;

  constructor(job: Job, program: number) {
    this.job = job;
    this.program = program;
  }

  comment(c: ProgramComment): void {
    const text = c.text.trim().replace(/\s+/g, ' ');
    const told = cutterTold(text, this.job) ?? screwsTold(text, this.job) ?? materialTold(text, this.job);
    if (told !== null) this.add(c.block, told);
    const lengths = LENGTHS.exec(text);
    if (lengths !== null) this.lengths = { inches: /inches/i.test(lengths[1]!), block: c.block };
    if (c.message && UNDOES.test(text) && !NOT.test(text)) this.undone = c;
    if (/^CLAMPS? MOVED/i.test(text)) this.undone = null;
  }

  move(m: CanonicalMove): void {
    if (this.undone === null || (m.kind !== 'feed' && m.kind !== 'arc')) return;
    const found = `the message "${this.undone.text.trim()}" undoes what holds, and block ${m.block} cuts after it`;
    this.add(this.undone.block, { found, wanted: 'all that holds in its place until the last cut' });
    this.undone = null;
  }

  finish(units: 'mm' | 'inch', out: Findings): void {
    const { lengths } = this;
    if (lengths !== null && lengths.inches !== (units === 'inch')) {
      const found = `a comment says that lengths are in ${lengths.inches ? 'inches' : 'millimetres'}`;
      this.add(lengths.block, { found, wanted: units === 'inch' ? 'inches, G20' : 'millimetres, G21' });
    }
    for (const { block, found, wanted } of this.wrong)
      out.fault({
        code: 'message-differs',
        at: { program: this.program, block },
        found,
        wanted,
        remedy: 'correct the message',
      });
  }

  private add(block: number, told: Misstatement): void {
    if (this.wrong.length < MOST_OF_A_KIND) this.wrong.push({ ...told, block });
  }
}

function cutterTold(text: string, job: Job): Misstatement | null {
  const m = CUTTER.exec(text);
  const cutter = job.cutters.find((c) => c.number === Number(m?.[1]));
  if (m === null || cutter === undefined) return null;
  const [, number, kind, size, unit, out, outUnit] = m as unknown as string[];
  const other = job.cutters.some((c) => c.kind === kind!.toLowerCase()) && kind!.toLowerCase() !== cutter.kind;
  const wide = Math.abs(mm(size!, unit!) - cutter.diameter) > SIZE;
  const long = out !== undefined && Math.abs(mm(out, outUnit!) - cutter.stickOut) > STICK_OUT;
  if (!other && !wide && !long) return null;
  const wanted = `${cutter.kind} of ${Number(cutter.diameter.toFixed(4))} mm, standing out ${Number(cutter.stickOut.toFixed(2))} mm`;
  return { found: `the message asks for cutter ${number} as ${text.replace(/^.*?: /, '')}`, wanted };
}

function mm(value: string, unit: string): Mm {
  return Number(value) * (unit.toLowerCase() === 'in' ? MM_PER_INCH : 1);
}

function screwsTold(text: string, { hold }: Job): Misstatement | null {
  const thread = SCREWS.exec(text)?.[1];
  if (thread === undefined || hold.by !== 'screws' || !/^M\d/.test(hold.thread)) return null;
  const wanted = hold.thread.split('x')[0]!.trim();
  return thread.toUpperCase() === wanted ? null : { found: `the message asks for screws ${thread}`, wanted };
}

function materialTold(text: string, job: Job): Misstatement | null {
  const name = MATERIAL.exec(text)?.[1];
  if (name === undefined || name === job.material || findMaterial(name).kind === 'unknown') return null;
  return { found: `a comment says that the plate is of ${name}`, wanted: job.material };
}
