/** Small dense symmetric linear algebra. A matrix of order n is n*n numbers, row by row. */

export type Factor =
  | { readonly kind: 'factor'; readonly n: number; readonly lower: Float64Array }
  /** Not positive definite to rounding: `pivot` is the first unknown that nothing resists. */
  | { readonly kind: 'singular'; readonly pivot: number };

/** Cholesky A = L L^T. A pivot below SINGULAR_PIVOT of its own diagonal counts as nothing. Golub & Van Loan, alg. 4.2.1. */
export function cholesky(a: Float64Array, n: number): Factor {
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) lower[i * n + j] = a[i * n + j]!;
    if (!eliminateRow(lower, n, i)) return { kind: 'singular', pivot: i };
  }
  return { kind: 'factor', n, lower };
}

/** Row `i` of a matrix becomes the row of its Cholesky factor, those above being done; false: not positive definite. */
export function eliminateRow(lower: Float64Array, n: number, i: number): boolean {
  const row = i * n;
  for (let j = 0; j < i; j++) {
    const above = j * n;
    let sum = lower[row + j]!;
    for (let k = 0; k < j; k++) sum -= lower[row + k]! * lower[above + k]!;
    lower[row + j] = sum / lower[above + j]!;
  }
  const own = lower[row + i]!;
  let pivot = own;
  for (let k = 0; k < i; k++) pivot -= lower[row + k]! * lower[row + k]!;
  if (!(pivot > SINGULAR_PIVOT * Math.abs(own))) return false;
  lower[row + i] = Math.sqrt(pivot);
  return true;
}

/** Rounding leaves about 1e-15 of a cancelled diagonal; stiffness ratios met in practice stay above 1e-9. */
export const SINGULAR_PIVOT = 1e-13;

/** Solves A x = b in place of a copy of b. */
export function solve(factor: Extract<Factor, { kind: 'factor' }>, b: ArrayLike<number>): Float64Array {
  const { n, lower } = factor;
  const x = Float64Array.from(b);
  for (let i = 0; i < n; i++) {
    let sum = x[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i * n + k]! * x[k]!;
    x[i] = sum / lower[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i]! * x[k]!;
    x[i] = sum / lower[i * n + i]!;
  }
  return x;
}

/** As `solve` for several right sides at once, in place: `x` has n rows of `width` numbers, a column for each right side. */
export function solveAll(factor: Extract<Factor, { kind: 'factor' }>, x: Float64Array, width: number): void {
  const { n, lower } = factor;
  for (let i = 0; i < n; i++) {
    const row = i * width;
    for (let k = 0; k < i; k++) takeRow(x, row, lower[i * n + k]!, k * width, width);
    for (let c = 0; c < width; c++) x[row + c]! /= lower[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = i * width;
    for (let k = i + 1; k < n; k++) takeRow(x, row, lower[k * n + i]!, k * width, width);
    for (let c = 0; c < width; c++) x[row + c]! /= lower[i * n + i]!;
  }
}

/** So many times one row is taken from another. */
function takeRow(x: Float64Array, from: number, times: number, row: number, width: number): void {
  if (times === 0) return;
  for (let c = 0; c < width; c++) x[from + c]! -= times * x[row + c]!;
}

/** Inverse of the factored matrix. */
export function inverse(factor: Extract<Factor, { kind: 'factor' }>): Float64Array {
  const { n } = factor;
  const out = new Float64Array(n * n);
  for (let j = 0; j < n; j++) out[j * n + j] = 1;
  solveAll(factor, out, n);
  return out;
}

/** y = A x. */
export function times(a: Float64Array, n: number, x: ArrayLike<number>): Float64Array {
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += a[i * n + j]! * x[j]!;
    y[i] = sum;
  }
  return y;
}

/** B^T A B for square matrices of order n: a stiffness seen from other coordinates. */
export function congruent(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const ab = multiply(a, b, n);
  const out = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    for (let i = 0; i < n; i++) {
      const bki = b[k * n + i]!;
      if (bki === 0) continue;
      for (let j = 0; j < n; j++) out[i * n + j]! += bki * ab[k * n + j]!;
    }
  }
  return out;
}

export function multiply(a: Float64Array, b: Float64Array, n: number): Float64Array {
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < n; k++) {
      const aik = a[i * n + k]!;
      if (aik === 0) continue;
      for (let j = 0; j < n; j++) out[i * n + j]! += aik * b[k * n + j]!;
    }
  }
  return out;
}

export interface Eigen {
  /** Ascending. */
  readonly values: Float64Array;
  /** vectors[k] belongs to values[k]; unit length. */
  readonly vectors: readonly Float64Array[];
}

/** All eigenvalues of a symmetric matrix by cyclic Jacobi rotations. Golub & Van Loan, section 8.5. */
export function symmetricEigen(matrix: Float64Array, n: number): Eigen {
  const a = Float64Array.from(matrix);
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < MOST_SWEEPS && offDiagonal(a, n) > JACOBI_REST * norm(a); sweep++) {
    for (let p = 0; p < n - 1; p++) for (let q = p + 1; q < n; q++) rotate(a, v, n, p, q);
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => a[i * n + i]! - a[j * n + j]! || i - j);
  return {
    values: Float64Array.from(order, (i) => a[i * n + i]!),
    vectors: order.map((i) => Float64Array.from({ length: n }, (_, k) => v[k * n + i]!)),
  };
}

/** Jacobi converges quadratically; ten sweeps are ample for any order used here, the rest is a stop. */
const MOST_SWEEPS = 40;
const JACOBI_REST = 1e-15;

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const apq = a[p * n + q]!;
  if (apq === 0) return;
  const tau = (a[q * n + q]! - a[p * n + p]!) / (2 * apq);
  const t = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) turn(a, k * n + p, k * n + q, c, s);
  for (let k = 0; k < n; k++) turn(a, p * n + k, q * n + k, c, s);
  for (let k = 0; k < n; k++) turn(v, k * n + p, k * n + q, c, s);
}

function turn(m: Float64Array, i: number, j: number, c: number, s: number): void {
  const x = m[i]!;
  const y = m[j]!;
  m[i] = c * x - s * y;
  m[j] = s * x + c * y;
}

function offDiagonal(a: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) if (i !== j) sum += a[i * n + j]! ** 2;
  return Math.sqrt(sum);
}

function norm(a: Float64Array): number {
  let sum = 0;
  for (const x of a) sum += x * x;
  return Math.sqrt(sum);
}
