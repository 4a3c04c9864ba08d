/** All strokes of a set-up in running order, each known by its place among them. */
import { line } from '../../geometry/measure/segment.ts';
import type { Segment } from '../../geometry/types.ts';
import type { CycleStep } from '../language/canonical.ts';
import { type Packing, type Shelf, Spool } from './spool.ts';
import { madeStroke, type Stroke, type Tool } from './stroke.ts';

export interface Strokes extends Iterable<Stroke> {
  readonly length: number;
  /** Undefined outside the list. */
  at(index: number): Stroke | undefined;
  /** From `from` up to, not with, `to`. */
  range(from: number, to: number): Iterable<Stroke>;
  backwards(from?: number): Iterable<Stroke>;
}

/** First stroke of which something holds. */
export function firstStroke(strokes: Iterable<Stroke>, holds: (s: Stroke) => boolean): Stroke | undefined {
  for (const s of strokes) if (holds(s)) return s;
  return undefined;
}

/** `tools`: all that its strokes are made with. */
export function spoolOfStrokes(tools: readonly Tool[], shelf: Shelf): Spool<Stroke> {
  return new Spool(packing(tools), shelf);
}

/** Each once: the compiler misses none. */
const EACH_STEP: Record<CycleStep, true> = {
  preliminary: true,
  position: true,
  approach: true,
  offset: true,
  enter: true,
  centre: true,
  feed: true,
  'peck-clear': true,
  'peck-return': true,
  dwell: true,
  reverse: true,
  'feed-out': true,
  retract: true,
  'hand-retract': true,
};
const STEPS: readonly (CycleStep | null)[] = [null, ...(Object.keys(EACH_STEP) as CycleStep[])];

/** Ends, centre, radius and sweep of the path (no radius: a line), heights, feed, speed, then what is whole numbers. */
function packing(tools: readonly Tool[]): Packing<Stroke> {
  const order = new Map(tools.map((t, i) => [t, i]));
  return {
    width: 18,
    pack: (s, _, into, i) => {
      packPath(s.path, into, i);
      into[i + 8] = s.za;
      into[i + 9] = s.zb;
      into[i + 10] = s.feed;
      into[i + 11] = s.speed;
      into[i + 12] = s.program;
      into[i + 13] = s.block;
      into[i + 14] = order.get(s.tool)!;
      into[i + 15] = s.cycle ?? -1;
      into[i + 16] = STEPS.indexOf(s.step);
      into[i + 17] = (s.rapid ? 1 : 0) + (s.turning ? 2 : 0);
    },
    unpack: (index, n, i) =>
      madeStroke(pathIn(n, i), n[i + 8]!, n[i + 9]!, {
        index,
        feed: n[i + 10]!,
        speed: n[i + 11]!,
        program: n[i + 12]!,
        block: n[i + 13]!,
        tool: tools[n[i + 14]!]!,
        cycle: n[i + 15]! < 0 ? null : n[i + 15]!,
        step: STEPS[n[i + 16]!]!,
        rapid: (n[i + 17]! & 1) === 1,
        turning: (n[i + 17]! & 2) === 2,
      }),
  };
}

function packPath(path: Segment, into: Float64Array, i: number): void {
  into[i] = path.a.x;
  into[i + 1] = path.a.y;
  into[i + 2] = path.b.x;
  into[i + 3] = path.b.y;
  const round = path.kind === 'arc';
  into[i + 4] = round ? path.centre.x : 0;
  into[i + 5] = round ? path.centre.y : 0;
  into[i + 6] = round ? path.radius : NO_RADIUS;
  into[i + 7] = round ? path.sweep : 0;
}

const NO_RADIUS = -1;

function pathIn(n: Float64Array, i: number): Segment {
  const a = { x: n[i]!, y: n[i + 1]! };
  const b = { x: n[i + 2]!, y: n[i + 3]! };
  if (n[i + 6] === NO_RADIUS) return line(a, b);
  return { kind: 'arc', a, b, centre: { x: n[i + 4]!, y: n[i + 5]! }, radius: n[i + 6]!, sweep: n[i + 7]! };
}
