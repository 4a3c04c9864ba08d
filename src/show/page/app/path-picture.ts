/** The cutter's path on a canvas: centre path long-dashed dotted, rapids dashed, both narrow; merged where finer than a pixel. */
import { segmentOf } from '../field-run.ts';
import { DWELL, HAND, type MoveColumns, RAPID } from '../moves-pack.ts';
import { toScreen, type Window2 } from './camera.ts';
import type { OpenProgram } from './clock.ts';
import { BLUE, DASHED, LONG_DASHED_DOTTED, NARROW, PURPLE } from './ink.ts';

export interface PathChoice {
  readonly program: OpenProgram;
  /** Moves from, up to but not including. */
  readonly from: number;
  readonly to: number;
  readonly path: boolean;
  readonly rapids: boolean;
  readonly cutters: ReadonlySet<number>;
}

/** Dashing more corners than this is slower than a frame; the line is then drawn continuous. */
const MOST_DASHED = 30_000;
/** Corners nearer than this on the screen are left out. */
const FINER: number = 0.6;

export function drawPath(context: CanvasRenderingContext2D, w: Window2, choice: PathChoice): void {
  context.lineWidth = NARROW;
  context.lineJoin = 'round';
  if (choice.path) stroke(context, trace(w, choice, false), BLUE, LONG_DASHED_DOTTED);
  if (choice.rapids) stroke(context, trace(w, choice, true), PURPLE, DASHED);
}

/** Longer stretches are drawn without looking for repeats. */
const MOST_COMPARED = 60_000;

function isNew(seen: Set<string>, m: MoveColumns, i: number): boolean {
  const ends = [`${m.x[i]},${m.y[i]}`, `${m.x[i + 1]},${m.y[i + 1]}`].sort();
  const key = `${ends.join()},${m.cx[i]},${m.cy[i]}`;
  if (seen.has(key)) return false;
  seen.add(key);
  return true;
}

interface Trace {
  readonly path: Path2D;
  readonly corners: number;
}

function stroke(context: CanvasRenderingContext2D, t: Trace, colour: string, dashes: readonly number[]): void {
  context.strokeStyle = colour;
  context.setLineDash(t.corners > MOST_DASHED ? [] : dashes.map((d) => d * NARROW));
  context.stroke(t.path);
}

function trace(w: Window2, { program, from, to, cutters }: PathChoice, rapids: boolean): Trace {
  const { moves, view } = program;
  const path = new Path2D();
  let corners = 0;
  let pen = false;
  let px = 0;
  let py = 0;
  let change = 0;
  let tool = 0;
  // Passes at several depths run over each other: drawn twice, their dashes would fill each other's gaps.
  const seen = to - from > MOST_COMPARED ? null : new Set<string>();
  for (let i = 0; i < to; i++) {
    while (change < view.changes.length && view.changes[change]![0] <= i) tool = view.changes[change++]![1];
    if (i < from) {
      if (change >= view.changes.length) i = Math.max(i, from - 1);
      continue;
    }
    const kind = moves.kind[i]!;
    const wanted = (kind === RAPID || kind === HAND) === rapids && kind !== DWELL && (tool === 0 || cutters.has(tool));
    if (!wanted || (seen !== null && !isNew(seen, moves, i))) {
      pen = false;
      continue;
    }
    if (!pen) {
      [px, py] = toScreen(w, moves.x[i]!, moves.y[i]!);
      path.moveTo(px, py);
      pen = true;
    }
    const s = segmentOf(moves, i);
    const [qx, qy] = toScreen(w, s.b.x, s.b.y);
    if (s.kind === 'arc' && s.radius * w.scale > 1) {
      const [cx, cy] = toScreen(w, s.centre.x, s.centre.y);
      const start = Math.atan2(s.a.y - s.centre.y, s.a.x - s.centre.x);
      path.arc(cx, cy, s.radius * w.scale, -start, -(start + s.sweep), s.sweep > 0);
      corners++;
    } else if (Math.abs(qx - px) + Math.abs(qy - py) > FINER) {
      path.lineTo(qx, qy);
      corners++;
    } else continue;
    px = qx;
    py = qy;
  }
  return { path, corners };
}
