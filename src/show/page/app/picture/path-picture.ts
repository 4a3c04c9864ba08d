/** The cutter's path on a canvas: centre path long-dashed dotted, rapids dashed, both narrow; merged where finer than a pixel. */

import { DWELL, HAND, isArc, type MoveColumns, RAPID } from '../../data/moves-pack.ts';
import { segmentOf } from '../../worker/field-run.ts';
import type { OpenProgram } from '../clock.ts';
import { type PlanWindow, toScreen } from './camera.ts';
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

export function drawPath(context: CanvasRenderingContext2D, w: PlanWindow, choice: PathChoice): void {
  context.lineWidth = NARROW;
  context.lineJoin = 'round';
  if (choice.path) stroke(context, trace(w, choice, false), BLUE, LONG_DASHED_DOTTED);
  if (choice.rapids) stroke(context, trace(w, choice, true), PURPLE, DASHED);
}

/** Longer stretches are compared pixel by pixel instead of move by move. */
const MOST_COMPARED = 60_000;

function isNew(seen: Set<string>, m: MoveColumns, i: number): boolean {
  const ends = [`${m.x[i]},${m.y[i]}`, `${m.x[i + 1]},${m.y[i + 1]}`].sort();
  const key = `${ends.join()},${m.cx[i]},${m.cy[i]}`;
  if (seen.has(key)) return false;
  seen.add(key);
  return true;
}

interface Trace {
  /** Several paths: stroking one of very many corners takes far longer than stroking its pieces. */
  readonly paths: readonly Path2D[];
  readonly corners: number;
}

const CORNERS_A_PATH = 3000;

function stroke(context: CanvasRenderingContext2D, t: Trace, colour: string, dashes: readonly number[]): void {
  context.strokeStyle = colour;
  context.setLineDash(t.corners > MOST_DASHED ? [] : dashes.map((d) => d * NARROW));
  for (const path of t.paths) context.stroke(path);
}

function trace(w: PlanWindow, choice: PathChoice, rapids: boolean): Trace {
  const { moves, view } = choice.program;
  const pen = new CanvasPen(w);
  const isRepeat = repeats(w, choice);
  let change = 0;
  let tool = 0;
  for (let i = choice.from; i < choice.to; i++) {
    while (change < view.changes.length && view.changes[change]![0] <= i) tool = view.changes[change++]![1];
    const kind = moves.kind[i]!;
    const drawn = kind !== DWELL && (tool === 0 || choice.cutters.has(tool));
    if (!drawn || (kind === RAPID || kind === HAND) !== rapids || isRepeat(i)) pen.up();
    else pen.draw(moves, i);
  }
  return { paths: pen.paths, corners: pen.corners };
}

/** Passes at several depths run over each other: drawn twice, their dashes would fill each other's gaps. */
function repeats(w: PlanWindow, { program, from, to }: PathChoice): (i: number) => boolean {
  const { moves } = program;
  if (to - from <= MOST_COMPARED) {
    const seen = new Set<string>();
    return (i) => !isNew(seen, moves, i);
  }
  const [cols, rows] = [Math.ceil(w.width), Math.ceil(w.height)];
  const inked = new Uint8Array(cols * rows);
  return (i) => {
    const [px, py] = toScreen(w, moves.x[i + 1]!, moves.y[i + 1]!);
    if (!(px >= 0 && py >= 0 && px < cols && py < rows)) return false;
    const k = Math.floor(py) * cols + Math.floor(px);
    const [qx, qy] = toScreen(w, moves.x[i]!, moves.y[i]!);
    const repeat = inked[k] === 1 && Math.abs(qx - px) + Math.abs(qy - py) < SHORT;
    inked[k] = 1;
    return repeat;
  };
}

/** Moves shorter than this on the screen are dots of a line: once its pixel is inked another adds nothing. */
const SHORT = 3;

class CanvasPen {
  readonly paths: Path2D[] = [];
  corners = 0;
  private readonly w: PlanWindow;
  private path = new Path2D();
  private down = false;
  private x = 0;
  private y = 0;

  constructor(w: PlanWindow) {
    this.w = w;
    this.paths.push(this.path);
  }

  up(): void {
    this.down = false;
  }

  draw(moves: MoveColumns, i: number): void {
    const { w } = this;
    if (this.corners >= CORNERS_A_PATH * this.paths.length) {
      this.path = new Path2D();
      this.paths.push(this.path);
      this.down = false;
    }
    if (!this.down) this.moveTo(...toScreen(w, moves.x[i]!, moves.y[i]!));
    const [qx, qy] = toScreen(w, moves.x[i + 1]!, moves.y[i + 1]!);
    const s = isArc(moves.kind[i]!) ? segmentOf(moves, i) : null;
    if (s?.kind === 'arc' && s.radius * w.scale > 1) {
      const [cx, cy] = toScreen(w, s.centre.x, s.centre.y);
      const start = Math.atan2(s.a.y - s.centre.y, s.a.x - s.centre.x);
      this.path.arc(cx, cy, s.radius * w.scale, -start, -(start + s.sweep), s.sweep > 0);
    } else if (Math.abs(qx - this.x) + Math.abs(qy - this.y) > FINER) this.path.lineTo(qx, qy);
    else return;
    this.corners++;
    this.x = qx;
    this.y = qy;
  }

  private moveTo(x: number, y: number): void {
    this.path.moveTo(x, y);
    this.x = x;
    this.y = y;
    this.down = true;
  }
}
