/**
 * The strokes swept through a field of the stock, in running order: what each removes, what stands under every rapid that goes down, and
 * the field as it was at a number of moments, so that any moment can be had again quickly.
 */
import type { Mm } from '../../base/units.ts';
import { segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Job } from '../../part/part.ts';
import { Sweeper } from '../../stock/cutter.ts';
import { cellFor, type Field, fieldOf, highestUnder } from '../../stock/field.ts';
import { inMemory, type Packing, type Shelf, Spool } from '../strokes/spool.ts';
import { isVertical, type Stroke, spanBelow } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import { type Met, meetStock } from './upper.ts';

export interface Removal {
  /** After the last stroke. */
  readonly field: Field;
  /** What a stroke did. */
  of(s: Stroke): Swept;
  /** The field after the first `count` strokes, as heights. */
  at(count: number): Float32Array;
  /** Shanks and holders that ran against stock. */
  readonly met: readonly Met[];
}

export interface Swept {
  /** mm3 removed. */
  readonly volume: number;
  /** Highest stock it touched; -Infinity where it cut nothing. */
  readonly touched: Mm;
  /** Highest stock, before the stroke, under the disc of a rapid that goes down; Infinity where none was looked for. */
  readonly under: Mm;
}

const NOTHING: Swept = { volume: 0, touched: Number.NEGATIVE_INFINITY, under: Number.POSITIVE_INFINITY };

const SWEPT: Packing<Swept> = {
  width: 3,
  pack: (s, _, into, i) => {
    into[i] = s.volume;
    into[i + 1] = s.touched;
    into[i + 2] = s.under;
  },
  unpack: (_, n, i) => ({ volume: n[i]!, touched: n[i + 1]!, under: n[i + 2]! }),
};

/** Moments kept; each is a copy of the field. */
const KEPT = 16;
/** Bound on cells: 16 copies of this many single-precision heights are 40 MB. */
const MOST_CELLS = 600_000;

export function removeStock(strokes: Strokes, job: Job, smallest: Mm, shelf: Shelf = inMemory()): Removal {
  const { min, max } = job.stock;
  const cell = cellFor(max[0] - min[0], max[1] - min[1], smallest, MOST_CELLS);
  const field = fieldOf([min[0], min[1]], [max[0], max[1]], min[2], max[2], cell);
  const swept = new Spool(SWEPT, shelf);
  const stride = Math.max(1, Math.ceil(strokes.length / KEPT));
  const kept: Float32Array[] = [];
  const sweeper = new Sweeper(field);
  const met: Met[] = [];
  for (const s of strokes) {
    meetStock(s, field, max[2], met);
    if (s.index % stride === 0) kept.push(field.heights.slice());
    if (s.rapid) {
      sweeper.lift();
      swept.push(goesDown(s, max[2]) ? { ...NOTHING, under: standsUnder(s, field) } : NOTHING);
      continue;
    }
    const volume = sweep(sweeper, s, max[2]);
    swept.push({ volume, touched: sweeper.touched, under: NOTHING.under });
  }
  const at = (count: number) => {
    const first = Math.min(Math.floor(count / stride), kept.length - 1);
    const copy = { ...field, heights: (kept[first] ?? field.heights).slice() };
    const again = new Sweeper(copy);
    for (const s of strokes.range(first * stride, count)) {
      if (s.rapid) again.lift();
      else sweep(again, s, max[2]);
    }
    return copy.heights;
  };
  return { field, of: (s) => swept.at(s.index)!, at, met };
}

function goesDown(s: Stroke, top: Mm): boolean {
  return s.zb < s.za && s.zb < top && isVertical(s);
}

/** A cell more all round: the verdict must not hang on where cell centres fall. */
function standsUnder(s: Stroke, field: Field): Mm {
  return highestUnder(field, s.path.a.x, s.path.a.y, s.tool.shape.radius + field.cell) ?? field.bottom;
}

function sweep(sweeper: Sweeper, s: Stroke, top: Mm): number {
  if (s.low >= top) {
    sweeper.lift();
    return 0;
  }
  const span = spanBelow(s, top);
  if (span === undefined || segmentLength(s.path) === 0 || (span[0] === 0 && span[1] === 1)) {
    return sweeper.cut(s.path, s.za, s.zb, s.tool.shape);
  }
  // Only what is below the top can cut: a long ramp from high above would waste its steps in air.
  const z = (t: number) => s.za + (s.zb - s.za) * t;
  return sweeper.cut(subSegment(s.path, span[0], span[1]), z(span[0]), z(span[1]), s.tool.shape);
}
