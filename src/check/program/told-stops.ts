/**
 * What a stop is for must be told at it, where the check knows that hands must do something there: touch off a cutter, fit screws, move a
 * clamp, wind a tap. Whoever stands before a machine that waits in silence presses on. Any words of any hand will do that name it. A program
 * without any message leaves all of it to who wrote it, by its T words: that is a caution. One that speaks at its stops has lost what it says not.
 */
import type { Job } from '../../part/part.ts';
import type { CanonicalMove, ProgramComment } from '../language/canonical.ts';
import { MOST_OF_A_KIND } from '../limits.ts';
import type { Findings } from '../report/findings.ts';

/** What comments since the stop or cut before have named. */
const WORDS = {
  touch: /\btouch|\blength\b|\bz\b/i,
  felt: /\btouch(?:ed)? /i,
  fit: /\b(fit|change|cutter|tool|drill|mill|reamer|tap)/i,
  screws: /\bscrews?\b/i,
  clamp: /\bclamps?\b|\bjaws?\b/i,
  tap: /\btap/i,
} as const;
type Word = keyof typeof WORDS;

/** Sweeping up before it is no touching off. */
const NOT_YET = /\bbefore touching\b/i;
/** Facts of the head and of an event are for the check, and a title names a job: no control shows them as what there is to do. */
const FACT = /^(ZERO|STOCK|PART|CUTTER|HOLD|TAB|SCREWS FITTED|CLAMPS? MOVED|Material|CAUTION)\b|\bprogram \d+ of \d+/;

export class ToldStops {
  private readonly said = new Set<Word>();
  private atStop: ReadonlySet<Word> = new Set();
  private stop: number | null = null;
  /** Of a cutter that nobody has been told to touch off; `from`: where it came into the spindle. */
  private due: { readonly from: number; readonly called: boolean } | null = { from: 0, called: false };
  private stopped: number | null = null;
  private moved = false;
  private byTable = false;
  /** The stop at which the cutter was touched off with no length from the table in force. */
  private felt: number | null = null;
  private speaks = false;
  private readonly untold: { readonly block: number; readonly found: string; readonly remedy: string }[] = [];
  private readonly program: number;
  private readonly job: Job;

  constructor(program: number, job: Job) {
    this.program = program;
    this.job = job;
  }

  comment({ text, message }: ProgramComment): void {
    if (message) this.speaks = true;
    if (FACT.test(text.trim())) return;
    for (const word of Object.keys(WORDS) as Word[])
      if (WORDS[word].test(text) && !((word === 'touch' || word === 'felt') && NOT_YET.test(text))) this.said.add(word);
  }

  move(m: CanonicalMove): void {
    switch (m.kind) {
      case 'change':
        this.due = { from: m.block, called: true };
        this.stopped = null;
        this.felt = null;
        this.moved = false;
        return;
      case 'stop':
      case 'pallet-stop':
        this.stopAt(m);
        return;
      case 'rapid':
        this.moved = true;
        this.stop = null;
        return;
      case 'feed':
      case 'arc':
        this.cut();
        return;
      default:
        return;
    }
  }

  /** Called from the control's table: nothing is touched off, and nothing that was touched off without it is true any more. */
  length(slot: number | null, block: number): void {
    this.byTable = slot !== null;
    if (slot === null) return;
    this.due = null;
    if (this.felt === null) return;
    const found = `the cutter is touched off at this stop, and block ${block} adds a length from the table to it`;
    this.untold.push({ block: this.felt, found, remedy: 'one of the two: G43 before the stop, or none' });
    this.felt = null;
  }

  /** Screws or a clamp, stated at a block after the stop. */
  event(kind: 'screws' | 'clamp', block: number): void {
    if (this.stop === null || this.atStop.has(kind)) return;
    const what = kind === 'screws' ? 'screws are fitted' : 'a clamp is moved';
    this.tell(this.stop, `${what} at this stop, by block ${block}, and no message says so`, `name the ${kind} to it`);
  }

  finish(out: Findings): void {
    const wanted = 'a message before the stop that says what it is for';
    for (const { block, found, remedy } of this.untold) {
      out.faultIf(this.speaks, { code: 'stop-untold', at: { program: this.program, block }, found, wanted, remedy });
    }
  }

  private stopAt(m: CanonicalMove): void {
    const { due } = this;
    this.stop = m.block;
    this.atStop = new Set(this.said);
    this.said.clear();
    if (this.atStop.has('felt') && !this.byTable) this.felt = m.block;
    if (due === null) this.windTap(m);
    else if (this.atStop.has('touch') && (due.called || this.atStop.has('fit'))) this.due = null;
    this.stopped ??= m.block;
    this.moved = false;
  }

  /** A tap that a hand winds stands over its hole. */
  private windTap(m: CanonicalMove): void {
    const tap = this.job.cutters.find((c) => c.number === m.tool)?.kind === 'tap';
    if (!tap || !this.moved || this.job.machine.tapping === 'machine' || this.atStop.has('tap')) return;
    this.tell(m.block, 'a tap stands over its hole here, and no message says that it is wound by hand', 'say so');
  }

  private cut(): void {
    this.stop = null;
    this.said.clear();
    const { due, stopped } = this;
    this.due = null;
    // With no stop at all `LengthRules` tells of it.
    if (due === null || stopped === null) return;
    const found = due.called
      ? 'the cutter changed before this stop cuts after it, and no message says how it is touched off'
      : 'a cutter cuts after this stop, and no message says which one is fitted and how it is touched off';
    this.tell(stopped, found, due.called ? 'say where, and what Z is there' : 'name it, the place, and Z there');
  }

  private tell(block: number, found: string, remedy: string): void {
    if (this.untold.length < MOST_OF_A_KIND) this.untold.push({ block, found, remedy });
  }
}
