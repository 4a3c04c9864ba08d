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
    for (let k = from; k < i; k++) pivot -= lower[i * n + k]! * lower[i * n + k]!;
    if (!(pivot > SINGULAR_PIVOT * a[i * n + i]!)) return { kind: 'singular', pivot: i };
    lower[i * n + i] = Math.sqrt(pivot);
  }
  return { kind: 'skyline', n, lower, first };
}

/**
 * Columns of the inverse for unit loads on three unknowns, three numbers a row: sums side by side, since a sum alone waits for
 * each of its own steps. Rows before `from` are not asked for and left unfinished.
 */
export function unitSolutions(
  factor: Extract<Skyline, { kind: 'skyline' }>,
  at: readonly [number, number, number],
  from: number,
): Float64Array {
  const { n, lower, first } = factor;
  const x = new Float64Array(3 * n);
  at.forEach((row, c) => {
    x[3 * row + c] = 1;
  });
  const begin = Math.min(...at);
  for (let i = begin; i < n; i++) {
    const row = i * n;
    let s0 = x[3 * i]!;
    let s1 = x[3 * i + 1]!;
    let s2 = x[3 * i + 2]!;
    for (let k = Math.max(first[i]!, begin); k < i; k++) {
      const l = lower[row + k]!;
      s0 -= l * x[3 * k]!;
      s1 -= l * x[3 * k + 1]!;
      s2 -= l * x[3 * k + 2]!;
    }
    const pivot = lower[row + i]!;
    x[3 * i] = s0 / pivot;
    x[3 * i + 1] = s1 / pivot;
    x[3 * i + 2] = s2 / pivot;
  }
  for (let i = n - 1; i >= from; i--) {
    const row = i * n;
    const pivot = lower[row + i]!;
    const v0 = x[3 * i]! / pivot;
    const v1 = x[3 * i + 1]! / pivot;
    const v2 = x[3 * i + 2]! / pivot;
    x[3 * i] = v0;
    x[3 * i + 1] = v1;
    x[3 * i + 2] = v2;
    for (let k = Math.max(first[i]!, from); k < i; k++) {
      const l = lower[row + k]!;
      x[3 * k]! -= l * v0;
      x[3 * k + 1]! -= l * v1;
      x[3 * k + 2]! -= l * v2;
    }
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
