/** Time along one program: when each move ends, from the course where there is one, else from lengths and feeds alone. */
import { segmentLength } from '../../../geometry/measure/segment.ts';
import { type CourseColumns, unpackCourse } from '../data/course-pack.ts';
import { DWELL, HAND, type MoveColumns, RAPID, unpackMoves } from '../data/moves-pack.ts';
import { unpackText } from '../data/pack.ts';
import type { ViewProgram, XYZ } from '../data/view-data.ts';
import { segmentOf } from '../worker/field-run.ts';
import { firstAbove, firstAtLeast } from './ordered.ts';

export interface OpenProgram {
  readonly view: ViewProgram;
  readonly moves: MoveColumns;
  readonly course: CourseColumns | null;
  /** Seconds at the end of each move. */
  readonly ends: Float64Array;
  readonly total: number;
  readonly lines: readonly string[] | null;
}

export interface ProgramMoment {
  readonly move: number;
  /** Part of that move done, 0 to 1. */
  readonly part: number;
  readonly block: number;
  readonly at: XYZ;
}

export function openProgram(view: ViewProgram): OpenProgram {
  const moves = unpackMoves(view.moves, view.moveCount);
  const course = view.course === null ? null : unpackCourse(view.course);
  const ends = course === null ? feedTimes(view, moves) : courseTimes(view, moves, course);
  const lines = view.text === null ? null : unpackText(view.text).split(/\r\n|\r|\n/);
  return { view, moves, course, ends, total: ends[ends.length - 1] ?? 0, lines };
}

/** The moment at a time; at the end of the program the last move, done. */
export function momentAt(p: OpenProgram, time: number): ProgramMoment {
  const { moves, ends } = p;
  if (moves.count === 0) return { move: 0, part: 0, block: 1, at: [0, 0, 0] };
  // At the very end of a block it is that block's moment, done; at the end of the program every move is.
  const i = time >= p.total ? moves.count - 1 : Math.min(moves.count - 1, firstAtLeast(ends, time));
  const from = i === 0 ? 0 : ends[i - 1]!;
  const span = ends[i]! - from;
  const part = span > 0 ? Math.max(0, Math.min(1, (time - from) / span)) : time >= ends[i]! && time > 0 ? 1 : 0;
  return { move: i, part, block: moves.block[i]!, at: placeOn(moves, i, part) };
}

export function placeOn(m: MoveColumns, i: number, part: number): XYZ {
  const z = m.z[i]! + (m.z[i + 1]! - m.z[i]!) * part;
  const s = segmentOf(m, i);
  if (s.kind === 'line') return [s.a.x + (s.b.x - s.a.x) * part, s.a.y + (s.b.y - s.a.y) * part, z];
  const angle = Math.atan2(s.a.y - s.centre.y, s.a.x - s.centre.x) + s.sweep * part;
  return [s.centre.x + s.radius * Math.cos(angle), s.centre.y + s.radius * Math.sin(angle), z];
}

/** End of the last move of the block, or of the nearest block before it that moves. */
export function endOfBlock(p: OpenProgram, block: number): number {
  const last = firstAtLeast(p.moves.block, block + 1) - 1;
  return last < 0 ? 0 : p.ends[last]!;
}

/** Time at which the next block that takes time is done; of the one before when `by` is -1. */
export function stepBlock(p: OpenProgram, time: number, by: 1 | -1): number {
  const { moves, ends } = p;
  if (moves.count === 0) return 0;
  if (by > 0) {
    const i = Math.min(moves.count - 1, firstAbove(ends, time));
    return ends[lastOfBlock(moves, i)]!;
  }
  let i = firstAtLeast(ends, time) - 1;
  while (i >= 0 && ends[lastOfBlock(moves, i)]! >= time) i--;
  return i < 0 ? 0 : ends[lastOfBlock(moves, i)]!;
}

/** Time at which the next move that takes time is done; of the one before when `by` is -1. */
export function stepMove(p: OpenProgram, time: number, by: 1 | -1): number {
  const { moves, ends } = p;
  if (moves.count === 0) return 0;
  if (by > 0) return ends[Math.min(moves.count - 1, firstAbove(ends, time + STILL))]!;
  const i = firstAtLeast(ends, time - STILL) - 1;
  return i < 0 ? 0 : ends[i]!;
}

/** Less than this is no time: sums of milliseconds differ by rounding. */
const STILL = 1e-6;

/** Place of a move among those of its block, counted from 1, and how many there are. */
export function withinBlock(p: OpenProgram, move: number): { readonly number: number; readonly of: number } {
  let first = move;
  while (first > 0 && p.moves.block[first - 1] === p.moves.block[move]) first--;
  return { number: move - first + 1, of: lastOfBlock(p.moves, move) - first + 1 };
}

/** Index of the operation that holds a block; -1 in the head or when none are known. */
export function operationAt(view: ViewProgram, block: number): number {
  return view.operations.findIndex((o) => block >= o.from && block <= o.to);
}

/** Moves of the operation under way, from one up to but not including another; all where none is, or `whole` is asked for. */
export function movesShown({ view, moves }: OpenProgram, block: number, whole: boolean): readonly [number, number] {
  const span = whole ? undefined : view.operations[operationAt(view, block)];
  if (span === undefined) return [0, moves.count];
  return [firstAtLeast(moves.block, span.from), firstAtLeast(moves.block, span.to + 1)];
}

function lastOfBlock(m: MoveColumns, i: number): number {
  let k = i;
  while (k + 1 < m.count && m.block[k + 1] === m.block[i]) k++;
  return k;
}

function feedTimes(view: ViewProgram, m: MoveColumns): Float64Array {
  const ends = new Float64Array(m.count);
  let clock = 0;
  for (let i = 0; i < m.count; i++) {
    clock += secondsOf(view, m, i);
    ends[i] = clock;
  }
  return ends;
}

/**
 * A block's own time, shared among its moves in proportion to what each takes by its feed. Where the course has no time for a
 * block (from where the person left the machine) there is none: page, sheet and plan file count the same.
 */
function courseTimes(view: ViewProgram, m: MoveColumns, course: CourseColumns): Float64Array {
  const ends = new Float64Array(m.count);
  let clock = 0;
  let row = 0;
  for (let i = 0; i < m.count; ) {
    const block = m.block[i]!;
    let last = i;
    while (last + 1 < m.count && m.block[last + 1] === block) last++;
    while (row < course.count && course.block[row]! < block) row++;
    const known = row < course.count && course.block[row] === block;
    const own = Array.from({ length: last - i + 1 }, (_, k) => secondsOf(view, m, i + k));
    const sum = own.reduce((a, b) => a + b, 0);
    const start = known ? Math.max(clock, course.start[row]!) : clock;
    const span = known ? course.seconds[row]! : 0;
    let done = 0;
    for (let k = i; k <= last; k++) {
      done += own[k - i]!;
      ends[k] = start + (sum > 0 ? (span * done) / sum : span);
    }
    clock = ends[last]!;
    i = last + 1;
  }
  return ends;
}

function secondsOf(view: ViewProgram, m: MoveColumns, i: number): number {
  const kind = m.kind[i]!;
  if (kind === DWELL) return m.feed[i]! / 1000;
  const length = Math.hypot(segmentLength(segmentOf(m, i)), m.z[i + 1]! - m.z[i]!);
  const feed = kind === RAPID || kind === HAND ? view.rapid : view.feeds[m.feed[i]!] || view.rapid;
  return (length / Math.max(feed, 1e-3)) * 60;
}
