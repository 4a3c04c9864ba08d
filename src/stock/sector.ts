/** Rows of a sector of a ring. */
import { cosine, sine } from '../base/angles.ts';
import type { Mm, Rad } from '../base/units.ts';
import type { Field } from './field.ts';

export interface Sector {
  readonly x: Mm;
  readonly y: Mm;
  readonly inner: Mm;
  readonly outer: Mm;
  readonly from: Rad;
  readonly to: Rad;
}

/**
 * Calls `emit` with every row's intervals of the points between two radii and two directions at most half a turn apart,
 * counter-clockwise from `from` to `to`.
 */
export function sectorSpans(
  f: Field,
  { x, y, inner, outer, from, to }: Sector,
  emit: (row: number, lo: Mm, hi: Mm) => void,
): void {
  const ux = cosine(from);
  const uy = sine(from);
  const vx = cosine(to);
  const vy = sine(to);
  const first = Math.max(0, Math.ceil((y - outer - f.y0) / f.cell - 0.5));
  const last = Math.min(f.rows - 1, Math.floor((y + outer - f.y0) / f.cell - 0.5));
  for (let row = first; row <= last; row++) {
    const dy = f.y0 + (row + 0.5) * f.cell - y;
    // The wedge: ux dy - uy dx >= 0 and vy dx - vx dy >= 0.
    let lo = -Infinity;
    let hi = Infinity;
    if (uy > 0) hi = Math.min(hi, (ux * dy) / uy);
    else if (uy < 0) lo = Math.max(lo, (ux * dy) / uy);
    else if (ux * dy < 0) continue;
    if (vy > 0) lo = Math.max(lo, (vx * dy) / vy);
    else if (vy < 0) hi = Math.min(hi, (vx * dy) / vy);
    else if (vx * dy > 0) continue;
    if (hi < lo) continue;
    const wide = Math.sqrt(Math.max(0, outer * outer - dy * dy));
    const hole = inner * inner - dy * dy;
    if (hole <= 0) {
      emitWithin(row, -wide, wide);
      continue;
    }
    const narrow = Math.sqrt(hole);
    emitWithin(row, -wide, -narrow);
    emitWithin(row, narrow, wide);

    function emitWithin(r: number, a: Mm, b: Mm): void {
      const l = Math.max(a, lo);
      const h = Math.min(b, hi);
      if (h >= l) emit(r, x + l, x + h);
    }
  }
}
