/**
 * The independent check: reads the programs' text, brings it to strokes and measures them against the job. It shares nothing with
 * what wrote the programs but the job itself.
 */
import type { Job, Machine } from '../part/part.ts';
import { checkOnEdge } from './edge-work.ts';
import { checkGouge } from './exact/gouge.ts';
import { eachLine } from './language/text/lines.ts';
import { checkPlate } from './plate-work.ts';
import { checkHead, firstFact } from './program/agree.ts';
import { Gathered } from './program/gathered.ts';
import type { Head } from './program/head.ts';
import { type ProgramSource, type ReadProgram, readThrough } from './program/reading.ts';
import { checkStops } from './program/stops.ts';
import { Findings } from './report/findings.ts';
import type { Report } from './report.ts';
import { inMemory, type Shelf } from './strokes/spool.ts';
import type { Strokes } from './strokes/strokes.ts';
import { Extent } from './strokes/travel.ts';
import type { PartOnEdge } from './wanted/edge-stand.ts';
import { wantedOf } from './wanted/wanted.ts';

export interface ProgramText {
  readonly file: string;
  readonly text: string;
}

export interface CheckOptions {
  /** Limits to judge by when there is no job. */
  readonly machine?: Machine;
  /** A new place for what does not fit in memory; else it stays in memory, packed. */
  readonly shelf?: () => Shelf;
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
  const shelf = options.shelf ?? inMemory;
  const gathered = job === null ? null : new Gathered(job, shelf);
  const read = sources.map((p, index) => readThrough(p, { index, machine, job, gathered, extent, files }, out));
  extent.tell(out);
  if (job === null || gathered === null)
    out.doubt(
      'the part',
      machine === null
        ? 'no job was given: only language, extent and time were judged'
        : 'no job was given: only language, machine limits, extent and time were judged',
    );
  else proveAll({ job, gathered, shelf }, read, out);
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

interface CheckInputs {
  readonly job: Job;
  readonly gathered: Gathered;
  readonly shelf: () => Shelf;
}

/** What stands on edge has been cut out of the plate before. */
function checkEdgeLast(read: readonly ReadProgram[], out: Findings): void {
  const last = read.findLastIndex((r) => r.head.edge === null);
  for (const r of read.slice(0, Math.max(0, last))) {
    if (r.head.edge === null) continue;
    const found = 'a part on edge before all programs of the plate';
    const wanted = 'the plate first';
    const remedy = 'give them in running order';
    out.fault({ code: 'program-order', at: { program: r.index, block: r.head.edge.block }, found, wanted, remedy });
  }
}

/** The plate with its parts first, then each part on edge. */
function proveAll({ job, gathered, shelf }: CheckInputs, read: readonly ReadProgram[], out: Findings): void {
  const flat = read.filter((r) => r.head.edge === null);
  if (flat.length > 0) proveAgainst({ job, gathered, shelf }, flat, out);
  checkEdgeLast(read, out);
  for (const { index } of job.part.edgeHoles) {
    const mine = read.filter((r) => r.head.edge?.hole === index);
    const stand = mine[0]?.stand ?? null;
    if (stand === null) out.doubt(`edge hole ${index + 1}`, 'no program for it was given');
    else proveOnEdge(stand, mine, gathered.strokes(index), out);
  }
  for (const r of read.filter((r) => r.head.edge !== null && r.stand === null)) {
    const { block, hole } = r.head.edge!;
    const found = `edge hole ${hole + 1}`;
    const wanted = 'an edge hole of the job';
    const remedy = 'give the job it was made from';
    out.fault({ code: 'head-disagrees', at: { program: r.index, block }, found, wanted, remedy });
  }
}

function proveOnEdge(stand: PartOnEdge, mine: readonly ReadProgram[], strokes: Strokes, out: Findings): void {
  checkAlike(mine, out);
  checkOrder(mine, out);
  const complete = isComplete(mine);
  if (complete) checkCalled(mine, out);
  for (const r of mine) out.absorb(r.unknown);
  checkOnEdge(stand, mine, strokes, complete, out);
}

function proveAgainst({ job, gathered, shelf }: CheckInputs, mine: readonly ReadProgram[], out: Findings): void {
  const wanted = wantedOf(job);
  for (const r of mine) {
    checkSetup(r, mine[0]!, out);
    checkHead(r.head, job, wanted, r.index, out);
  }
  checkAlike(mine, out);
  checkOrder(mine, out);
  checkStops(mine, out);
  if (isComplete(mine)) checkCalled(mine, out);
  for (const r of mine) out.absorb(r.unknown);
  const strokes = gathered.strokes(null);
  checkGouge(strokes, wanted, out);
  checkPlate({ job, wanted, strokes, programs: mine, complete: isComplete(mine), shelf }, out);
}

/** A cutter that a head names and no program moves with: its change was lost, and the one before it does its work. */
function checkCalled(read: readonly ReadProgram[], out: Findings): void {
  const used = new Set(read.flatMap((r) => [...r.used]));
  // One cutter a program needs no T word: it is in the spindle.
  for (const r of read) if (r.head.cutters.length === 1 && r.used.size > 0) used.add(r.head.cutters[0]!.number);
  for (const r of read) {
    for (const c of r.head.cutters.filter((k) => r.whole && !used.has(k.number))) {
      const found = `the head names cutter ${c.number}, and nothing is done with it`;
      const wanted = 'a change to every cutter named';
      const remedy = 'make the program again from this job';
      out.fault({ code: 'head-disagrees', at: { program: r.index, block: c.block }, found, wanted, remedy });
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
    out.fault({
      code: 'head-differs',
      at: { program: r.index, block: r.head.hold?.block ?? 1 },
      found: 'its head says otherwise than that of the first program',
      wanted: 'one holding for all',
      remedy: 'make all programs again',
    });
  }
}

/** Stock is carried over from one to the next, so the programs of a set-up must come in their order, each once. */
function checkOrder(read: readonly ReadProgram[], out: Findings): void {
  const silent = read.filter((r) => r.head.program === null);
  if (read.length > 1 && silent.length === read.length)
    out.doubt(
      'running order',
      'no head says "program n of m": what is proven is proven of the programs in the order in which they were given, and of no other',
    );
  else if (read.length > 1)
    for (const r of silent) {
      const found = 'its head does not say which of the programs it is, and those beside it do';
      const wanted = '"program n of m" in each';
      const remedy = 'make all programs again';
      out.fault({ code: 'program-order', at: { program: r.index, block: firstFact(r.head) }, found, wanted, remedy });
    }
  for (const [i, r] of read.entries()) {
    const before = read[i - 1]?.head.program;
    const mine = r.head.program;
    if (!before || !mine || (mine.number > before.number && mine.of === before.of)) continue;
    const found = `program ${mine.number} of ${mine.of} runs after program ${before.number} of ${before.of}`;
    const wanted = 'each once, in the order of their numbers';
    const remedy = 'give them in running order';
    out.fault({ code: 'program-order', at: { program: r.index, block: mine.block }, found, wanted, remedy });
  }
}

/** All that is cut with the plate lying flat is one set-up, whatever a head calls it. */
function checkSetup(r: ReadProgram, first: ReadProgram, out: Findings): void {
  if (r.head.setup === first.head.setup) return;
  const name = (p: ReadProgram) => (p.head.setup === null ? 'no set-up' : `the set-up "${p.head.setup}"`);
  const found = `its head names ${name(r)}`;
  const wanted = `${name(first)}, as the first program's`;
  out.fault({
    code: 'head-differs',
    at: { program: r.index, block: r.head.program?.block ?? 1 },
    found,
    wanted,
    remedy: 'make all programs again',
  });
}

/** All programs of the set-up are there and were read to their end. */
function isComplete(read: readonly ReadProgram[]): boolean {
  if (!read.every((r) => r.whole)) return false;
  const of = Math.max(...read.map((r) => r.head.program?.of ?? 1));
  const numbers = new Set(read.map((r) => r.head.program?.number ?? 1));
  return numbers.size >= of;
}
