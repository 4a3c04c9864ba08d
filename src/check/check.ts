/**
 * The independent check: reads the programs' text, brings it to strokes and measures them against the job. It shares nothing with
 * what wrote the programs but the job itself.
 */
import type { Job, Machine } from '../part/part.ts';
import { checkHead } from './agree.ts';
import type { Stand } from './edge-stand.ts';
import { checkOnEdge } from './edge-work.ts';
import { Findings } from './findings.ts';
import { checkGouge } from './gouge.ts';
import type { Head } from './head.ts';
import type { CanonicalMove } from './language/canonical.ts';
import { eachLine } from './language/lines.ts';
import { type ProgramSource, type ReadProgram, readThrough } from './reading.ts';
import type { Report } from './report.ts';
import { checkStops } from './stops.ts';
import { type Stroke, strokesOf, toolOf } from './stroke.ts';
import { Extent } from './travel.ts';
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
  return checkSources(
    programs.map(({ file, text }) => ({ file, lines: (read) => eachLine(text, read) })),
    job,
    options,
  );
}

/** The same of programs that come line by line. */
export function checkSources(sources: readonly ProgramSource[], job: Job | null, options: CheckOptions = {}): Report {
  const files = sources.map((p) => p.file);
  const out = new Findings(files);
  const machine = job?.machine ?? options.machine ?? null;
  const extent = new Extent(machine);
  const read = sources.map((p, index) => readThrough(p, { index, machine, job, extent, files }, out));
  extent.tell(out);
  if (job === null)
    out.doubt(
      'the part',
      machine === null
        ? 'no job was given: only language, extent and time were judged'
        : 'no job was given: only language, machine limits, extent and time were judged',
    );
  else proveAll(job, read, out);
  const seconds = read.reduce((sum, r) => sum + r.seconds, 0);
  return out.report({ envelope: extent.envelope, cutters: cuttersOf(read), seconds });
}

function cuttersOf(read: readonly ReadProgram[]): number[] {
  const used = new Set<number>();
  for (const r of read) {
    for (const tool of r.used) if (tool !== null && tool > 0) used.add(tool);
    for (const c of r.head.cutters) used.add(c.number);
  }
  return [...used].sort((a, b) => a - b);
}

/** The plate with its parts first, then each part on edge. */
function proveAll(job: Job, read: readonly ReadProgram[], out: Findings): void {
  const flat = read.filter((r) => r.head.edge === null);
  if (flat.length > 0) proveAgainst(job, flat, out);
  for (const { index } of job.part.edgeHoles) {
    const mine = read.filter((r) => r.head.edge?.hole === index);
    const stand = mine[0]?.stand ?? null;
    if (stand === null) out.doubt(`edge hole ${index + 1}`, 'no program for it was given');
    else proveOnEdge(stand, mine, out);
  }
  for (const r of read.filter((r) => r.head.edge !== null && r.stand === null)) {
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
  const mine = read;
  for (const r of read) {
    checkSetup(r, read[0]!, out);
    checkHead(r.head, job, wanted, r.index, out);
  }
  checkAlike(mine, out);
  checkOrder(mine, out);
  checkStops(mine, out);
  if (isComplete(mine)) checkCalled(mine, out);
  const strokes = strokesOfAll(mine, job, out);
  checkGouge(strokes, wanted, out);
  checkWork({ job, wanted, strokes, programs: mine, complete: isComplete(mine) }, out);
}

/** A cutter that a head names and no program moves with: its change was lost, and the one before it does its work. */
function checkCalled(read: readonly ReadProgram[], out: Findings): void {
  const used = new Set(read.flatMap((r) => [...r.used]));
  // One cutter a program needs no T word: it is in the spindle.
  for (const r of read) if (r.head.cutters.length === 1 && r.used.size > 0) used.add(r.head.cutters[0]!.number);
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

/** All that is cut with the plate lying flat is one set-up, whatever a head calls it. */
function checkSetup(r: ReadProgram, first: ReadProgram, out: Findings): void {
  if (r.head.setup === first.head.setup) return;
  const name = (p: ReadProgram) => (p.head.setup === null ? 'no set-up' : `the set-up "${p.head.setup}"`);
  const found = `its head names ${name(r)}`;
  const wanted = `${name(first)}, as the first program's`;
  const spot = { program: r.index, block: r.head.program?.block ?? 1 };
  out.fault('head-differs', found, wanted, 'make all programs again', spot);
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
