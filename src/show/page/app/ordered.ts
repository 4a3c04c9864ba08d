/** Search in what runs upward: times of moves, blocks of a program. */

type Upward = Float64Array | Int32Array;

/** Index of the first that is `value` or more; the length where none is. */
export function firstAtLeast(sorted: Upward, value: number): number {
  return firstWhere(sorted, (v) => v >= value);
}

/** Index of the first that is more than `value`; the length where none is. */
export function firstAbove(sorted: Upward, value: number): number {
  return firstWhere(sorted, (v) => v > value);
}

function firstWhere(sorted: Upward, holds: (v: number) => boolean): number {
  let lo = 0;
  let hi = sorted.length;
  while (lo < hi) {
    const middle = (lo + hi) >> 1;
    if (holds(sorted[middle]!)) hi = middle;
    else lo = middle + 1;
  }
  return lo;
}
