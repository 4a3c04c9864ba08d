/**
 * Time of a path on a machine with limited acceleration that rounds corners by a set tolerance. Millimetres and seconds;
 * feeds of moves are mm/min as written in a program.
 */
import { arccosine, sine } from '../../base/angles.ts';
import type { Mm, MmPerMin, Rad, Second } from '../../base/units.ts';

export interface TimedMove {
  readonly length: Mm;
  readonly feed: MmPerMin;
  /** Radius of an arc; a straight line has none. */
  readonly radius?: Mm;
  /** Unit directions at start and end, [x, y, z]. */
  readonly enter: Direction;
  readonly leave: Direction;
  /** The machine stands still after this move (spindle stop, dwell, tool change). */
  readonly stop?: boolean;
}

export type Direction = readonly [number, number, number];

export interface MachineMotion {
  /** mm/s2. */
  readonly acceleration: number;
  /** How far a corner may be missed. 0 stops at every corner (exact stop). */
  readonly blend: Mm;
}

/** Seconds of each move: speeds at the joints from corners, arcs and feeds, then a backward and a forward pass. */
export function pathTimes(moves: readonly TimedMove[], machine: MachineMotion): Float64Array {
  const a = machine.acceleration;
  const cruise = moves.map((m) => cruiseSpeed(m, a));
  const joint = jointSpeeds(moves, cruise, machine);
  for (let i = moves.length - 1; i >= 0; i--)
    joint[i] = Math.min(joint[i]!, reachable(joint[i + 1]!, a, moves[i]!.length));
  for (let i = 0; i < moves.length; i++)
    joint[i + 1] = Math.min(joint[i + 1]!, reachable(joint[i]!, a, moves[i]!.length));
  const times = new Float64Array(moves.length);
  for (let i = 0; i < moves.length; i++) times[i] = moveTime(moves[i]!.length, joint[i]!, joint[i + 1]!, cruise[i]!, a);
  return times;
}

/**
 * Seconds for a length from entry speed v0 to exit speed v1, at most v, equal acceleration both ways:
 * v_p^2 = a d + (v0^2 + v1^2)/2. Entry and exit must be reachable from one another (pathTimes sees to it). mm/s, mm/s2.
 */
export function moveTime(length: Mm, v0: number, v1: number, v: number, a: number): Second {
  return moveTimeUnequal(length, v0, v1, v, a, a);
}

/** As `moveTime`, accelerating with a and braking with b: v_p^2 = (2 a b d + b v0^2 + a v1^2)/(a + b). */
export function moveTimeUnequal(length: Mm, v0: number, v1: number, v: number, a: number, b: number): Second {
  if (length <= 0) return 0;
  const peak = Math.min(v, Math.sqrt((2 * a * b * length + b * v0 * v0 + a * v1 * v1) / (a + b)));
  const up = Math.max(0, peak * peak - v0 * v0) / (2 * a);
  const down = Math.max(0, peak * peak - v1 * v1) / (2 * b);
  const flat = Math.max(0, length - up - down);
  return Math.max(0, peak - v0) / a + Math.max(0, peak - v1) / b + (flat > 0 ? flat / peak : 0);
}

/** Greatest speed on an arc: v = sqrt(a R), mm/s. */
export function arcSpeed(radius: Mm, a: number): number {
  return Math.sqrt(a * radius);
}

/**
 * Radius of the circle that touches both lines of a corner and misses its point by `blend`:
 * R = e sin(theta/2)/(1 - sin(theta/2)), theta the inside angle (pi is straight on, 0 is back the way it came).
 */
export function blendRadius(inside: Rad, blend: Mm): Mm {
  const s = sine(inside / 2);
  return s >= 1 ? Number.POSITIVE_INFINITY : (blend * s) / (1 - s);
}

/** Speed at which a corner is passed, mm/s; no limit (Infinity) straight on. */
export function cornerSpeed(inside: Rad, blend: Mm, a: number): number {
  const radius = blendRadius(inside, blend);
  return radius === Number.POSITIVE_INFINITY ? radius : arcSpeed(radius, a);
}

function cruiseSpeed(move: TimedMove, a: number): number {
  const feed = move.feed / 60;
  return move.radius === undefined ? feed : Math.min(feed, arcSpeed(move.radius, a));
}

/** joint[i] is the speed limit before move i; both ends of the path stand still. */
function jointSpeeds(moves: readonly TimedMove[], cruise: readonly number[], machine: MachineMotion): Float64Array {
  const joint = new Float64Array(moves.length + 1);
  for (let i = 1; i < moves.length; i++) {
    const before = moves[i - 1]!;
    if (before.stop) continue;
    const corner = cornerSpeed(insideAngle(before.leave, moves[i]!.enter), machine.blend, machine.acceleration);
    joint[i] = Math.min(cruise[i - 1]!, cruise[i]!, corner);
  }
  return joint;
}

function insideAngle(leave: Direction, enter: Direction): Rad {
  const cos = leave[0] * enter[0] + leave[1] * enter[1] + leave[2] * enter[2];
  // Directions that agree to about 0.01 degree are one line: rounding in a program must not stop the machine.
  if (cos > 1 - 2e-8) return Math.PI;
  return Math.PI - arccosine(Math.max(-1, cos));
}

function reachable(v: number, a: number, length: Mm): number {
  return Math.sqrt(v * v + 2 * a * length);
}
