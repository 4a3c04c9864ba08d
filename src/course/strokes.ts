/** The moves of a program as single strokes of the cutter, each with the line it is written on. */
import { arctangent2, cosine, sine } from '../base/angles.ts';
import type { Mm, MmPerMin, Second } from '../base/units.ts';
import type { Direction } from '../mechanics/cutting/time.ts';
import type { Machine } from '../part/part.ts';
import type { Move, ProgramMoves } from '../paths/moves.ts';
import type { WrittenProgram } from '../write/program.ts';

export interface CourseStroke {
  /** Line number from 1. */
  readonly block: number;
  readonly operation: number | null;
  readonly from: StrokePoint;
  readonly to: StrokePoint;
  readonly rapid: boolean;
  readonly length: Mm;
  readonly feed: MmPerMin;
  readonly arc: {
    readonly cx: Mm;
    readonly cy: Mm;
    readonly radius: Mm;
    readonly start: number;
    readonly sweep: number;
  } | null;
  readonly enter: Direction;
  readonly leave: Direction;
  /** The machine stands still afterwards, for this long at least. */
  readonly stop: boolean;
  readonly dwell: Second;
}

export interface StrokePoint {
  readonly x: Mm;
  readonly y: Mm;
  readonly z: Mm;
}

/** `written`: null where only times are asked for; every block is then 0. */
export function strokesOf(
  program: ProgramMoves,
  written: WrittenProgram | null,
  machine: Machine,
): readonly CourseStroke[] {
  const lines = written === null ? new Map<number, number[]>() : linesOfMoves(written);
  const walk = new StrokeWalk(machine);
  program.moves.forEach((move, i) => walk.take(move, lines.get(i) ?? []));
  return walk.strokes;
}

/** Lines of each move, ascending. */
function linesOfMoves(written: WrittenProgram): Map<number, number[]> {
  const lines = new Map<number, number[]>();
  written.moveOfLine.forEach((move, i) => {
    const list = lines.get(move);
    if (list) list.push(i + 1);
    else lines.set(move, [i + 1]);
  });
  return lines;
}

class StrokeWalk {
  readonly strokes: CourseStroke[] = [];
  private readonly machine: Machine;
  private at: StrokePoint | null = null;
  private operation: number | null = null;
  private waited: Second = 0;

  constructor(machine: Machine) {
    this.machine = machine;
  }

  take(move: Move, lines: readonly number[]): void {
    const block = lines[0] ?? 0;
    switch (move.kind) {
      case 'operation':
        this.operation = move.id;
        return;
      case 'rapid':
        return this.straight(block, this.end(move), this.machine.rapid, true);
      case 'feed':
        return this.straight(block, this.end(move), move.feed, false);
      case 'arc':
        return this.round(block, move);
      case 'cycle':
        return this.cycle(move, lines);
      case 'dwell':
        return this.rest(move.seconds);
      case 'stop':
      case 'change':
        this.rest(0);
        this.at = null;
        return;
      default:
        return;
    }
  }

  private end(move: { readonly x?: Mm; readonly y?: Mm; readonly z?: Mm }): StrokePoint {
    // After a stop the axes not yet named are where the person left them: taken as already there.
    const at = this.at ?? { x: move.x ?? 0, y: move.y ?? 0, z: move.z ?? 0 };
    if (this.at === null) this.at = at;
    return { x: move.x ?? at.x, y: move.y ?? at.y, z: move.z ?? at.z };
  }

  private straight(block: number, to: StrokePoint, feed: MmPerMin, rapid: boolean): void {
    const from = this.at ?? to;
    this.at = to;
    const d = [to.x - from.x, to.y - from.y, to.z - from.z] as const;
    const length = Math.sqrt(d[0] ** 2 + d[1] ** 2 + d[2] ** 2);
    const way: Direction = length > 0 ? [d[0] / length, d[1] / length, d[2] / length] : [0, 0, 1];
    this.push({ block, from, to, rapid, length, feed, arc: null, enter: way, leave: way });
  }

  private round(block: number, move: Extract<Move, { kind: 'arc' }>): void {
    const from = this.at ?? { x: move.x, y: move.y, z: move.z ?? 0 };
    const to = { x: move.x, y: move.y, z: move.z ?? from.z };
    this.at = to;
    const { x: cx, y: cy } = move.centre;
    const radius = Math.sqrt((from.x - cx) ** 2 + (from.y - cy) ** 2);
    const start = arctangent2(from.y - cy, from.x - cx);
    let sweep = arctangent2(to.y - cy, to.x - cx) - start;
    if (move.counterClockwise && sweep <= 1e-12) sweep += 2 * Math.PI;
    if (!move.counterClockwise && sweep >= -1e-12) sweep -= 2 * Math.PI;
    const flat = Math.abs(sweep) * radius;
    const rise = to.z - from.z;
    const length = Math.sqrt(flat * flat + rise * rise);
    const tangent = (angle: number): Direction => {
      const side = Math.sign(sweep);
      const share = length > 0 ? flat / length : 1;
      return [-sine(angle) * side * share, cosine(angle) * side * share, length > 0 ? rise / length : 0];
    };
    const arc = { cx, cy, radius, start, sweep };
    const ways = { enter: tangent(start), leave: tangent(start + sweep) };
    this.push({ block, from, to, rapid: false, length, feed: move.feed, arc, ...ways });
  }

  /** The motions of G81, G82, G83, G85 with G98 (NISTIR 6556 section 3.5.16). */
  private cycle(move: Extract<Move, { kind: 'cycle' }>, lines: readonly number[]): void {
    move.places.forEach((place, i) => {
      const block = lines[i] ?? lines[0] ?? 0;
      const { x, y } = place;
      const go = (z: Mm, feed: MmPerMin, rapid: boolean) => this.straight(block, { x, y, z }, feed, rapid);
      const fast = this.machine.rapid;
      go(this.at?.z ?? move.retract, fast, true);
      go(move.from, fast, true);
      let reached = move.from;
      if (move.cycle === 'peck') {
        for (let z = move.from - move.peck; z > move.bottom; z -= move.peck) {
          go(z, move.feed, false);
          go(move.from, fast, true);
          go(z, fast, true);
          reached = z;
        }
      }
      if (reached > move.bottom) go(move.bottom, move.feed, false);
      if (move.dwell > 0) this.rest(move.dwell);
      if (move.cycle === 'ream' || move.cycle === 'tap') go(move.from, move.feed, false);
      go(move.retract, fast, true);
    });
  }

  /** Waiting belongs to the stroke before it; before the first stroke, to that one. */
  private rest(seconds: Second): void {
    const last = this.strokes.pop();
    if (last) this.strokes.push({ ...last, stop: true, dwell: last.dwell + seconds });
    else this.waited += seconds;
  }

  private push(stroke: Omit<CourseStroke, 'operation' | 'stop' | 'dwell'>): void {
    if (stroke.length === 0) return;
    this.strokes.push({ ...stroke, operation: this.operation, stop: false, dwell: this.waited });
    this.waited = 0;
  }
}

/** Places along a stroke, no further apart than `step`, both ends included. */
export function placesAlong(s: CourseStroke, step: Mm): readonly StrokePoint[] {
  const count = Math.max(1, Math.ceil(s.length / step));
  return Array.from({ length: count + 1 }, (_, i) => placeAt(s, i / count));
}

function placeAt(s: CourseStroke, t: number): StrokePoint {
  const z = s.from.z + t * (s.to.z - s.from.z);
  if (s.arc === null) return { x: s.from.x + t * (s.to.x - s.from.x), y: s.from.y + t * (s.to.y - s.from.y), z };
  const angle = s.arc.start + t * s.arc.sweep;
  return { x: s.arc.cx + s.arc.radius * cosine(angle), y: s.arc.cy + s.arc.radius * sine(angle), z };
}
