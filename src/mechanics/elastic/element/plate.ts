/**
 * Reissner-Mindlin plate of second order that does not lock: MITC7 (Bathe, Brezzi and Cho, The MITC7 and MITC9 plate bending
 * elements, Computers and Structures 32, 1989). Deflection has six nodes, rotations six and a bubble, and the shear strain along
 * each side is taken at its two Gauss points, its mean over the inside as it is. The bubble is condensed here.
 *
 * Five unknowns a node: u, v, w, p, q with movements u + (z - zRef) p, v + (z - zRef) q, w. Metal from `bottom` to `top` need not
 * lie about zRef: stretching and bending then act on one another, as at a pocket or a low floor.
 */
import { cube } from '../../../base/powers.ts';
import type { Mm, Stress } from '../../../base/units.ts';
import { type Corners, gradients, RULE_2, RULE_4, shapes, slopes } from './triangle.ts';

export interface ElasticMetal {
  /** Young's modulus, N/mm2. */
  readonly modulus: Stress;
  readonly poisson: number;
  /** kg/m3; for frequencies only. */
  readonly density: number;
}

export interface Slab {
  readonly corners: Corners;
  readonly bottom: Mm;
  readonly top: Mm;
  readonly reference: Mm;
  readonly metal: ElasticMetal;
}

export const PLATE_DOFS = 5;
const ORDER = 6 * PLATE_DOFS;
/** Shear coefficient of a flat plate (Reissner 1945): the parabola of shear over the thickness. */
const SHEAR = 5 / 6;
/** p and q of six nodes and the bubble, then w: 20 unknowns of bending. */
const BEND = 20;

/** 30 x 30 in N and mm, node by node. */
export function plateStiffness(slab: Slab): Float64Array {
  const out = new Float64Array(ORDER * ORDER);
  const offset = (slab.bottom + slab.top) / 2 - slab.reference;
  const plane = membrane(slab);
  const bending = condensed(bend(slab));
  for (let i = 0; i < 12; i++) {
    for (let j = 0; j < 12; j++) spread(out, plane[i * 12 + j]!, offset, i, j);
  }
  // p q of six nodes, then w of six.
  const at = (i: number) => (i < 12 ? PLATE_DOFS * (i >> 1) + 3 + (i & 1) : PLATE_DOFS * (i - 12) + 2);
  for (let i = 0; i < 18; i++) for (let j = 0; j < 18; j++) out[at(i) * ORDER + at(j)]! += bending[i * 18 + j]!;
  return out;
}

/** The metal's own middle moves by u + offset p. */
function spread(out: Float64Array, k: number, offset: number, i: number, j: number): void {
  const a = PLATE_DOFS * (i >> 1) + (i & 1);
  const b = PLATE_DOFS * (j >> 1) + (j & 1);
  out[a * ORDER + b]! += k;
  out[a * ORDER + b + 3]! += k * offset;
  out[(a + 3) * ORDER + b]! += k * offset;
  out[(a + 3) * ORDER + b + 3]! += k * offset * offset;
}

/** Plane stress: xx, yy, xy. */
function law({ modulus, poisson }: ElasticMetal): readonly [direct: number, cross: number, shear: number] {
  const direct = modulus / (1 - poisson * poisson);
  return [direct, poisson * direct, modulus / (2 * (1 + poisson))];
}

function membrane({ corners, bottom, top, metal }: Slab): Float64Array {
  const g = gradients(corners);
  const [direct, cross, shear] = law(metal);
  const k = new Float64Array(144);
  for (const [l0, l1, l2, weight] of RULE_2) {
    const [nx, ny] = slopes(g, l0, l1, l2);
    inPlane(k, { order: 12, nx, ny, direct, cross, shear, by: weight * g.area * (top - bottom) });
  }
  return k;
}

interface InPlane {
  readonly order: number;
  readonly nx: readonly number[];
  readonly ny: readonly number[];
  readonly direct: number;
  readonly cross: number;
  readonly shear: number;
  readonly by: number;
}

/** Strain energy of two components whose shape functions have these slopes; unknowns in pairs. */
function inPlane(k: Float64Array, { order, nx, ny, direct, cross, shear, by }: InPlane): void {
  for (let i = 0; i < nx.length; i++) {
    const [ax, ay] = [nx[i]! * by, ny[i]! * by];
    for (let j = 0; j < nx.length; j++) {
      const [bx, by_] = [nx[j]!, ny[j]!];
      const r = 2 * i * order + 2 * j;
      k[r]! += direct * ax * bx + shear * ay * by_;
      k[r + 1]! += cross * ax * by_ + shear * ay * bx;
      k[r + order]! += cross * ay * bx + shear * ax * by_;
      k[r + order + 1]! += direct * ay * by_ + shear * ax * bx;
    }
  }
}

/** Bending and shear over p0 q0 .. p5 q5, bubble p and q, w0 .. w5. */
function bend({ corners, bottom, top, metal }: Slab): Float64Array {
  const g = gradients(corners);
  const [direct, cross, shear] = law(metal);
  const thick = top - bottom;
  const k = new Float64Array(BEND * BEND);
  const strains = assumed(corners);
  for (const [l0, l1, l2, weight] of RULE_4) {
    const [nx, ny] = slopes(g, l0, l1, l2);
    const bubble = (d: readonly [number, number, number]) => 27 * (d[0] * l1 * l2 + l0 * d[1] * l2 + l0 * l1 * d[2]);
    const by = (weight * g.area * cube(thick)) / 12;
    inPlane(k, { order: BEND, nx: [...nx, bubble(g.x)], ny: [...ny, bubble(g.y)], direct, cross, shear, by });
    const [sx, sy] = strains(l1, l2);
    const stiff = SHEAR * shear * thick * weight * g.area;
    for (let i = 0; i < BEND; i++) {
      const [ax, ay] = [stiff * sx[i]!, stiff * sy[i]!];
      for (let j = 0; j < BEND; j++) k[i * BEND + j]! += ax * sx[j]! + ay * sy[j]!;
    }
  }
  return k;
}

/** Covariant shear along r (corner 0 to 1) and s (0 to 2) at a place, for each of the 20 unknowns. */
type Covariant = (r: number, s: number) => readonly [Float64Array, Float64Array];

function covariant([x0, y0, x1, y1, x2, y2]: Corners): Covariant {
  const [xr, yr, xs, ys] = [x1 - x0, y1 - y0, x2 - x0, y2 - y0];
  return (r, s) => {
    const l0 = 1 - r - s;
    const n = shapes(l0, r, s);
    const dr = [1 - 4 * l0, 4 * r - 1, 0, 4 * (l0 - r), 4 * s, -4 * s];
    const ds = [1 - 4 * l0, 0, 4 * s - 1, -4 * r, 4 * r, 4 * (l0 - s)];
    const along = new Float64Array(BEND);
    const second = new Float64Array(BEND);
    n.push(27 * l0 * r * s);
    for (let i = 0; i < 7; i++) {
      const v = n[i]!;
      along[2 * i] = v * xr;
      along[2 * i + 1] = v * yr;
      second[2 * i] = v * xs;
      second[2 * i + 1] = v * ys;
    }
    for (let i = 0; i < 6; i++) {
      along[14 + i] = dr[i]!;
      second[14 + i] = ds[i]!;
    }
    return [along, second];
  };
}

/** Terms of the assumed field: r strain [1 r s, s r, s s], s strain [1 r s, -r r, -r s], the two last shared. */
const TERMS = (r: number, s: number): readonly [number[], number[]] => [
  [1, r, s, 0, 0, 0, s * r, s * s],
  [0, 0, 0, 1, r, s, -r * r, -r * s],
];

const GAUSS = 0.5 / Math.sqrt(3);
/** Sides as [r, s, weight of r strain, weight of s strain] at their two Gauss points. */
const TIES = [0.5 - GAUSS, 0.5 + GAUSS].flatMap((a) => [
  [a, 0, 1, 0] as const,
  [0, a, 0, 1] as const,
  [1 - a, a, -1, 1] as const,
]);

const WEIGHTS_OF_TIES = inverseOfTies();

/** The eight tying conditions, inverted once: they are the same for all triangles. */
function inverseOfTies(): Float64Array {
  const a: number[][] = TIES.map(([r, s, wr, ws]) => {
    const [tr, ts] = TERMS(r, s);
    return tr.map((v, i) => wr * v + ws * ts[i]!);
  });
  for (const c of [0, 1] as const) {
    const mean = new Array<number>(8).fill(0);
    for (const [, r, s, w] of RULE_4) TERMS(r, s)[c].forEach((v, i) => (mean[i]! += w * v));
    a.push(mean);
  }
  return inverted(a);
}

/** Gauss-Jordan with row changes. */
function inverted(a: readonly (readonly number[])[]): Float64Array {
  const n = a.length;
  const m = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let c = 0; c < n; c++) {
    let best = c;
    for (let r = c; r < n; r++) if (Math.abs(m[r]![c]!) > Math.abs(m[best]![c]!)) best = r;
    [m[c], m[best]] = [m[best]!, m[c]!];
    const by = 1 / m[c]![c]!;
    m[c] = m[c]!.map((v) => v * by);
    for (let r = 0; r < n; r++) {
      const f = m[r]![c]!;
      if (r !== c && f !== 0) m[r] = m[r]!.map((v, k) => v - f * m[c]![k]!);
    }
  }
  return Float64Array.from(m.flatMap((row) => row.slice(n)));
}

/** gamma x and gamma y of the assumed field at (r, s), for each of the 20 unknowns. */
function assumed(corners: Corners): Covariant {
  const [x0, y0, x1, y1, x2, y2] = corners;
  const [xr, yr, xs, ys] = [x1 - x0, y1 - y0, x2 - x0, y2 - y0];
  const det = xr * ys - xs * yr;
  const strain = covariant(corners);
  // Eight conditions by 20 unknowns.
  const tied = new Float64Array(8 * BEND);
  const condition = (row: number, [r, s]: readonly [number, number], weights: readonly [number, number]) => {
    const [a, b] = strain(r, s);
    for (let i = 0; i < BEND; i++) tied[row * BEND + i]! += weights[0] * a[i]! + weights[1] * b[i]!;
  };
  TIES.forEach(([r, s, wr, ws], row) => condition(row, [r, s], [wr, ws]));
  for (const [, r, s, w] of RULE_4) {
    condition(6, [r, s], [w, 0]);
    condition(7, [r, s], [0, w]);
  }
  const amounts = new Float64Array(8 * BEND);
  for (let t = 0; t < 8; t++) {
    for (let c = 0; c < 8; c++) {
      const w = WEIGHTS_OF_TIES[t * 8 + c]!;
      if (w !== 0) for (let i = 0; i < BEND; i++) amounts[t * BEND + i]! += w * tied[c * BEND + i]!;
    }
  }
  return (r, s) => {
    const [tr, ts] = TERMS(r, s);
    const x = new Float64Array(BEND);
    const y = new Float64Array(BEND);
    for (let t = 0; t < 8; t++) {
      // gamma = J^-T (gamma_r, gamma_s).
      const fx = (ys * tr[t]! - yr * ts[t]!) / det;
      const fy = (xr * ts[t]! - xs * tr[t]!) / det;
      for (let i = 0; i < BEND; i++) {
        x[i]! += fx * amounts[t * BEND + i]!;
        y[i]! += fy * amounts[t * BEND + i]!;
      }
    }
    return [x, y];
  };
}

/** Takes out the bubble's two unknowns, 12 and 13. */
function condensed(k: Float64Array): Float64Array {
  let [n, a] = [BEND, k];
  for (const out of [13, 12]) {
    const m = n - 1;
    const b = new Float64Array(m * m);
    const pivot = a[out * n + out]!;
    for (let i = 0; i < m; i++) {
      const r = i < out ? i : i + 1;
      for (let j = 0; j < m; j++) {
        const c = j < out ? j : j + 1;
        b[i * m + j] = a[r * n + c]! - (a[r * n + out]! * a[out * n + c]!) / pivot;
      }
    }
    [n, a] = [m, b];
  }
  return a;
}

/** Consistent mass, 30 x 30, tonnes (N s2/mm), with the inertia of turning. */
export function plateMass({ corners, bottom, top, reference, metal }: Slab): Float64Array {
  const out = new Float64Array(ORDER * ORDER);
  const g = gradients(corners);
  const thick = top - bottom;
  const offset = (bottom + top) / 2 - reference;
  const turning = offset * offset + (thick * thick) / 12;
  for (const [l0, l1, l2, weight] of RULE_4) {
    const n = shapes(l0, l1, l2);
    const mass = metal.density * 1e-12 * thick * g.area * weight;
    for (let i = 0; i < 6; i++) {
      for (let j = 0; j < 6; j++) {
        const m = mass * n[i]! * n[j]!;
        const [a, b] = [PLATE_DOFS * i, PLATE_DOFS * j];
        for (const c of [0, 1, 2]) out[(a + c) * ORDER + b + c]! += m;
        for (const c of [0, 1]) {
          out[(a + c) * ORDER + b + c + 3]! += m * offset;
          out[(a + c + 3) * ORDER + b + c]! += m * offset;
          out[(a + c + 3) * ORDER + b + c + 3]! += m * turning;
        }
      }
    }
  }
  return out;
}
