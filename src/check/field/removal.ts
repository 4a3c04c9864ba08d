/**
 * The strokes swept through a field of the stock, in running order: what each removes, what stands under every rapid that goes down, and
 * the field as it was at a number of moments, so that any moment can be had again quickly.
 */
import type { Mm } from '../../base/units.ts';
import { segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Job } from '../../part/part.ts';
import type { Sweeper } from '../../stock/cutter.ts';
import { cellFor, type Field, fieldOf, highestUnder } from '../../stock/field.ts';
import { FieldHistory, MOST_CELLS } from '../../stock/history.ts';
import { inMemory, type Packing, type Shelf, Spool } from '../strokes/spool.ts';
import { isVertical, type Stroke, spanBelow } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import { type Met, meetStock } from './upper.ts';

export interface Removal {
  /** After the last stroke. */
  readonly field: Field;
  /** What a stroke did. */
  of(s: Stroke): StrokeRemoval;
  /** The field after the first `count` strokes, as heights. */
  at(count: number): Float32Array;
  /** Shanks and holders that ran against stock. */
  readonly met: readonly Met[];
}

export interface StrokeRemoval {
  /** mm3 removed. */
  readonly volume: number;
  /** Highest stock it touched; -Infinity where it cut nothing. */
  readonly touched: Mm;
  /** Highest stock, before the stroke, under the disc of a rapid that goes down; Infinity where none was looked for. */
  readonly under: Mm;
}

const NOTHING: StrokeRemoval = { volume: 0, touched: Number.NEGATIVE_INFINITY, under: Number.POSITIVE_INFINITY };

const SWEPT: Packing<StrokeRemoval> = {
  width: 3,
  pack: (s, _, into, i) => {
    into[i] = s.volume;
    into[i + 1] = s.touched;
    into[i + 2] = s.under;
  },
  unpack: (_, n, i) => ({ volume: n[i]!, touched: n[i + 1]!, under: n[i + 2]! }),
};

export function removeStock(strokes: Strokes, job: Job, smallest: Mm, shelf: Shelf = inMemory()): Removal {
  const { min, max } = job.stock;
  const cell = cellFor(max[0] - min[0], max[1] - min[1], smallest, MOST_CELLS);
  const field = fieldOf([min[0], min[1]], [max[0], max[1]], min[2], max[2], cell);
  const history = new FieldHistory(field, strokes.length, (sweeper, index) =>
    sweep(sweeper, strokes.at(index)!, max[2]),
  );
  const swept = new Spool(SWEPT, shelf);
  const met: Met[] = [];
  for (const s of strokes) {
    meetStock(s, field, max[2], met);
    const under = s.rapid && goesDown(s, max[2]) ? standsUnder(s, field) : NOTHING.under;
    history.seek(s.index + 1);
    const { volume, touched } = history.sweeper;
    swept.push(s.rapid ? { ...NOTHING, under } : { volume, touched, under });
  }
  const last = { ...field, heights: field.heights.slice() };
  return { field: last, of: (s) => swept.at(s.index)!, at: (count) => history.seek(count).slice(), met };
}

function goesDown(s: Stroke, top: Mm): boolean {
  return s.zb < s.za && s.zb < top && isVertical(s);
}

/** A cell more all round: the verdict must not hang on where cell centres fall. */
function standsUnder(s: Stroke, field: Field): Mm {
  return highestUnder(field, s.path.a.x, s.path.a.y, s.tool.shape.radius + field.cell) ?? field.bottom;
}

function sweep(sweeper: Sweeper, s: Stroke, top: Mm): void {
  if (s.rapid || s.low >= top) {
    sweeper.lift();
    return;
  }
  // Only what is below the top can cut: a long ramp from high above would waste its steps in air.
  const [from, to] = segmentLength(s.path) === 0 ? [0, 1] : spanBelow(s, top)!;
  const z = (t: number) => s.za + (s.zb - s.za) * t;
  if (from === 0 && to === 1) sweeper.cut(s.path, s.za, s.zb, s.tool.shape);
  else sweeper.cut(subSegment(s.path, from, to), z(from), z(to), s.tool.shape);
}
