/** `NAME.plan.json` (design 4.3): millimetres and program coordinates whatever the job's units. */
import type { Problem } from '../base/problem.ts';
import { toDeg } from '../base/units.ts';
import type { Finding, Report } from '../check/report.ts';
import type { Course } from '../course/course.ts';
import type { Holding, HoldScore } from '../hold/holding.ts';
import type { Job } from '../part/part.ts';
import type { Moves } from '../paths/moves.ts';
import type { EdgeStand, Operation, Plan } from '../plan/plan.ts';
import type { WrittenProgram } from '../write/program.ts';

export interface PlanFileInput {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly programs: readonly WrittenProgram[];
  readonly moves: Moves;
  readonly report: Report;
  readonly told: readonly Problem[];
  readonly course: Course | null;
  readonly alternatives: readonly HoldScore[];
}

export function planFile(input: PlanFileInput): object {
  const { job, plan, report } = input;
  return {
    name: job.name,
    material: job.material,
    thickness: job.part.thickness,
    post: job.post,
    zero: job.zero,
    stock: {
      min: job.stock.min,
      max: job.stock.max,
      above: job.stock.above,
      measured: job.stock.measured,
      flatness: job.stock.flatness,
    },
    parts: job.places.map((p) => ({ at: pair(p.at), turn: tidy(toDeg(p.turn)), mirror: p.mirror })),
    cutters: plan.cutters.map(({ thread, ...c }) => ({ ...c, ...(thread ? { thread } : {}) })),
    setups: plan.setups.map((setup, i) => ({
      name: setup.name,
      programs: input.programs.filter((p) => p.setup === i).map((p) => p.file),
      minutes: tidy(minutesOf(input, i), 2),
      hold: setup.edge === null ? holdEntry(input) : edgeEntry(setup.edge),
      alternatives: setup.edge === null ? input.alternatives.map(alternativeEntry) : [],
      operations: setup.operations.map((o) => operationEntry(o, input)),
    })),
    bench: plan.bench,
    defaults: job.defaults,
    cautions: [...input.told.filter((p) => p.severity === 'caution'), ...report.cautions].map(problemEntry),
    report: {
      faults: report.faults.map(findingEntry),
      notes: [...input.told.filter((p) => p.severity === 'note').map(problemEntry), ...report.notes.map(findingEntry)],
      proven: report.proven,
      notProven: report.notProven,
    },
  };
}

/** What stands for the plan of a job that was refused: its faults and cautions in their places of a plan file, each with where it is in the input. */
export function refusedFile(problems: readonly Problem[]): object {
  const entries = (severity: Problem['severity']) =>
    problems.filter((p) => p.severity === severity).map((p) => ({ ...lineOf(p), ...problemEntry(p) }));
  return { cautions: entries('caution'), report: { faults: entries('fault'), notes: entries('note') } };
}

function lineOf({ place: { file, line, column } }: Problem): object {
  return {
    ...(file === undefined ? {} : { file }),
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  };
}

function minutesOf(input: PlanFileInput, setup: number): number {
  if (!input.course) return input.report.seconds / 60;
  return input.programs.reduce(
    (sum, p, i) => (p.setup === setup ? sum + input.course!.programs[i]!.seconds / 60 : sum),
    0,
  );
}

function holdEntry({ job, holding, course }: PlanFileInput): object {
  return {
    by: holding.by,
    tabs: holding.tabs.map((t) => ({
      part: t.part,
      at: pair(t.at),
      direction: tidy(t.directionDeg),
      width: t.width,
      height: t.height,
      cutHeight: t.cutHeight,
      footprint: tidy(t.footprint),
    })),
    ...(holding.floor === null ? {} : { thickness: holding.floor }),
    screws: holding.screws,
    ...stubEntries(holding.stubs),
    clamps: job.clamps,
    rail: tidy(holding.rail),
    ...(course === null ? {} : courseEntry(course)),
    reasons: holding.reasons,
  };
}

/** A part on edge between jaws: no margin is known, only the grip in newtons that is wanted. Coordinates of that set-up. */
function edgeEntry({ hole, job, parts, radius, centres, grip }: EdgeStand): object {
  return {
    by: 'jaws',
    ...{ edgeHole: hole.index, boss: hole.boss, direction: tidy(hole.directionDeg), depth: tidy(hole.depth) },
    ...{ holeBottom: tidy(-hole.depth), jawsTop: tidy(-radius) },
    ...{ tabs: [], screws: [], clamps: job.clamps, margin: null, movement: null },
    stock: { min: job.stock.min.map((v) => tidy(v)), max: job.stock.max.map((v) => tidy(v)) },
    mirrored: parts,
    centres: centres.map((c) => [tidy(c.x), tidy(c.z)]),
    grip,
  };
}

/** `stub`: of the first part; `stubs`: one a part. */
function stubEntries(stubs: Holding['stubs']): object {
  const entries = stubs.map((s) => ({
    part: s.part,
    at: pair(s.at),
    direction: tidy(s.directionDeg),
    width: s.width,
    footprint: tidy(s.footprint),
  }));
  return entries.length === 0 ? {} : { stub: entries[0], stubs: entries };
}

/** Least margin and most movement with program and block, bending of the cutter, lowest frequencies. */
function courseEntry({ margin, movement, cutterDeflection, together, modes, rhythm }: Course): object {
  return {
    margin: margin && {
      least: tidy(margin.least, 3),
      wanted: margin.wanted,
      program: margin.program,
      block: margin.block,
      at: margin.at.map((v) => tidy(v, 3)),
      state: margin.state,
    },
    movement: movement && {
      most: tidy(movement.most, 5),
      wanted: movement.wanted,
      program: movement.program,
      block: movement.block,
      at: movement.at.map((v) => tidy(v, 3)),
      state: movement.state,
      upwards: movement.upwards,
    },
    cutterDeflection: tidy(cutterDeflection, 5),
    together: tidy(together, 3),
    modes: modes.map((m) => tidy(m, 0)),
    rhythm: rhythm.map((r) => ({ ...r, passing: tidy(r.passing, 1), magnification: tidy(r.magnification, 2) })),
  };
}

function alternativeEntry(s: HoldScore): object {
  return {
    by: s.by,
    name: s.name,
    margin: { least: tidy(s.margin.least, 3), wanted: s.margin.wanted },
    movement: { most: tidy(s.movement.most, 5), wanted: s.movement.wanted },
    cutterDeflection: tidy(s.cutterDeflection, 5),
    effort: tidy(s.effortMinutes, 1),
    stops: tidy(s.stopMinutes, 1),
    verdict: s.verdict,
    reasons: s.reasons,
    possible: s.possible,
  };
}

function operationEntry(o: Operation, { programs, moves }: PlanFileInput): object {
  const bite = moves.bites.find((b) => b.operation === o.id);
  const program = programs.findIndex((p) => p.operations.some((x) => x.id === o.id));
  const span = programs[program]?.operations.find((x) => x.id === o.id);
  return {
    what: o.what,
    title: o.title,
    cutter: o.cutter,
    speed: o.speed,
    feed: o.feed,
    depths: o.depths.map((d) => tidy(d)),
    program,
    blocks: span ? [span.from, span.to] : [],
    power: tidy(o.power, 1),
    ...(bite
      ? { engagement: { peak: degrees(bite.peak), limit: degrees(o.engagement), slots: tidy(bite.slots, 1) } }
      : {}),
    reasons: o.reasons,
  };
}

/** Whole tenths: finer the measure is not. */
function degrees(angle: number): number {
  return tidy(toDeg(angle), 1);
}

function problemEntry(p: Problem): object {
  const { code, place, found, wanted, remedy } = p;
  return {
    code,
    found,
    wanted,
    remedy,
    ...(place.path ? { path: place.path } : {}),
    ...(place.at ? { at: place.at } : {}),
  };
}

function findingEntry(f: Finding): object {
  return {
    ...problemEntry(f),
    program: f.program,
    block: f.block,
    ...(f.size === undefined ? {} : { size: tidy(f.size) }),
  };
}

function pair(p: { x: number; y: number }): [number, number] {
  return [tidy(p.x), tidy(p.y)];
}

/** Trailing noise of binary arithmetic would make the file differ between systems; six decimals are a nanometre. */
function tidy(v: number, decimals = 6): number {
  return Number(v.toFixed(decimals)) + 0;
}
