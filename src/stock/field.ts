/**
 * Stock as a field of heights over square cells, a value at each cell's centre: what a three-axis mill can leave. No DOM, no node:
 * the same code runs in the check and behind the page's picture. Cells whose centre a cutter passes are lowered, so walls
 * are right to within half a cell's diagonal; the heights themselves are exact to single precision.
 */
import { powerOfTenIn, tenToThe } from '../base/powers.ts';
import type { Mm, Mm2 } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';

export interface Field {
  readonly cols: number;
  readonly rows: number;
  readonly cell: Mm;
  /** Lower left corner of the first cell. */
  readonly x0: Mm;
  readonly y0: Mm;
  /** Height below which there is no stock. */
  readonly bottom: Mm;
  /** Row by row, from the least y. */
  readonly heights: Float32Array;
}

/** Whole stock, `top` high everywhere. The cells cover the box exactly; the last row and column may stand over its edge. */
export function fieldOf(min: readonly [Mm, Mm], max: readonly [Mm, Mm], bottom: Mm, top: Mm, cell: Mm): Field {
  const cols = Math.max(1, Math.round((max[0] - min[0]) / cell));
  const rows = Math.max(1, Math.round((max[1] - min[1]) / cell));
  const heights = new Float32Array(cols * rows).fill(top);
  return { cols, rows, cell, x0: min[0], y0: min[1], bottom, heights };
}

/**
 * Side of a cell: a tenth of the smallest thing that must be told apart, but never so small that there are more than
 * `mostCells` of them. One decimal digit a step, so that the same job has the same cells whatever its last decimal.
 */
export function cellFor(width: Mm, depth: Mm, smallest: Mm, mostCells = 1_500_000): Mm {
  const wanted = Math.max(smallest / 10, Math.sqrt((width * depth) / mostCells));
  const scale = tenToThe(powerOfTenIn(wanted));
  const steps = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
  return (steps.find((s) => s * scale >= wanted - 1e-12) ?? 10) * scale;
}

export function cellArea(f: Field): Mm2 {
  return f.cell * f.cell;
}

export function centreX(f: Field, col: number): Mm {
  return f.x0 + (col + 0.5) * f.cell;
}

export function centreY(f: Field, row: number): Mm {
  return f.y0 + (row + 0.5) * f.cell;
}

/** Height of the cell over a point; below everything beyond the stock. */
export function heightOver(f: Field, heights: Float32Array, { x, y }: Point): Mm {
  const col = Math.floor((x - f.x0) / f.cell);
  const row = Math.floor((y - f.y0) / f.cell);
  return col < 0 || row < 0 || col >= f.cols || row >= f.rows ? -Infinity : heights[row * f.cols + col]!;
}

/** Volume of stock that stands. */
export function volumeOf(f: Field): number {
  let sum = 0;
  for (const h of f.heights) sum += h - f.bottom;
  return sum * cellArea(f);
}

/** Highest stock whose cell centre lies within a disc; undefined where the disc holds no cell. */
export function highestUnder(f: Field, x: Mm, y: Mm, radius: Mm): Mm | undefined {
  let best: Mm | undefined;
  const first = Math.max(0, Math.ceil((y - radius - f.y0) / f.cell - 0.5));
  const last = Math.min(f.rows - 1, Math.floor((y + radius - f.y0) / f.cell - 0.5));
  for (let row = first; row <= last; row++) {
    const dy = centreY(f, row) - y;
    const half = Math.sqrt(Math.max(0, radius * radius - dy * dy));
    const from = Math.max(0, Math.ceil((x - half - f.x0) / f.cell - 0.5));
    const to = Math.min(f.cols - 1, Math.floor((x + half - f.x0) / f.cell - 0.5));
    for (let k = row * f.cols + from; k <= row * f.cols + to; k++) {
      const h = f.heights[k]!;
      if (best === undefined || h > best) best = h;
    }
  }
  return best;
}
