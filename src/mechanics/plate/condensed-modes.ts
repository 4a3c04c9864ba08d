/**
 * Lowest natural frequencies of plate and part from the plate's solved give alone: its stiffness at chosen nodes is exact
 * (static condensation, Guyan 1965), the metal between is lumped on the nearest of them.
 */

import type { Vector } from '../cutting/cut.ts';
import { cholesky, congruent, inverse } from '../math/matrix.ts';
import { lowestModes, type Modes } from '../math/modes.ts';
import { assemble, type Support, toLocal } from '../support/supports.ts';
import type { Connector } from './hang.ts';
import type { NodeCompliance } from './plate.ts';

/** A stiff part with its mass, hung into the frame. */
export interface PartMass {
  /** tonne. */
  readonly mass: number;
  readonly centre: Vector;
  /** Inertia about the centre, 3x3 row by row, tonne mm2. */
  readonly inertia: readonly number[];
}

export interface NodeMass {
  readonly at: Vector;
  /** tonne. */
  readonly mass: number;
}

export interface CondensedPlate {
  readonly compliance: NodeCompliance;
  /** Of the give's nodes. */
  readonly places: readonly Vector[];
  readonly metal: readonly NodeMass[];
  /** Indexes into the give that keep their mass; those that carry a connector are added. */
  readonly masters: readonly number[];
}

export function condensedModes(
  { compliance, places, metal, masters }: CondensedPlate,
  connectors: readonly Connector[],
  grounded: readonly Support[],
  part: PartMass,
  count: number,
): Modes {
  const roots = connectors.flatMap((c) => (c.root === null ? [] : [c.root.index]));
  const used = [...new Set([...roots, ...masters])].filter((i) => moves(compliance, i)).sort((a, b) => a - b);
  const n = 6 * used.length;
  const size = n + 6;
  const k = new Float64Array(size * size);
  const factor = cholesky(complianceOf(compliance, used), n);
  if (n > 0 && factor.kind === 'singular') return { kind: 'loose' };
  if (factor.kind === 'factor') {
    const frame = inverse(factor);
    for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) k[i * size + j] = frame[i * n + j]!;
  }
  for (const c of connectors) couple(k, size, c, c.root === null ? -1 : used.indexOf(c.root.index), part.centre);
  const ground = assemble(grounded, part.centre);
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) k[(n + i) * size + n + j]! += ground[6 * i + j]!;
  const at = used.map((i) => places[i]!);
  return lowestModes(k, masses(at, metal, part, size), size, count);
}

function moves(compliance: NodeCompliance, i: number): boolean {
  return compliance.blocks[36 * (i * compliance.nodes.length + i) + 14]! > 0;
}

function complianceOf(compliance: NodeCompliance, used: readonly number[]): Float64Array {
  const n = 6 * used.length;
  const out = new Float64Array(n * n);
  used.forEach((a, ai) =>
    used.forEach((b, bi) => {
      const block = 36 * (a * compliance.nodes.length + b);
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) out[(6 * ai + i) * n + 6 * bi + j] = compliance.blocks[block + 6 * i + j]!;
    }),
  );
  return out;
}

function couple(k: Float64Array, size: number, c: Connector, node: number, centre: Vector): void {
  const local = stiffnessOf(c);
  const shell = { at: c.at, axes: c.axes, stiffness: local };
  const body = toLocal(shell, centre);
  const rows = [0, 1, 2, 3, 4, 5].map((i) => size - 6 + i);
  addBlock(k, size, congruent(local, body, 6), rows, rows);
  if (node < 0) return;
  const root = c.root!.rows;
  const at = rows.map((_, i) => 6 * node + i);
  addBlock(k, size, congruent(local, root, 6), at, at);
  const cross = new Float64Array(36);
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++)
      for (let p = 0; p < 6; p++)
        for (let q = 0; q < 6; q++) cross[6 * i + j]! -= root[6 * p + i]! * local[6 * p + q]! * body[6 * q + j]!;
  addBlock(k, size, cross, at, rows);
  addBlock(
    k,
    size,
    cross.map((_, i) => cross[6 * (i % 6) + Math.floor(i / 6)]!),
    rows,
    at,
  );
}

function stiffnessOf(c: Connector): Float64Array {
  const out = new Float64Array(36);
  const factor = cholesky(c.flexibility, c.order);
  if (factor.kind === 'singular') return out;
  const k = inverse(factor);
  for (let i = 0; i < c.order; i++) for (let j = 0; j < c.order; j++) out[6 * i + j] = k[i * c.order + j]!;
  return out;
}

function addBlock(
  k: Float64Array,
  size: number,
  block: Float64Array,
  rows: readonly number[],
  cols: readonly number[],
): void {
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) k[rows[i]! * size + cols[j]!]! += block[6 * i + j]!;
}

/** Spin of a lump as of a cube 2 mm wide: only there so that every movement has a mass. */
const LUMP_SPIN = 2;

function masses(at: readonly Vector[], metal: readonly NodeMass[], part: PartMass, size: number): Float64Array {
  const m = new Float64Array(size * size);
  const lumps = at.map(() => 0);
  for (const lump of metal) {
    let best = -1;
    let least = Number.POSITIVE_INFINITY;
    at.forEach((p, i) => {
      const d = Math.hypot(p[0] - lump.at[0], p[1] - lump.at[1]);
      if (d < least) {
        least = d;
        best = i;
      }
    });
    if (best >= 0) lumps[best]! += lump.mass;
  }
  const floor = Math.max(part.mass * 1e-6, 1e-12);
  lumps.forEach((mass, i) => {
    for (let j = 0; j < 3; j++) {
      m[(6 * i + j) * (size + 1)] = Math.max(floor, mass);
      m[(6 * i + 3 + j) * (size + 1)] = (Math.max(floor, mass) * LUMP_SPIN ** 2) / 6;
    }
  });
  for (let i = 0; i < 3; i++) {
    m[(size - 6 + i) * (size + 1)] = part.mass;
    for (let j = 0; j < 3; j++) m[(size - 3 + i) * size + size - 3 + j] = part.inertia[3 * i + j]!;
  }
  return m;
}
