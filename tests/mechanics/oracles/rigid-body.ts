/**
 * A stiff body on springs by the plain route, one load at a time: motion, movement of a place, force on each support. What
 * the quick route of src/mechanics is held against, and what published groups of fasteners and welds are held against.
 */
import type { Mm, Mm2 } from '../../../src/base/units.ts';
import type { Vector } from '../../../src/mechanics/cutting/cut.ts';
import type { SpreadStiffness } from '../../../src/mechanics/support/floor.ts';
import {
  type Axes,
  assemble,
  bodyOf,
  type HeldBody,
  type Support,
  type SupportedBody,
  springs,
  toLocal,
} from '../../../src/mechanics/support/supports.ts';

/** Assemble and invert. The origin is the middle of the supports unless given. */
export function holdBody(supports: readonly Support[], origin: Vector = middle(supports)): SupportedBody {
  return bodyOf(assemble(supports, origin), origin, supports);
}

/** Motion of the origin under a load; writes into `out` so that a million cases make no garbage. */
export function motionUnder(
  body: HeldBody,
  load: ArrayLike<number>,
  out: Float64Array = new Float64Array(6),
): Float64Array {
  const c = body.compliance;
  for (let i = 0; i < 6; i++) {
    const r = 6 * i;
    out[i] =
      c[r]! * load[0]! +
      c[r + 1]! * load[1]! +
      c[r + 2]! * load[2]! +
      c[r + 3]! * load[3]! +
      c[r + 4]! * load[4]! +
      c[r + 5]! * load[5]!;
  }
  return out;
}

/** Movement of a point fixed to the body: t + r x (p - origin). */
export function movementAt(origin: Vector, motion: ArrayLike<number>, at: Vector): Vector {
  const x = at[0] - origin[0];
  const y = at[1] - origin[1];
  const z = at[2] - origin[2];
  return [
    motion[0]! + motion[4]! * z - motion[5]! * y,
    motion[1]! + motion[5]! * x - motion[3]! * z,
    motion[2]! + motion[3]! * y - motion[4]! * x,
  ];
}

/** Force and moment the body puts on a support, in the support's local order (out, along, up, turns). */
export function supportForce(support: Support, origin: Vector, motion: ArrayLike<number>): Float64Array {
  const local = toLocal(support, origin);
  const moved = new Float64Array(6);
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) moved[i]! += local[6 * i + j]! * motion[j]!;
  const force = new Float64Array(6);
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) force[i]! += support.stiffness[6 * i + j]! * moved[j]!;
  return force;
}

/** Sum of the supports' forces and moments about the origin, in global axes: must equal the load. */
export function resultant(supports: readonly Support[], origin: Vector, motion: ArrayLike<number>): Float64Array {
  const sum = new Float64Array(6);
  for (const support of supports) {
    const local = toLocal(support, origin);
    const force = supportForce(support, origin, motion);
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) sum[i]! += local[6 * j + i]! * force[j]!;
  }
  return sum;
}

function middle(supports: readonly Support[]): Vector {
  const n = Math.max(1, supports.length);
  const sum = [0, 0, 0];
  for (const s of supports) for (let i = 0; i < 3; i++) sum[i]! += s.at[i]!;
  return [sum[0]! / n, sum[1]! / n, sum[2]! / n];
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
