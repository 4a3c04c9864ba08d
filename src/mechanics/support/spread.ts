/** Supports spread along a line or over an area: thin floors, glue, welds, a resting face. */
import type { Mm, Mm2 } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { type Axes, type Support, springs } from './supports.ts';

/** Stiffness per millimetre of line (N/mm per mm) or per mm2 of area (N/mm per mm2). */
export interface SpreadStiffness {
  readonly out: number;
  readonly along: number;
  readonly up: number;
}

/**
 * Springs along a run of points, none further apart than `spacing`, each for its own length and turned to its piece:
 * `along` is the way of the run, `out` is to the right of it (outwards when a loop runs counter-clockwise).
 */
export function lineSprings(points: readonly Vector[], perMm: SpreadStiffness, spacing: Mm): readonly Support[] {
  const out: Support[] = [];
  for (let i = 0; i + 1 < points.length; i++) {
    const [a, b] = [points[i]!, points[i + 1]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
    if (length === 0) continue;
    const axes = runAxes(a, b, length);
    const count = Math.max(1, Math.ceil(length / spacing - 1e-9));
    const ds = length / count;
    for (let k = 0; k < count; k++) {
      const t = (k + 0.5) / count;
      const at: Vector = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
      out.push(springs(at, axes, perMm.out * ds, perMm.along * ds, perMm.up * ds));
    }
  }
  return out;
}

/** One spring a cell of an area; cells come from whoever knows the outline. Axes are X, Y, Z. */
export function areaSprings(
  cells: readonly { readonly at: Vector; readonly area: Mm2 }[],
  perMm2: SpreadStiffness,
): readonly Support[] {
  return cells.map(({ at, area }) =>
    springs(at, GLOBAL_AXES, perMm2.out * area, perMm2.along * area, perMm2.up * area),
  );
}

export const GLOBAL_AXES: Axes = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** For level runs; a run that climbs keeps `up` at right angles to itself. */
function runAxes(a: Vector, b: Vector, length: Mm): Axes {
  const along: Vector = [(b[0] - a[0]) / length, (b[1] - a[1]) / length, (b[2] - a[2]) / length];
  const flat = Math.hypot(along[0], along[1]);
  const out: Vector = flat > 1e-9 ? [along[1] / flat, -along[0] / flat, 0] : [1, 0, 0];
  const up: Vector = [
    out[1] * along[2] - out[2] * along[1],
    out[2] * along[0] - out[0] * along[2],
    out[0] * along[1] - out[1] * along[0],
  ];
  return [out, along, up];
}
