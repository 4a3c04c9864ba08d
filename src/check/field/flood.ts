/** What hangs together: cells of a field that still have stock, joined over their four sides. */
import type { Mm } from '../../base/units.ts';
import type { Field } from '../../stock/field.ts';

/** Stock thinner than this holds nothing together. */
export const LEAST_JOIN: Mm = 0.05;

/** Marks every cell that is joined by stock to one of the seeds: 1, else 0. */
export function flood(f: Field, heights: Float32Array, seeds: readonly number[]): Uint8Array {
  const seen = new Uint8Array(heights.length);
  spread(f, heights, seeds, seen);
  return seen;
}

/** Groups of cells with stock that the mask leaves out. */
export function islands(f: Field, heights: Float32Array, mask: Uint8Array): number[][] {
  const seen = mask.slice();
  const found: number[][] = [];
  for (let k = 0; k < heights.length; k++) {
    if (seen[k] === 1 || heights[k]! <= f.bottom + LEAST_JOIN) continue;
    found.push(spread(f, heights, [k], seen).sort((a, b) => a - b));
  }
  return found;
}

/** Marks in `seen` what is joined to the seeds and was not marked before; returns those cells. */
function spread(f: Field, heights: Float32Array, seeds: readonly number[], seen: Uint8Array): number[] {
  const least = f.bottom + LEAST_JOIN;
  const cells: number[] = [];
  const push = (k: number) => {
    if (seen[k] === 0 && heights[k]! > least) {
      seen[k] = 1;
      cells.push(k);
    }
  };
  for (const k of seeds) push(k);
  // `cells` is both the answer and the queue: what is pushed while looking is looked at in its turn.
  for (let i = 0; i < cells.length; i++) {
    const k = cells[i]!;
    const col = k % f.cols;
    if (col > 0) push(k - 1);
    if (col < f.cols - 1) push(k + 1);
    if (k >= f.cols) push(k - f.cols);
    if (k < heights.length - f.cols) push(k + f.cols);
  }
  return cells;
}
