/**
 * Contacts that push but never pull (a backing plate, a jaw, the ground under a clamp), added to two-way supports.
 * Which of them stay closed is the minimum of a convex energy, so it has one answer; Newton steps with an exact line
 * search always reach it.
 */
import type { Newton, NewtonPerMm } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { cholesky, solve, times } from '../math/matrix.ts';
import { assemble, bodyOf, loadAt, type Support } from './supports.ts';

export interface UnilateralContact {
  readonly at: Vector;
  /** Unit vector in which the contact pushes the body. */
  readonly push: Vector;
  readonly stiffness: NewtonPerMm;
  /** Force already there before the load; the contact opens when the body has moved preload/stiffness away. */
  readonly preload?: Newton;
}

export type ContactOutcome =
  | {
      readonly kind: 'settled';
      readonly motion: Float64Array;
      /** Push of each contact in N, preload included; 0 is open. */
      readonly pushes: readonly Newton[];
      readonly rounds: number;
    }
  /** Nothing resists the load once the contacts that would have to pull have opened. */
  | { readonly kind: 'loose'; readonly free: readonly Float64Array[] }
  /** The rounds ran out: not met in tests, kept so that no half answer is taken for one. */
  | { readonly kind: 'unsettled' };

/** `load` about `origin` as in supports.ts. Preloads are in balance among themselves before the load comes. */
export function settle(
  supports: readonly Support[],
  contacts: readonly UnilateralContact[],
  origin: Vector,
  load: ArrayLike<number>,
): ContactOutcome {
  const rows = contacts.map((c) => loadAt(origin, c.at, c.push));
  const base = assemble(supports, origin);
  const problem: Problem6 = {
    base,
    contacts,
    rows,
    load: Float64Array.from(load),
    soft: softening(base, contacts, rows),
  };
  let motion: Float64Array = new Float64Array(6);
  let closed = contacts.map(() => true);
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    const target = minimum(problem, closed, problem.soft);
    if (target === null) return { kind: 'unsettled' };
    const step = target.map((v, i) => v - motion[i]!);
    const share = lineSearch(problem, motion, step);
    motion = motion.map((v, i) => v + share * step[i]!);
    const now = contacts.map((c, i) => pushOf(c, rows[i]!, motion) > 0);
    if (share === 1 && now.every((v, i) => v === closed[i])) return finish(problem, closed, origin, round);
    closed = now;
  }
  return { kind: 'unsettled' };
}

interface Problem6 {
  readonly base: Float64Array;
  readonly contacts: readonly UnilateralContact[];
  readonly rows: readonly Float64Array[];
  readonly load: Float64Array;
  readonly soft: Float64Array;
}

const MOST_ROUNDS = 200;

/**
 * A trace of stiffness in every direction while searching, so that a step exists even when every contact has opened.
 * The last answer is worked out without it.
 */
const SOFT_SHARE = 1e-9;

function finish(problem: Problem6, closed: readonly boolean[], origin: Vector, rounds: number): ContactOutcome {
  const body = bodyOf(stiffnessWith(problem, closed), origin, []);
  if (body.kind === 'loose') return { kind: 'loose', free: body.free };
  const motion = minimum(problem, closed, new Float64Array(6));
  if (motion === null) return { kind: 'loose', free: [] };
  const pushes = problem.contacts.map((c, i) => (closed[i] ? pushOf(c, problem.rows[i]!, motion) : 0));
  return { kind: 'settled', motion, pushes, rounds };
}

/** Preload less stiffness times the way the body has moved off, in the direction of the push. */
function pushOf(c: UnilateralContact, row: Float64Array, motion: Float64Array): Newton {
  return (c.preload ?? 0) - c.stiffness * dot(row, motion);
}

function stiffnessWith(problem: Problem6, closed: readonly boolean[]): Float64Array {
  const k = Float64Array.from(problem.base);
  problem.contacts.forEach((c, n) => {
    if (!closed[n]) return;
    const row = problem.rows[n]!;
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) k[6 * i + j]! += c.stiffness * row[i]! * row[j]!;
  });
  return k;
}

/** Where the body rests if the closed contacts were two-way and the open ones had lost their preload. */
function minimum(problem: Problem6, closed: readonly boolean[], soft: Float64Array): Float64Array | null {
  const k = stiffnessWith(problem, closed);
  for (let i = 0; i < 6; i++) k[7 * i]! += soft[i]!;
  const load = Float64Array.from(problem.load);
  problem.contacts.forEach((c, n) => {
    if (!closed[n]) for (let i = 0; i < 6; i++) load[i]! -= (c.preload ?? 0) * problem.rows[n]![i]!;
  });
  const factor = cholesky(k, 6);
  return factor.kind === 'factor' ? solve(factor, load) : null;
}

/** Share of the step at which the energy along it is least; 1 when the whole step still goes downhill. */
function lineSearch(problem: Problem6, motion: Float64Array, step: Float64Array): number {
  const slope = (share: number) =>
    dot(
      gradient(
        problem,
        motion.map((v, i) => v + share * step[i]!),
      ),
      step,
    );
  const start = slope(0);
  if (slope(1) <= Math.abs(start) * 1e-9) return 1;
  let lo = 0;
  let hi = 1;
  for (let i = 0; i < 60; i++) {
    const mid = (lo + hi) / 2;
    if (slope(mid) > 0) hi = mid;
    else lo = mid;
  }
  return (lo + hi) / 2;
}

function gradient(problem: Problem6, motion: Float64Array): Float64Array {
  const g = times(problem.base, 6, motion);
  for (let i = 0; i < 6; i++) g[i]! += problem.soft[i]! * motion[i]! - problem.load[i]!;
  problem.contacts.forEach((c, n) => {
    const row = problem.rows[n]!;
    const change = Math.max(0, pushOf(c, row, motion)) - (c.preload ?? 0);
    for (let i = 0; i < 6; i++) g[i]! -= change * row[i]!;
  });
  return g;
}

function softening(
  base: Float64Array,
  contacts: readonly UnilateralContact[],
  rows: readonly Float64Array[],
): Float64Array {
  const soft = Float64Array.from({ length: 6 }, (_, i) => base[7 * i]!);
  contacts.forEach((c, n) => {
    for (let i = 0; i < 6; i++) soft[i]! += c.stiffness * rows[n]![i]! ** 2;
  });
  return soft.map((v) => SOFT_SHARE * (v > 0 ? v : 1));
}

function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < 6; i++) sum += a[i]! * b[i]!;
  return sum;
}
