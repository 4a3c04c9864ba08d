/**
 * Multifrontal Cholesky over a tree of element groups (Duff and Reid, The multifrontal solution of indefinite sparse symmetric
 * linear equations, ACM TOMS 9, 1983; nested dissection after George, 1973, by halving the elements at the middle of their longer
 * spread). Unknowns that are kept come out with their Schur complement: the body as seen from there.
 */
import { eliminate } from './dense.ts';

/** Stiffness of one element: `matrix` is full, dofs.length squared, symmetric. */
export interface ElementMatrix {
  readonly dofs: Int32Array;
  readonly matrix: Float64Array;
  /** Where it is, for the dissection. */
  readonly x: number;
  readonly y: number;
}

export interface Front {
  /** Eliminated ones first, then those passed on. */
  readonly dofs: Int32Array;
  readonly count: number;
  /** Rows of `count` columns of L, one for each of `dofs`. */
  readonly lower: Float64Array;
}

export interface Condensed {
  readonly kind: 'condensed';
  /** In an order in which they can be worked forward. */
  readonly fronts: readonly Front[];
  readonly kept: Int32Array;
  /** kept.length squared, full. */
  readonly schur: Float64Array;
  /** Place of each unknown in a right side; `fronts` and `rows` count so. */
  readonly place: ReadonlyMap<number, number>;
  /** Places of the kept ones. */
  readonly keptPlaces: Int32Array;
}

export interface Loose {
  readonly kind: 'loose';
  /** The unknown that nothing resists. */
  readonly dof: number;
}

/** Unknowns of a group of elements that is not divided further: smaller pays in flops, larger in calls. */
const LEAF = 90;

export function condense(given: readonly ElementMatrix[], kept: ReadonlySet<number>): Condensed | Loose {
  const place = new Map<number, number>();
  const names: number[] = [];
  const elements = given.map((e) => ({ ...e, dofs: e.dofs.map((d) => placeOf(place, names, d)) }));
  const size = names.length;
  const order = Array.from(elements.keys());
  const root = halve(elements, order, 0, order.length);
  const first = new Int32Array(size).fill(order.length);
  const last = new Int32Array(size).fill(-1);
  order.forEach((e, i) => {
    for (const d of elements[e]!.dofs) {
      if (i < first[d]!) first[d] = i;
      if (i > last[d]!) last[d] = i;
    }
  });
  for (const d of kept) if (place.has(d)) last[place.get(d)!] = order.length;
  const work: Work = { elements, order, first, last, place: new Int32Array(size), fronts: [], loose: -1 };
  const top = climb(work, root);
  if (top === null) return { kind: 'loose', dof: names[work.loose]! };
  return {
    kind: 'condensed',
    fronts: work.fronts,
    kept: top.dofs.map((d) => names[d]!),
    schur: mirrored(top.matrix, top.dofs.length),
    place,
    keptPlaces: top.dofs,
  };
}

function placeOf(place: Map<number, number>, names: number[], dof: number): number {
  let at = place.get(dof);
  if (at === undefined) {
    at = names.length;
    place.set(dof, at);
    names.push(dof);
  }
  return at;
}

interface Branch {
  readonly from: number;
  readonly to: number;
  readonly halves: readonly [Branch, Branch] | null;
}

function halve(elements: readonly ElementMatrix[], order: number[], from: number, to: number): Branch {
  let unknowns = 0;
  let [x0, x1, y0, y1] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = from; i < to; i++) {
    const e = elements[order[i]!]!;
    unknowns += e.dofs.length;
    x0 = Math.min(x0, e.x);
    x1 = Math.max(x1, e.x);
    y0 = Math.min(y0, e.y);
    y1 = Math.max(y1, e.y);
  }
  if (to - from < 2 || unknowns < LEAF) return { from, to, halves: null };
  const across = x1 - x0 > y1 - y0;
  const sorted = order.slice(from, to).sort((p, q) => {
    const [a, b] = [elements[p]!, elements[q]!];
    return (across ? a.x - b.x : a.y - b.y) || p - q;
  });
  for (let i = from; i < to; i++) order[i] = sorted[i - from]!;
  // By unknowns, not by elements: solids weigh more than plates.
  let half = from;
  for (let sum = 0; half < to - 1 && sum < unknowns / 2; half++) sum += elements[order[half]!]!.dofs.length;
  half = Math.max(half, from + 1);
  return { from, to, halves: [halve(elements, order, from, half), halve(elements, order, half, to)] };
}

interface Work {
  readonly elements: readonly ElementMatrix[];
  readonly order: readonly number[];
  readonly first: Int32Array;
  readonly last: Int32Array;
  /** Where each unknown stands in the front at hand. */
  readonly place: Int32Array;
  readonly fronts: Front[];
  loose: number;
}

interface Passed {
  readonly dofs: Int32Array;
  readonly matrix: Float64Array;
}

function climb(work: Work, group: Branch): Passed | null {
  const parts: Passed[] = [];
  if (group.halves === null) for (let i = group.from; i < group.to; i++) parts.push(work.elements[work.order[i]!]!);
  else {
    for (const half of group.halves) {
      const part = climb(work, half);
      if (part === null) return null;
      parts.push(part);
    }
  }
  const { dofs, done } = unknownsOf(work, group, parts);
  const n = dofs.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) work.place[dofs[i]!] = i;
  for (const part of parts) add(matrix, n, part, work.place);
  const fails = eliminate(matrix, n, done);
  if (fails >= 0) {
    work.loose = dofs[fails]!;
    return null;
  }
  const count = done;
  if (count > 0) {
    const lower = new Float64Array(n * count);
    for (let i = 0; i < n; i++) lower.set(matrix.subarray(i * n, i * n + count), i * count);
    work.fronts.push({ dofs, count, lower });
  }
  const m = n - count;
  const rest = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    rest.set(matrix.subarray((count + i) * n + count, (count + i) * n + count + i + 1), i * m);
  return { dofs: dofs.slice(count), matrix: rest };
}

/** Of all parts once: those that no element outside the group has come first. */
function unknownsOf({ first, last, place }: Work, { from, to }: Branch, parts: readonly Passed[]) {
  const done: number[] = [];
  const passed: number[] = [];
  for (const part of parts) for (const d of part.dofs) place[d] = -1;
  for (const part of parts) {
    for (const d of part.dofs) {
      if (place[d] === 0) continue;
      place[d] = 0;
      (first[d]! >= from && last[d]! < to ? done : passed).push(d);
    }
  }
  const dofs = new Int32Array(done.length + passed.length);
  dofs.set(done);
  dofs.set(passed, done.length);
  return { dofs, done: done.length };
}

/** Lower triangles are added: the order of a part's unknowns need not be that of the front. */
function add(into: Float64Array, n: number, { dofs, matrix }: Passed, place: Int32Array): void {
  const m = dofs.length;
  const at = dofs.map((d) => place[d]!);
  for (let i = 0; i < m; i++) {
    const r = at[i]!;
    const row = r * n;
    for (let j = 0, from = i * m; j <= i; j++, from++) {
      const c = at[j]!;
      into[r >= c ? row + c : c * n + r]! += matrix[from]!;
    }
  }
}

function mirrored(a: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) a[j * n + i] = a[i * n + j]!;
  return a;
}
