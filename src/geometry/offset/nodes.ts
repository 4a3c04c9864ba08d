import { SAME_POINT } from '../../base/tolerance.ts';
import type { Point } from '../types.ts';

/**
 * Gives every point a number; points closer than SAME_POINT get the same number, and its first point stands for all.
 * That is what makes neighbours share end points bit for bit, whatever rounding brought them there.
 */
export class Nodes {
  readonly points: Point[] = [];
  readonly #cells = new Map<number, number[]>();

  at(p: Point): number {
    const x0 = Math.floor((p.x - SAME_POINT) / CELL);
    const x1 = Math.floor((p.x + SAME_POINT) / CELL);
    const y0 = Math.floor((p.y - SAME_POINT) / CELL);
    const y1 = Math.floor((p.y + SAME_POINT) / CELL);
    for (let ix = x0; ix <= x1; ix++) {
      for (let iy = y0; iy <= y1; iy++) {
        const found = this.#find(ix, iy, p);
        if (found >= 0) return found;
      }
    }
    return this.#add(p);
  }

  #find(ix: number, iy: number, p: Point): number {
    for (const id of this.#cells.get(key(ix, iy)) ?? NONE) {
      const q = this.points[id]!;
      if (Math.abs(q.x - p.x) <= SAME_POINT && Math.abs(q.y - p.y) <= SAME_POINT) return id;
    }
    return -1;
  }

  #add(p: Point): number {
    const id = this.points.push(p) - 1;
    const k = key(Math.floor(p.x / CELL), Math.floor(p.y / CELL));
    const cell = this.#cells.get(k);
    if (cell) cell.push(id);
    else this.#cells.set(k, [id]);
    return id;
  }
}

/** Cells far wider than the tolerance, so that nearly every point looks into one cell only. */
const CELL = 64 * SAME_POINT;
const NONE: readonly number[] = [];

/** Cells that share a key by accident cost time, never a wrong answer: every hit is measured. */
function key(ix: number, iy: number): number {
  return Math.imul(ix, 73856093) ^ Math.imul(iy, 19349663);
}
