/**
 * A stiff part hung by tabs or springs on a frame that gives: the flexibilities of the connectors and of the frame under
 * all of them together, inverted once. The same mechanics as chain.ts, but a frame solved once serves many layouts.
 */
import type { Vector } from './cut.ts';
import { cholesky, solve } from './matrix.ts';
import type { NodeGive } from './plate.ts';
import { type Axes, assemble, bodyOf, type LooseBody, type Support, toLocal } from './supports.ts';

/** Between the part and a place of the frame (or the ground). */
export interface Connector {
  /** On the part. */
  readonly at: Vector;
  readonly axes: Axes;
  /** Local movements it resists: 6 for a tab, 3 for a spring. */
  readonly order: 3 | 6;
  /** order x order, part end against a frame that stands still. */
  readonly flexibility: Float64Array;
  /** Index into the frame's give; null: the ground itself. */
  readonly root: { readonly index: number; readonly at: Vector } | null;
}

export interface Hung {
  readonly kind: 'held';
  readonly origin: Vector;
  /** Motion of the origin for a load about it, 6x6. */
  readonly compliance: Float64Array;
  /** Per connector: order x 6, load about the origin -> force of the part on the connector, local. */
  readonly recover: readonly Float64Array[];
}

/** Movement of connector i's part end (local) for a unit local force at connector j's, by the frame's give alone. */
export function frameGive(give: NodeGive, a: Connector, b: Connector): Float64Array {
  const out = new Float64Array(a.order * b.order);
  if (a.root === null || b.root === null) return out;
  const ta = rootRows(a, a.root.at);
  const tb = rootRows(b, b.root.at);
  const block = 36 * (a.root.index * give.nodes.length + b.root.index);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < b.order; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += give.blocks[block + 6 * i + k]! * tb[6 * j + k]!;
      half[i * b.order + j] = sum;
    }
  }
  for (let i = 0; i < a.order; i++) {
    for (let j = 0; j < b.order; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += ta[6 * i + k]! * half[k * b.order + j]!;
      out[i * b.order + j] = sum;
    }
  }
  return out;
}

/** Motion of the root to that of the part's end; asked for with every other connector. */
function rootRows(c: Connector, root: Vector): Float64Array {
  let rows = rowsOf.get(c);
  if (rows === undefined) {
    rows = toLocal({ at: c.at, axes: c.axes, stiffness: NONE }, root);
    rowsOf.set(c, rows);
  }
  return rows;
}

const rowsOf = new WeakMap<Connector, Float64Array>();
const half = new Float64Array(36);
const NONE = new Float64Array(36);

/** `pair(i, j)` gives `frameGive` of connectors i and j (kept by whoever asks often). `grounded`: supports on the ground. */
export function hang(
  connectors: readonly Connector[],
  pair: (i: number, j: number) => Float64Array,
  grounded: readonly Support[],
  origin: Vector,
): Hung | LooseBody {
  const starts: number[] = [];
  let size = 0;
  for (const c of connectors) {
    starts.push(size);
    size += c.order;
  }
  const stiffness = onGround(grounded, origin);
  const flexible = totalFlexibility(connectors, pair, starts, size);
  const factor = cholesky(flexible, size);
  if (factor.kind === 'singular') throw new RangeError('a connector without flexibility: a mistake in its maker');
  const b = motionRows(connectors, origin, starts, size);
  const force = forcesForMotion(factor, b, size);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let k = 0; k < size; k++) sum += b[6 * k + i]! * force[6 * k + j]!;
      stiffness[6 * i + j]! += sum;
    }
  }
  symmetrize(stiffness);
  const body = bodyOf(stiffness, origin, []);
  if (body.kind === 'loose') return body;
  const recover = connectors.map((c, n) => product(force, starts[n]!, c.order, body.compliance));
  return { kind: 'held', origin, compliance: body.compliance, recover };
}

/** A face of glue is hundreds of springs, the same under every state of its part. */
function onGround(grounded: readonly Support[], origin: Vector): Float64Array {
  let known = grounds.get(grounded);
  if (known === undefined || known.origin.some((v, i) => v !== origin[i])) {
    known = { origin, stiffness: assemble(grounded, origin) };
    grounds.set(grounded, known);
  }
  return Float64Array.from(known.stiffness);
}

const grounds = new WeakMap<readonly Support[], { readonly origin: Vector; readonly stiffness: Float64Array }>();

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

function motionRows(
  connectors: readonly Connector[],
  origin: Vector,
  starts: readonly number[],
  size: number,
): Float64Array {
  const b = new Float64Array(6 * size);
  connectors.forEach((c, n) => {
    const rows = toLocal({ at: c.at, axes: c.axes, stiffness: NONE }, origin);
    b.set(rows.subarray(0, 6 * c.order), 6 * starts[n]!);
  });
  return b;
}

/** size x 6: local forces for a unit of each motion of the part. */
function forcesForMotion(
  factor: Extract<ReturnType<typeof cholesky>, { kind: 'factor' }>,
  b: Float64Array,
  size: number,
): Float64Array {
  const out = new Float64Array(6 * size);
  const column = new Float64Array(size);
  for (let j = 0; j < 6; j++) {
    for (let k = 0; k < size; k++) column[k] = b[6 * k + j]!;
    const x = solve(factor, column);
    for (let k = 0; k < size; k++) out[6 * k + j] = x[k]!;
  }
  return out;
}

/** Rows [start, start + rows) of `force` times the 6x6 compliance. */
export function product(force: Float64Array, start: number, rows: number, compliance: Float64Array): Float64Array {
  const out = new Float64Array(6 * rows);
  for (let i = 0; i < rows; i++) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let k = 0; k < 6; k++) sum += force[6 * (start + i) + k]! * compliance[6 * k + j]!;
      out[6 * i + j] = sum;
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
