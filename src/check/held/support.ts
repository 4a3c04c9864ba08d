/** Where the stock or the parts are held at a moment: clamps and jaws on the frame, screws once fitted, glue under everything. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { centreX, centreY, type Field } from '../../stock/field.ts';
import type { Head } from '../program/head.ts';
import type { WantedParts } from '../wanted/wanted.ts';

/** Cells that something outside the stock holds, once the screws through `fitted` holes (indexes) are in; in the order of their numbers. */
export function heldCells(
  f: Field,
  job: Job,
  wanted: WantedParts,
  head: Head | null,
  fitted: readonly number[],
): number[] {
  if (head?.hold?.by === 'glue') return Array.from({ length: f.cols * f.rows }, (_, k) => k);
  const held = new Uint8Array(f.cols * f.rows);
  const xs = Array.from({ length: f.cols }, (_, col) => centreX(f, col));
  const ys = Array.from({ length: f.rows }, (_, row) => centreY(f, row));
  for (const clamp of job.clamps) {
    const cols = xs.flatMap((x, col) => (holdsAt(job, clamp, 0, x) ? [col] : []));
    for (const [row, y] of ys.entries())
      if (holdsAt(job, clamp, 1, y)) for (const col of cols) held[row * f.cols + col] = 1;
  }
  for (const p of wanted.parts)
    for (const h of p.holes) {
      if (!fitted.includes(h.hole.index)) continue;
      const [inner, outer] = [h.hole.diameter / 2, h.hole.diameter / 2 + Math.max(1, 2 * f.cell)];
      markRing({ xs, ys }, h.at, inner, outer, held);
    }
  const cells: number[] = [];
  for (let k = 0; k < held.length; k++) if (held[k] === 1) cells.push(k);
  return cells;
}

/** Under a block, or between the jaws. */
export function underClamp(job: Job, x: number, y: number): boolean {
  return job.clamps.some((c) => holdsAt(job, c, 0, x) && holdsAt(job, c, 1, y));
}

/** What a clamp asks of one coordinate of a place that it holds: both must do. */
function holdsAt(job: Job, c: Job['clamps'][number], axis: 0 | 1, v: number): boolean {
  if (c.kind === 'block') return v >= c.min[axis] && v <= c.max[axis];
  if ((c.axis === 'x' ? 0 : 1) !== axis) return true;
  return v <= job.stock.min[axis] + c.grip || v >= job.stock.max[axis] - c.grip;
}

/** A ring of the part round a screw's hole: what its head bears on. */
function markRing(
  { xs, ys }: { readonly xs: readonly Mm[]; readonly ys: readonly Mm[] },
  at: Point,
  inner: Mm,
  outer: Mm,
  held: Uint8Array,
): void {
  for (const [row, y] of ys.entries()) {
    if (Math.abs(y - at.y) > outer) continue;
    for (const [col, x] of xs.entries()) {
      const d = dist(at, { x, y });
      if (d > inner && d < outer) held[row * xs.length + col] = 1;
    }
  }
}
