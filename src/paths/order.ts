/** Short orders of visiting: nearest neighbour, then stretches turned round while that shortens the way. Deterministic. */
import { dist } from '../geometry/measure/point.ts';
import type { Point } from '../geometry/types.ts';

export function shortOrder(places: readonly Point[], start: Point): Point[] {
  return improved(nearestFirst(places, start), start);
}

function nearestFirst(places: readonly Point[], start: Point): Point[] {
  const rest = [...places];
  const out: Point[] = [];
  let here = start;
  while (rest.length > 0) {
    let best = 0;
    for (let i = 1; i < rest.length; i++) if (dist(here, rest[i]!) < dist(here, rest[best]!) - 1e-9) best = i;
    here = rest.splice(best, 1)[0]!;
    out.push(here);
  }
  return out;
}

/** Reverses any stretch whose reversal shortens the open tour; stops when none does. */
function improved(tour: Point[], start: Point): Point[] {
  const at = (i: number) => (i < 0 ? start : tour[i]);
  for (let again = true; again; ) {
    again = false;
    for (let i = 0; i < tour.length - 1; i++) {
      for (let j = i + 1; j < tour.length; j++) {
        const before = at(i - 1)!;
        const after = at(j + 1);
        const now = dist(before, tour[i]!) + (after ? dist(tour[j]!, after) : 0);
        const then = dist(before, tour[j]!) + (after ? dist(tour[i]!, after) : 0);
        if (then < now - 1e-9) {
          tour.splice(i, j - i + 1, ...tour.slice(i, j + 1).reverse());
          again = true;
        }
      }
    }
  }
  return tour;
}
