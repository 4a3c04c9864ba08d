/**
 * A backing that only pushes: springs under some places, each felt only where the body sinks upon it. From movements per newton alone,
 * by an active set: places that pull are let go, places that sink take hold, until neither is left.
 */
import type { NewtonPerMm } from '../../base/units.ts';
import { cholesky, solve } from '../math/matrix.ts';

export interface BackingRequest {
  /** Rows squared, symmetric: movement of each row for a newton along each. */
  readonly compliance: Float64Array;
  readonly rows: number;
  /** Rows that are the upward movement over a spring, and its stiffness. */
  readonly springs: readonly { readonly row: number; readonly stiffness: NewtonPerMm }[];
  /** Newton along each row. */
  readonly load: ArrayLike<number>;
}

export type Backed =
  | {
      readonly kind: 'backed';
      /** Of each row. */
      readonly movement: Float64Array;
      /** Upwards upon the body, one for each spring; 0 where it stands off. */
      readonly pushes: Float64Array;
    }
  /** The set did not settle: within rounding a place both touches and does not. */
  | { readonly kind: 'unsettled' };

/** A set seldom changes more than some times; each change takes or leaves at least one place. */
const MOST_CHANGES = 60;

export function backed({ compliance, rows, springs, load }: BackingRequest): Backed {
  const free = times(compliance, rows, load);
  let touching = springs.map(({ row }) => free[row]! < 0);
  for (let change = 0; change < MOST_CHANGES; change++) {
    const pushes = pushesOf({ compliance, rows, springs, free, touching });
    const forces = new Float64Array(rows);
    springs.forEach(({ row }, i) => {
      forces[row]! += pushes[i]!;
    });
    const more = times(compliance, rows, forces);
    const movement = free.map((v, i) => v + more[i]!);
    const next = springs.map(({ row }, i) => (touching[i] ? pushes[i]! > 0 : movement[row]! < 0));
    if (next.every((v, i) => v === touching[i])) return { kind: 'backed', movement, pushes };
    touching = next;
  }
  return { kind: 'unsettled' };
}

interface Touching extends Omit<BackingRequest, 'load'> {
  readonly free: Float64Array;
  readonly touching: readonly boolean[];
}

/** (C + 1/k) p = -w over the places that touch. */
function pushesOf({ compliance, rows, springs, free, touching }: Touching): Float64Array {
  const on = springs.flatMap((_, i) => (touching[i] ? [i] : []));
  const out = new Float64Array(springs.length);
  const n = on.length;
  if (n === 0) return out;
  const a = new Float64Array(n * n);
  on.forEach((p, i) => {
    on.forEach((q, j) => {
      a[i * n + j] = compliance[springs[p]!.row * rows + springs[q]!.row]!;
    });
    a[i * n + i]! += 1 / springs[p]!.stiffness;
  });
  const factor = cholesky(a, n);
  if (factor.kind !== 'factor') return out;
  const p = solve(
    factor,
    on.map((i) => -free[springs[i]!.row]!),
  );
  on.forEach((i, k) => {
    out[i] = p[k]!;
  });
  return out;
}

function times(a: Float64Array, n: number, x: ArrayLike<number>): Float64Array {
  const y = new Float64Array(n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) y[i]! += a[i * n + j]! * x[j]!;
  return y;
}
