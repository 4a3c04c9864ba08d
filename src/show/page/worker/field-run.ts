/** The stock at any moment of a set-up: the same height field as the check's, swept move by move. No DOM: runs in the page's worker and in tests alike. */
import type { Mm } from '../../../base/units.ts';
import { subSegment } from '../../../geometry/measure/segment.ts';
import type { Segment } from '../../../geometry/types.ts';
import { CUTTER_KINDS, type Cutter } from '../../../part/part.ts';
import type { Sweeper } from '../../../stock/cutter.ts';
import { cellFor, type Field, fieldOf } from '../../../stock/field.ts';
import { FieldHistory, firstWhere, MOST_CELLS } from '../../../stock/history.ts';
import { type CutterShape, shapeOf } from '../../../stock/shape.ts';
import { ARC_CCW, DWELL, HAND, isArc, type MoveColumns, RAPID, sweepOf, TURN_CW } from '../data/moves-pack.ts';
import type { ViewCutter, XYZ } from '../data/view-data.ts';

export interface RunProgram {
  readonly moves: MoveColumns;
  readonly changes: readonly (readonly [move: number, cutter: number])[];
}

export interface RunInput {
  readonly stock: { readonly min: XYZ; readonly max: XYZ };
  /** In running order; the stock is carried over. */
  readonly programs: readonly RunProgram[];
  readonly cutters: readonly ViewCutter[];
}

/** Finest cell wanted, before the bound on their number: walls of a small part stay smooth to the eye. */
const FINEST: Mm = 0.04;

export class FieldRun {
  readonly field: Field;
  /** Moves of all programs. */
  readonly total: number;
  private readonly input: RunInput;
  private readonly firsts: readonly number[];
  private readonly tools: readonly Uint16Array[];
  private readonly shapes: readonly (CutterShape | null)[];
  private readonly history: FieldHistory;

  constructor(input: RunInput) {
    this.input = input;
    const { min, max } = input.stock;
    const cell = cellFor(max[0] - min[0], max[1] - min[1], FINEST * 10, MOST_CELLS);
    this.field = fieldOf([min[0], min[1]], [max[0], max[1]], min[2], max[2], cell);
    let sum = 0;
    this.firsts = input.programs.map((p) => {
      sum += p.moves.count;
      return sum - p.moves.count;
    });
    this.total = sum;
    this.shapes = [null, ...input.cutters.map((c) => shapeOf(asCutter(c)))];
    this.tools = input.programs.map((p) => toolColumn(p, input.cutters));
    this.history = new FieldHistory(this.field, sum, (sweeper, i, share) => this.cut(sweeper, i, share));
  }

  /** Brings the field to `position` (moves done, a fraction of the next counted in) and returns its heights, not a copy. */
  seek(position: number): Float32Array {
    return this.history.seek(position);
  }

  /** First number of whole moves at which something that stays true is true; known to be true at the end. */
  firstWhere(holds: (heights: Float32Array) => boolean): number {
    return firstWhere(0, this.total, (count) => holds(this.seek(count)));
  }

  /** Program and move of a count of moves over all programs. */
  locate(count: number): { readonly program: number; readonly move: number } {
    const at = Math.max(0, Math.min(this.total - 1, Math.floor(count)));
    let program = 0;
    while (program + 1 < this.firsts.length && this.firsts[program + 1]! <= at) program++;
    return { program, move: at - (this.firsts[program] ?? 0) };
  }

  private cut(sweeper: Sweeper, i: number, fraction: number): void {
    const { program, move } = this.locate(i);
    const m = this.input.programs[program]!.moves;
    const kind = m.kind[move]!;
    const shape = this.shapes[this.tools[program]![move]!];
    const za = m.z[move]!;
    const zb = za + (m.z[move + 1]! - za) * fraction;
    if (kind === RAPID || kind === HAND || kind === DWELL || !shape || Math.min(za, zb) >= this.input.stock.max[2]) {
      sweeper.lift();
      return;
    }
    const path = segmentOf(m, move);
    sweeper.cut(fraction === 1 ? path : subSegment(path, 0, fraction), za, zb, shape);
  }
}

/** Path in XY of a move. */
export function segmentOf(m: MoveColumns, i: number): Segment {
  const a = { x: m.x[i]!, y: m.y[i]! };
  const b = { x: m.x[i + 1]!, y: m.y[i + 1]! };
  const kind = m.kind[i]!;
  if (!isArc(kind)) return { kind: 'line', a, b };
  const centre = { x: m.cx[i]!, y: m.cy[i]! };
  const sweep = sweepOf(m, i);
  if (sweep === 0 && kind >= ARC_CCW && kind <= TURN_CW) return { kind: 'line', a, b };
  return { kind: 'arc', a, b, centre, radius: Math.hypot(a.x - centre.x, a.y - centre.y), sweep };
}

function toolColumn(p: RunProgram, cutters: readonly ViewCutter[]): Uint16Array {
  const out = new Uint16Array(p.moves.count);
  for (const [k, [move, number]] of p.changes.entries()) {
    const index = 1 + cutters.findIndex((c) => c.number === number);
    out.fill(index, move, p.changes[k + 1]?.[0] ?? out.length);
  }
  return out;
}

/** A kind that is not one of ours cuts as a flat-ended cutter. */
function asCutter(c: ViewCutter): Cutter {
  const kind = CUTTER_KINDS.find((k) => k === c.kind) ?? 'end mill';
  return { ...c, kind } as unknown as Cutter;
}
