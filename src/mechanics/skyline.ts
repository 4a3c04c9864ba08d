/**
 * Cholesky of a large, mostly empty stiffness (a plate as a net of beams): work is done only from each row's first entry
 * on, its "skyline" (Bathe, Finite Element Procedures, section 8.2.3). Numbering along the plate keeps it low.
 */
import { SINGULAR_PIVOT } from './matrix.ts';

export type Skyline =
  | { readonly kind: 'skyline'; readonly n: number; readonly lower: Float64Array; readonly first: Int32Array }
  /** `pivot` is the first unknown that nothing resists. */
  | { readonly kind: 'singular'; readonly pivot: number };

/** `a` is symmetric, n x n row by row; only its lower triangle is read. */
export function skylineFactor(a: Float64Array, n: number): Skyline {
  const first = firstEntries(a, n);
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const from = first[i]!;
    for (let j = from; j < i; j++) {
      let sum = a[i * n + j]!;
      for (let k = Math.max(from, first[j]!); k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      lower[i * n + j] = sum / lower[j * n + j]!;
    }
    let pivot = a[i * n + i]!;
    for (let k = from; k < i; k++) pivot -= lower[i * n + k]! ** 2;
    if (!(pivot > SINGULAR_PIVOT * a[i * n + i]!)) return { kind: 'singular', pivot: i };
    lower[i * n + i] = Math.sqrt(pivot);
  }
  return { kind: 'skyline', n, lower, first };
}

/** Column of the inverse that belongs to a unit load on unknown `at`. */
export function unitSolution(factor: Extract<Skyline, { kind: 'skyline' }>, at: number): Float64Array {
  const { n, lower, first } = factor;
  const x = new Float64Array(n);
  x[at] = 1;
  for (let i = at; i < n; i++) {
    let sum = x[i]!;
    for (let k = Math.max(first[i]!, at); k < i; k++) sum -= lower[i * n + k]! * x[k]!;
    x[i] = sum / lower[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const value = x[i]! / lower[i * n + i]!;
    x[i] = value;
    if (value === 0) continue;
    for (let k = first[i]!; k < i; k++) x[k]! -= lower[i * n + k]! * value;
  }
  return x;
}

function firstEntries(a: Float64Array, n: number): Int32Array {
  const first = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    let j = 0;
    while (j < i && a[i * n + j] === 0) j++;
    first[i] = j;
  }
  return first;
}
