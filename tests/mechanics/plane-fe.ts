/**
 * An independent plane-stress solution of a tab between two blocks: four-node elements with Wilson's two bending modes
 * (Taylor, Beresford & Wilson 1976: element QM6), a structured mesh, a banded Cholesky solver. It shares no code with
 * src/mechanics, so it can judge the beam model there.
 *
 * The strip runs along s: part block (s < 0), tab (0..length), frame block (s > length). The outer edges of the part block
 * move as one stiff piece, those of the frame block stand still.
 */
export interface Strip {
  readonly length: number;
  /** Lower and upper edge of the tab at s, and its thickness (out of the plane). */
  readonly lower: (s: number) => number;
  readonly upper: (s: number) => number;
  readonly thickness: (s: number) => number;
  /** Places of the element rows along the tab, from 0 to length. */
  readonly rows: readonly number[];
  readonly across: number;
  readonly block: {
    readonly depth: number;
    readonly lower: number;
    readonly upper: number;
    readonly thickness: number;
    /** Which long outer edges are held besides the far ends. */
    readonly sidesHeld: 'both' | 'upper';
  };
  readonly modulus: number;
  readonly poisson: number;
}

export interface Moved {
  /** Twice the strain energy: the stiffness in N/mm for a unit movement. */
  readonly stiffness: number;
  /** Greatest von Mises stress in the tab (element middles and corners of the outer columns), per unit movement. */
  readonly stress: number;
}

interface Mesh {
  readonly x: number[];
  readonly y: number[];
  readonly quads: { nodes: [number, number, number, number]; thickness: number; tab: boolean }[];
  readonly part: Set<number>;
  readonly frame: Set<number>;
}

/** Move the part block by (ds, dt) and turn it by `turn` about (0, 0). */
export function solveStrip(strip: Strip, ds: number, dt: number, turn = 0): Moved {
  const mesh = buildMesh(strip);
  const n = mesh.x.length;
  const fixed = new Map<number, number>();
  for (const k of mesh.frame) {
    fixed.set(2 * k, 0);
    fixed.set(2 * k + 1, 0);
  }
  for (const k of mesh.part) {
    fixed.set(2 * k, ds - turn * mesh.y[k]!);
    fixed.set(2 * k + 1, dt + turn * mesh.x[k]!);
  }
  const free = new Int32Array(2 * n).fill(-1);
  let count = 0;
  for (let d = 0; d < 2 * n; d++) if (!fixed.has(d)) free[d] = count++;
  const elements = mesh.quads.map((q) => ({ ...q, k: elementStiffness(mesh, q.nodes, q.thickness, strip) }));
  let band = 0;
  for (const e of elements) {
    const dofs = e.nodes.flatMap((k) => [free[2 * k]!, free[2 * k + 1]!]).filter((d) => d >= 0);
    band = Math.max(band, Math.max(...dofs, 0) - Math.min(...dofs, count));
  }
  const w = band + 1;
  const a = new Float64Array(count * w);
  const b = new Float64Array(count);
  for (const e of elements) {
    const dofs = e.nodes.flatMap((k) => [2 * k, 2 * k + 1]);
    for (let i = 0; i < 8; i++) {
      const fi = free[dofs[i]!]!;
      if (fi < 0) continue;
      for (let j = 0; j < 8; j++) {
        const fj = free[dofs[j]!]!;
        if (fj < 0) b[fi]! -= e.k[8 * i + j]! * fixed.get(dofs[j]!)!;
        else if (fj <= fi) a[fi * w + (fj - fi + band)]! += e.k[8 * i + j]!;
      }
    }
  }
  const u = bandedSolve(a, b, count, band);
  const all = new Float64Array(2 * n);
  for (let d = 0; d < 2 * n; d++) all[d] = free[d]! >= 0 ? u[free[d]!]! : fixed.get(d)!;
  let energy = 0;
  let stress = 0;
  for (const e of elements) {
    const ue = e.nodes.flatMap((k) => [all[2 * k]!, all[2 * k + 1]!]);
    for (let i = 0; i < 8; i++) for (let j = 0; j < 8; j++) energy += ue[i]! * e.k[8 * i + j]! * ue[j]!;
    if (e.tab) stress = Math.max(stress, elementStress(mesh, e.nodes, ue, strip));
  }
  return { stiffness: energy, stress };
}

function buildMesh(strip: Strip): Mesh {
  const mesh: Mesh = { x: [], y: [], quads: [], part: new Set(), frame: new Set() };
  const { block, across, length } = strip;
  const steps = (n: number) => Array.from({ length: n + 1 }, (_, i) => (i / n) ** 1.6);
  const grid = (s: number) =>
    Array.from({ length: across + 1 }, (_, i) => strip.lower(s) + ((strip.upper(s) - strip.lower(s)) * i) / across);
  const side = 10;
  const wide = (s: number) => {
    const inner = grid(s);
    const low =
      block.lower < inner[0]! - 1e-9
        ? steps(side)
            .slice(1)
            .reverse()
            .map((t) => inner[0]! + t * (block.lower - inner[0]!))
        : [];
    const high =
      block.upper > inner[across]! + 1e-9
        ? steps(side)
            .slice(1)
            .map((t) => inner[across]! + t * (block.upper - inner[across]!))
        : [];
    return { y: [...low, ...inner, ...high], start: low.length };
  };
  const deep = steps(12);
  const addRow = (s: number, ys: readonly number[]) =>
    ys.map((y) => {
      mesh.x.push(s);
      mesh.y.push(y);
      return mesh.x.length - 1;
    });
  const join = (a: readonly number[], b: readonly number[], thickness: number, tab: boolean) => {
    for (let i = 0; i + 1 < a.length; i++)
      mesh.quads.push({ nodes: [a[i]!, b[i]!, b[i + 1]!, a[i + 1]!], thickness, tab });
  };
  const hold = (row: readonly number[], into: Set<number>, whole: boolean) => {
    if (whole) for (const k of row) into.add(k);
    else {
      if (block.sidesHeld === 'both') into.add(row[0]!);
      into.add(row[row.length - 1]!);
    }
  };
  const first = wide(0);
  let row: number[] = [];
  [...deep].reverse().forEach((t, i) => {
    const next = addRow(-t * block.depth, first.y);
    hold(next, mesh.part, i === 0);
    if (i > 0) join(row, next, block.thickness, false);
    row = next;
  });
  row = row.slice(first.start, first.start + across + 1);
  const last = wide(length);
  strip.rows.slice(1).forEach((s, i) => {
    const end = s === length;
    const full = end ? addRow(s, last.y) : addRow(s, grid(s));
    const next = end ? full.slice(last.start, last.start + across + 1) : full;
    join(row, next, strip.thickness((s + strip.rows[i]!) / 2), true);
    row = end ? full : next;
    if (end) hold(full, mesh.frame, false);
  });
  deep.slice(1).forEach((t, i) => {
    const next = addRow(length + t * block.depth, last.y);
    hold(next, mesh.frame, i === deep.length - 2);
    join(row, next, block.thickness, false);
    row = next;
  });
  return mesh;
}

const GAUSS = [-1 / Math.sqrt(3), 1 / Math.sqrt(3)];

function elasticity({ modulus, poisson }: Strip): number[] {
  const f = modulus / (1 - poisson * poisson);
  return [f, f * poisson, 0, f * poisson, f, 0, 0, 0, (f * (1 - poisson)) / 2];
}

/** Strain rows for the 8 displacements and the 4 extra modes at (r, s); the extra modes use the Jacobian at the middle. */
function strain(mesh: Mesh, nodes: readonly number[], r: number, s: number): { b: Float64Array; det: number } {
  const at = (rr: number, ss: number) => {
    const dr = [-(1 - ss) / 4, (1 - ss) / 4, (1 + ss) / 4, -(1 + ss) / 4];
    const dsv = [-(1 - rr) / 4, -(1 + rr) / 4, (1 + rr) / 4, (1 - rr) / 4];
    const j = [0, 0, 0, 0];
    nodes.forEach((k, i) => {
      j[0]! += dr[i]! * mesh.x[k]!;
      j[1]! += dr[i]! * mesh.y[k]!;
      j[2]! += dsv[i]! * mesh.x[k]!;
      j[3]! += dsv[i]! * mesh.y[k]!;
    });
    return { dr, ds: dsv, j, det: j[0]! * j[3]! - j[1]! * j[2]! };
  };
  const p = at(r, s);
  const mid = at(0, 0);
  const b = new Float64Array(36);
  const put = (column: number, dx: number, dy: number) => {
    b[column] = dx;
    b[12 + column + 1] = dy;
    b[24 + column] = dy;
    b[24 + column + 1] = dx;
  };
  for (let i = 0; i < 4; i++) {
    put(2 * i, (p.j[3]! * p.dr[i]! - p.j[1]! * p.ds[i]!) / p.det, (-p.j[2]! * p.dr[i]! + p.j[0]! * p.ds[i]!) / p.det);
  }
  const extra = mid.det / p.det;
  put(8, (extra * mid.j[3]! * -2 * r) / mid.det, (extra * -mid.j[2]! * -2 * r) / mid.det);
  put(10, (extra * -mid.j[1]! * -2 * s) / mid.det, (extra * mid.j[0]! * -2 * s) / mid.det);
  return { b, det: p.det };
}

function fullStiffness(mesh: Mesh, nodes: readonly number[], thickness: number, strip: Strip): Float64Array {
  const d = elasticity(strip);
  const k = new Float64Array(144);
  for (const r of GAUSS)
    for (const s of GAUSS) {
      const { b, det } = strain(mesh, nodes, r, s);
      if (!(det > 0)) throw new Error('element turned inside out');
      for (let i = 0; i < 12; i++)
        for (let j = 0; j < 12; j++) {
          let sum = 0;
          for (let m = 0; m < 3; m++)
            for (let q = 0; q < 3; q++) sum += b[12 * m + i]! * d[3 * m + q]! * b[12 * q + j]!;
          k[12 * i + j]! += sum * det * thickness;
        }
    }
  return k;
}

/** The four extra modes are eliminated within the element (static condensation). */
function elementStiffness(mesh: Mesh, nodes: readonly number[], thickness: number, strip: Strip): Float64Array {
  const k = fullStiffness(mesh, nodes, thickness, strip);
  for (let p = 11; p >= 8; p--) {
    const pivot = k[12 * p + p]!;
    for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) k[12 * i + j]! -= (k[12 * i + p]! * k[12 * p + j]!) / pivot;
  }
  const out = new Float64Array(64);
  for (let i = 0; i < 8; i++) for (let j = 0; j < 8; j++) out[8 * i + j] = k[12 * i + j]!;
  return out;
}

function elementStress(mesh: Mesh, nodes: readonly number[], u: readonly number[], strip: Strip): number {
  const k = fullStiffness(mesh, nodes, 1, strip);
  const extra = [0, 0, 0, 0];
  const rhs = [8, 9, 10, 11].map((i) => -u.reduce((sum, v, j) => sum + k[12 * i + j]! * v, 0));
  const m = rhs.map((v, i) => [...[8, 9, 10, 11].map((j) => k[12 * (8 + i) + j]!), v]);
  for (let p = 0; p < 4; p++)
    for (let i = 0; i < 4; i++)
      if (i !== p) {
        const f = m[i]![p]! / m[p]![p]!;
        for (let j = p; j < 5; j++) m[i]![j]! -= f * m[p]![j]!;
      }
  for (let i = 0; i < 4; i++) extra[i] = m[i]![4]! / m[i]![i]!;
  const d = elasticity(strip);
  const full = [...u, ...extra];
  let most = 0;
  for (const [r, s] of [
    [0, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    const { b } = strain(mesh, nodes, r, s);
    const e = [0, 1, 2].map((q) => full.reduce((sum, v, i) => sum + b[12 * q + i]! * v, 0));
    const [sx, sy, t] = [0, 1, 2].map((q) => d[3 * q]! * e[0]! + d[3 * q + 1]! * e[1]! + d[3 * q + 2]! * e[2]!) as [
      number,
      number,
      number,
    ];
    most = Math.max(most, Math.sqrt(sx * sx - sx * sy + sy * sy + 3 * t * t));
  }
  return most;
}

function bandedSolve(a: Float64Array, b: Float64Array, n: number, band: number): Float64Array {
  const w = band + 1;
  for (let i = 0; i < n; i++) {
    const lo = Math.max(0, i - band);
    for (let j = lo; j <= i; j++) {
      let sum = a[i * w + (j - i + band)]!;
      const from = Math.max(lo, j - band);
      for (let k = from; k < j; k++) sum -= a[i * w + (k - i + band)]! * a[j * w + (k - j + band)]!;
      a[i * w + (j - i + band)] = i === j ? Math.sqrt(sum) : sum / a[j * w + band]!;
    }
  }
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    for (let k = Math.max(0, i - band); k < i; k++) sum -= a[i * w + (k - i + band)]! * b[k]!;
    b[i] = sum / a[i * w + band]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    b[i]! /= a[i * w + band]!;
    for (let k = Math.max(0, i - band); k < i; k++) b[k]! -= a[i * w + (k - i + band)]! * b[i]!;
  }
  return b;
}
