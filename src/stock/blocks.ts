/** A field taken together in square blocks, each as strong as the weakest of its cells. */
import type { Mm } from '../base/units.ts';
import { dot, sub } from '../geometry/measure/point.ts';
import type { Point } from '../geometry/types.ts';
import type { Field } from './field.ts';

export interface Blocks {
  readonly cols: number;
  readonly rows: number;
  readonly side: Mm;
  /** Lower left corner of the first block. */
  readonly x0: Mm;
  readonly y0: Mm;
  /** Least height of the cells of each; the field's bottom where a cell is left out. */
  readonly least: Float32Array;
}

/**
 * Blocks about `side` wide, of whole cells; `out` is not 0 where a cell counts for nothing. Cells left over at the field's borders are shared
 * out to both and belong to no block.
 */
export function blocksOf(f: Field, heights: Float32Array, out: Int16Array, side: Mm): Blocks {
  const each = Math.max(1, Math.round(side / f.cell));
  const cols = Math.floor(f.cols / each);
  const rows = Math.floor(f.rows / each);
  const left = Math.floor((f.cols - cols * each) / 2);
  const low = Math.floor((f.rows - rows * each) / 2);
  const least = new Float32Array(cols * rows).fill(Infinity);
  for (let row = 0; row < rows * each; row++) {
    const into = Math.floor(row / each) * cols;
    const from = (row + low) * f.cols + left;
    for (let b = 0, k = from; b < cols; b++) {
      let h = least[into + b]!;
      for (const end = k + each; k < end; k++) {
        if (out[k] !== 0) h = f.bottom;
        else if (heights[k]! < h) h = heights[k]!;
      }
      least[into + b] = h;
    }
  }
  return { cols, rows, side: each * f.cell, x0: f.x0 + left * f.cell, y0: f.y0 + low * f.cell, least };
}

export function blockCentre(b: Blocks, k: number): Point {
  return { x: b.x0 + ((k % b.cols) + 0.5) * b.side, y: b.y0 + (Math.floor(k / b.cols) + 0.5) * b.side };
}

/** A strip from `at` along the unit vector `out`. */
export interface Strip {
  readonly at: Point;
  readonly out: Point;
  readonly length: Mm;
  readonly width: Mm;
}

/** Blocks with their centre in a strip. */
export function blocksIn(b: Blocks, { at, out, length, width }: Strip): number[] {
  const far = length + width;
  const found: number[] = [];
  const [c0, c1] = [Math.floor((at.x - far - b.x0) / b.side), Math.ceil((at.x + far - b.x0) / b.side)];
  const [r0, r1] = [Math.floor((at.y - far - b.y0) / b.side), Math.ceil((at.y + far - b.y0) / b.side)];
  for (let row = Math.max(0, r0); row < Math.min(b.rows, r1); row++) {
    for (let col = Math.max(0, c0); col < Math.min(b.cols, c1); col++) {
      const k = row * b.cols + col;
      const from = sub(blockCentre(b, k), at);
      const outwards = dot(from, out);
      const aside = Math.abs(from.y * out.x - from.x * out.y);
      if (outwards >= 0 && outwards <= length && aside <= width / 2) found.push(k);
    }
  }
  return found;
}
