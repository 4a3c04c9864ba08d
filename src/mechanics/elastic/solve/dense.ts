/**
 * Dense partial Cholesky of a front: the first unknowns are eliminated, the rest keep their Schur complement. Rows lie one after
 * another; only the lower triangle is read and written. Blocked (Golub and Van Loan, Matrix Computations, 4.2.6) with 4 x 4 tiles
 * of dot products: about ten times as quick as plain loops in a JavaScript engine on fronts of some hundred.
 */

/** Columns eliminated together: a panel of four rows stays in the first cache. */
const BLOCK = 48;

/** A pivot below this share of its own diagonal is nothing but rounding: nothing resists that motion. */
export const LEAST_PIVOT = 1e-13;

/** -1: done; otherwise the unknown that nothing resists. */
export function eliminate(a: Float64Array, n: number, count: number): number {
  const pivots = new Float64Array(count);
  for (let i = 0; i < count; i++) pivots[i] = LEAST_PIVOT * Math.abs(a[i * n + i]!);
  for (let from = 0; from < count; from += BLOCK) {
    const to = Math.min(count, from + BLOCK);
    for (let j = from; j < to; j++) {
      let pivot = a[j * n + j]!;
      for (let k = from; k < j; k++) pivot -= a[j * n + k]! * a[j * n + k]!;
      if (!(pivot > pivots[j]!)) return j;
      const root = Math.sqrt(pivot);
      a[j * n + j] = root;
      column(a, { n, j, from, root });
    }
    trailing(a, n, from, to);
  }
  return -1;
}

interface PanelColumn {
  readonly n: number;
  readonly j: number;
  readonly from: number;
  readonly root: number;
}

/** Column j below its pivot, four rows at a time: a sum alone waits for each of its own steps. */
function column(a: Float64Array, { n, j, from, root }: PanelColumn): void {
  const rj = j * n;
  const by = 1 / root;
  let i = j + 1;
  for (; i + 3 < n; i += 4) {
    const r0 = i * n;
    const r1 = r0 + n;
    const r2 = r1 + n;
    const r3 = r2 + n;
    let s0 = a[r0 + j]!;
    let s1 = a[r1 + j]!;
    let s2 = a[r2 + j]!;
    let s3 = a[r3 + j]!;
    for (let k = from; k < j; k++) {
      const l = a[rj + k]!;
      s0 -= a[r0 + k]! * l;
      s1 -= a[r1 + k]! * l;
      s2 -= a[r2 + k]! * l;
      s3 -= a[r3 + k]! * l;
    }
    a[r0 + j] = s0 * by;
    a[r1 + j] = s1 * by;
    a[r2 + j] = s2 * by;
    a[r3 + j] = s3 * by;
  }
  for (; i < n; i++) {
    const r = i * n;
    let s = a[r + j]!;
    for (let k = from; k < j; k++) s -= a[r + k]! * a[rj + k]!;
    a[r + j] = s * by;
  }
}

/** What the block takes from all that is right of it. */
function trailing(a: Float64Array, n: number, from: number, to: number): void {
  const width = to - from;
  // A packed copy of the panel: rows of one width side by side.
  const panel = new Float64Array((n - to) * width);
  for (let i = to; i < n; i++) panel.set(a.subarray(i * n + from, i * n + to), (i - to) * width);
  const rows = n - to;
  for (let i = 0; i < rows; i += 4) {
    const ni = Math.min(4, rows - i);
    for (let j = 0; j <= i; j += 4) {
      if (ni === 4) tile(a, panel, { n, to, width, i, j });
      else edge(a, panel, { n, to, width, i, j });
    }
  }
}

interface Tile {
  readonly n: number;
  readonly to: number;
  readonly width: number;
  readonly i: number;
  readonly j: number;
}

function tile(a: Float64Array, p: Float64Array, { n, to, width, i, j }: Tile): void {
  let [c00, c01, c02, c03, c10, c11, c12, c13] = [0, 0, 0, 0, 0, 0, 0, 0];
  let [c20, c21, c22, c23, c30, c31, c32, c33] = [0, 0, 0, 0, 0, 0, 0, 0];
  let i0 = i * width;
  let i1 = i0 + width;
  let i2 = i1 + width;
  let i3 = i2 + width;
  let j0 = j * width;
  let j1 = j0 + width;
  let j2 = j1 + width;
  let j3 = j2 + width;
  const end = i0 + width;
  while (i0 < end) {
    const x0 = p[i0++]!;
    const x1 = p[i1++]!;
    const x2 = p[i2++]!;
    const x3 = p[i3++]!;
    const y0 = p[j0++]!;
    const y1 = p[j1++]!;
    const y2 = p[j2++]!;
    const y3 = p[j3++]!;
    c00 += x0 * y0;
    c01 += x0 * y1;
    c02 += x0 * y2;
    c03 += x0 * y3;
    c10 += x1 * y0;
    c11 += x1 * y1;
    c12 += x1 * y2;
    c13 += x1 * y3;
    c20 += x2 * y0;
    c21 += x2 * y1;
    c22 += x2 * y2;
    c23 += x2 * y3;
    c30 += x3 * y0;
    c31 += x3 * y1;
    c32 += x3 * y2;
    c33 += x3 * y3;
  }
  let r = (to + i) * n + to + j;
  a[r]! -= c00;
  a[r + 1]! -= c01;
  a[r + 2]! -= c02;
  a[r + 3]! -= c03;
  r += n;
  a[r]! -= c10;
  a[r + 1]! -= c11;
  a[r + 2]! -= c12;
  a[r + 3]! -= c13;
  r += n;
  a[r]! -= c20;
  a[r + 1]! -= c21;
  a[r + 2]! -= c22;
  a[r + 3]! -= c23;
  r += n;
  a[r]! -= c30;
  a[r + 1]! -= c31;
  a[r + 2]! -= c32;
  a[r + 3]! -= c33;
}

/** The last rows, fewer than four. */
function edge(a: Float64Array, p: Float64Array, { n, to, width, i, j }: Tile): void {
  for (let r = i; r < n - to; r++) {
    for (let c = j; c < Math.min(j + 4, r + 1); c++) {
      let s = 0;
      for (let k = 0; k < width; k++) s += p[r * width + k]! * p[c * width + k]!;
      a[(to + r) * n + to + c]! -= s;
    }
  }
}
