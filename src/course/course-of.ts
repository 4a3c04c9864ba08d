/** From the written programs and the reckoned holding to the course: what happens to the part at every block. */

import { Tables } from '../base/tables.ts';
import type { Mm, Watt } from '../base/units.ts';
import { distanceToLoop } from '../geometry/measure/distance.ts';
import type { Loop } from '../geometry/types.ts';
import type { Holding, Moment } from '../hold/holding.ts';
import { surfaceSpeed } from '../mechanics/cutting/cutting.ts';
import type { Job } from '../part/part.ts';
import { type PlacedPart, placedParts } from '../part/placed.ts';
import type { Moves } from '../paths/moves.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import type { WrittenProgram } from '../write/program.ts';
import { type Answer, Answers } from './answers.ts';
import type { BlockCourse, Course, ProgramCourse } from './course.ts';
import { rhythmOf } from './rhythm.ts';
import { timesOf } from './seconds.ts';
import { type CourseStroke, placesAlong, strokesOf } from './strokes.ts';

export interface CourseRequest {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly moves: Moves;
  readonly programs: readonly WrittenProgram[];
}

/**
 * Blocks in the order of the lines; a block that nothing moves in is left out. Programs and moves must belong together.
 * Errs on the safe side: over a tab and on a ramp the whole depth of the pass counts.
 */
export function courseOf(
  { job, plan, holding, moves, programs }: CourseRequest,
  tables: Tables = new Tables(),
): Course {
  const along = new Along(job, plan, holding, placedParts(job, tables));
  const courses = programs.map((written, i) => along.program(strokesOf(moves.programs[i]!, written, job.machine), i));
  return {
    programs: courses,
    margin: along.margin,
    movement: along.movement,
    cutterDeflection: along.cutterDeflection,
    together: along.together,
    modes: holding.evaluation.modes,
    rhythm: rhythmOf(job, plan, holding),
  };
}

/** The edge is looked at this far apart along a stroke. */
const STEP: Mm = 3;
/** Farther than this from the wall it leaves, the cutter touches the frame only, or nothing. */
const ASIDE: Mm = 0.1;

class Along {
  margin: Course['margin'] = null;
  movement: Course['movement'] = null;
  cutterDeflection = 0;
  together = 0;
  private readonly job: Job;
  private readonly operations: ReadonlyMap<number, Operation>;
  private readonly diameters: ReadonlyMap<number, Mm>;
  private readonly loops: readonly Loop[];
  private readonly answers: Answers;
  private readonly moments: ReadonlyMap<number, readonly Moment[]>;

  constructor(job: Job, plan: Plan, holding: Holding, parts: readonly PlacedPart[]) {
    this.job = job;
    const operations = plan.setups.flatMap((s) => s.operations);
    this.operations = new Map(operations.map((o) => [o.id, o]));
    this.diameters = new Map(plan.cutters.map((c) => [c.number, c.diameter]));
    this.loops = parts.map((p) => p.outline);
    this.answers = new Answers(holding.evaluation);
    const { moments } = holding.evaluation;
    this.moments = new Map(operations.map((o) => [o.id, moments.filter((m) => m.operation === o.id)]));
  }

  program(strokes: readonly CourseStroke[], program: number): ProgramCourse {
    const times = timesOf(strokes, this.job.machine);
    const blocks: BlockCourse[] = [];
    let clock = 0;
    strokes.forEach((stroke, i) => {
      const seconds = times[i]!;
      add(blocks, this.block(stroke, program, clock, seconds));
      clock += seconds;
    });
    return { seconds: clock, blocks };
  }

  private block(stroke: CourseStroke, program: number, start: number, seconds: number): BlockCourse {
    const nothing = { margin: null, wantedMargin: null, movement: null, wantedMovement: null };
    const bare = { block: stroke.block, start, seconds, force: 0, power: 0, ...nothing };
    const op = stroke.operation === null ? undefined : this.operations.get(stroke.operation);
    const low = Math.min(stroke.from.z, stroke.to.z);
    if (!op || stroke.rapid || low > this.job.stock.max[2]) return { ...bare, cutterDeflection: 0 };
    const moment = this.momentAt(op, stroke);
    if (moment === null) return { ...bare, force: op.force, power: op.power, cutterDeflection: 0 };
    const met = this.met(stroke, op, moment);
    if (met.length === 0) return { ...bare, cutterDeflection: 0 };
    this.record(met, moment, program, stroke.block);
    const weakest = met.reduce((a, b) => (b.margin / b.wanted < a.margin / a.wanted ? b : a));
    const known = Number.isFinite(weakest.margin);
    return {
      ...bare,
      force: moment.peak,
      power: op.power > 0 ? op.power : this.lightPower(op, moment),
      margin: known ? weakest.margin : null,
      wantedMargin: known ? weakest.wanted : null,
      movement: Math.max(...met.map((a) => Math.max(a.normal, a.up))),
      wantedMovement: moment.wanted.movement,
      cutterDeflection: moment.cutterDeflection,
    };
  }

  /** Of a pass too light for the planner to reckon it (a chamfer): its peak force at the edge's speed, which errs high. */
  private lightPower(op: Operation, moment: Moment): Watt {
    const reach =
      op.target.kind === 'edges' ? op.target.reach + this.job.part.chamfer : this.diameters.get(op.cutter)! / 2;
    const metrePerSecond = surfaceSpeed(op.speed, 2 * reach) / 60;
    return (moment.peak * metrePerSecond) / this.job.machine.efficiency;
  }

  /** The pass that a stroke belongs to: the first whose depth it does not pass. */
  private momentAt(op: Operation, stroke: CourseStroke): Moment | null {
    const list = this.moments.get(op.id)!;
    if (list.length === 0) return null;
    if (op.what === 'lighten') return this.nearestTab(list, stroke);
    const z = Math.min(stroke.from.z, stroke.to.z);
    const pass = op.depths.findIndex((d) => d <= z + 1e-6);
    return list.find((m) => m.pass === pass) ?? list.at(-1)!;
  }

  private nearestTab(list: readonly Moment[], stroke: CourseStroke): Moment {
    const mid = placesAlong(stroke, Math.max(stroke.length / 2, 1e-9))[1]!;
    const nearest = this.answers.nearestTab(mid);
    return list.find((m) => m.pass === nearest) ?? list.at(-1)!;
  }

  /** Answers at the spots of the parts that the cutter's side touches on the way. */
  private met(stroke: CourseStroke, op: Operation, moment: Moment): readonly Answer[] {
    const reach = this.reachOf(op) + ASIDE;
    const found = new Set<Answer>();
    for (const place of placesAlong(stroke, STEP)) {
      this.loops.forEach((loop, part) => {
        if (this.answers.distance(part, place) > reach + FAR) return;
        if (distanceToLoop(loop, place) <= reach) found.add(this.answers.at(part, moment, place));
      });
    }
    return [...found];
  }

  /** From the edge to the path of the cutter's centre. */
  private reachOf(op: Operation): Mm {
    if (op.target.kind === 'edges') return op.target.reach;
    return this.diameters.get(op.cutter)! / 2 + op.allowance;
  }

  private record(met: readonly Answer[], moment: Moment, program: number, block: number): void {
    this.cutterDeflection = Math.max(this.cutterDeflection, moment.cutterDeflection);
    for (const a of met) {
      const found = { program, block, at: a.at, state: a.state };
      const ratio = a.margin / a.wanted;
      if (Number.isFinite(ratio) && (this.margin === null || ratio < this.margin.least / this.margin.wanted))
        this.margin = { ...found, least: a.margin, wanted: a.wanted };
      const most = Math.max(a.normal, a.up);
      const wanted = moment.wanted.movement;
      if (this.movement === null || most / wanted > this.movement.most / this.movement.wanted)
        this.movement = { ...found, most, wanted, upwards: a.up > a.normal };
      this.together = Math.max(this.together, (a.normal + moment.cutterDeflection) / wanted);
    }
  }
}

/** Spots lie a few millimetres apart: the edge itself may be nearer than the nearest of them. */
const FAR: Mm = 8;

/** Strokes of one line (a drill cycle) are one block. */
function add(blocks: BlockCourse[], b: BlockCourse): void {
  const last = blocks.at(-1);
  if (last === undefined || last.block !== b.block) {
    blocks.push(b);
    return;
  }
  const weaker = share(b.margin, b.wantedMargin) < share(last.margin, last.wantedMargin) ? b : last;
  const looser = share(b.movement, b.wantedMovement, 0) > share(last.movement, last.wantedMovement, 0) ? b : last;
  blocks[blocks.length - 1] = {
    block: b.block,
    start: last.start,
    seconds: last.seconds + b.seconds,
    force: Math.max(last.force, b.force),
    power: Math.max(last.power, b.power),
    margin: weaker.margin,
    wantedMargin: weaker.wantedMargin,
    movement: looser.movement,
    wantedMovement: looser.wantedMovement,
    cutterDeflection: Math.max(last.cutterDeflection, b.cutterDeflection),
  };
}

/** Of what is wanted; `none` where nothing is in question. */
function share(value: number | null, wanted: number | null, none = Number.POSITIVE_INFINITY): number {
  return value === null || wanted === null ? none : value / wanted;
}
