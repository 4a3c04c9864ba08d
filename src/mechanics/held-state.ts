/**
 * What holds one part at one moment, ready to be asked: how far an edge moves and how near each support is to its limit
 * under any force on the edge. Everything linear; contacts that only push are judged apart (see settle in contact.ts).
 */
import type { Mm, Mm2, Newton, Stress } from '../base/units.ts';
import type { Vector } from './cut.ts';
import { type FloorStrip, floorStress } from './floor.ts';
import { bondMargin } from './glue.ts';
import { flatSections, quickTabStress } from './quick-stress.ts';
import { slipMargin } from './screw.ts';
import { type TabSection, tabStress } from './tab-stress.ts';

export interface HeldState {
  readonly origin: Vector;
  /** Motion of the origin for a load about it, 6x6. */
  readonly compliance: Float64Array;
  readonly limits: readonly Limit[];
}

/** Something that can give up. `recover`: load about the origin -> local force on it (rows of 6). */
export type Limit = Wanted & Kind;

interface Wanted {
  /** Margin wanted of it; null: that of the pass (metal). */
  readonly wanted: number | null;
}

type Kind =
  | {
      readonly kind: 'tab';
      /** Index among the part's tabs; the stub is tab 0. */
      readonly index: number;
      readonly recover: Float64Array;
      readonly sections: readonly TabSection[];
      /** Yield, or Rm where the metal breaks without yielding. */
      readonly stress: Stress;
      readonly brittle: boolean;
    }
  | {
      readonly kind: 'floor';
      readonly recover: Float64Array;
      readonly strip: FloorStrip;
      /** Length of edge it stands for. */
      readonly length: Mm;
      readonly stress: Stress;
      readonly brittle: boolean;
    }
  | {
      readonly kind: 'screw';
      readonly recover: Float64Array;
      readonly low: Newton;
      readonly friction: number;
      /** Radius over which the clamped faces touch: moments open or turn the joint over it. */
      readonly radius: Mm;
    }
  | {
      readonly kind: 'bond';
      readonly recover: Float64Array;
      readonly area: Mm2;
      readonly shear: Stress;
      readonly tension: Stress;
      /** Pull at the edge under the force itself, N/mm2 per N of lift, which a stiff body smooths away. */
      readonly peel: number;
    };

/** A place of the edge where the cutter can be. Program coordinates. */
export interface EdgeSpot {
  readonly x: Mm;
  readonly y: Mm;
  /** Outward normal, unit. */
  readonly nx: number;
  readonly ny: number;
}

/** The part's own give at a spot, beyond that of a stiff body, mm/N. */
export interface OwnGive {
  readonly normal: number;
  readonly up: number;
}

export interface Response {
  readonly weakest: Weakest;
  /** Greatest movement of the edge in its normal (either way) and upwards; downwards counts when nothing lies below. */
  readonly normal: Mm;
  readonly up: Mm;
  /** Share of the part's own give in the greater of the two. */
  readonly ownShare: number;
}

/** `forces`: triples [out, along, up] on the part at the spot, height z. `wanted`: margin wanted of metal in this pass. */
export function respond(
  state: HeldState,
  spot: EdgeSpot,
  load: { readonly z: Mm; readonly forces: Float64Array; readonly wanted: number },
  own: OwnGive,
  downToo: boolean,
): Response {
  const moved = movementUnder(state, spot, load.z, load.forces, own, downToo);
  return { ...moved, weakest: weakestUnder(state, spot, load.z, load.forces, load.wanted) };
}

export interface Movement {
  readonly normal: Mm;
  readonly up: Mm;
  readonly ownShare: number;
}

export function movementUnder(
  state: Pick<HeldState, 'origin' | 'compliance'>,
  spot: EdgeSpot,
  z: Mm,
  forces: Float64Array,
  own: OwnGive,
  downToo: boolean,
): Movement {
  const g = giveAt(state, spot, z);
  let normal = 0;
  let up = 0;
  let ownNormal = 0;
  let ownUp = 0;
  for (let i = 0; i < forces.length; i += 3) {
    const out = forces[i]!;
    const along = forces[i + 1]!;
    const lift = forces[i + 2]!;
    const n = Math.abs(g[0]! * out + g[1]! * along + g[2]! * lift) + own.normal * Math.abs(out);
    const u = g[3]! * out + g[4]! * along + g[5]! * lift;
    const v = (downToo ? Math.abs(u) : u) + own.up * (downToo ? Math.abs(lift) : Math.max(0, lift));
    if (n > normal) {
      normal = n;
      ownNormal = own.normal * Math.abs(out);
    }
    if (v > up) {
      up = v;
      ownUp = own.up * Math.abs(lift);
    }
  }
  const ownShare = normal > up ? ownNormal / normal : up > 0 ? ownUp / up : 0;
  return { normal, up, ownShare };
}

/** Movement of the spot in its normal and upwards for unit forces out, along, up: 6 numbers, good until the next call. */
export function giveAt(state: Pick<HeldState, 'origin' | 'compliance'>, spot: EdgeSpot, z: Mm): Float64Array {
  const { origin, compliance: c } = state;
  edgeLoad(origin, spot, z, 1, 0, 0, UNIT_OUT);
  edgeLoad(origin, spot, z, 0, 1, 0, UNIT_ALONG);
  edgeLoad(origin, spot, z, 0, 0, 1, UNIT_UP);
  for (let k = 0; k < 2; k++) {
    const a = k === 0 ? UNIT_OUT : UNIT_UP;
    let out = 0;
    let along = 0;
    let up = 0;
    for (let q = 0; q < 6; q++) {
      let sum = 0;
      for (let p = 0; p < 6; p++) sum += a[p]! * c[6 * p + q]!;
      out += sum * UNIT_OUT[q]!;
      along += sum * UNIT_ALONG[q]!;
      up += sum * UNIT_UP[q]!;
    }
    give[3 * k] = out;
    give[3 * k + 1] = along;
    give[3 * k + 2] = up;
  }
  return give;
}

const give = new Float64Array(6);
const UNIT_OUT = new Float64Array(6);
const UNIT_ALONG = new Float64Array(6);
const UNIT_UP = new Float64Array(6);

export interface Weakest {
  /** Limit over load, and what is wanted, where their ratio is least. */
  readonly margin: number;
  readonly wanted: number;
  /** Index into `limits`; -1 when there is none. */
  readonly index: number;
}

/**
 * `unless`: only a ratio of margin to wanted below this is looked for; what is surely above is passed over unreckoned, and
 * the answer then is Infinity. Most places and cases are.
 */
export function weakestUnder(
  state: HeldState,
  spot: EdgeSpot,
  z: Mm,
  forces: Float64Array,
  wanted: number,
  unless: number = Number.POSITIVE_INFINITY,
): Weakest {
  let worst: Weakest = { margin: Number.POSITIVE_INFINITY, wanted, index: -1 };
  let least = unless;
  const most = boxOf(forces);
  edgeLoad(state.origin, spot, z, 1, 0, 0, UNIT_OUT);
  edgeLoad(state.origin, spot, z, 0, 1, 0, UNIT_ALONG);
  edgeLoad(state.origin, spot, z, 0, 0, 1, UNIT_UP);
  for (let n = 0; n < state.limits.length; n++) {
    const limit = state.limits[n]!;
    const asked = limit.wanted ?? wanted;
    shareInto(limit.recover);
    if (surelyAbove(limit, most, least * asked)) continue;
    const u = limit.kind === 'tab' ? unitStress(limit.sections) : null;
    for (let i = 0; i < forces.length; i += 3) {
      const a = forces[i]!;
      const b = forces[i + 1]!;
      const c = forces[i + 2]!;
      for (let r = 0; r < 6; r++) force6[r] = share[3 * r]! * a + share[3 * r + 1]! * b + share[3 * r + 2]! * c;
      if (u !== null && limit.kind === 'tab' && stressAtMost(u, force6) * least * asked <= limit.stress) continue;
      const margin = marginOf(limit, force6, c);
      if (margin / asked < least) {
        least = margin / asked;
        worst = { margin, wanted: asked, index: n };
      }
    }
  }
  return worst;
}

const flats = new WeakMap<readonly TabSection[], Float64Array>();

function flatOf(sections: readonly TabSection[]): Float64Array {
  let found = flats.get(sections);
  if (found === undefined) {
    found = flatSections(sections);
    flats.set(sections, found);
  }
  return found;
}

/** 6x3: local force on a limit for a unit force out, along, up. */
const share = new Float64Array(18);

function shareInto(recover: Float64Array): void {
  const rows = recover.length / 6;
  for (let i = 0; i < rows; i++) {
    let a = 0;
    let b = 0;
    let c = 0;
    for (let j = 0; j < 6; j++) {
      const k = recover[6 * i + j]!;
      a += k * UNIT_OUT[j]!;
      b += k * UNIT_ALONG[j]!;
      c += k * UNIT_UP[j]!;
    }
    share[3 * i] = a;
    share[3 * i + 1] = b;
    share[3 * i + 2] = c;
  }
  for (let i = 3 * rows; i < 18; i++) share[i] = 0;
}

/** Greatest size of each component over the cases. */
function boxOf(forces: Float64Array): Vector {
  let box = boxes.get(forces);
  if (box === undefined) {
    const most = [0, 0, 0];
    for (let i = 0; i < forces.length; i++) most[i % 3] = Math.max(most[i % 3]!, Math.abs(forces[i]!));
    box = [most[0]!, most[1]!, most[2]!];
    boxes.set(forces, box);
  }
  return box;
}

const boxes = new WeakMap<Float64Array, Vector>();

/** Whether no force in the box can bring the limit below `margin`: every action at its greatest, all of one sign. */
function surelyAbove(limit: Limit, most: Vector, margin: number): boolean {
  if (margin === Number.POSITIVE_INFINITY) return false;
  const row = (r: number, plus = -1, times = 0) => {
    let sum = 0;
    for (let j = 0; j < 3; j++)
      sum += Math.abs(share[3 * r + j]! + (plus < 0 ? 0 : times * share[3 * plus + j]!)) * most[j]!;
    return sum;
  };
  if (limit.kind === 'tab') {
    const u = unitStress(limit.sections);
    const stress =
      row(0) * u.pull +
      row(1) * u.along +
      row(2) * u.up +
      row(3) * u.twist +
      row(4, 2, u.middle) * u.upright +
      row(5, 1, -u.middle) * u.flat;
    return stress * margin <= limit.stress;
  }
  if (limit.kind === 'floor') {
    const { thickness: t, span } = limit.strip;
    const stress = (row(0) / t + (3 * row(2) * span) / (t * t) + (Math.sqrt(3) * row(1)) / t) / limit.length;
    return stress * margin <= limit.stress;
  }
  return false;
}

interface UnitStress {
  readonly middle: Mm;
  readonly pull: number;
  readonly along: number;
  readonly up: number;
  readonly twist: number;
  readonly upright: number;
  readonly flat: number;
}

/** No section has more for this force: an infinite product (nothing known yet) is not a number and never passes. */
function stressAtMost(u: UnitStress, f: Float64Array): Stress {
  return (
    Math.abs(f[0]!) * u.pull +
    Math.abs(f[1]!) * u.along +
    Math.abs(f[2]!) * u.up +
    Math.abs(f[3]!) * u.twist +
    Math.abs(f[4]! + u.middle * f[2]!) * u.upright +
    Math.abs(f[5]! - u.middle * f[1]!) * u.flat
  );
}

const units = new WeakMap<readonly TabSection[], UnitStress>();

/** Stress of a unit of each action, moments taken at the middle of the tab, the worst section for each. */
function unitStress(sections: readonly TabSection[]): UnitStress {
  let found = units.get(sections);
  if (found === undefined) {
    const middle = (sections[0]!.s + sections.at(-1)!.s) / 2;
    const most = (f: (q: TabSection) => number) => sections.reduce((m, q) => Math.max(m, f(q)), 0);
    const root3 = Math.sqrt(3);
    found = {
      middle,
      pull: most((q) => Math.max(q.pull, q.notchedPull)),
      along: most((q) => Math.abs(q.s - middle) * q.flatBend + q.sideShear + root3 * q.shear),
      up: most((q) => Math.abs(q.s - middle) * q.uprightBend + root3 * q.shear),
      twist: most((q) => root3 * q.twist),
      upright: most((q) => q.uprightBend),
      flat: most((q) => q.flatBend),
    };
    units.set(sections, found);
  }
  return found;
}

/** Load about the origin of a force [out, along, up] at a spot, into `load`. */
export function edgeLoad(
  origin: Vector,
  spot: EdgeSpot,
  z: Mm,
  out: Newton,
  along: Newton,
  up: Newton,
  load: Float64Array,
): void {
  const fx = out * spot.nx - along * spot.ny;
  const fy = out * spot.ny + along * spot.nx;
  const x = spot.x - origin[0];
  const y = spot.y - origin[1];
  const dz = z - origin[2];
  load[0] = fx;
  load[1] = fy;
  load[2] = up;
  load[3] = y * up - dz * fy;
  load[4] = dz * fx - x * up;
  load[5] = x * fy - y * fx;
}

const force6 = new Float64Array(6);

/** Times the load that the limit bears. `lift`: the force itself, for peel under it. */
export function limitMargin(limit: Limit, load: Float64Array, lift: Newton): number {
  return marginOf(limit, recovered(limit.recover, load), lift);
}

function marginOf(limit: Limit, f: Float64Array, lift: Newton): number {
  switch (limit.kind) {
    case 'tab': {
      const stress = limit.brittle ? tabStress(limit.sections, f).normal : quickTabStress(flatOf(limit.sections), f);
      return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
    }
    case 'floor': {
      const { length } = limit;
      const stress = floorStress(limit.strip, [f[0]! / length, f[1]! / length, f[2]! / length]);
      return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
    }
    case 'screw': {
      const turning = (1.5 * Math.abs(f[5]!)) / limit.radius;
      const opening = Math.hypot(f[3]!, f[4]!) / limit.radius;
      return slipMargin(limit.low, limit.friction, Math.hypot(f[0]!, f[1]!) + turning, Math.max(0, f[2]!) + opening);
    }
    case 'bond': {
      const pull = f[2]! / limit.area + limit.peel * Math.max(0, lift);
      return bondMargin(Math.hypot(f[0]!, f[1]!) / limit.area, pull, limit);
    }
  }
}

function recovered(recover: Float64Array, load: Float64Array): Float64Array {
  const rows = recover.length / 6;
  for (let i = 0; i < rows; i++) {
    const r = 6 * i;
    force6[i] =
      recover[r]! * load[0]! +
      recover[r + 1]! * load[1]! +
      recover[r + 2]! * load[2]! +
      recover[r + 3]! * load[3]! +
      recover[r + 4]! * load[4]! +
      recover[r + 5]! * load[5]!;
  }
  return force6;
}

/**
 * The force vectors (triples) that reach furthest in some direction: the others never decide a linear answer. Directions
 * are spread over the sphere `step` radians apart; what is lost between them is under 1 - cos(step/sqrt 2) (1.5 % at pi/8).
 */
export function furthest(forces: Float64Array, step: number = Math.PI / 8): Float64Array {
  const kept = new Set<number>();
  for (const [x, y, z] of sphere(step)) {
    let best = -1;
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < forces.length; i += 3) {
      const d = x * forces[i]! + y * forces[i + 1]! + z * forces[i + 2]!;
      if (d > most) {
        most = d;
        best = i;
      }
    }
    if (best >= 0) kept.add(best);
  }
  return Float64Array.from(
    [...kept].sort((a, b) => a - b).flatMap((i) => [forces[i]!, forces[i + 1]!, forces[i + 2]!]),
  );
}

function sphere(step: number): readonly Vector[] {
  let found = spheres.get(step);
  if (found === undefined) {
    const out: Vector[] = [];
    const rings = Math.round(Math.PI / 2 / step);
    for (let i = -rings; i <= rings; i++) {
      const up = (i * Math.PI) / 2 / rings;
      const count = Math.max(1, Math.round((2 * Math.PI * Math.cos(up)) / step));
      for (let k = 0; k < count; k++) {
        const turn = (2 * Math.PI * k) / count;
        out.push([Math.cos(up) * Math.cos(turn), Math.cos(up) * Math.sin(turn), Math.sin(up)]);
      }
    }
    found = out;
    spheres.set(step, found);
  }
  return found;
}

const spheres = new Map<number, readonly Vector[]>();
