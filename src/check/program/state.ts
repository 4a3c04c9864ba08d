/** Rules that need only the program and the machine: spindle, feed, coolant, stops, speed, travel, known positions. */
import type { Mm } from '../../base/units.ts';
import type { Job, Machine } from '../../part/part.ts';
import type { AxisPosition, CanonicalArc, CanonicalMove, FeedMove, RapidMove, Spindle } from '../language/canonical.ts';
import { ROUNDING } from '../limits.ts';
import type { FindingPlace, Findings } from '../report/findings.ts';
import { DwellRules } from './dwells.ts';

export interface StateContext {
  readonly machine: Machine | null;
  readonly job: Job | null;
  readonly program: number;
  readonly out: Findings;
}

/** Fed each move in order, with whether the spindle turned when its block was reached: M6 itself stops it, so the move does not tell. */
export class StateRules {
  private readonly context: StateContext;
  private readonly top: Mm | null;
  private readonly dwells: DwellRules | null;
  /** Whether anything is cut with corners that a control may round, and whether the program has it otherwise somewhere. Cycles are exact of themselves. */
  private rounded = false;
  private exact = false;

  constructor(context: StateContext) {
    this.context = context;
    const { job, program, out } = context;
    this.dwells = job === null ? null : new DwellRules(job, program, out);
    const tops = job?.clamps.map((c) => (c.kind === 'block' ? c.top : Number.NEGATIVE_INFINITY)) ?? [];
    this.top = job === null ? null : Math.max(job.stock.max[2], ...tops);
  }

  move(move: CanonicalMove, running: boolean): void {
    const { machine, job, program, out } = this.context;
    if (move.kind === 'rapid' || move.kind === 'feed' || move.kind === 'arc' || move.kind === 'probe') {
      checkPosition(move, this.top, program, out);
    }
    this.dwells?.move(move);
    if (move.kind === 'probe' && job !== null) tellProbe(move, program, out);
    if (move.kind === 'feed' || move.kind === 'arc') {
      checkCutting(move, machine, program, out);
      if (move.pathControl === 'continuous') this.rounded = true;
      else if (move.cycle === null) this.exact = true;
    }
    if (
      move.kind === 'stop' ||
      move.kind === 'optional-stop' ||
      move.kind === 'change' ||
      move.kind === 'end' ||
      move.kind === 'pallet-stop'
    ) {
      checkStop(move, job, program, running, out);
    }
    if (machine !== null) checkCoolant(move, machine, program, out);
  }

  /** `stated`: whether the program says before its first move which of G61 and G64 rules. */
  finish(stated: boolean): void {
    if (this.rounded) this.context.out.doubt('exactness', stated || this.exact ? ROUNDED : UNSTATED);
  }

  /** By the closing % alone: no M2 has stopped anything. */
  ended(spindle: Spindle, at: AxisPosition, block: number): void {
    const { job, program, out } = this.context;
    checkStanding({ name: 'the end', running: spindle.on, z: at.z }, job, { ...place(at), program, block }, out);
  }

  /**
   * What a line has done to the spindle with the cutter where the line leaves it: down in the stock a cutter that stops, or starts, breaks.
   * A cycle that turns it back ends as it began.
   */
  turned(before: Spindle, after: Spindle, z: Mm | null, block: number): void {
    const { job, program, out } = this.context;
    if (job === null || z === null || z >= job.stock.max[2] - ROUNDING) return;
    if (before.on === after.on && before.clockwise === after.clockwise) return;
    const found = `the spindle is ${after.on ? 'started or turned round' : 'stopped'} with the cutter at z ${z.toFixed(3)}`;
    const wanted = 'the spindle turning one way as long as the cutter is below the top of the stock';
    out.fault({ code: 'spindle-off', at: { program, block }, found, wanted, remedy: 'raise Z before it' });
  }
}

const ROUNDED = 'G64 is in force: a control may round corners, so the path is not proven to be the written one';

const UNSTATED =
  "neither G61 nor G64 is stated, so the machine's own default counts: it may round corners, so the path is not proven to be the written one";

/** A feed written with one decimal of an inch a minute may round up. */
const FEED_ROUNDING = 1.002;

type Motion = RapidMove | FeedMove | CanonicalArc;

/** After the start and every stop nobody knows where the cutter is: Z goes up alone first, then X Y. */
function checkPosition(move: Motion, top: Mm | null, program: number, out: Findings): void {
  const { from, to } = move;
  if (from.z !== null && from.x !== null && from.y !== null) return;
  const spot = { program, block: move.block };
  const sideways = from.x !== to.x || from.y !== to.y;
  if (from.z === null && (sideways || to.z === null)) {
    const found = 'X or Y moves while the height of the cutter is not known';
    const wanted = 'Z to clearance alone first';
    const remedy = 'write G0 Z.. on a line of its own before it';
    out.fault({ code: 'position-unknown', at: spot, found, wanted, remedy });
    return;
  }
  if (from.z === null && top !== null && to.z !== null && to.z < top - ROUNDING) {
    const found = `Z goes to ${to.z.toFixed(3)} while X and Y are not known`;
    const wanted = `Z at or above ${top.toFixed(3)}, over stock and clamps`;
    out.fault({ code: 'position-unknown', at: spot, found, wanted, remedy: 'raise Z to clearance first' });
  }
  const lost = from.x === null || from.y === null;
  if (lost && from.z !== null && top !== null && Math.min(from.z, to.z ?? from.z) < top - ROUNDING) {
    const found = sideways
      ? 'the first move to X Y is below stock or clamps'
      : 'Z moves below stock or clamps while X and Y are not known';
    const wanted = `Z at or above ${top.toFixed(3)}`;
    out.fault({ code: 'position-unknown', at: spot, found, wanted, remedy: 'raise Z to clearance first' });
  }
  if (
    lost &&
    move.kind !== 'rapid' &&
    from.z !== null &&
    (sideways || (top !== null && (to.z ?? top) < top - ROUNDING))
  ) {
    const found = 'a feed move while X and Y are not known';
    const wanted = 'G0 to a known X Y first';
    out.fault({ code: 'position-unknown', at: spot, found, wanted, remedy: 'write the rapid to the start' });
  }
}

function checkCutting(move: FeedMove | CanonicalArc, machine: Machine | null, program: number, out: Findings): void {
  // Only where it is needed: nearly every move is good.
  const spot = () => ({ ...place(move.to), program, block: move.block });
  const { spindle } = move;
  if (!spindle.on || spindle.speed === 0) {
    const found = 'a feed move with the spindle standing';
    const wanted = 'the spindle turning before the cutter meets the stock';
    out.fault({ code: 'spindle-off', at: spot(), found, wanted, remedy: 'write S and M3 on a line before it' });
  } else if (!spindle.clockwise && move.cycle?.code !== 84) {
    const found = 'a feed move with the spindle turning backwards';
    const wanted = 'forwards, M3: a right-hand cutter rubs the other way round';
    out.fault({ code: 'spindle-reverse', at: spot(), found, wanted, remedy: 'write M3 in place of the M4 before it' });
  }
  if (move.feed !== null && !(move.feed > 0)) {
    const found = 'a feed move without feed';
    const wanted = 'F above zero';
    out.fault({ code: 'no-feed', at: spot(), found, wanted, remedy: 'write F on this line or before it' });
  }
  if (machine === null) return;
  if (move.feed !== null && move.feed > machine.maxFeed * FEED_ROUNDING) {
    const found = `feed ${move.feed.toFixed(1)} mm/min`;
    const wanted = `at most ${machine.maxFeed}, the fastest the machine feeds`;
    const remedy = `write F${machine.maxFeed} or less, in the units of the program`;
    out.fault({ code: 'feed-above-machine', at: spot(), found, wanted, remedy });
  }
  if (spindle.on && (spindle.speed > machine.maxSpeed + 0.5 || spindle.speed < machine.minSpeed - 0.5)) {
    const found = `spindle at ${spindle.speed} rev/min`;
    const wanted = `${machine.minSpeed} to ${machine.maxSpeed}, what the machine turns at`;
    const remedy = 'write an S within that, and F to suit';
    out.fault({ code: 'speed-outside-machine', at: spot(), found, wanted, remedy });
  }
}

/** A probe moves until it touches: where, no text tells, and a cutter moved so cuts with no feed or load judged. */
function tellProbe(move: FeedMove, program: number, out: Findings): void {
  const found = 'a probing move, whose end is where it touches';
  const wanted = 'moves whose ends the text states';
  const remedy = 'probe in a program of its own, before this one';
  out.fault({ code: 'probe-move', at: { ...place(move.to), program, block: move.block }, found, wanted, remedy });
}

function checkStop(move: CanonicalMove, job: Job | null, program: number, running: boolean, out: Findings): void {
  const spot = { ...place(move.to), program, block: move.block };
  const name =
    { stop: 'M0', 'optional-stop': 'M1', 'pallet-stop': 'M60', change: 'M6', end: 'the end' }[move.kind as 'stop'] ??
    'a stop';
  checkStanding({ name, running, z: move.from.z }, job, spot, out);
}

interface Standstill {
  readonly name: string;
  /** Whether the spindle turns. */
  readonly running: boolean;
  readonly z: Mm | null;
}

function checkStanding({ name, running, z }: Standstill, job: Job | null, spot: FindingPlace, out: Findings): void {
  if (running) {
    const found = `${name} with the spindle turning`;
    const wanted = 'the spindle standing: hands go near the cutter';
    out.fault({ code: 'stop-spindle-on', at: spot, found, wanted, remedy: 'write M5 on a line before it' });
  }
  const top = job?.stock.max[2];
  if (top !== undefined && z !== null && z < top + ROUNDING) {
    const found = `${name} with the cutter at z ${z.toFixed(3)}`;
    const wanted = `above the stock, z ${top.toFixed(3)}`;
    out.fault({ code: 'stop-low', at: spot, found, wanted, remedy: 'raise Z before it' });
  }
}

function checkCoolant(move: CanonicalMove, machine: Machine, program: number, out: Findings): void {
  const { mist, flood } = move.coolant;
  if ((mist && machine.coolant !== 'mist') || (flood && machine.coolant !== 'flood')) {
    const found = mist ? 'M7, and the machine has no mist' : 'M8, and the machine has no flood coolant';
    const wanted = `coolant: ${machine.coolant}`;
    const remedy = 'delete the code, or state the coolant of the machine in the job';
    out.fault({ code: 'coolant-absent', at: { program, block: move.block }, found, wanted, remedy });
  }
}

function place(p: AxisPosition): { at?: readonly [number, number, number] } {
  return p.x === null || p.y === null || p.z === null ? {} : { at: [p.x, p.y, p.z] };
}
