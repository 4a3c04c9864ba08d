/**
 * The independent check: reads the programs' text, brings it to strokes and measures them against the job. It shares nothing with
 * what wrote the programs but the job itself.
 */
import type { Problem } from '../base/problem.ts';
import type { Job, Machine } from '../part/part.ts';
import { checkHead } from './agree.ts';
import { type Stand, standOf } from './edge-stand.ts';
import { checkOnEdge } from './edge-work.ts';
import { Findings } from './findings.ts';
import { checkGouge } from './gouge.ts';
import { type Head, readHead } from './head.ts';
import type { CanonicalMove } from './language/canonical.ts';
import { readProgram } from './language/read.ts';
import type { Report } from './report.ts';
import { checkLengths } from './rules/lengths.ts';
import { checkModes } from './rules/modes.ts';
import { checkState, runningFrom } from './rules/state.ts';
import { type Stroke, strokesOf, toolOf } from './stroke.ts';
import { tracksOf } from './track.ts';
import { checkTravel, envelopeOf, secondsOf } from './travel.ts';
import { wantedOf } from './wanted/wanted.ts';
import { checkWork } from './work.ts';

export interface ProgramText {
  readonly file: string;
  readonly text: string;
}

export interface CheckOptions {
  /** Limits to judge by when there is no job. */
  readonly machine?: Machine;
}

/** Checks programs in running order, the stock carried over from one to the next. With no job: language, limits, extent, time. */
export function checkPrograms(programs: readonly ProgramText[], job: Job | null, options: CheckOptions = {}): Report {
  const out = new Findings(programs.map((p) => p.file));
  const machine = job?.machine ?? options.machine ?? null;
  const read = programs.map((p, i) => readOne(p, i, machine, job !== null, out));
  const moves = read.flatMap((r) => r.moves);
  const tracks = tracksOf(moves);
  const stands = read.map((r) => (job === null || r.head.edge === null ? null : standOf(job, r.head.edge.hole)));
  for (const [i, r] of read.entries())
    checkState(r.moves, machine, stands[i]?.job ?? job, i, runningFrom(programs[i]!.text), out);
  const envelope = envelopeOf(tracks);
  if (machine !== null) checkTravel(envelope, read, machine, out);
  if (job === null)
    out.doubt(
      'the part',
      machine === null
        ? 'no job was given: only language, extent and time were judged'
        : 'no job was given: only language, machine limits, extent and time were judged',
    );
  else proveAll(job, read, stands, out);
  const seconds = read.reduce((sum, r) => sum + secondsOf(tracksOf(r.moves), r.moves, machine), 0);
  return out.report({ envelope, cutters: cuttersOf(read), seconds });
}

export interface ReadProgram {
  readonly index: number;
  readonly moves: readonly CanonicalMove[];
  readonly head: Head;
  /** Read to its end without a fault. */
  readonly whole: boolean;
}

function readOne(
  program: ProgramText,
  index: number,
  machine: Machine | null,
  proving: boolean,
  out: Findings,
): ReadProgram {
  const result = readProgram(program.text, {
    file: program.file,
    unknownAfterStop: true,
    // Cutters are changed by hand: their numbers are names, not slots of a carousel.
    slots: 99_999,
    mist: machine === null || machine.coolant === 'mist',
    flood: machine === null || machine.coolant === 'flood',
    ...(machine === null ? {} : { maxSpeed: machine.maxSpeed }),
  });
  for (const problem of result.problems) out.take(proving ? stricter(problem) : problem, index);
  if (result.afterEnd !== null) {
    out.caution('after-end', 'there is text after the end of the program; it is never run', 'nothing', 'delete it', {
      program: index,
      block: result.afterEnd,
    });
  }
  checkModes(program.text, result.moves[0]?.block ?? Infinity, index, out);
  if (proving) checkLengths(program.text, index, out);
  const whole = !result.problems.some((p) => p.severity === 'fault') && result.ended;
  return { index, moves: result.moves, head: readHead(result.comments, result.last.units), whole };
}

/**
 * What a reader without the control's tables takes as zero and passes with a caution is no proof: another zero or another radius in the
 * control moves every cut. Missing lengths are judged by `checkLengths`.
 */
function stricter(p: Problem): Problem {
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

function cuttersOf(read: readonly ReadProgram[]): number[] {
  const used = new Set<number>();
  for (const r of read) {
    for (const m of r.moves) if (m.tool !== null && m.tool > 0) used.add(m.tool);
    for (const c of r.head.cutters) used.add(c.number);
  }
  return [...used].sort((a, b) => a - b);
}

/** The plate with its parts first, then each part on edge. */
function proveAll(job: Job, read: readonly ReadProgram[], stands: readonly (Stand | null)[], out: Findings): void {
  const flat = read.filter((r) => r.head.edge === null);
  if (flat.length > 0) proveAgainst(job, flat, out);
  for (const { index, hole } of job.part.edgeHoles.map((h) => ({ index: h.index, hole: h }))) {
    const mine = read.filter((r) => r.head.edge?.hole === index);
    const stand = stands[mine[0]?.index ?? -1];
    if (stand === undefined || stand === null) out.doubt(`edge hole ${hole.index + 1}`, 'no program for it was given');
    else proveOnEdge(stand, mine, out);
  }
  for (const r of read.filter((r, i) => r.head.edge !== null && stands[i] === null)) {
    const { block, hole } = r.head.edge!;
    const spot = { program: r.index, block };
    out.fault(
      'head-disagrees',
      `edge hole ${hole + 1}`,
      'an edge hole of the job',
      'give the job it was made from',
      spot,
    );
  }
}

function proveOnEdge(stand: Stand, mine: readonly ReadProgram[], out: Findings): void {
  checkAlike(mine, out);
  checkOrder(mine, out);
  const complete = isComplete(mine);
  if (complete) checkCalled(mine, out);
  checkOnEdge(stand, mine, strokesOfAll(mine, stand.job, out), complete, out);
}

function proveAgainst(job: Job, read: readonly ReadProgram[], out: Findings): void {
  const wanted = wantedOf(job);
  const mine = read.filter((r) => sameSetup(r, read[0]!));
  for (const r of read) {
    if (!mine.includes(r))
      out.doubt(`program ${r.index + 1}`, 'it belongs to another set-up, whose stock this check does not know');
    else checkHead(r.head, job, wanted, r.index, out);
  }
  checkAlike(mine, out);
  checkOrder(mine, out);
  if (isComplete(mine)) checkCalled(mine, out);
  const strokes = strokesOfAll(mine, job, out);
  checkGouge(strokes, wanted, out);
  checkWork({ job, wanted, strokes, programs: mine, complete: isComplete(mine) }, out);
}

/** A cutter that a head names and no program moves with: its change was lost, and the one before it does its work. */
function checkCalled(read: readonly ReadProgram[], out: Findings): void {
  const used = new Set(read.flatMap((r) => r.moves.map((m) => m.tool)));
  // One cutter a program needs no T word: it is in the spindle.
  for (const r of read) if (r.head.cutters.length === 1) used.add(r.head.cutters[0]!.number);
  for (const r of read) {
    for (const c of r.head.cutters.filter((k) => r.whole && !used.has(k.number))) {
      const found = `the head names cutter ${c.number}, and nothing is done with it`;
      const spot = { program: r.index, block: c.block };
      out.fault(
        'head-disagrees',
        found,
        'a change to every cutter named',
        'make the program again from this job',
        spot,
      );
    }
  }
}

/** The head speaks of the whole set-up, so all its programs must say the same of holding and parts. */
function checkAlike(read: readonly ReadProgram[], out: Findings): void {
  const said = (h: Head) =>
    JSON.stringify([h.hold, h.edge, h.tabs, h.stubs, h.parts, h.stock], (key, value: unknown) =>
      key === 'block' ? undefined : value,
    );
  const first = read[0];
  for (const r of read) {
    if (first === undefined || said(r.head) === said(first.head)) continue;
    const spot = { program: r.index, block: r.head.hold?.block ?? 1 };
    out.fault(
      'head-differs',
      'its head says otherwise than that of the first program',
      'one holding for all',
      'make all programs again',
      spot,
    );
  }
}

/** Stock is carried over from one to the next, so the programs of a set-up must come in their order, each once. */
function checkOrder(read: readonly ReadProgram[], out: Findings): void {
  for (const [i, r] of read.entries()) {
    const before = read[i - 1]?.head.program;
    const mine = r.head.program;
    if (!before || !mine || (mine.number > before.number && mine.of === before.of)) continue;
    const found = `program ${mine.number} of ${mine.of} runs after program ${before.number} of ${before.of}`;
    const spot = { program: r.index, block: mine.block };
    out.fault('program-order', found, 'each once, in the order of their numbers', 'give them in running order', spot);
  }
}

function sameSetup(r: ReadProgram, first: ReadProgram): boolean {
  return r.head.setup === first.head.setup;
}

/** All programs of the set-up are there and were read to their end. */
function isComplete(read: readonly ReadProgram[]): boolean {
  if (!read.every((r) => r.whole)) return false;
  const of = Math.max(...read.map((r) => r.head.program?.of ?? 1));
  const numbers = new Set(read.map((r) => r.head.program?.number ?? 1));
  return numbers.size >= of;
}

function strokesOfAll(read: readonly ReadProgram[], job: Job, out: Findings): Stroke[] {
  const tools = new Map(job.cutters.map((c) => [c.number, toolOf(c)]));
  return read.flatMap((r) => {
    const only = r.head.cutters.length === 1 ? tools.get(r.head.cutters[0]!.number) : undefined;
    return r.moves.flatMap((m) => {
      const tool = m.tool === null ? only : tools.get(m.tool);
      if (tool === undefined) {
        tellUnknown(m, r.index, out);
        return [];
      }
      return strokesOf(m, r.index, tool);
    });
  });
}

function tellUnknown(m: CanonicalMove, program: number, out: Findings): void {
  if (m.kind !== 'feed' && m.kind !== 'arc') return;
  const which = m.tool === null ? 'before any cutter is called' : `with cutter ${m.tool}, which the job does not have`;
  out.fault('cutter-unknown', `a cut ${which}`, 'a cutter of the job', 'write T and M6, or add the cutter to the job', {
    program,
    block: m.block,
  });
}
