/** A state of the cut: the condensed groups joined, and what moves under a newton anywhere. */
import type { Mm } from '../../base/units.ts';
import { addSum, type Component, type Sum } from './columns.ts';
import type { CondensedGroup, ElasticBody } from './elastic.ts';
import { cornersOf } from './piece.ts';
import type { TabRoot } from './resultant.ts';
import { eliminate } from './solve/dense.ts';
import { reduce, type Weights } from './solve/sweep.ts';
import type { Loose } from './solve/tree.ts';

/** Where the cutter presses, on a region (FRAME or PART) at a height above the lower face. */
export interface PressedPlace {
  readonly x: Mm;
  readonly y: Mm;
  readonly z: Mm;
  readonly region: number;
  /** The force is shared evenly from here less this to here and this: under a point the movement has no bound. */
  readonly spread?: readonly [x: Mm, y: Mm];
  /** And over the height, from `z` less this to `z` and this. */
  readonly upward?: Mm;
}

export interface HeldElastic {
  readonly kind: 'held';
  readonly groups: readonly CondensedGroup[];
  readonly body: ElasticBody;
  readonly join: JoinedFactor;
}

/** Dense Cholesky factor over the shared unknowns. */
export interface JoinedFactor {
  readonly place: ReadonlyMap<number, number>;
  readonly lower: Float64Array;
  readonly n: number;
}

export interface RootAnswer extends Omit<TabRoot, 'weights'> {
  readonly tab: number;
  /** Row of the first of its six in `forces`. */
  readonly row: number;
}

export interface ElasticAnswer {
  /** Movement along component j of place q for a newton along i of place p: 3 places squared, symmetric, mm/N. */
  readonly compliance: Float64Array;
  readonly roots: readonly RootAnswer[];
  /** Rows of roots (force x y z N, moment x y z N mm upon the tab), columns of unit loads (place 0 x y z, place 1 ..). */
  readonly forces: Float64Array;
}

/** `forms` of all tabs, null where one is cut away. */
export function hold(body: ElasticBody, forms: readonly (number | null)[]): HeldElastic | Loose {
  const groups: CondensedGroup[] = [...body.plates];
  for (let k = 0; k < body.tabs; k++) {
    const group = body.block(k, forms[k] ?? null);
    if ('kind' in group) return group;
    groups.push(group);
  }
  const n = body.shared.length;
  const place = new Map(body.shared.map((d, i) => [d, i]));
  const lower = new Float64Array(n * n);
  for (const { condensed } of groups) {
    const at = condensed.kept.map((d) => place.get(d)!);
    const m = at.length;
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < m; j++) if (at[i]! >= at[j]!) lower[at[i]! * n + at[j]!]! += condensed.schur[i * m + j]!;
    }
  }
  const fails = eliminate(lower, n, n);
  if (fails >= 0) return { kind: 'loose', dof: body.shared[fails]! };
  return { kind: 'held', groups, body, join: { place, lower, n } };
}

export function answer(held: HeldElastic, places: readonly PressedPlace[]): ElasticAnswer {
  const sides: Weights[][] = held.groups.map(() => []);
  const rows: number[][] = held.groups.map(() => []);
  let count = 3 * places.length;
  places.forEach((p, i) => {
    const { group, sums } = pressed(held, p);
    sums.forEach((sum, c) => {
      sides[group]!.push(sum);
      rows[group]!.push(3 * i + c);
    });
  });
  const roots: RootAnswer[] = [];
  held.groups.forEach((g, k) => {
    for (const { weights, ...root } of g.roots) {
      roots.push({ ...root, tab: k - held.body.plates.length, row: count - 3 * places.length });
      weights.forEach((w) => {
        sides[k]!.push(w);
        rows[k]!.push(count++);
      });
    }
  });
  const all = workOf(held, { sides, rows, count });
  return split(all, count, 3 * places.length, roots);
}

function split(all: Float64Array, count: number, loads: number, roots: readonly RootAnswer[]): ElasticAnswer {
  const compliance = new Float64Array(loads * loads);
  const forces = new Float64Array((count - loads) * loads);
  for (let i = 0; i < loads; i++) compliance.set(all.subarray(i * count, i * count + loads), i * loads);
  for (let i = loads; i < count; i++) forces.set(all.subarray(i * count, i * count + loads), (i - loads) * loads);
  return { compliance, roots, forces };
}

interface Sides {
  readonly sides: readonly (readonly Weights[])[];
  /** Where each side of each group stands among all. */
  readonly rows: readonly (readonly number[])[];
  readonly count: number;
}

/** Work of each right side on each other's movement: within the groups, and through what they share. */
function workOf({ groups, join }: HeldElastic, { sides, rows, count }: Sides): Float64Array {
  const { n, place, lower } = join;
  const out = new Float64Array(count * count);
  const felt = new Float64Array(n * count);
  groups.forEach(({ condensed }, g) => {
    const width = sides[g]!.length;
    if (width === 0) return;
    const { kept, within } = reduce(condensed, sides[g]!);
    const at = rows[g]!;
    for (let i = 0; i < width; i++) {
      for (let j = 0; j < width; j++) out[at[i]! * count + at[j]!]! += within[i * width + j]!;
    }
    condensed.kept.forEach((d, i) => {
      const row = place.get(d)! * count;
      for (let c = 0; c < width; c++) felt[row + at[c]!]! += kept[i * width + c]!;
    });
  });
  for (let i = 0; i < n; i++) {
    const row = i * count;
    for (let k = 0; k < i; k++) {
      const l = lower[i * n + k]!;
      if (l !== 0) for (let c = 0; c < count; c++) felt[row + c]! -= l * felt[k * count + c]!;
    }
    const by = 1 / lower[i * n + i]!;
    for (let c = 0; c < count; c++) felt[row + c]! *= by;
    for (let c = 0; c < count; c++) {
      const v = felt[row + c]!;
      if (v !== 0) for (let d = 0; d <= c; d++) out[c * count + d]! += v * felt[row + d]!;
    }
  }
  for (let i = 0; i < count; i++) for (let j = 0; j < i; j++) out[j * count + i] = out[i * count + j]!;
  return out;
}

/** Gauss-Legendre, four points, as shares of an even load: none stands on the patch's own edge, where a line load would bite. */
const SHARES = [
  [-0.8611363115940526, 0.173927422568727],
  [-0.33998104358485626, 0.326072577431273],
  [0.33998104358485626, 0.326072577431273],
  [0.8611363115940526, 0.173927422568727],
] as const;
const ONE = [[0, 1]] as const;

/** The group of a place, and its three movements as sums; a spread load that reaches into another group stays in this one. */
function pressed(held: HeldElastic, place: PressedPlace): { readonly group: number; readonly sums: Sum[] } {
  const { group } = nearest(held, place);
  const [dx, dy] = place.spread ?? [0, 0];
  const up = place.upward ?? 0;
  const sums: Sum[] = [0, 1, 2].map(() => ({ dofs: [], values: [] }));
  for (const [at, share] of dx === 0 && dy === 0 ? ONE : SHARES) {
    const { piece, l } = nearest(held, { ...place, x: place.x + at * dx, y: place.y + at * dy }, group);
    for (const [h, part] of up === 0 ? ONE : SHARES) {
      sums.forEach((sum, c) => addSum(sum, piece.movement(l, place.z + h * up, c as Component), share * part));
    }
  }
  return { group, sums };
}

/** The piece of a region that a place lies in, or next to. */
function nearest({ groups, body: { mesh } }: HeldElastic, { x, y, region }: PressedPlace, only = -1) {
  let best = { inside: -Infinity, group: 0, piece: groups[0]!.pieces[0]!, l: [1, 0, 0] as [number, number, number] };
  groups.forEach(({ pieces }, group) => {
    if (only >= 0 && group !== only) return;
    for (const piece of pieces) {
      if (mesh.region[piece.triangle] !== region) continue;
      const l = barycentric(cornersOf(mesh, piece.triangle), x, y);
      const inside = Math.min(...l);
      if (inside > best.inside) best = { inside, group, piece, l };
    }
  });
  return { ...best, l: onTriangle(best.l) };
}

function barycentric(
  [x0, y0, x1, y1, x2, y2]: ReturnType<typeof cornersOf>,
  x: number,
  y: number,
): [number, number, number] {
  const twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
  const b = ((x - x0) * (y2 - y0) - (x2 - x0) * (y - y0)) / twice;
  const c = ((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)) / twice;
  return [1 - b - c, b, c];
}

/** A place beyond a chord of the edge is taken at the chord. */
function onTriangle(l: readonly [number, number, number]): readonly [number, number, number] {
  const held = l.map((v) => Math.max(0, v));
  const sum = held[0]! + held[1]! + held[2]!;
  return [held[0]! / sum, held[1]! / sum, held[2]! / sum];
}
