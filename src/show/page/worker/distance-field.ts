/** Distance, in cells, from every cell to the nearest cell of a set: exact, in two passes of lower envelopes of parabolas. */

const FAR = 1e12;

/** Infinity-like (1e6) where the set is empty. `in` is row by row. */
export function distanceField(inSet: (cell: number) => boolean, cols: number, rows: number): Float32Array {
  const squared = new Float64Array(cols * rows);
  for (let k = 0; k < squared.length; k++) squared[k] = inSet(k) ? 0 : FAR;
  const longest = Math.max(cols, rows);
  const line = new Float64Array(longest);
  const work = { at: new Int32Array(longest), from: new Float64Array(longest + 1), out: new Float64Array(longest) };
  for (let c = 0; c < cols; c++) {
    for (let r = 0; r < rows; r++) line[r] = squared[r * cols + c]!;
    envelope(line, rows, work);
    for (let r = 0; r < rows; r++) squared[r * cols + c] = work.out[r]!;
  }
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < cols; c++) line[c] = squared[r * cols + c]!;
    envelope(line, cols, work);
    for (let c = 0; c < cols; c++) squared[r * cols + c] = work.out[c]!;
  }
  return Float32Array.from(squared, Math.sqrt);
}

interface EnvelopeRow {
  readonly at: Int32Array;
  readonly from: Float64Array;
  readonly out: Float64Array;
}

/** Least of (q - p)^2 + f(p) over p, for every q. */
function envelope(f: Float64Array, n: number, { at, from, out }: EnvelopeRow): void {
  let k = 0;
  at[0] = 0;
  from[0] = -Infinity;
  from[1] = Infinity;
  for (let q = 1; q < n; q++) {
    let s = meet(f, q, at[k]!);
    while (s <= from[k]!) {
      k--;
      s = meet(f, q, at[k]!);
    }
    k++;
    at[k] = q;
    from[k] = s;
    from[k + 1] = Infinity;
  }
  k = 0;
  for (let q = 0; q < n; q++) {
    while (from[k + 1]! < q) k++;
    const p = at[k]!;
    out[q] = (q - p) * (q - p) + f[p]!;
  }
}

function meet(f: Float64Array, q: number, p: number): number {
  return (f[q]! + q * q - (f[p]! + p * p)) / (2 * q - 2 * p);
}
