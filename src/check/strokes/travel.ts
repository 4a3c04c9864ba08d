/** How far the program moves, how long it takes, and whether it stays within the machine. */
import type { Mm, MmPerMin, Second } from '../../base/units.ts';
import { directionAt, segmentBox, segmentLength } from '../../geometry/measure/segment.ts';
import type { Machine } from '../../part/part.ts';
import { ROUNDING } from '../limits.ts';
import type { FindingPlace, Findings } from '../report/findings.ts';
import type { AxisTrack } from './track.ts';

export interface MotionEnvelope {
  readonly min: readonly [Mm, Mm, Mm];
  readonly max: readonly [Mm, Mm, Mm];
}

/** Of all programs together, grown move by move. */
export class Extent {
  readonly min: [Mm, Mm, Mm] = [Infinity, Infinity, Infinity];
  readonly max: [Mm, Mm, Mm] = [-Infinity, -Infinity, -Infinity];
  /** For each axis the move with which the program first spans more than the machine travels. */
  private readonly beyond: (Pick<FindingPlace, 'program' | 'block'> | null)[] = [null, null, null];
  private readonly travel: readonly [Mm, Mm, Mm] | null;

  constructor(machine: Machine | null) {
    this.travel = machine?.travel ?? null;
  }

  add(t: AxisTrack, spot: Pick<FindingPlace, 'program' | 'block'>): void {
    const b = segmentBox(t.path);
    this.reach(0, b.minX, b.maxX, spot);
    this.reach(1, b.minY, b.maxY, spot);
    this.reach(2, Math.min(t.za, t.zb), Math.max(t.za, t.zb), spot);
  }

  private reach(axis: 0 | 1 | 2, least: Mm, most: Mm, spot: Pick<FindingPlace, 'program' | 'block'>): void {
    if (least >= this.min[axis] && most <= this.max[axis]) return;
    this.min[axis] = Math.min(this.min[axis], least);
    this.max[axis] = Math.max(this.max[axis], most);
    if (this.travel === null || this.beyond[axis] !== null) return;
    if (this.max[axis] - this.min[axis] > this.travel[axis] + ROUNDING) this.beyond[axis] = spot;
  }

  get envelope(): MotionEnvelope | null {
    return this.min[0] === Infinity ? null : { min: this.min, max: this.max };
  }

  tell(out: Findings): void {
    for (const [i, axis] of ['X', 'Y', 'Z'].entries()) {
      const spot = this.beyond[i];
      if (spot === null || spot === undefined || this.travel === null) continue;
      const span = this.max[i]! - this.min[i]!;
      const room = this.travel[i]!;
      const found = `the program moves ${span.toFixed(1)} mm along ${axis}`;
      const wanted = `at most ${room}, the travel of the machine`;
      const remedy = 'place the part otherwise or take a smaller clearance';
      out.fault({ code: 'travel', at: spot, size: span - room, found, wanted, remedy });
    }
  }
}

/** Departure at a corner that a control may take while blending two moves (physics, section 10). */
const BLEND: Mm = 0.01;
/** Stated when no machine is known: a light mill. */
const LIGHT_MILL = { rapid: 1000, acceleration: 200 };

/**
 * Time by a trapezoid of speed for every move, with corners taken at the speed at which a blend of 0.01 mm needs no more
 * than the machine's acceleration, looking one pass back and one ahead. Exact path mode stops at every corner that is not smooth.
 * Moves are kept only up to a stop, or `LONGEST_RUN` of them: where so long a run is cut, its next move is taken as if it could be braked for.
 */
export class Timer {
  private seconds = 0;
  private readonly acceleration: number;
  private readonly rapid: number;
  private readonly open: { readonly length: Mm; readonly speed: number; readonly entry: number }[] = [];
  private last: AxisTrack | null = null;
  private from = 0;

  constructor(machine: Machine | null) {
    this.acceleration = machine?.acceleration ?? LIGHT_MILL.acceleration;
    this.rapid = (machine?.rapid ?? LIGHT_MILL.rapid) / 60;
  }

  add(t: AxisTrack): void {
    const speed = speedOf(t, this.rapid, this.acceleration);
    const before = this.open.at(-1);
    const corner = this.last === null ? 0 : cornerSpeed(this.last, t, this.acceleration);
    const entry = before === undefined ? (this.last === null ? 0 : this.from) : Math.min(speed, before.speed, corner);
    if (before !== undefined && (entry === 0 || this.open.length >= LONGEST_RUN)) this.close(entry);
    this.open.push({ length: lengthOf(t), speed, entry });
    this.last = t;
  }

  dwell(seconds: Second): void {
    this.seconds += seconds;
  }

  finish(): Second {
    this.close(0);
    return this.seconds;
  }

  /** The open run is done, and goes on at no more than `leave`. */
  private close(leave: number): void {
    const runs = this.open;
    const a = this.acceleration;
    const entry = [...runs.map((r) => r.entry), leave];
    if (runs.length > 0) entry[0] = this.from;
    for (let i = runs.length - 1; i >= 1; i--)
      entry[i] = Math.min(entry[i]!, Math.sqrt(entry[i + 1]! ** 2 + 2 * a * runs[i]!.length));
    for (const [i, r] of runs.entries()) {
      entry[i + 1] = Math.min(entry[i + 1]!, Math.sqrt(entry[i]! ** 2 + 2 * a * r.length));
      this.seconds += moveTime(r.length, r.speed, entry[i]!, entry[i + 1]!, a);
    }
    this.from = entry.at(-1)!;
    runs.length = 0;
  }
}

/** Moves between two stops that are looked over at once. */
const LONGEST_RUN = 4096;

function lengthOf(t: AxisTrack): Mm {
  return Math.hypot(segmentLength(t.path), t.zb - t.za);
}

function speedOf(t: AxisTrack, rapid: number, a: number): number {
  const wanted: MmPerMin = t.rapid ? rapid * 60 : t.feed;
  const speed = Math.max(wanted / 60, 1e-6);
  return t.path.kind === 'arc' ? Math.min(speed, Math.sqrt(a * t.path.radius)) : speed;
}

function moveTime(length: Mm, cruise: number, v0: number, v1: number, a: number): Second {
  if (length === 0) return 0;
  const peak = Math.min(cruise, Math.sqrt(a * length + (v0 * v0 + v1 * v1) / 2));
  const ramps = (2 * peak * peak - v0 * v0 - v1 * v1) / (2 * a);
  return (2 * peak - v0 - v1) / a + Math.max(0, length - ramps) / peak;
}

function cornerSpeed(p: AxisTrack, q: AxisTrack, a: number): number {
  const u = directionOf(p, 1);
  const v = directionOf(q, 0);
  const cos = -(u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
  const half = Math.sqrt(Math.max(0, (1 - cos) / 2));
  if (half > 1 - 1e-9) return Infinity;
  return p.exact || q.exact ? (half > 0.9999 ? Infinity : 0) : Math.sqrt((a * BLEND * half) / (1 - half));
}

function directionOf(t: AxisTrack, at: 0 | 1): readonly [number, number, number] {
  const l = lengthOf(t);
  if (l === 0) return [0, 0, 0];
  const flat = segmentLength(t.path) / l;
  const d = directionAt(t.path, at);
  return [d.x * flat, d.y * flat, (t.zb - t.za) / l];
}
