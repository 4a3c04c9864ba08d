/**
 * A stiff part hung by tabs or springs on a frame that gives: the flexibilities of the connectors and of the frame under
 * all of them together, inverted once. A frame solved once serves many layouts.
 */
import type { Vector } from '../cutting/cut.ts';
import { cholesky, solveAll } from '../math/matrix.ts';
import { type Axes, bodyOf, type LooseBody, toLocal } from '../support/supports.ts';
import type { NodeCompliance } from './plate.ts';

/** Between the part and a place of the frame (or the ground). */
export interface Connector {
  /** On the part. */
  readonly at: Vector;
  readonly axes: Axes;
  /** Local movements it resists: 6 for a tab, 3 for a spring. */
  readonly order: 3 | 6;
  /** order x order, part end against a frame that stands still. */
  readonly flexibility: Float64Array;
  /** null: the ground itself. */
  readonly root: Root | null;
}

/** Where the frame carries a connector. */
export interface Root {
  /** Index into the frame's give. */
  readonly index: number;
  /** Motion of the root to that of the part's end, local, 6x6: `toLocal` of the connector about the root. */
  readonly rows: Float64Array;
}

export interface Hung {
  readonly kind: 'held';
  readonly origin: Vector;
  /** Motion of the origin for a load about it, 6x6. */
  readonly compliance: Float64Array;
  /** Per connector: order x 6, load about the origin -> force of the part on the connector, local. */
  readonly recover: readonly Float64Array[];
}

/** Movement of connector a's part end (local) for a unit local force at connector b's, by the frame's give alone. */
export function frameCompliance(compliance: NodeCompliance, a: Connector, b: Connector): Float64Array {
  const out = new Float64Array(a.order * b.order);
  if (a.root === null || b.root === null) return out;
  const block = 36 * (a.root.index * compliance.nodes.length + b.root.index);
  const half = new Float64Array(6 * b.order);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < b.order; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += compliance.blocks[block + 6 * i + k]! * b.root.rows[6 * j + k]!;
      half[i * b.order + j] = sum;
    }
  }
  for (let i = 0; i < a.order; i++) {
    for (let j = 0; j < b.order; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += a.root.rows[6 * i + k]! * half[k * b.order + j]!;
      out[i * b.order + j] = sum;
    }
  }
  return out;
}

/** `pair(i, j)` gives `frameGive` of connectors i and j (kept by whoever asks often). `ground`: stiffness about the origin of what stands on the ground, 6x6. */
export function hang(
  connectors: readonly Connector[],
  pair: (i: number, j: number) => Float64Array,
  ground: Float64Array,
  origin: Vector,
): Hung | LooseBody {
  const starts: number[] = [];
  let size = 0;
  for (const c of connectors) {
    starts.push(size);
    size += c.order;
  }
  const factor = cholesky(totalFlexibility(connectors, pair, starts, size), size);
  if (factor.kind === 'singular') throw new RangeError('a connector without flexibility: a mistake in its maker');
  const motions = new Float64Array(6 * size);
  connectors.forEach((c, n) => {
    motions.set(toLocal(c, origin).subarray(0, 6 * c.order), 6 * starts[n]!);
  });
  // size x 6: local forces for a unit of each motion of the part.
  const force = Float64Array.from(motions);
  solveAll(factor, force, 6);
  const stiffness = Float64Array.from(ground);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let k = 0; k < size; k++) sum += motions[6 * k + i]! * force[6 * k + j]!;
      stiffness[6 * i + j]! += sum;
    }
  }
  symmetrize(stiffness);
  const body = bodyOf(stiffness, origin, []);
  if (body.kind === 'loose') return body;
  const recover = connectors.map((c, n) => {
    return rowsTimes(force.subarray(6 * starts[n]!, 6 * (starts[n]! + c.order)), body.compliance);
  });
  return { kind: 'held', origin, compliance: body.compliance, recover };
}

function totalFlexibility(
  connectors: readonly Connector[],
  pair: (i: number, j: number) => Float64Array,
  starts: readonly number[],
  size: number,
): Float64Array {
  const f = new Float64Array(size * size);
  for (let i = 0; i < connectors.length; i++) {
    const oi = connectors[i]!.order;
    for (let j = 0; j <= i; j++) {
      const oj = connectors[j]!.order;
      const block = pair(i, j);
      for (let p = 0; p < oi; p++) {
        for (let q = 0; q < oj; q++) {
          const v = block[p * oj + q]! + (i === j ? connectors[i]!.flexibility[p * oi + q]! : 0);
          f[(starts[i]! + p) * size + starts[j]! + q] = v;
          f[(starts[j]! + q) * size + starts[i]! + p] = v;
        }
      }
    }
  }
  return f;
}

/** Rows of six numbers times a 6x6. */
export function rowsTimes(
  rows: Float64Array,
  b: Float64Array,
  out: Float64Array = new Float64Array(rows.length),
): Float64Array {
  for (let r = 0; r < rows.length; r += 6) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += rows[r + k]! * b[6 * k + j]!;
      out[r + j] = sum;
    }
  }
  return out;
}

function symmetrize(k: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < i; j++) {
      const mean = (k[6 * i + j]! + k[6 * j + i]!) / 2;
      k[6 * i + j] = mean;
      k[6 * j + i] = mean;
    }
  }
}
