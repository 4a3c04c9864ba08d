/**
 * A rigid part on elastic supports: assemble the 6x6 stiffness, find what is loose, answer load cases quickly, and hand the
 * forces back to the supports.
 *
 * A motion is [tx, ty, tz, rx, ry, rz] of the body's origin, millimetres and radians; a load is [Fx, Fy, Fz, Mx, My, Mz]
 * about the origin, N and N mm. Local axes of a support are [out, along, up].
 */
import { cosine, sine } from '../../base/angles.ts';
import type { Mm, NewtonPerMm } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { cholesky, congruent, inverse, multiply, symmetricEigen } from '../math/matrix.ts';

export interface Support {
  readonly at: Vector;
  /** Three unit vectors at right angles: out, along, up. */
  readonly axes: Axes;
  /** 36 numbers, symmetric: N/mm, N/rad and N mm/rad in the order out, along, up, turn about out, about along, about up. */
  readonly stiffness: Float64Array;
}

export type Axes = readonly [Vector, Vector, Vector];

export interface HeldBody {
  readonly kind: 'held';
  readonly origin: Vector;
  readonly supports: readonly Support[];
  readonly stiffness: Float64Array;
  /** Inverse of `stiffness`: motion of the origin for a load. */
  readonly compliance: Float64Array;
}

/** The supports leave the body free to move without resistance along these motions (unit: mm, or mm at one reach for turns). */
export interface LooseBody {
  readonly kind: 'loose';
  readonly origin: Vector;
  readonly free: readonly Float64Array[];
}

export type SupportedBody = HeldBody | LooseBody;

/** Springs in the three local directions only. */
export function springs(at: Vector, axes: Axes, out: NewtonPerMm, along: NewtonPerMm, up: NewtonPerMm): Support {
  const stiffness = new Float64Array(36);
  stiffness[0] = out;
  stiffness[7] = along;
  stiffness[14] = up;
  return { at, axes, stiffness };
}

/** Axes of a support on the edge of a flat part whose outward normal points at `angle` (radians counter-clockwise from X). */
export function edgeAxes(angle: number): Axes {
  const c = cosine(angle);
  const s = sine(angle);
  return [
    [c, s, 0],
    [-s, c, 0],
    [0, 0, 1],
  ];
}

/** Stiffness of the body about `origin`, 36 numbers. */
export function assemble(supports: readonly Support[], origin: Vector): Float64Array {
  const stiffness = new Float64Array(36);
  for (const support of supports) {
    const k = congruent(support.stiffness, toLocal(support, origin), 6);
    for (let i = 0; i < 36; i++) stiffness[i]! += k[i]!;
  }
  return stiffness;
}

/** Held or loose, from an assembled stiffness. */
export function bodyOf(stiffness: Float64Array, origin: Vector, supports: readonly Support[]): SupportedBody {
  const reach = reachOf(stiffness);
  const scaled = scale(stiffness, 1 / reach);
  const free = freeMotions(scaled, reach);
  const factor = cholesky(scaled, 6);
  if (free.length > 0 || factor.kind === 'singular') return { kind: 'loose', origin, free };
  return { kind: 'held', origin, supports, stiffness, compliance: scale(inverse(factor), 1 / reach) };
}

/**
 * Smallest over largest resistance (turns weighed by the supports' own reach) below which the body counts as loose.
 * The softest holding here (tape) against the stiffest (a plate's edge) is about 1e-5; rounding is about 1e-15.
 */
export const LOOSE = 1e-11;

/** Load about the origin of a force at a place. */
export function loadAt(origin: Vector, at: Vector, force: Vector): Float64Array {
  const x = at[0] - origin[0];
  const y = at[1] - origin[1];
  const z = at[2] - origin[2];
  const [fx, fy, fz] = force;
  return Float64Array.of(fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx);
}

/**
 * 6x6 that turns a load about the origin straight into a support's local force: stiffness x local motion x compliance.
 * One product a load case; made once for each support.
 */
export function recovery(body: Pick<HeldBody, 'origin' | 'compliance'>, support: Support): Float64Array {
  return multiply(support.stiffness, multiply(toLocal(support, body.origin), body.compliance, 6), 6);
}

/** Rows [R, -R [q]x; 0, R]: body motion about `origin` to local motion of the support. */
export function toLocal(support: Pick<Support, 'at' | 'axes'>, origin: Vector): Float64Array {
  const b = new Float64Array(36);
  const q = [support.at[0] - origin[0], support.at[1] - origin[1], support.at[2] - origin[2]] as const;
  for (let i = 0; i < 3; i++) {
    const [x, y, z] = support.axes[i]!;
    b[6 * i] = x;
    b[6 * i + 1] = y;
    b[6 * i + 2] = z;
    // axis . (r x q) = r . (q x axis)
    b[6 * i + 3] = q[1] * z - q[2] * y;
    b[6 * i + 4] = q[2] * x - q[0] * z;
    b[6 * i + 5] = q[0] * y - q[1] * x;
    b[6 * (i + 3) + 3] = x;
    b[6 * (i + 3) + 4] = y;
    b[6 * (i + 3) + 5] = z;
  }
  return b;
}

/** Length that makes turns comparable with shifts: sqrt of rotational over translational stiffness, 1 mm if either is nil. */
function reachOf(k: Float64Array): Mm {
  const shift = k[0]! + k[7]! + k[14]!;
  const turn = k[21]! + k[28]! + k[35]!;
  return shift > 0 && turn > 0 ? Math.sqrt(turn / shift) : 1;
}

function scale(k: Float64Array, factor: number): Float64Array {
  return k.map((v, i) => v * (Math.floor(i / 6) > 2 ? factor : 1) * (i % 6 > 2 ? factor : 1));
}

function freeMotions(scaled: Float64Array, reach: Mm): Float64Array[] {
  const { values, vectors } = symmetricEigen(scaled, 6);
  const most = values[5]!;
  return vectors.filter((_, i) => !(values[i]! > LOOSE * most)).map((v) => v.map((x, i) => (i > 2 ? x / reach : x)));
}
