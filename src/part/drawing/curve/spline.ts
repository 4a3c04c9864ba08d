import type { Point } from '../../../geometry/types.ts';
import { type Bezier, bezier } from './curve.ts';

export interface Spline {
  readonly degree: number;
  readonly knots: readonly number[];
  readonly points: readonly Point[];
  readonly weights: readonly number[];
}

type Homogeneous = readonly [number, number, number];

/**
 * The rational Bezier curve of every span of a B-spline. Its control points are values of the span's polar form
 * (blossom; Ramshaw 1987): b_i = f(left n-i times, right i times). So each span has its own exact end tangents, also
 * where a multiple knot makes a corner.
 */
export function splineSpans(spline: Spline): Bezier[] {
  const { degree: n, knots, points, weights } = spline;
  const lifted = points.map((p, i): Homogeneous => [p.x * weights[i]!, p.y * weights[i]!, weights[i]!]);
  const spans: Bezier[] = [];
  for (let k = n; k < points.length; k++) {
    const [left, right] = [knots[k]!, knots[k + 1]!];
    if (right <= left) continue;
    const control = Array.from({ length: n + 1 }, (_, i) => {
      const args = Array.from({ length: n }, (_, j) => (j < n - i ? left : right));
      return polar(lifted, knots, n, k, args);
    });
    const previous = spans.at(-1)?.b;
    const flat = control.map(([x, y, w]): Point => ({ x: x / w, y: y / w }));
    // Neighbouring spans share their end bit for bit.
    if (previous !== undefined) flat[0] = previous;
    spans.push(
      bezier(
        flat,
        control.map(([, , w]) => w),
      ),
    );
  }
  return spans;
}

/** De Boor's scheme with a different argument at every level. */
function polar(
  points: readonly Homogeneous[],
  knots: readonly number[],
  n: number,
  k: number,
  args: readonly number[],
): Homogeneous {
  let row = points.slice(k - n, k + 1);
  for (let level = 1; level <= n; level++) {
    const u = args[level - 1]!;
    row = row.slice(1).map((right, j) => {
      const left = row[j]!;
      const lo = knots[k - n + level + j]!;
      const hi = knots[k + 1 + j]!;
      const t = (u - lo) / (hi - lo);
      return [
        left[0] + (right[0] - left[0]) * t,
        left[1] + (right[1] - left[1]) * t,
        left[2] + (right[2] - left[2]) * t,
      ];
    });
  }
  return row[0]!;
}
