/** Lowest natural frequencies of K x = w^2 M x by subspace iteration (Bathe, Finite Element Procedures, ch. 11). */
import { sine } from '../../base/angles.ts';
import type { Hertz } from '../../base/units.ts';
import { cholesky, type Factor, solveAll, symmetricEigen } from './matrix.ts';

export type Modes =
  | { readonly kind: 'modes'; readonly frequencies: readonly Hertz[]; readonly shapes: readonly Float64Array[] }
  /** Something is free to move: its lowest frequency is nil. */
  | { readonly kind: 'loose' };

/** Dense symmetric K (N/mm, N mm) and M (tonne, tonne mm2), order n, M positive definite. At most n frequencies. */
export function lowestModes(stiffness: Float64Array, mass: Float64Array, n: number, count: number): Modes {
  const k = cholesky(stiffness, n);
  const m = cholesky(mass, n);
  if (k.kind === 'singular' || m.kind === 'singular') return { kind: 'loose' };
  const size = Math.min(n, Math.max(2 * count, count + 6));
  const first = firstEntries(m.lower, n);
  let basis = start(n, size);
  let last: Float64Array | null = null;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    // One step of the inverse in the coordinates y = L^T x, M = L L^T, where the problem is plain symmetric.
    const next = inverseOf(k, m.lower, first, basis, n);
    const values = ritz(basis, next, n, size);
    basis = orthonormal(values.vectors);
    if (last !== null && settled(last, values.values, count)) break;
    last = values.values;
  }
  const kept = Math.min(count, size);
  const values = last ?? new Float64Array(size);
  return {
    kind: 'modes',
    frequencies: Array.from({ length: kept }, (_, i) => 1 / (2 * Math.PI * Math.sqrt(values[size - 1 - i]!))),
    shapes: Array.from({ length: kept }, (_, i) => fromY(m.lower, n, basis[size - 1 - i]!)),
  };
}

const MOST_ROUNDS = 200;
/** Relative change of the eigenvalues at which the iteration rests: ten digits of the square of a frequency. */
const RESTED = 1e-10;

/** Rayleigh-Ritz of the inverse over the basis: values ascending are 1/w^2, so the last belong to the lowest frequencies. */
function ritz(basis: readonly Float64Array[], next: readonly Float64Array[], n: number, size: number) {
  const small = new Float64Array(size * size);
  for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) small[i * size + j] = dot(basis[i]!, next[j]!);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++)
      small[i * size + j] = small[j * size + i] = (small[i * size + j]! + small[j * size + i]!) / 2;
  }
  const eigen = symmetricEigen(small, size);
  const vectors = eigen.vectors.map((c) => {
    const v = new Float64Array(n);
    for (let j = 0; j < size; j++) for (let i = 0; i < n; i++) v[i]! += c[j]! * next[j]![i]!;
    return v;
  });
  return { values: eigen.values, vectors };
}

/** Gram-Schmidt from the last (lowest frequency) downwards, twice for rounding. */
function orthonormal(vectors: readonly Float64Array[]): Float64Array[] {
  const out = vectors.map((v) => Float64Array.from(v));
  for (let i = out.length - 1; i >= 0; i--) {
    const own = out[i]!;
    for (let pass = 0; pass < 2; pass++) {
      for (let j = out.length - 1; j > i; j--) {
        const other = out[j]!;
        const share = dot(own, other);
        for (let k = 0; k < own.length; k++) own[k]! -= share * other[k]!;
      }
      const size = Math.sqrt(dot(own, own));
      for (let k = 0; k < own.length; k++) own[k]! /= size;
    }
  }
  return out;
}

/** Fixed, irregular first guess: no clock, no chance, and no symmetry that could hide a mode. */
function start(n: number, size: number): Float64Array[] {
  const basis = Array.from({ length: size }, (_, j) =>
    Float64Array.from({ length: n }, (_, i) => sine(1 + (i + 1) * (j + 1) * 0.7390851 + j * j)),
  );
  return orthonormal(basis);
}

function settled(a: Float64Array, b: Float64Array, count: number): boolean {
  for (let i = Math.max(0, a.length - count); i < a.length; i++)
    if (Math.abs(a[i]! - b[i]!) > RESTED * Math.abs(b[i]!)) return false;
  return true;
}

/** L^T K^-1 L of every vector, M = L L^T, solved side by side. */
function inverseOf(
  k: Extract<Factor, { kind: 'factor' }>,
  l: Float64Array,
  first: Int32Array,
  vectors: readonly Float64Array[],
  n: number,
): Float64Array[] {
  const width = vectors.length;
  const x = new Float64Array(n * width);
  vectors.forEach((y, c) => {
    for (let i = 0; i < n; i++) {
      let sum = 0;
      for (let j = first[i]!; j <= i; j++) sum += l[i * n + j]! * y[j]!;
      x[i * width + c] = sum;
    }
  });
  solveAll(k, x, width);
  return vectors.map((_, c) => {
    const out = new Float64Array(n);
    for (let j = 0; j < n; j++) for (let i = first[j]!; i <= j; i++) out[i]! += l[j * n + i]! * x[j * width + c]!;
    return out;
  });
}

/** Of each row, the first number that is not nil: the mass is all but diagonal. */
function firstEntries(l: Float64Array, n: number): Int32Array {
  return Int32Array.from({ length: n }, (_, i) => {
    let j = 0;
    while (j < i && l[i * n + j] === 0) j++;
    return j;
  });
}

function fromY(l: Float64Array, n: number, y: Float64Array): Float64Array {
  const x = Float64Array.from(y);
  for (let i = n - 1; i >= 0; i--) {
    for (let j = i + 1; j < n; j++) x[i]! -= l[j * n + i]! * x[j]!;
    x[i]! /= l[i * n + i]!;
  }
  return x;
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
