/**
 * Short orders of visiting. Few places: the shortest of all, found over subsets. More: nearest first, then stretches moved or turned round
 * while that shortens the way; never longer than the order given. Deterministic.
 */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import type { Point } from '../../geometry/types.ts';

/** A piece of work that begins at one place and ends at another. */
export interface Visit {
  readonly from: Point;
  readonly to: Point;
}

/** Up to so many the shortest of all is found: 2^9 subsets of 9 places take under a millisecond. */
const EXACT = 9;
/** Ways that differ by less are the same, so that rounding decides nothing. */
const SAME: Mm = 1e-9;

export function shortOrder(places: readonly Point[], start: Point): Point[] {
  return visitOrder(
    places.map((p) => ({ from: p, to: p })),
    start,
  ).map((i) => places[i]!);
}

/** Indexes of the visits in the order found; the way back to the start does not count. */
export function visitOrder(visits: readonly Visit[], start: Point): number[] {
  if (visits.length <= EXACT) return shortest(visits, start);
  const given = visits.map((_, i) => i);
  const found = improved(nearestFirst(visits, start), visits, start);
  return wayOf(found, visits, start) < wayOf(given, visits, start) - SAME ? found : improved(given, visits, start);
}

/** Length of the ways between the visits. */
export function wayOf(order: readonly number[], visits: readonly Visit[], start: Point): Mm {
  let here = start;
  let way = 0;
  for (const i of order) {
    way += dist(here, visits[i]!.from);
    here = visits[i]!.to;
  }
  return way;
}

/** Held and Karp: for every subset and its last visit the shortest way there. */
function shortest(visits: readonly Visit[], start: Point): number[] {
  const n = visits.length;
  if (n === 0) return [];
  const size = 1 << n;
  const way = new Float64Array(size * n).fill(Number.POSITIVE_INFINITY);
  const before = new Int8Array(size * n).fill(-1);
  for (let i = 0; i < n; i++) way[(1 << i) * n + i] = dist(start, visits[i]!.from);
  for (let set = 1; set < size; set++) {
    for (let last = 0; last < n; last++) {
      const so = way[set * n + last]!;
      if (so === Number.POSITIVE_INFINITY) continue;
      for (let next = 0; next < n; next++) {
        if (set & (1 << next)) continue;
        const to = (set | (1 << next)) * n + next;
        const then = so + dist(visits[last]!.to, visits[next]!.from);
        if (then < way[to]! - SAME) {
          way[to] = then;
          before[to] = last;
        }
      }
    }
  }
  let last = 0;
  for (let i = 1; i < n; i++) if (way[(size - 1) * n + i]! < way[(size - 1) * n + last]! - SAME) last = i;
  const order: number[] = [];
  for (let set = size - 1; last >= 0; ) {
    order.unshift(last);
    const earlier = before[set * n + last]!;
    set &= ~(1 << last);
    last = earlier;
  }
  return order;
}

function nearestFirst(visits: readonly Visit[], start: Point): number[] {
  const rest = visits.map((_, i) => i);
  const out: number[] = [];
  let here = start;
  while (rest.length > 0) {
    let best = 0;
    for (let k = 1; k < rest.length; k++)
      if (dist(here, visits[rest[k]!]!.from) < dist(here, visits[rest[best]!]!.from) - SAME) best = k;
    const [i] = rest.splice(best, 1);
    here = visits[i!]!.to;
    out.push(i!);
  }
  return out;
}

/** Turns stretches round and moves single visits while either shortens the way. */
function improved(first: number[], visits: readonly Visit[], start: Point): number[] {
  let order = first;
  let way = wayOf(order, visits, start);
  for (let again = true; again; ) {
    again = false;
    for (const tried of neighbours(order)) {
      const then = wayOf(tried, visits, start);
      if (then >= way - SAME) continue;
      order = tried;
      way = then;
      again = true;
      break;
    }
  }
  return order;
}

function* neighbours(order: readonly number[]): Generator<number[]> {
  const n = order.length;
  for (let i = 0; i < n - 1; i++)
    for (let j = i + 1; j < n; j++)
      yield [...order.slice(0, i), ...order.slice(i, j + 1).reverse(), ...order.slice(j + 1)];
  for (let i = 0; i < n; i++) {
    const rest = [...order.slice(0, i), ...order.slice(i + 1)];
    for (let j = 0; j < n; j++) if (j !== i) yield [...rest.slice(0, j), order[i]!, ...rest.slice(j)];
  }
}
