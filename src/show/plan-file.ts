/** `NAME.plan.json` (design 4.3): millimetres and program coordinates whatever the job's units. */
import type { Problem } from '../base/problem.ts';
import { toDeg } from '../base/units.ts';
import type { Finding } from '../check/report.ts';
import type { Course, WorstOnEdge } from '../course/course.ts';
import type { Holding, HoldScore } from '../hold/holding.ts';
import type { EdgeStand, Operation } from '../plan/plan.ts';
import type { SheetInput } from './sheet/input.ts';
import { minutesOf } from './sheet/times.ts';

/** Of the same results as the sheet. */
export function planFile(input: SheetInput): object {
  const { job, plan, report } = input;
  const { min, max, above, measured, flatness } = job.stock;
  return {
    name: job.name,
    material: job.material,
    thickness: job.part.thickness,
    post: job.post,
    zero: job.zero,
    stock: { min, max, above, measured, flatness },
    parts: job.places.map((p) => ({ at: pair(p.at), turn: tidy(toDeg(p.turn)), mirror: p.mirror })),
    cutters: plan.cutters.map(({ thread, ...c }) => ({ ...c, thread: thread ?? undefined })),
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
  return { file, line, column };
}

function holdEntry({ job, holding, course }: SheetInput): object {
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
    thickness: holding.floor ?? undefined,
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
    edgeHole: hole.index,
    boss: hole.boss,
    direction: tidy(hole.directionDeg),
    depth: tidy(hole.depth),
    holeBottom: tidy(-hole.depth),
    jawsTop: tidy(-radius),
    tabs: [],
    screws: [],
    clamps: job.clamps,
    margin: null,
    movement: null,
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
    margin: margin && { least: tidy(margin.least, 3), wanted: margin.wanted, ...momentEntry(margin) },
    movement: movement && {
      most: tidy(movement.most, 5),
      wanted: movement.wanted,
      ...momentEntry(movement),
      upwards: movement.upwards,
    },
    cutterDeflection: tidy(cutterDeflection, 5),
    together: tidy(together, 3),
    modes: modes.map((m) => tidy(m, 0)),
    rhythm: rhythm.map((r) => ({ ...r, passing: tidy(r.passing, 1), magnification: tidy(r.magnification, 2) })),
  };
}

function momentEntry({ program, block, at, state }: WorstOnEdge): object {
  return { program, block, at: at.map((v) => tidy(v, 3)), state };
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

function operationEntry(o: Operation, { programs, moves }: SheetInput): object {
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
    engagement: bite && { peak: degrees(bite.peak), limit: degrees(o.engagement), slots: tidy(bite.slots, 1) },
    reasons: o.reasons,
  };
}

/** Whole tenths: finer the measure is not. */
function degrees(angle: number): number {
  return tidy(toDeg(angle), 1);
}

function problemEntry(p: Problem): object {
  const { code, place, found, wanted, remedy } = p;
  return { code, found, wanted, remedy, path: place.path || undefined, at: place.at };
}

function findingEntry(f: Finding): object {
  const { program, block, size } = f;
  return { ...problemEntry(f), program, block, size: size === undefined ? undefined : tidy(size) };
}

function pair(p: { x: number; y: number }): [number, number] {
  return [tidy(p.x), tidy(p.y)];
}

/** Trailing noise of binary arithmetic would make the file differ between systems; six decimals are a nanometre. */
function tidy(v: number, decimals = 6): number {
  return Number(v.toFixed(decimals)) + 0;
}
