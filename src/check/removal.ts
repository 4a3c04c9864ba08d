/**
 * The strokes swept through a field of the stock, in running order: what each removes, what stands under every rapid that goes down, and
 * the field as it was at a number of moments, so that any moment can be had again quickly.
 */
import type { Mm } from '../base/units.ts';
import { segmentLength, subSegment } from '../geometry/measure/segment.ts';
import type { Job } from '../part/part.ts';
import { Sweeper } from './field/cutter.ts';
import { cellFor, type Field, fieldOf, highestUnder } from './field/field.ts';
import { isVertical, type Stroke, spanBelow } from './stroke.ts';

export interface Removal {
  /** After the last stroke. */
  readonly field: Field;
  /** For each stroke: mm3 removed. */
  readonly volumes: Float64Array;
  /** For each stroke: highest stock it touched; -Infinity where it cut nothing. */
  readonly touched: Float64Array;
  /** Highest stock, before the stroke, under the disc of a rapid that goes down. */
  readonly under: ReadonlyMap<number, Mm>;
  /** The field after the first `count` strokes, as heights. */
  at(count: number): Float32Array;
}

/** Moments kept; each is a copy of the field. */
const KEPT = 16;
/** Bound on cells: 16 copies of this many single-precision heights are 40 MB. */
const MOST_CELLS = 600_000;

export function removeStock(strokes: readonly Stroke[], job: Job, smallest: Mm): Removal {
  const { min, max } = job.stock;
  const cell = cellFor(max[0] - min[0], max[1] - min[1], smallest, MOST_CELLS);
  const field = fieldOf([min[0], min[1]], [max[0], max[1]], min[2], max[2], cell);
  const volumes = new Float64Array(strokes.length);
  const touched = new Float64Array(strokes.length).fill(-Infinity);
  const under = new Map<number, Mm>();
  const stride = Math.max(1, Math.ceil(strokes.length / KEPT));
  const kept: Float32Array[] = [];
  const sweeper = new Sweeper(field);
  for (const [i, s] of strokes.entries()) {
    if (i % stride === 0) kept.push(field.heights.slice());
    if (s.rapid) {
      sweeper.lift();
      if (s.zb < s.za && s.zb < max[2] && isVertical(s)) {
        // A cell more all round: the verdict must not hang on where cell centres fall.
        under.set(i, highestUnder(field, s.path.a.x, s.path.a.y, s.tool.shape.radius + cell) ?? min[2]);
      }
      continue;
    }
    volumes[i] = sweep(sweeper, s, max[2]);
    touched[i] = sweeper.touched;
  }
  const at = (count: number) => {
    const first = Math.min(Math.floor(count / stride), kept.length - 1);
    const copy = { ...field, heights: (kept[first] ?? field.heights).slice() };
    const again = new Sweeper(copy);
    for (const s of strokes.slice(first * stride, count)) {
      if (s.rapid) again.lift();
      else sweep(again, s, max[2]);
    }
    return copy.heights;
  };
  return { field, volumes, touched, under, at };
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
