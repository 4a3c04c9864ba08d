/** Least count after which something that stays true is true; known true at `to`. */
export function firstWhere(from: number, to: number, holds: (count: number) => boolean): number {
  let no = from;
  let yes = to;
  if (holds(no)) return no;
  while (yes - no > 1) {
    const middle = (no + yes) >> 1;
    if (holds(middle)) yes = middle;
    else no = middle;
  }
  return yes;
}
