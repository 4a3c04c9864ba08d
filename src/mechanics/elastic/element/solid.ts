/**
 * Wedge of second order: six columns of three nodes over a triangle (18 nodes, full second order through the layer). Sides stand
 * upright; lower and upper face may slope, so that ramps are as cut. Unknowns u, v, w of node (column i, level k) at 3 (3 i + k).
 */
import type { Mm } from '../../../base/units.ts';
import type { ElasticMetal } from './plate.ts';
import { type Corners, gradients, RULE_4, shapes, slopes } from './triangle.ts';

export interface Wedge {
  readonly corners: Corners;
  /** Heights of the three levels of each of six columns: 18 numbers. */
  readonly heights: ArrayLike<Mm>;
  readonly metal: ElasticMetal;
}

export const WEDGE_NODES = 18;
const ORDER = 3 * WEDGE_NODES;

/** Gauss-Legendre, three points on -1..1. */
const LAYER: readonly (readonly [number, number])[] = [
  [-Math.sqrt(0.6), 5 / 9],
  [0, 8 / 9],
  [Math.sqrt(0.6), 5 / 9],
];

/** Of levels at -1, 0, 1. */
function level(s: number): readonly [number, number, number] {
  return [(s * (s - 1)) / 2, 1 - s * s, (s * (s + 1)) / 2];
}

function levelSlope(s: number): readonly [number, number, number] {
  return [s - 0.5, -2 * s, s + 0.5];
}

export interface WedgePoint {
  /** Shape functions and their slopes, 18 each. */
  readonly n: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** For a weight of one. */
  readonly volume: number;
}

/** At barycentrics and -1..1 through the layer. */
export function wedgePoint({ corners, heights }: Wedge, l: readonly [number, number, number], s: number): WedgePoint {
  const g = gradients(corners);
  const plan = shapes(...l);
  const [px, py] = slopes(g, ...l);
  const through = level(s);
  const steep = levelSlope(s);
  let [zx, zy, zs] = [0, 0, 0];
  for (let i = 0; i < 6; i++) {
    for (let k = 0; k < 3; k++) {
      const z = heights[3 * i + k]!;
      zx += px[i]! * through[k]! * z;
      zy += py[i]! * through[k]! * z;
      zs += plan[i]! * steep[k]! * z;
    }
  }
  const out = {
    n: new Float64Array(WEDGE_NODES),
    x: new Float64Array(WEDGE_NODES),
    y: new Float64Array(WEDGE_NODES),
    z: new Float64Array(WEDGE_NODES),
    volume: g.area * zs,
  };
  for (let i = 0; i < 6; i++) {
    for (let k = 0; k < 3; k++) {
      const at = 3 * i + k;
      const up = (plan[i]! * steep[k]!) / zs;
      out.n[at] = plan[i]! * through[k]!;
      out.z[at] = up;
      out.x[at] = px[i]! * through[k]! - up * zx;
      out.y[at] = py[i]! * through[k]! - up * zy;
    }
  }
  return out;
}

/** 54 x 54, N/mm. */
export function wedgeStiffness(wedge: Wedge): Float64Array {
  const { modulus, poisson } = wedge.metal;
  const shear = modulus / (2 * (1 + poisson));
  const lame = (modulus * poisson) / ((1 + poisson) * (1 - 2 * poisson));
  const k = new Float64Array(ORDER * ORDER);
  for (const [p, by] of points(wedge)) addPoint(k, p, { lame: lame * by, shear: shear * by });
  for (let i = 0; i < ORDER; i++) for (let j = 0; j < i; j++) k[i * ORDER + j] = k[j * ORDER + i]!;
  return k;
}

/** 54 x 54, tonnes (N s2/mm). */
export function wedgeMass(wedge: Wedge): Float64Array {
  const m = new Float64Array(ORDER * ORDER);
  for (const [p, by] of points(wedge)) addMass(m, p, wedge.metal.density * 1e-12 * by);
  return m;
}

/** Places of integration, each with the volume it stands for. */
function points(wedge: Wedge): (readonly [WedgePoint, number])[] {
  return RULE_4.flatMap(([l0, l1, l2, weight]) =>
    LAYER.map(([s, w]) => {
      const p = wedgePoint(wedge, [l0, l1, l2], s);
      return [p, p.volume * weight * w] as const;
    }),
  );
}

/** Isotropic: lambda a b^T + mu (b a^T + a.b 1), for the upper triangle of blocks. */
function addPoint(
  k: Float64Array,
  { x, y, z }: WedgePoint,
  { lame, shear }: { readonly lame: number; readonly shear: number },
): void {
  for (let i = 0; i < WEDGE_NODES; i++) {
    const [ax, ay, az] = [x[i]!, y[i]!, z[i]!];
    for (let j = i; j < WEDGE_NODES; j++) {
      const [bx, by, bz] = [x[j]!, y[j]!, z[j]!];
      const [lx, ly, lz] = [lame * ax, lame * ay, lame * az];
      const [sx, sy, sz] = [shear * ax, shear * ay, shear * az];
      const dot = sx * bx + sy * by + sz * bz;
      let r = 3 * i * ORDER + 3 * j;
      k[r]! += lx * bx + sx * bx + dot;
      k[r + 1]! += lx * by + sy * bx;
      k[r + 2]! += lx * bz + sz * bx;
      r += ORDER;
      k[r]! += ly * bx + sx * by;
      k[r + 1]! += ly * by + sy * by + dot;
      k[r + 2]! += ly * bz + sz * by;
      r += ORDER;
      k[r]! += lz * bx + sx * bz;
      k[r + 1]! += lz * by + sy * bz;
      k[r + 2]! += lz * bz + sz * bz + dot;
    }
  }
}

function addMass(m: Float64Array, { n }: WedgePoint, mass: number): void {
  for (let i = 0; i < WEDGE_NODES; i++) {
    for (let j = 0; j < WEDGE_NODES; j++) {
      const v = mass * n[i]! * n[j]!;
      const r = 3 * i * ORDER + 3 * j;
      m[r]! += v;
      m[r + ORDER + 1]! += v;
      m[r + 2 * ORDER + 2]! += v;
    }
  }
}
