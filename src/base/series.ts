/** Sums of power series, and sums and products with what rounding takes off: for the functions of angles and powers beside. */

/** The part of a product of doubles that its rounding leaves out (Dekker, Numer. Math. 18, 1971). */
export function productRest(a: number, b: number, product: number): number {
  const ah = upperHalf(a);
  const al = a - ah;
  const bh = upperHalf(b);
  const bl = b - bh;
  return ah * bh - product + ah * bl + al * bh + al * bl;
}

/** The upper 26 bits (Veltkamp's split). */
function upperHalf(a: number): number {
  const t = 134217729 * a;
  return t - (t - a);
}

/** The part of a sum that its rounding leaves out, whichever is larger (Knuth, TAOCP vol. 2, 4.2.2). */
export function sumRest(a: number, b: number, sum: number): number {
  const back = sum - a;
  return a - (sum - back) + (b - back);
}
