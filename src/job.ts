/** The whole flow, from a job file's text to programs that have been checked. The only place where stages meet. */
import { bad, good, type Outcome, type Problem } from './base/problem.ts';
import { Tables } from './base/tables.ts';
import type { Minute } from './base/units.ts';
import { type CheckOptions, checkPrograms, checkSources, type ProgramText } from './check/check.ts';
import { readProgram } from './check/language/read.ts';
import { eachLineOf, type LineReader } from './check/language/text/lines.ts';
import { readWords } from './check/language/text/plain-words.ts';
import { readHead } from './check/program/head.ts';
import type { Report } from './check/report.ts';
import type { Course } from './course/course.ts';
import { courseOf } from './course/course-of.ts';
import { secondsOf } from './course/seconds.ts';
import { easeFor, easeWithin } from './hold/evaluate/budget.ts';
import { easedNote } from './hold/evaluate/eased.ts';
import type { Holding, HoldScore, Tab } from './hold/holding.ts';
import { chooseHolding, draftHolding, type HoldDraft } from './hold/ways/choose.ts';
import { type ComparedWay, compareHoldings, otherWays, ownWay } from './hold/ways/compare.ts';
import type { HoldWish, Job } from './part/part.ts';
import { jobAsking, type ReadJobOptions, readJob } from './part/read.ts';
import type { Moves, PostAbilities } from './paths/moves.ts';
import { makeMoves } from './paths/paths.ts';
import { withEdgeHoles } from './plan/edge/edge-plan.ts';
import { makePlan } from './plan/make-plan.ts';
import { NO_EASE, type Plan } from './plan/plan.ts';
import { abilitiesOf, type Post, readPost } from './write/post.ts';
import type { WrittenProgram } from './write/program.ts';
import { writePrograms } from './write/write.ts';

export interface JobInput {
  readonly text: string;
  /** Name for messages; other files are found beside it. */
  readonly file: string;
  readonly read: ReadJobOptions['read'];
  /** Parsed JSON of a post file by name; undefined when there is none. */
  readonly post: (name: string) => unknown;
  /** Overrules the job's own post. */
  readonly postName?: string;
  /** Told what is being done, for a person who waits. */
  readonly say?: (stage: string) => void;
}

export interface Made {
  readonly job: Job;
  readonly post: Post;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly moves: Moves;
  readonly programs: readonly WrittenProgram[];
  readonly report: Report;
  readonly course: Course;
  /** Ways of holding that were not taken and need no search, with what they would do. */
  readonly alternatives: readonly HoldScore[];
  /** Cautions and notes of every stage before the check. */
  readonly told: readonly Problem[];
}

/** Every stage in order. Refused: the input cannot be made. Made: `report.faults` says whether it may be released. */
export function makeJob(input: JobInput): Outcome<Made> {
  const read = readJob(input.text, input.file, { read: input.read });
  if (!read.ok) return read;
  const job = read.value;
  const post = findPost(input, job);
  if (!post.ok) return post;
  input.say?.('planning and holding');
  const tables = new Tables();
  const held = planHeld(job, tables);
  // What was doubted in reading may explain the refusal.
  if (!held.ok) return bad(...read.problems, ...named(held, input.file).problems);
  const { holding } = held.value;
  const whole = withEdgeHoles(job, held.value.plan);
  if (!whole.ok) return named(whole, input.file);
  const plan = whole.value;
  input.say?.('paths');
  const moves = makeMoves(job, plan, holding, abilitiesOf(post.value), headCautions(held.problems), EDGE_CAUTIONS);
  if (!moves.ok) return named(moves, input.file);
  const programs = writePrograms(moves.value, post.value, job.name);
  input.say?.('checking');
  const report = checkPrograms(programs, job);
  input.say?.('forces and times along the program');
  const course = courseOf(job, plan, holding, moves.value, programs);
  const told = [read, post, held, whole, moves].flatMap((stage) => stage.problems);
  const made = {
    job,
    post: post.value,
    plan,
    holding: asCut(holding, moves.value),
    moves: moves.value,
    programs,
    report,
    course,
    alternatives: alternatives(job, plan, holding.by),
    told,
  };
  return { ok: true, value: made, problems: told };
}

/** Tabs and stubs with the edge that the paths leave them, as the programs' heads say. */
function asCut(holding: Holding, { programs }: Moves): Holding {
  const { tabs, hold } = programs[0]!.head;
  const stubs = hold.by === 'stub' ? hold.stubs : [];
  return {
    ...holding,
    tabs: holding.tabs.map((t, i) => ({ ...t, footprint: tabs[i]!.footprint })),
    stubs: holding.stubs.map((s, i) => ({ ...s, footprint: stubs[i]?.footprint ?? s.footprint })),
  };
}

interface Held {
  readonly plan: Plan;
  readonly holding: Holding;
}

/**
 * Plan and holding decide each other: the passes say how hard the part is pushed, the holding how hard it may be. The plan is
 * made freely, held, and where its passes push harder than the holding carries it is made again within that budget.
 */
function planHeld(job: Job, tables: Tables): Outcome<Held> {
  let ease = NO_EASE;
  let plan = makePlan(job, ease, tables);
  if (!plan.ok) return plan;
  let draft: HoldDraft | null = null;
  const free = plan.value;
  // An eased pass acts at another height, so its budget shifts a little: twice is usual, more only ends a shortfall of a few per cent.
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const drafted = draftHolding(job, plan.value, draft);
    if (!drafted.ok) return drafted;
    draft = drafted.value;
    const next = easeFor(draft.holding, ease);
    if (next === null) break;
    ease = next;
    plan = makePlan(job, ease, tables);
    if (!plan.ok) return plan;
  }
  const holding = chooseHolding(job, plan.value, draft);
  if (!holding.ok) return holding;
  const eased = easedNote(free, plan.value);
  return good({ plan: plan.value, holding: holding.value }, [...plan.problems, ...holding.problems, ...eased]);
}

const MOST_ROUNDS = 4;

export interface WayScore extends HoldScore {
  /** What a job asks to be held so; null: it cannot be reckoned. */
  readonly wish: HoldWish | null;
  /** What the machine would run if the job asked for this way, cutter changes and stops not counted; null: `make` would refuse it. */
  readonly machineMinutes: Minute | null;
}

/** Every way of holding a job's part, compared; nothing is written. */
export function compareJob(input: JobInput): Outcome<{ readonly job: Job; readonly scores: readonly WayScore[] }> {
  const read = readJob(input.text, input.file, { read: input.read });
  if (!read.ok) return read;
  const job = read.value;
  const post = findPost(input, job);
  if (!post.ok) return post;
  const tables = new Tables();
  const held = planHeld(job, tables);
  const plan = held.ok ? good(held.value.plan, held.problems) : makePlan(job, NO_EASE, tables);
  if (!plan.ok) return named(plan, input.file);
  const ways = compareHoldings(job, plan.value);
  if (!ways.ok) return named(ways, input.file);
  const timedWays = ways.value.map((way) => timed(job, abilitiesOf(post.value), way, held.ok ? held.value : null));
  // Best first, as compared; what cannot be used after all goes last.
  const scores = [...timedWays.filter((s) => s.possible), ...timedWays.filter((s) => !s.possible)];
  return good({ job, scores }, [...read.problems, ...plan.problems]);
}

/** `held`: what the job's own way comes to, which need not be planned again. */
function timed(job: Job, post: PostAbilities, way: ComparedWay, held: Held | null): WayScore {
  const { inJob, ...score } = way;
  if (inJob === null) return { ...score, wish: null, machineMinutes: null };
  const { wish } = inJob;
  const found = held !== null && way.name === ownWay(job) ? runTime(job, post, held) : wayTime(job, post, inJob);
  if (found.ok) return { ...score, wish, machineMinutes: found.value };
  return { ...refusedWay(score, found.problems), wish, machineMinutes: null };
}

/** However well it would hold: `make` refuses a job that asks for it. */
function refusedWay<T extends HoldScore>(score: T, problems: readonly Problem[]): T {
  // Cautions may stand before the refusal.
  const { found, remedy } = problems.find((p) => p.severity === 'fault') ?? problems[0]!;
  const reasons = [...score.reasons, `make refuses it: ${found}; ${remedy}`];
  return { ...score, possible: false, verdict: `cannot be used: ${found}`, reasons };
}

/** The ways that a plan file names beside the one taken. Of screws, the one way that adds to the plan, it is tried whether they can be planned. */
function alternatives(job: Job, plan: Plan, but: Holding['by']): HoldScore[] {
  return otherWays(job, plan, but).map(({ wish, ...score }) => {
    if (wish?.by !== 'screws') return score;
    const planned = makePlan(jobAsking(job, wish));
    return planned.ok ? score : refusedWay(score, planned.problems);
  });
}

/** Its plan eased once to what it carries: to the end would be as many plans again, and shift the minutes by a few in a hundred. */
function wayTime(job: Job, post: PostAbilities, { wish, holding }: NonNullable<ComparedWay['inJob']>): Outcome<Minute> {
  const asked = jobAsking(job, wish);
  const plan = makePlan(asked, easeWithin(holding));
  return plan.ok ? runTime(asked, post, { plan: plan.value, holding }) : plan;
}

function runTime(job: Job, post: PostAbilities, { plan, holding }: Held): Outcome<Minute> {
  const whole = withEdgeHoles(job, plan);
  if (!whole.ok) return whole;
  const moves = makeMoves(job, whole.value, holding, post, []);
  return moves.ok ? good(secondsOf(moves.value, job.machine) / 60) : moves;
}

/** The short form of the usual cautions for a program's head; sheet and page carry them all. */
const USUAL_CAUTIONS: readonly string[] = [
  'CAUTION: eye protection, guards, no gloves at a turning spindle.',
  'CAUTION: dry run above the work with a finger on the stop; first part at reduced feed.',
];
const LAST_CAUTION = "CAUTION: the machine's manual, local rules and the person at the machine decide.";

/** What the plan itself finds poor in the holding stands where the program is started, too. */
function headCautions(told: readonly Problem[]): readonly string[] {
  const found = (code: string) => told.some((p) => p.code === code);
  return [
    ...USUAL_CAUTIONS,
    'CAUTION: the part hangs on what HOLD and TAB say; it is sawn or filed free by hand.',
    ...(found('hold-weak')
      ? ['CAUTION: held weaker than is wanted: read on the sheet by how much, and what would help, before starting.']
      : []),
    ...(found('plate-springs')
      ? ['CAUTION: the plate springs under a drill: ease the feed by hand as its point comes through.']
      : []),
    LAST_CAUTION,
  ];
}

const EDGE_CAUTIONS: readonly string[] = [
  ...USUAL_CAUTIONS,
  'CAUTION: the part stands between jaws: it must neither slip nor tip; try it by hand.',
  LAST_CAUTION,
];

function findPost(input: JobInput, job: Job): Outcome<Post> {
  const name = input.postName ?? job.post;
  const data = input.post(name);
  if (data !== undefined) return readPost(data, `posts/${name}.json`);
  return bad({
    severity: 'fault',
    code: 'unknown-post',
    place: { file: input.file, path: 'post' },
    found: `the post "${name}"`,
    wanted: 'the name of a file in posts/: standard, plain, lines, inch',
    remedy: 'use one of these, or add a post file',
  });
}

/** Later stages know key paths only; the file is named here. */
function named(outcome: { readonly ok: false; readonly problems: readonly Problem[] }, file: string): Outcome<never> {
  return bad(...outcome.problems.map((p) => ({ ...p, place: { file, ...p.place } })));
}

/** A program as the check reads it: for the page, which shows what the text does whatever wrote it. */
export function readMoves(text: string, file: string) {
  const read = readProgram(text, { file, unknownAfterStop: true });
  return { moves: read.moves, head: readHead(read.comments, read.last.units) };
}

/** Programs against a job, or alone. */
export function checkTexts(programs: readonly ProgramText[], job: Job | null, options?: CheckOptions): Report {
  return checkPrograms(programs, job, options);
}

/** Programs read piece by piece, alone or against a job: memory does not grow with their length where `options` give a shelf. */
export function checkPieces(
  programs: readonly { readonly file: string; readonly pieces: () => Iterable<string> }[],
  job: Job | null,
  options?: CheckOptions,
): Report {
  const sources = programs.map(({ file, pieces }) => ({
    file,
    lines: (read: LineReader) => eachLineOf(pieces(), read),
  }));
  return checkSources(sources, job, options);
}

/** What a job's own drawing shows: edges, holes and, where the plan allows it, the tabs of the first part; part axes. */
export function layoutOf(input: JobInput): Outcome<{ readonly job: Job; readonly tabs: readonly Tab[] }> {
  const read = readJob(input.text, input.file, { read: input.read });
  if (!read.ok) return read;
  const held = planHeld(read.value, new Tables());
  const tabs = held.ok ? held.value.holding.tabs.filter((t) => t.part === 0) : [];
  return { ok: true, value: { job: read.value, tabs }, problems: held.problems };
}

export { PAGES_OPEN, type Shelf } from './check/strokes/spool.ts';
export { jobFromDrawing } from './part/drawing/draft.ts';
export type { Drawing } from './part/drawing/drawing.ts';
export { readDrawing } from './part/drawing/read.ts';
export { type SortedDrawing, sortDrawing } from './part/drawing/sort.ts';
export { readMachineFile } from './part/setting/machine-file.ts';
export { newJob, START_QUESTIONS, type StartKey, startAnswers } from './part/start.ts';
export { readJob, readWords };
