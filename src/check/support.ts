/** Where the stock or the parts are held at a moment: clamps and jaws on the frame, screws once fitted, glue under everything. */
import { dist } from '../geometry/measure/point.ts';
import type { Job } from '../part/part.ts';
import { centreX, centreY, type Field } from './field/field.ts';
import type { Head } from './head.ts';
import type { Wanted } from './wanted/wanted.ts';

/** Cells that something outside the stock holds, once the screws through `fitted` holes (indexes) are in. */
export function heldCells(f: Field, job: Job, wanted: Wanted, head: Head | null, fitted: readonly number[]): number[] {
  if (head?.hold?.by === 'glue') return Array.from({ length: f.cols * f.rows }, (_, k) => k);
  const cells: number[] = [];
  for (let row = 0; row < f.rows; row++) {
    for (let col = 0; col < f.cols; col++) {
      const x = centreX(f, col);
      const y = centreY(f, row);
      if (underClamp(job, x, y) || underScrew(f, wanted, fitted, x, y)) cells.push(row * f.cols + col);
    }
  }
  return cells;
}

/** Under a block, or between the jaws. */
export function underClamp(job: Job, x: number, y: number): boolean {
  const { min, max } = job.stock;
  return job.clamps.some((c) => {
    if (c.kind === 'block') return x >= c.min[0] && x <= c.max[0] && y >= c.min[1] && y <= c.max[1];
    const i = c.axis === 'x' ? 0 : 1;
    const v = c.axis === 'x' ? x : y;
    return v <= min[i] + c.grip || v >= max[i] - c.grip;
  });
}

/** A ring of the part round a screw's hole: what its head bears on. */
function underScrew(f: Field, wanted: Wanted, fitted: readonly number[], x: number, y: number): boolean {
  return wanted.parts.some((p) =>
    p.holes.some((h) => {
      if (!fitted.includes(h.hole.index)) return false;
      const d = dist(h.at, { x, y });
      return d > h.hole.diameter / 2 && d < h.hole.diameter / 2 + Math.max(1, 2 * f.cell);
    }),
  );
}
