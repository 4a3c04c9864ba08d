/**
 * A stiff part hung by tabs or springs on a frame that gives: the flexibilities of the connectors and of the frame under
 * all of them together, inverted once. A frame solved once serves many layouts.
 */
import type { Vector } from '../cutting/cut.ts';
import { cholesky, solveAll } from '../math/matrix.ts';
import { type Axes, assemble, bodyOf, type LooseBody, type Support, toLocal } from '../support/supports.ts';
import type { NodeGive } from './plate.ts';

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
  turned(give.blocks, block, tb, b.order);
  for (let j = 0; j < b.order; j++) {
    const h3 = half[18 + j]!;
    const h4 = half[24 + j]!;
    const h5 = half[30 + j]!;
    for (let i = 0, r = 0; i < a.order; i++, r += 6) {
      const shifts = i < 3 ? ta[r]! * half[j]! + ta[r + 1]! * half[6 + j]! + ta[r + 2]! * half[12 + j]! : 0;
      out[i * b.order + j] = shifts + ta[r + 3]! * h3 + ta[r + 4]! * h4 + ta[r + 5]! * h5;
    }
  }
  return out;
}

/** The 6x6 at `block` times the first `count` of `rows` turned over, into `half`, 6 numbers a row. Rows of turns begin with three nils (`toLocal`). */
function turned(blocks: Float64Array, block: number, rows: Float64Array, count: number): void {
  for (let j = 0, r = 0; j < count; j++, r += 6) {
    const t0 = rows[r]!;
    const t1 = rows[r + 1]!;
    const t2 = rows[r + 2]!;
    const t3 = rows[r + 3]!;
    const t4 = rows[r + 4]!;
    const t5 = rows[r + 5]!;
    for (let i = 0, at = block; i < 6; i++, at += 6) {
      const shifts = j < 3 ? blocks[at]! * t0 + blocks[at + 1]! * t1 + blocks[at + 2]! * t2 : 0;
      half[6 * i + j] = shifts + blocks[at + 3]! * t3 + blocks[at + 4]! * t4 + blocks[at + 5]! * t5;
    }
  }
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
  const force = forcesForMotion(factor, b);
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
): Float64Array {
  const out = Float64Array.from(b);
  solveAll(factor, out, 6);
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
