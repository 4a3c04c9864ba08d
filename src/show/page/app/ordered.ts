/** Search in what runs upward. */

/** First index below `count` at which something that stays true is true; `count` where it never is. */
export function firstIndex(count: number, holds: (i: number) => boolean): number {
  let lo = 0;
  let hi = count;
  while (lo < hi) {
    const middle = (lo + hi) >> 1;
    if (holds(middle)) hi = middle;
    else lo = middle + 1;
  }
  return lo;
}
