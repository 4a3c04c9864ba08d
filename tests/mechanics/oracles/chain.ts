/**
 * clamp -> frame -> tab -> part, all in one set of equations: the rails move, the tabs hang on them, the part is stiff. The slow
 * way to what src/mechanics gets from a frame solved once.
 */
import type { Mm } from '../../../src/base/units.ts';
import type { Vector } from '../../../src/mechanics/cutting/cut.ts';
import { cholesky, congruent, inverse, multiply, solve, times } from '../../../src/mechanics/math/matrix.ts';
import { lowestModes, type Modes } from '../../../src/mechanics/math/modes.ts';
import type { PartMass } from '../../../src/mechanics/plate/condensed-modes.ts';
import { addInto, frameGroups, frameMass, type RailFrame } from '../../../src/mechanics/plate/frame.ts';
import {
  assemble,
  bodyOf,
  type HeldBody,
  type LooseBody,
  type Support,
  toLocal,
} from '../../../src/mechanics/support/supports.ts';

/** Over the free movements only, the mass a diagonal. `place[6 node + i]` is the row of a movement, -1 when clamped. */
export interface FrameMatrices {
  readonly size: number;
  readonly place: Int32Array;
  readonly stiffness: Float64Array;
  readonly mass: Float64Array;
}

/** Assembled with room for `extra` further unknowns at the end (a part hung into the frame). */
export function frameMatrices(frame: RailFrame, extra = 0): FrameMatrices {
  const { place, mass: own } = frameMass(frame);
  const size = own.length + extra;
  const stiffness = new Float64Array(size * size);
  for (const group of frameGroups(frame)) {
    const rows: number[] = [];
    group.place.forEach((row, movement) => {
      if (row >= 0) rows[row] = place[movement]!;
    });
    addInto(stiffness, size, group.stiffness, rows);
  }
  const mass = new Float64Array(size);
  mass.set(own);
  return { size, place, stiffness, mass };
}

export interface HungTab {
  /** Node of the frame at the tab's root. */
  readonly node: number;
  /** Part end and axes of the tab (out from part to frame); `stiffness` from tab.ts, frame standing still. */
  readonly support: Support;
}

export interface HungBody extends HeldBody {
  /** For each tab, load about the origin -> local force and moment of the part on the tab's part end (6x6). */
  readonly recover: readonly Float64Array[];
}

/** `grounded`: further supports that go straight to the ground (a floor, glue). */
export function hangBody(
  frame: RailFrame,
  tabs: readonly HungTab[],
  grounded: readonly Support[],
  origin: Vector,
): HungBody | LooseBody {
  const { size, place, stiffness } = assembleHung(frame, tabs, grounded, origin);
  const body = size - 6;
  const factor = cholesky(stiffness, size);
  if (factor.kind === 'singular') return looseWithStiffFrame(tabs, grounded, origin);
  const compliance = new Float64Array(36);
  const recover = tabs.map(() => new Float64Array(36));
  for (let j = 0; j < 6; j++) {
    const unit = new Float64Array(size);
    unit[body + j] = 1;
    const u = solve(factor, unit);
    for (let i = 0; i < 6; i++) compliance[6 * i + j] = u[body + i]!;
    tabs.forEach((tab, n) => {
      const force = tabForce(frame, tab, origin, u, place, body);
      for (let i = 0; i < 6; i++) recover[n]![6 * i + j] = force[i]!;
    });
  }
  const back = cholesky(compliance, 6);
  if (back.kind === 'singular') return looseWithStiffFrame(tabs, grounded, origin);
  const supports = [...tabs.map((t) => t.support), ...grounded];
  return { kind: 'held', origin, supports, stiffness: inverse(back), compliance, recover };
}

/** Lowest natural frequencies of frame and part together. Without `part` the bare frame. */
export function hungModes(
  frame: RailFrame,
  tabs: readonly HungTab[],
  grounded: readonly Support[],
  part: PartMass,
  count: number,
): Modes {
  const { size, stiffness, mass } = assembleHung(frame, tabs, grounded, part.centre);
  const m = new Float64Array(size * size);
  for (let i = 0; i < size - 6; i++) m[i * size + i] = mass[i]!;
  for (let i = 0; i < 3; i++) {
    m[(size - 6 + i) * (size + 1)] = part.mass;
    for (let j = 0; j < 3; j++) m[(size - 3 + i) * size + size - 3 + j] = part.inertia[3 * i + j]!;
  }
  return lowestModes(stiffness, m, size, count);
}

function assembleHung(frame: RailFrame, tabs: readonly HungTab[], grounded: readonly Support[], origin: Vector) {
  const matrices = frameMatrices(frame, 6);
  const { size, place, stiffness } = matrices;
  const bodyRows = [0, 1, 2, 3, 4, 5].map((i) => size - 6 + i);
  addInto(stiffness, size, assemble(grounded, origin), bodyRows);
  for (const tab of tabs) {
    const rows = [0, 1, 2, 3, 4, 5].map((i) => place[6 * tab.node + i]!);
    addInto(stiffness, size, coupling(frame, tab, origin), [...rows, ...bodyRows]);
  }
  return matrices;
}

/** 12 x 12 of a tab between its node and the body: B^T k B with B = [-carried node motion, body motion]. */
function coupling(frame: RailFrame, tab: HungTab, origin: Vector): Float64Array {
  const node = toLocal(tab.support, frame.nodes[tab.node]!);
  const body = toLocal(tab.support, origin);
  const k = tab.support.stiffness;
  const nn = congruent(k, node, 6);
  const bb = congruent(k, body, 6);
  const nb = multiply(transpose(node), multiply(k, body, 6), 6);
  const out = new Float64Array(144);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      out[12 * i + j] = nn[6 * i + j]!;
      out[12 * (i + 6) + j + 6] = bb[6 * i + j]!;
      out[12 * i + j + 6] = -nb[6 * i + j]!;
      out[12 * (j + 6) + i] = -nb[6 * i + j]!;
    }
  }
  return out;
}

function tabForce(
  frame: RailFrame,
  tab: HungTab,
  origin: Vector,
  u: Float64Array,
  place: Int32Array,
  body: number,
): Float64Array {
  const node = Float64Array.from({ length: 6 }, (_, i) => {
    const row = place[6 * tab.node + i]!;
    return row < 0 ? 0 : u[row]!;
  });
  const there = times(toLocal(tab.support, frame.nodes[tab.node]!), 6, node);
  const here = times(toLocal(tab.support, origin), 6, u.subarray(body, body + 6));
  return times(
    tab.support.stiffness,
    6,
    here.map((v, i) => v - there[i]!),
  );
}

/** The free motions are named as if the frame stood still; a frame that is not clamped at all is loose in every way. */
function looseWithStiffFrame(tabs: readonly HungTab[], grounded: readonly Support[], origin: Vector): LooseBody {
  const body = bodyOf(assemble([...tabs.map((t) => t.support), ...grounded], origin), origin, []);
  if (body.kind === 'loose') return body;
  return {
    kind: 'loose',
    origin,
    free: [0, 1, 2, 3, 4, 5].map((i) => Float64Array.from({ length: 6 }, (_, j) => (i === j ? 1 : 0))),
  };
}

function transpose(a: Float64Array): Float64Array {
  return a.map((_, i) => a[6 * (i % 6) + Math.floor(i / 6)]!);
}

/** The four uncoupled blocks inverted in closed form: pull, twist, in-plane (along, about up), upright (up, about along). */
export function tabStiffness(flexibility: Float64Array): Float64Array {
  const k = new Float64Array(36);
  k[0] = 1 / flexibility[0]!;
  k[21] = 1 / flexibility[21]!;
  for (const [i, j] of [
    [1, 5],
    [2, 4],
  ] as const) {
    const a = flexibility[7 * i]!;
    const b = flexibility[6 * i + j]!;
    const d = flexibility[7 * j]!;
    const det = a * d - b * b;
    k[7 * i] = d / det;
    k[7 * j] = a / det;
    k[6 * i + j] = -b / det;
    k[6 * j + i] = -b / det;
  }
  return k;
}

/**
 * Adds the give of the frame under the tab's root, in series. `frame` is the 6x6 compliance of the root point (s = slot
 * width, local axes and order); the arm from the part's edge to the root is taken care of here. The result is in general
 * full: invert it with matrix.ts.
 */
export function withFrame(flexibility: Float64Array, frame: Float64Array, slotWidth: Mm): Float64Array {
  const out = Float64Array.from(flexibility);
  const arm = armAt(slotWidth);
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j < 6; j++) {
      let sum = 0;
      for (let p = 0; p < 6; p++)
        for (let q = 0; q < 6; q++) sum += arm[6 * p + i]! * frame[6 * p + q]! * arm[6 * q + j]!;
      out[6 * i + j]! += sum;
    }
  }
  return out;
}

/** Force and moment at s for a unit of each at the part's edge: M(s) = M + (-s, 0, 0) x F. */
function armAt(s: Mm): Float64Array {
  const a = new Float64Array(36);
  for (let i = 0; i < 6; i++) a[7 * i] = 1;
  a[6 * 4 + 2] = s;
  a[6 * 5 + 1] = -s;
  return a;
}
