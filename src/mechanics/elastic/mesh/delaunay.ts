/**
 * Delaunay triangulation that grows point by point (Bowyer 1981, Watson 1981), on exact predicates, so that no rounding makes it
 * fail. Half edge e = 3 t + k runs from corner k of triangle t to the next, counter-clockwise; `twin[e]` is its other side, -1 on
 * the hull. A triangle that has gone has its first corner -1 until its place is used again.
 */
import { incircle, orient2d } from 'robust-predicates';

export interface Triangulation {
  readonly x: number[];
  readonly y: number[];
  readonly corners: number[];
  readonly twin: number[];
  /** A half edge that begins at each vertex. */
  readonly start: number[];
  readonly free: number[];
  /** Where the next search begins. */
  last: number;
}

export const next = (e: number) => (e % 3 === 2 ? e - 2 : e + 1);
export const previous = (e: number) => (e % 3 === 0 ? e + 2 : e - 1);

/** Two triangles over a box far round the given one: vertices 0 to 3 are its corners and belong to no body. */
export function boxed(low: readonly [number, number], high: readonly [number, number]): Triangulation {
  const reach = 3 * Math.max(high[0] - low[0], high[1] - low[1], 1);
  const [left, right, bottom, top] = [low[0] - reach, high[0] + reach, low[1] - reach, high[1] + reach];
  return {
    x: [left, right, right, left],
    y: [bottom, bottom, top, top],
    corners: [0, 1, 2, 0, 2, 3],
    twin: [-1, -1, 3, 2, -1, -1],
    start: [0, 1, 2, 5],
    free: [],
    last: 0,
  };
}

/** Above 0: p is left of a half edge. */
function side(t: Triangulation, e: number, px: number, py: number): number {
  const a = t.corners[e]!;
  const b = t.corners[next(e)]!;
  return -orient2d(t.x[a]!, t.y[a]!, t.x[b]!, t.y[b]!, px, py);
}

/** The triangle that holds a point of the box. */
export function locate(t: Triangulation, px: number, py: number): number {
  let at = t.last;
  let from = -1;
  for (;;) {
    let out = -1;
    for (let k = 0; k < 3; k++) {
      const e = 3 * at + k;
      if (e !== from && t.twin[e]! >= 0 && side(t, e, px, py) < 0) {
        out = e;
        break;
      }
    }
    if (out < 0) return at;
    from = t.twin[out]!;
    at = Math.floor(from / 3);
  }
}

function inCircle(t: Triangulation, tri: number, px: number, py: number): boolean {
  const [a, b, c] = [t.corners[3 * tri]!, t.corners[3 * tri + 1]!, t.corners[3 * tri + 2]!];
  return incircle(t.x[a]!, t.y[a]!, t.x[b]!, t.y[b]!, t.x[c]!, t.y[c]!, px, py) > 0;
}

/** Number of the new vertex, or of the one that is there already; the new triangles are added to `made`. */
export function insert(t: Triangulation, px: number, py: number, made: number[]): number {
  const first = locate(t, px, py);
  for (let k = 0; k < 3; k++) {
    const v = t.corners[3 * first + k]!;
    if (t.x[v] === px && t.y[v] === py) return v;
  }
  const hollow = [first];
  const inside = new Set(hollow);
  const rim: number[] = [];
  for (let i = 0; i < hollow.length; i++) {
    for (let k = 0; k < 3; k++) {
      const e = 3 * hollow[i]! + k;
      const other = t.twin[e]!;
      const tri = other < 0 ? -1 : Math.floor(other / 3);
      if (inside.has(tri)) continue;
      if (tri >= 0 && inCircle(t, tri, px, py)) {
        inside.add(tri);
        hollow.push(tri);
      } else rim.push(e);
    }
  }
  return fan(t, { px, py, hollow, rim }, made);
}

interface Hollow {
  readonly px: number;
  readonly py: number;
  readonly hollow: readonly number[];
  readonly rim: readonly number[];
}

/** The hollow is filled by a triangle from each edge of its rim to the new vertex. */
function fan(t: Triangulation, { px, py, hollow, rim }: Hollow, made: number[]): number {
  const vertex = t.x.length;
  t.x.push(px);
  t.y.push(py);
  const edges = rim.map((e) => [t.corners[e]!, t.corners[next(e)]!, t.twin[e]!] as const);
  for (const tri of hollow) {
    t.corners[3 * tri] = -1;
    t.free.push(tri);
  }
  const startsAt = new Map<number, number>();
  for (const [a, b, outer] of edges) {
    const tri = t.free.pop() ?? t.corners.length / 3;
    const e = 3 * tri;
    t.corners[e] = a;
    t.corners[e + 1] = b;
    t.corners[e + 2] = vertex;
    t.twin[e] = outer;
    if (outer >= 0) t.twin[outer] = e;
    t.start[a] = e;
    t.start[vertex] = e + 2;
    startsAt.set(a, e);
    made.push(tri);
  }
  for (const [a, b] of edges) {
    const e = startsAt.get(a)!;
    const after = startsAt.get(b)!;
    t.twin[e + 1] = after + 2;
    t.twin[after + 2] = e + 1;
  }
  t.last = Math.floor(startsAt.values().next().value! / 3);
  return vertex;
}

/** The half edge from one vertex to another; -1: they are not joined. */
export function edgeBetween(t: Triangulation, from: number, to: number): number {
  const begin = t.start[from]!;
  let e = begin;
  do {
    if (t.corners[next(e)] === to) return e;
    const turn = t.twin[previous(e)]!;
    if (turn < 0) break;
    e = turn;
  } while (e !== begin);
  // The hull was met: the other way round.
  e = begin;
  while (t.twin[e]! >= 0) {
    e = next(t.twin[e]!);
    if (e === begin) return -1;
    if (t.corners[next(e)] === to) return e;
  }
  return -1;
}
