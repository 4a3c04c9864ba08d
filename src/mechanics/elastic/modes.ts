/**
 * Lowest natural frequencies of a held body, with what pulls at rest left out: subspace iteration (Bathe and Wilson 1972; Bathe, Finite
 * Element Procedures, 11.6) on the factors that the movements were answered with.
 */
import type { Hertz } from '../../base/units.ts';
import { cholesky, symmetricEigen } from '../math/matrix.ts';
import type { CondensedGroup } from './elastic.ts';
import type { HeldElastic } from './held.ts';
import { backward, forwardAll } from './solve/sweep.ts';
import type { ElementMatrix } from './solve/tree.ts';

/** One array for each group: rows of `width` numbers, one for each of its unknowns. */
type GroupRows = readonly Float64Array[];

/** More vectors than are wanted make the wanted ones settle sooner. */
const SPARE = 4;
const MOST_ROUNDS = 20;
/** Relative change of the highest wanted eigenvalue at which it is settled: a millionth of it is half that of the frequency. */
const SETTLED = 1e-6;

/** Ascending. */
export function lowestFrequencies(held: HeldElastic, count: number): Hertz[] {
  const width = count + SPARE;
  const masses = held.groups.map((g) => g.mass());
  let y = firstLoads(held, masses, width);
  let before = 0;
  let values: Float64Array = new Float64Array(0);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const x = solved(held, y, width);
    const mass = x.map((field, g) => timesMass(held.groups[g]!, masses[g]!, field, width));
    const turned = ritz(product(held.groups, x, y, width), product(held.groups, x, mass, width), width);
    if (turned === null) break;
    values = turned.values;
    y = mass.map((field) => mixed(field, turned.mix, width));
    const last = values[count - 1]!;
    if (Math.abs(last - before) <= SETTLED * last) break;
    before = last;
  }
  return Array.from(values.slice(0, count), (v) => Math.sqrt(v) / (2 * Math.PI));
}

/** Loads that touch everything and favour nothing: a fixed sequence (Park and Miller's 16807), so that answers repeat. */
function firstLoads({ groups }: HeldElastic, masses: readonly (readonly ElementMatrix[])[], width: number): GroupRows {
  let seed = 1;
  return groups.map(({ condensed }, g) => {
    const out = new Float64Array(condensed.place.size * width);
    const weight = new Float64Array(condensed.place.size);
    for (const { dofs, matrix } of masses[g]!) {
      dofs.forEach((d, i) => {
        weight[condensed.place.get(d)!]! += matrix[i * dofs.length + i]!;
      });
    }
    for (let i = 0; i < out.length; i++) {
      seed = (seed * 16807) % 2147483647;
      out[i] = weight[Math.floor(i / width)]! * (seed / 2147483647 - 0.5);
    }
    return out;
  });
}

/** Movements under loads; what groups share moves alike in each. */
function solved({ groups, join }: HeldElastic, loads: GroupRows, width: number): GroupRows {
  const { n, place, lower } = join;
  const x = loads.map((b) => b.slice());
  const shared = new Float64Array(n * width);
  groups.forEach(({ condensed }, g) => {
    forwardAll(condensed, x[g]!, width);
    condensed.kept.forEach((d, i) => {
      const [to, from] = [place.get(d)! * width, condensed.keptPlaces[i]! * width];
      for (let c = 0; c < width; c++) shared[to + c]! += x[g]![from + c]!;
    });
  });
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) take(shared, { to: i, from: k, by: lower[i * n + k]!, width });
    divide(shared, i, lower[i * n + i]!, width);
  }
  for (let i = n - 1; i >= 0; i--) {
    divide(shared, i, lower[i * n + i]!, width);
    for (let k = 0; k < i; k++) take(shared, { to: k, from: i, by: lower[i * n + k]!, width });
  }
  groups.forEach(({ condensed }, g) => {
    condensed.kept.forEach((d, i) => {
      const from = place.get(d)! * width;
      x[g]!.set(shared.subarray(from, from + width), condensed.keptPlaces[i]! * width);
    });
    backward(condensed, x[g]!, width);
  });
  return x;
}

interface Taken {
  readonly to: number;
  readonly from: number;
  readonly by: number;
  readonly width: number;
}

function take(x: Float64Array, { to, from, by, width }: Taken): void {
  if (by !== 0) for (let c = 0; c < width; c++) x[to * width + c]! -= by * x[from * width + c]!;
}

function divide(x: Float64Array, row: number, by: number, width: number): void {
  for (let c = 0; c < width; c++) x[row * width + c]! /= by;
}

function timesMass(
  { condensed }: CondensedGroup,
  mass: readonly ElementMatrix[],
  x: Float64Array,
  width: number,
): Float64Array {
  const y = new Float64Array(x.length);
  for (const { dofs, matrix } of mass) {
    const at = dofs.map((d) => condensed.place.get(d)! * width);
    const n = at.length;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const m = matrix[i * n + j]!;
        if (m !== 0) for (let c = 0; c < width; c++) y[at[i]! + c]! += m * x[at[j]! + c]!;
      }
    }
  }
  return y;
}

/** Work of each column on each: loads of a group are its own share, so the groups add up. */
function product(groups: readonly CondensedGroup[], x: GroupRows, y: GroupRows, width: number): Float64Array {
  const out = new Float64Array(width * width);
  groups.forEach((_, g) => {
    const [a, b] = [x[g]!, y[g]!];
    for (let row = 0; row < a.length; row += width) {
      for (let i = 0; i < width; i++) for (let j = 0; j < width; j++) out[i * width + j]! += a[row + i]! * b[row + j]!;
    }
  });
  return out;
}

/** Values of K q = v M q, ascending, and the vectors as columns; null: two have become one, no more is to be won. */
function ritz(
  k: Float64Array,
  m: Float64Array,
  n: number,
): { readonly values: Float64Array; readonly mix: Float64Array } | null {
  const factor = cholesky(m, n);
  if (factor.kind !== 'factor') return null;
  const { lower } = factor;
  const c = k.slice();
  // L^-1 K L^-T: rows, then columns.
  for (const [step, other] of [
    [n, 1],
    [1, n],
  ] as const) {
    for (let i = 0; i < n; i++) {
      for (let p = 0; p < i; p++)
        for (let q = 0; q < n; q++) c[i * step + q * other]! -= lower[i * n + p]! * c[p * step + q * other]!;
      for (let q = 0; q < n; q++) c[i * step + q * other]! /= lower[i * n + i]!;
    }
  }
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) c[i * n + j] = c[j * n + i] = (c[i * n + j]! + c[j * n + i]!) / 2;
  const { values, vectors } = symmetricEigen(c, n);
  const mix = new Float64Array(n * n);
  vectors.forEach((vector, to) => {
    for (let i = n - 1; i >= 0; i--) {
      let sum = vector[i]!;
      for (let p = i + 1; p < n; p++) sum -= lower[p * n + i]! * mix[p * n + to]!;
      mix[i * n + to] = sum / lower[i * n + i]!;
    }
  });
  return { values, mix };
}

function mixed(field: Float64Array, mix: Float64Array, width: number): Float64Array {
  const out = new Float64Array(field.length);
  for (let row = 0; row < field.length; row += width) {
    for (let i = 0; i < width; i++) {
      const v = field[row + i]!;
      for (let j = 0; j < width; j++) out[row + j]! += v * mix[i * width + j]!;
    }
  }
  return out;
}
