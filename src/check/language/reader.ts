/** Reads a program line by line: percent frame, block delete both ways, comments, and the state after a fault. */

import type { AxisPosition, ReaderOptions, ReadSummary, Sink, Spindle } from './canonical.ts';
import { hangsOnControl, type Interpreter } from './machine/machine.ts';
import { checkSystem, readParameterFile } from './machine/parameters.ts';
import { runBlock } from './machine/run.ts';
import { forkState, lastState, type ModalState, parameterArray, startState } from './machine/state.ts';
import { emptyPlan } from './plan.ts';
import { MAX_PROBLEMS, Reporter } from './report.ts';
import { emptyBlock, type ProgramBlock } from './text/block.ts';
import { type Cursor, cursor, OUT_OF_RANGE } from './text/cursor.ts';
import { readLine } from './text/words.ts';

/** Characters a line may have (report, 3.3). */
export const LONGEST_LINE = 256;

/** Parameters of home positions, shifts and coordinate systems (report, table 2). */
const FIRST_KEPT = 5161;
const LAST_KEPT = 5390;

/** Slots of the tool carousel in the report's stand-alone interpreter (B.5.4). */
const SLOTS = 68;

interface SwitchedRun {
  readonly machine: Interpreter;
  readonly cursor: Cursor;
  /** Whether lines with `/` are left out. */
  readonly skips: boolean;
  ended: boolean;
}

export class ProgramReader {
  /** Nothing more can be learnt: too many problems, or the end of a framed program. */
  done = false;
  private readonly options: ReaderOptions;
  private readonly sink: Sink;
  private readonly reporter: Reporter;
  private readonly block: ProgramBlock = emptyBlock();
  private readonly ways: SwitchedRun[];
  private count = 0;
  private begun = false;
  private framed = false;
  private closed = false;
  private afterEnd: number | null = null;
  private trusted: number | null = null;

  constructor(options: ReaderOptions, sink: Sink) {
    this.options = options;
    this.sink = sink;
    this.reporter = new Reporter(options.file, options.maxProblems ?? MAX_PROBLEMS);
    const file = options.parameterFile;
    const stored = file === undefined ? options.parameters : readParameterFile(file, this.reporter);
    const parameters = parameterArray(stored);
    checkSystem(parameters, this.reporter);
    this.ways = [way(options, startState(options, parameters), this.reporter, sink, options.blockDelete ?? false)];
    if (this.reporter.problems.length > 0) this.taint(this.ways[0]!);
  }

  /** One line of the program, without its end. The whole text is passed so that nothing is copied. */
  line(text: string, start = 0, end = text.length): void {
    this.count++;
    const after = this.closed;
    if (this.frameLine(text, start, end) || this.closed) {
      if (after) this.noteAfterEnd(text, start, end);
      return;
    }
    const length = end - start;
    const main = this.ways[0]!;
    if (main.ended && this.ways.every((w) => w.ended)) {
      this.noteAfterEnd(text, start, end);
      return;
    }
    if (length > LONGEST_LINE) {
      this.reporter.refuse(4, this.count, LONGEST_LINE + 1, `${length} characters`);
      for (const w of this.ways) this.taint(w);
    } else {
      if (this.ways.length === 1 && text.charCodeAt(start) === 47 && length > 0) this.split();
      if (text.charCodeAt(start) === 47 && length > 0) this.tellOptional();
      for (const w of this.ways) this.runWay(w, text, start, end);
    }
    if (this.reporter.full) this.done = true;
  }

  /** Spindle and height as the lines so far leave them. */
  get spindle(): Spindle {
    return this.ways[0]!.machine.state.spindle;
  }

  get position(): AxisPosition {
    return this.ways[0]!.machine.state.position;
  }

  private tellOptional(): void {
    const m = this.ways[0]!.machine;
    m.line = this.count;
    const found = 'a line with /, which a switch of the control leaves out';
    hangsOnControl(m, { code: 'line-optional', column: 1, found, remedy: 'delete the / or the line' });
  }

  finish(): ReadSummary {
    const main = this.ways[0]!;
    const lines = Math.max(1, this.count);
    if (!this.done) {
      if (this.framed && !this.closed) this.reporter.refuse(1, lines, 1);
      else if (!this.framed && !this.ways.every((w) => w.ended)) this.reporter.refuse(2, lines, 1);
    }
    const endedBy = main.ended ? main.machine.endedBy : this.closed ? 'percent' : 'none';
    const problems = this.reporter.problems;
    const what = { problems, ended: endedBy !== 'none', endedBy, lines: this.count } as const;
    return { ...what, afterEnd: this.afterEnd, trustedUpTo: this.trusted, last: lastState(main.machine.state) };
  }

  /** Lines that hold only `%`. */
  private frameLine(text: string, start: number, end: number): boolean {
    let i = start;
    while (i < end && isBlank(text.charCodeAt(i))) i++;
    if (i === end) return true;
    const first = !this.begun;
    this.begun = true;
    if (text.charCodeAt(i) !== 37) return false;
    let j = i + 1;
    while (j < end && isBlank(text.charCodeAt(j))) j++;
    if (j < end || this.closed) return this.closed;
    if (first) this.framed = true;
    else if (this.framed) this.closed = true;
    else if (!this.ways.every((w) => w.ended)) {
      this.reporter.refuse(3, this.count, i - start + 1);
      for (const w of this.ways) this.taint(w);
    }
    return true;
  }

  private runWay(w: SwitchedRun, text: string, start: number, end: number): void {
    if (w !== this.ways[0]) this.reporter.circumstance = ` (with block delete ${w.skips ? 'on' : 'off'})`;
    this.runLine(w, text, start, end);
    this.reporter.circumstance = '';
  }

  private runLine(w: SwitchedRun, text: string, start: number, end: number): void {
    if (w.ended || (w.skips && text.charCodeAt(start) === 47)) return;
    const m = w.machine;
    const b = this.block;
    m.line = this.count;
    b.line = this.count;
    if (!readLine(w.cursor, b, text, start, end)) {
      this.refuseLine(w, start);
      return;
    }
    if (b.comments.length > 0) this.tell(w, b);
    if (w.cursor.stored > 0) {
      const found = `#${w.cursor.stored} has the value that the control has stored`;
      const remedy = 'write the number itself, or set the parameter first';
      hangsOnControl(m, { code: 'offset-unknown', column: 1, found, remedy });
    }
    const good = runBlock(m, b);
    for (const s of b.settings) this.set(w, s.index, s.value);
    if (!good) this.taint(w);
    if (m.endedBy !== 'none') w.ended = true;
  }

  private set(w: SwitchedRun, index: number, value: number): void {
    w.machine.state.parameters[index] = value;
    w.cursor.set[index] = 1;
    if (index < FIRST_KEPT || index > LAST_KEPT) return;
    const found = `#${index} is set, which the control keeps: an origin, a shift or a home position`;
    const remedy = 'use the one coordinate system that was set on the work';
    hangsOnControl(w.machine, { code: 'offset-unknown', column: 1, found, remedy });
  }

  private refuseLine(w: SwitchedRun, start: number): void {
    const c = w.cursor;
    const doubtful = w.machine.tainted && c.usedParameter;
    if (!doubtful) this.tellFault(c, c.badAt - start + 1);
    this.taint(w);
  }

  private tellFault(c: Cursor, column: number): void {
    if (c.bad !== OUT_OF_RANGE) return this.reporter.refuse(c.bad, this.count, column, c.badFound);
    this.reporter.add('fault', {
      code: 'value-out-of-range',
      at: { line: this.count, column: column },
      found: c.badFound,
      wanted: 'a value within 1e9',
      remedy: 'correct it',
    });
  }

  private tell(w: SwitchedRun, b: ProgramBlock): void {
    if (w.machine.sink === null) return;
    for (const c of b.comments) {
      const message = /^[ \t]*m[ \t]*s[ \t]*g[ \t]*,/i.exec(c.text);
      const text = message === null ? c.text : c.text.slice(message[0].length);
      this.sink.comment({ block: this.count, column: c.column, text, message: message !== null });
    }
  }

  private taint(w: SwitchedRun): void {
    w.machine.tainted = true;
    if (w === this.ways[0] && this.trusted === null) this.trusted = this.count;
  }

  /** The first `/`: from here on the program is read once with its lines and once without them. */
  private split(): void {
    const first = this.ways[0]!;
    const other = way(this.options, forkState(first.machine.state), this.reporter, null, !first.skips);
    other.machine.tainted = first.machine.tainted;
    this.ways.push(other);
  }

  private noteAfterEnd(text: string, start: number, end: number): void {
    if (this.afterEnd === null && end > start && text.slice(start, Math.min(end, start + LONGEST_LINE)).trim() !== '')
      this.afterEnd = this.count;
  }
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9;
}

function way(
  options: ReaderOptions,
  state: ModalState,
  reporter: Reporter,
  sink: Sink | null,
  skips: boolean,
): SwitchedRun {
  const tools = options.toolTable ?? [];
  const machine: Interpreter = {
    state,
    reporter,
    sink,
    plan: emptyPlan(),
    line: 0,
    tainted: false,
    endedBy: 'none',
    slots: options.slots ?? SLOTS,
    diameters: new Map(tools.map((t) => [t.number, t.diameter])),
    lengths: new Map(tools.map((t) => [t.number, t.length])),
    maxSpeed: options.maxSpeed ?? Number.POSITIVE_INFINITY,
    mist: options.mist ?? true,
    flood: options.flood ?? true,
    probe: options.probe ?? true,
    rotary: options.rotaryAxes ?? '',
    unknownAfterStop: options.unknownAfterStop ?? false,
    storedOffsets: options.parameters !== undefined || options.parameterFile !== undefined,
    proof: options.proof ?? false,
    pecks: 0,
  };
  return { machine, cursor: cursor(state.parameters), skips, ended: false };
}
