/**
 * One program, read once from its first line to its last: language, state, modes, lengths, extent and time are judged as its lines go by, and
 * what they found is bounded. Where a job asks what its moves do to the stock, their strokes are gathered; nothing else grows with the program.
 */
import type { Mm, Second } from '../../base/units.ts';
import type { Job, Machine } from '../../part/part.ts';
import type { CanonicalMove, ProgramComment, ReaderOptions, ReadSummary, Spindle } from '../language/canonical.ts';
import { ProgramReader } from '../language/reader.ts';
import type { LanguageProblem } from '../language/report.ts';
import type { LineReader } from '../language/text/lines.ts';
import { Findings } from '../report/findings.ts';
import { tracksOf } from '../strokes/track.ts';
import { type Extent, Timer } from '../strokes/travel.ts';
import { type PartOnEdge, standOf } from '../wanted/edge-stand.ts';
import { bareLine } from './bare.ts';
import type { Gathered } from './gathered.ts';
import { type Head, isFact, readHead } from './head.ts';
import { LengthRules } from './lengths.ts';
import { Messages } from './messages.ts';
import { ModeRules } from './modes.ts';
import { StateRules } from './state.ts';
import { Stopping } from './stopping.ts';
import { ToldStops } from './told-stops.ts';

export interface ProgramSource {
  readonly file: string;
  /** Hands out each line, in order, until no more is wanted. */
  readonly lines: (read: LineReader) => void;
}

export interface ReadProgram {
  readonly index: number;
  readonly head: Head;
  /** Read to its end without a fault. */
  readonly whole: boolean;
  /** Numbers of the cutters that moved; null: one that no T word named. */
  readonly used: ReadonlySet<number | null>;
  readonly seconds: Second;
  /** The part on edge, where the program's head says that it stands so. */
  readonly stand: PartOnEdge | null;
  /** For each event of the head: whether the machine stands still there, the last move before it being a stop. */
  readonly stands: readonly boolean[];
  /** Line of the first cut, null where none is made, and whether a stop comes before it. */
  readonly firstCut: number | null;
  readonly stopsFirst: boolean;
  /** What only the strokes of the set-up tell of this program's moves: those of a cutter that the job does not have. */
  readonly unknown: Findings;
}

export interface Circumstance {
  readonly index: number;
  readonly machine: Machine | null;
  readonly job: Job | null;
  /** Takes the strokes; null where there is no job. */
  readonly gathered: Gathered | null;
  /** Of all programs together. */
  readonly extent: Extent;
  readonly files: readonly string[];
}

export function readThrough(source: ProgramSource, c: Circumstance, out: Findings): ReadProgram {
  const watch = new Watch(c);
  const reader = new ProgramReader(optionsFor(source.file, c), watch);
  let block = 0;
  source.lines((text, start, end) => {
    block++;
    const { spindle } = reader;
    watch.running = spindle.on;
    reader.line(text, start, end);
    if (spindle !== reader.spindle) watch.turned(spindle, reader.spindle, reader.position.z, block);
    if (watch.takesModes()) watch.modes.line(bareLine(text, start, end));
    return !reader.done;
  });
  return watch.finish(reader.finish(), reader, out);
}

function optionsFor(file: string, { machine, job }: Circumstance): ReaderOptions {
  return {
    file,
    unknownAfterStop: true,
    proof: job !== null,
    // Cutters are changed by hand: their numbers are names, not slots of a carousel.
    slots: 99_999,
    mist: machine === null || machine.coolant === 'mist',
    flood: machine === null || machine.coolant === 'flood',
    ...(machine === null ? {} : { maxSpeed: machine.maxSpeed }),
  };
}

class Watch {
  private readonly c: Circumstance;
  private readonly facts: ProgramComment[] = [];
  private readonly used = new Set<number | null>();
  private readonly timer: Timer;
  /** Told after what the language finds. */
  private readonly told: Findings;
  private state: StateRules | null = null;
  private stand: PartOnEdge | null = null;
  /** Named by the last message, until it cuts. */
  private fitted: Head['fits'][number] | null = null;
  /** Facts stated before the first move, and the head they make: what the moves are taken by. */
  private early = 0;
  private first: Head | null = null;
  private readonly stopping = new Stopping();
  private readonly unknown: Findings;
  /** Whether the spindle turns as the line is reached. */
  running = false;
  readonly modes = new ModeRules();
  private readonly lengths: LengthRules;
  private readonly lengthsTold: Findings;
  private readonly stops: ToldStops | null;
  private readonly messages: Messages | null;
  private firstMove: number | null = null;

  constructor(c: Circumstance) {
    this.c = c;
    this.timer = new Timer(c.machine);
    this.told = new Findings(c.files);
    this.lengthsTold = new Findings(c.files);
    this.unknown = new Findings(c.files);
    this.lengths = new LengthRules(c.index, this.lengthsTold);
    this.stops = c.job === null ? null : new ToldStops(c.index, c.job);
    this.messages = c.job === null ? null : new Messages(c.job, c.index);
  }

  move(m: CanonicalMove): void {
    this.firstMove ??= m.block;
    // An end is nothing done.
    if (m.kind !== 'end') this.used.add(m.tool);
    this.state ??= this.begin();
    this.state.move(m, this.running);
    if (this.c.job !== null) this.lengths.move(m);
    this.stops?.move(m);
    this.messages?.move(m);
    this.gather(m);
    if (m.kind === 'dwell') this.timer.dwell(m.seconds);
    for (const t of tracksOf(m)) {
      this.timer.add(t);
      this.c.extent.add(t, { program: this.c.index, block: m.block });
    }
  }

  private gather(m: CanonicalMove): void {
    const { gathered, index } = this.c;
    if (gathered === null || this.first === null) return;
    this.stopping.move(m);
    const { cutters, edge } = this.first;
    const only = cutters.length === 1 ? cutters[0]!.number : null;
    this.checkFitted(m, m.tool ?? only);
    gathered.add(m, index, edge?.hole ?? null, only, this.unknown);
  }

  /** Its head has been read by then, and says whether heights count over the plate or over a part on edge. */
  private begin(): StateRules {
    const { machine, job, index } = this.c;
    this.early = this.facts.length;
    this.first = job === null ? null : readHead(this.facts, 'mm');
    const edge = this.first?.edge ?? null;
    this.stand = job === null || edge === null ? null : standOf(job, edge.hole);
    return new StateRules({ machine, job: this.stand?.job ?? job, program: index, out: this.told });
  }

  comment(comment: ProgramComment): void {
    this.stops?.comment(comment);
    this.messages?.comment(comment);
    if (this.facts.length >= MOST_FACTS || !isFact(comment.text)) return;
    this.facts.push(comment);
    this.stopping.fact(comment.block);
    const { fits, events } = readHead([comment], 'mm');
    if (fits[0] !== undefined) this.fitted = fits[0];
    for (const e of events) this.stops?.event(e.kind, e.block);
  }

  length(slot: number | null, block: number): void {
    if (this.c.job !== null) this.lengths.length(slot, block);
    this.stops?.length(slot, block);
  }

  /** Up to and with the line of the first move. */
  takesModes(): boolean {
    const open = this.modes.open;
    if (this.firstMove !== null) this.modes.open = false;
    return open;
  }

  turned(before: Spindle, after: Spindle, z: Mm | null, block: number): void {
    this.state?.turned(before, after, z, block);
  }

  finish(result: ReadSummary, reader: ProgramReader, out: Findings): ReadProgram {
    const { index, job } = this.c;
    this.state ??= this.begin();
    for (const problem of result.problems) out.take(job === null ? problem : stricter(problem), index);
    // M2 ends a program and the second % is the end of what is read (NISTIR 6556, 3.1 and 3.6.1): it does no harm, so no fault.
    if (result.afterEnd !== null) {
      const found = 'there is text after the end of the program; it is never run';
      const wanted = 'nothing';
      const remedy = 'delete it';
      out.caution({ code: 'after-end', at: { program: index, block: result.afterEnd }, found, wanted, remedy });
    }
    if (result.endedBy === 'percent') this.state.ended(reader.spindle, reader.position, result.lines);
    this.state.finish(this.modes.statesPathControl);
    this.modes.tell(this.firstMove, job !== null, index, out);
    out.absorb(this.lengthsTold);
    this.stops?.finish(out);
    this.messages?.finish(result.last.units, out);
    out.absorb(this.told);
    const head = readHead(this.facts, result.last.units);
    for (const { block, text } of this.c.job === null ? [] : head.prose) {
      const found = `the comment "${text}" begins as a fact of the head and is taken for none`;
      const wanted = 'another first word';
      const remedy = 'word it otherwise';
      out.caution({ code: 'comment-like-fact', at: { program: index, block }, found, wanted, remedy });
    }
    this.tellLate(head, readHead(this.facts.slice(0, this.early), result.last.units), out);
    return {
      index,
      head,
      whole: !result.problems.some((p) => p.severity === 'fault') && result.ended,
      used: this.used,
      seconds: this.timer.finish(),
      stand: this.stand,
      stands: head.events.map((e) => this.stopping.at(e.block)),
      ...this.stopping.first,
      unknown: this.unknown,
    };
  }

  /** The first cut after a message that names a cutter is that cutter's. */
  private checkFitted(m: CanonicalMove, tool: number | null): void {
    const { fitted } = this;
    if (fitted === null || tool === null || (m.kind !== 'feed' && m.kind !== 'arc')) return;
    this.fitted = null;
    if (fitted.number === tool) return;
    const found = `the message asks for cutter ${fitted.number}, and cutter ${tool} cuts after it`;
    this.told.fault({
      code: 'message-cutter',
      at: { program: this.c.index, block: fitted.block },
      found,
      wanted: `cutter ${tool}`,
      remedy: 'correct the message or the change',
    });
  }

  /** Everything but events and messages stands before the first move: who reads it there must not be told otherwise later. */
  private tellLate(head: Head, early: Head, out: Findings): void {
    if (this.first === null || said(head) === said(early)) return;
    const found = 'the head goes on after the first move';
    out.fault({
      code: 'head-differs',
      at: { program: this.c.index, block: this.firstMove ?? 1 },
      found,
      wanted: 'all of it before the first move',
      remedy: 'make the program again',
    });
  }
}

function said(h: Head): string {
  return JSON.stringify({ ...h, events: [], touches: [], fits: [], standing: [], unread: [], prose: [] });
}

/** A head states a few dozen facts. */
const MOST_FACTS = 10_000;

/**
 * What a reader without the control's tables takes as zero and passes with a caution is no proof: another zero or another radius in the
 * control moves every cut. Missing lengths are judged by `LengthRules`.
 */
function stricter(p: LanguageProblem): LanguageProblem {
  if (p.code === 'stored-offsets') {
    const remedy = 'use the one coordinate system that was set on the work, without stored shifts';
    return { ...p, severity: 'fault', code: 'offset-unknown', remedy };
  }
  if (p.code === 'tool-data-missing' && p.found.startsWith('no diameter'))
    return {
      ...p,
      severity: 'fault',
      code: 'compensation-unknown',
      remedy: 'write the path of the axis, without G41 and G42',
    };
  return p;
}
