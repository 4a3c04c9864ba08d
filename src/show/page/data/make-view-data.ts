/** Gathers everything the page shows. Pure: the same input gives the same page. */
import type { Mm } from '../../../base/units.ts';
import type { Finding, Report } from '../../../check/report.ts';
import type { Course } from '../../../course/course.ts';
import { type Placement, placeLoop, placePoint } from '../../../geometry/measure/transform.ts';
import type { Loop, Segment } from '../../../geometry/types.ts';
import type { Holding } from '../../../hold/holding.ts';
import type { Cutter, Hole, Job } from '../../../part/part.ts';
import type { Plan } from '../../../plan/plan.ts';
import { cautionsFor } from './cautions.ts';
import { packCourse } from './course-pack.ts';
import { gatherMoves } from './gather-moves.ts';
import { besidesOf, holdingWords } from './holding-words.ts';
import { packMoves } from './moves-pack.ts';
import { packText } from './pack.ts';
import { withinWords } from './proof-words.ts';
import type { PageReader, ReadHead } from './read-program.ts';
import type {
  FlatSegment,
  ViewCutter,
  ViewData,
  ViewFinding,
  ViewHole,
  ViewPart,
  ViewProgram,
  ViewSetup,
  ViewTab,
} from './view-data.ts';

export interface ViewInput {
  /** Heading when there is no job: the program's file name. */
  readonly name: string;
  /** Null: only a program is looked at. */
  readonly job: Job | null;
  readonly plan: Plan | null;
  readonly holding: Holding | null;
  readonly programs: readonly ViewProgramInput[];
  readonly report: Report;
  readonly course: Course | null;
  readonly read: PageReader;
}

export interface ViewProgramInput {
  readonly file: string;
  readonly text: string;
  readonly setup: number;
  readonly operations: readonly { readonly id: number; readonly from: number; readonly to: number }[];
}

/** Longest packed text carried along; a longer program is shown by its moves alone, so that the page stays small. */
export const MOST_TEXT = 400_000;
/** Longer texts are not even tried: their packing would take longer than it could save. */
const MOST_RAW_TEXT = 4_000_000;
/** Of a machine nobody described: a light mill. */
const UNKNOWN_RAPID = 1000;

export function viewData(input: ViewInput): ViewData {
  const { job, plan, holding, report } = input;
  const read = input.programs.map((p) => input.read(p.text, p.file));
  const heads = read.map((r) => r.head);
  return {
    name: job?.name ?? input.name,
    material: job?.material ?? null,
    thickness: job?.part.thickness ?? null,
    hasJob: job !== null,
    parts: job === null ? [] : job.places.map((place) => viewPart(job, place)),
    clamps: job?.clamps ?? [],
    tabs: tabsOf(holding, heads),
    spared: sparedOf(holding, tabsOf(holding, heads)),
    floor: holding?.floor ?? null,
    besides: besidesOf(holding, input.programs),
    holding: holdingWords(job, holding, heads[0] ?? null),
    cutters: cuttersOf(job, plan, heads),
    setups: setupsOf(input, heads),
    programs: input.programs.map((p, i) => viewProgram(input, p, i, read[i]!)),
    findings: [...report.faults, ...report.cautions, ...report.notes].map(viewFinding),
    proven: report.proven.map(
      (p) => `${p.what}: ${p.says}${p.within === null ? '' : ` (${withinWords(p.what, p.within)})`}`,
    ),
    notProven: report.notProven.map((p) => `${p.what}: ${p.why}`),
    cautions: cautionsFor(job, holding),
  };
}

function viewProgram(
  input: ViewInput,
  p: ViewProgramInput,
  index: number,
  { moves, head }: ReturnType<PageReader>,
): ViewProgram {
  const only = head.cutters.length === 1 ? head.cutters[0]!.number : null;
  const { columns, feeds, changes } = gatherMoves(moves, only);
  const course = input.course?.programs[index] ?? null;
  const text = p.text.length > MOST_RAW_TEXT ? null : packText(p.text);
  const planned = (input.plan?.setups ?? []).flatMap((s) => s.operations);
  const title = (id: number) => planned.find((o) => o.id === id)?.title ?? `operation ${id + 1}`;
  return {
    file: p.file,
    setup: p.setup,
    lines: p.text.replace(/\r?\n$/, '').split(/\r\n|\r|\n/).length,
    text: text !== null && text.length <= MOST_TEXT ? text : null,
    moveCount: columns.count,
    moves: packMoves(columns),
    feeds,
    changes,
    operations: p.operations.map(({ id, from, to }) => ({ title: title(id), from, to })),
    rapid: input.job?.machine.rapid ?? UNKNOWN_RAPID,
    course: course === null ? null : packCourse(course),
  };
}

function setupsOf(input: ViewInput, heads: readonly ReadHead[]): ViewSetup[] {
  const count = Math.max(1, ...input.programs.map((p) => p.setup + 1), input.plan?.setups.length ?? 0);
  return Array.from({ length: count }, (_, i) => {
    const first = input.programs.findIndex((p) => p.setup === i);
    const head = heads[first];
    const own = input.job?.stock ?? null;
    return {
      name: input.plan?.setups[i]?.name ?? head?.setup ?? `set-up ${i + 1}`,
      stock: head?.stock ?? (i === 0 && own !== null ? { min: own.min, max: own.max } : null),
    };
  });
}

function tabsOf(holding: Holding | null, heads: readonly ReadHead[]): ViewTab[] {
  return (holding?.tabs ?? heads[0]?.tabs ?? []).map((t) => {
    const { part, at, directionDeg, width, height, footprint } = t;
    return { part, at: [at.x, at.y], directionDeg, width, height, footprint };
  });
}

/** Half the footprint reaches to where the ramps begin; a cutter's breadth beyond it is still sloping. */
function sparedOf(holding: Holding | null, tabs: readonly ViewTab[]): ViewData['spared'] {
  const discs = tabs.map((t) => ({ at: t.at, radius: Math.max(t.footprint / 2, t.width) + SPARED_MORE }));
  const stubs = holding?.stubs ?? [];
  return [...discs, ...stubs.map((s) => ({ at: [s.at.x, s.at.y] as const, radius: s.footprint / 2 + SPARED_MORE }))];
}

const SPARED_MORE: Mm = 1.5;

function cuttersOf(job: Job | null, plan: Plan | null, heads: readonly ReadHead[]): ViewCutter[] {
  const named = new Map<number, ViewCutter>();
  for (const head of heads) for (const c of head.cutters) named.set(c.number, statedCutter(c));
  for (const c of job?.cutters ?? []) if (named.has(c.number)) named.set(c.number, viewCutter(c));
  for (const c of plan?.cutters ?? []) named.set(c.number, viewCutter(c));
  return [...named.values()].sort((a, b) => a.number - b.number);
}

function viewCutter(c: Cutter): ViewCutter {
  const { number, kind, diameter, pointDeg, tip, cornerRadius, lead, fluteLength, stickOut, shank, holder } = c;
  return { number, kind, diameter, pointDeg, tip, cornerRadius, lead, fluteLength, stickOut, shank, holder };
}

/** A cutter known by the program's head alone: kind and diameter, the rest as the trade usually has it. */
function statedCutter(c: { readonly number: number; readonly kind: string; readonly diameter: Mm }): ViewCutter {
  const pointDeg = c.kind === 'drill' ? 118 : /spot|centre drill|countersink|chamfer/.test(c.kind) ? 90 : 180;
  return {
    ...c,
    pointDeg,
    tip: 0,
    cornerRadius: 0,
    lead: 0,
    fluteLength: Math.max(6, 3 * c.diameter),
    stickOut: Math.max(18, 6 * c.diameter),
    shank: c.diameter,
    holder: null,
  };
}

function viewPart(job: Job, place: Placement): ViewPart {
  const { part } = job;
  return {
    outline: flat(placeLoop(place, part.outline.loop)),
    holes: part.holes.map((h) => viewHole(h, place)),
    pockets: part.pockets.map((p) => ({
      outline: flat(placeLoop(place, p.outline.loop)),
      islands: p.islands.map((o) => flat(placeLoop(place, o.loop))),
      depth: p.depth,
    })),
    chamfer: part.chamfer,
  };
}

function viewHole(h: Hole, place: Placement): ViewHole {
  const at = placePoint(place, h.at);
  return {
    at: [at.x, at.y],
    diameter: h.diameter,
    depth: h.depth,
    mouth: Math.max(h.diameter, h.countersink?.diameter ?? 0, h.counterbore?.diameter ?? 0),
    counterbore: h.counterbore?.depth ?? null,
  };
}

function flat(loop: Loop): FlatSegment[] {
  return loop.map((s: Segment) => {
    const ends = [s.a.x, s.a.y, s.b.x, s.b.y].map(tidy) as [number, number, number, number];
    return s.kind === 'line' ? ends : ([...ends, tidy(s.centre.x), tidy(s.centre.y), tidy(s.sweep)] as const);
  });
}

/** A nanometre: binary noise beyond it would differ between systems. */
function tidy(v: number): number {
  return Number(v.toFixed(6)) + 0;
}

function viewFinding(f: Finding): ViewFinding {
  const { severity, code, program, block, found, wanted, remedy } = f;
  return { severity, code, program, block, found, wanted, remedy, at: f.place.at ?? null, size: f.size ?? null };
}
