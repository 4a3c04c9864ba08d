/** Which limit of a held part is nearest, over many forces at one place of its edge. */
import type { Mm, Stress } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import type { EdgeSpot } from '../support/edge-spot.ts';
import { floorStress } from '../support/floor.ts';
import { bondMargin } from '../support/glue.ts';
import { type RimPush, rimMargin } from '../support/rim.ts';
import { slipMargin } from '../support/screw.ts';
import { boxOf, edgeLoad, type HeldState, type Limit } from './held-state.ts';
import { flatSections, quickTabNormal, quickTabStress } from './quick-stress.ts';
import type { TabSection } from './tab-stress.ts';

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
  let least = unless;
  let margin = Number.POSITIVE_INFINITY;
  let index = -1;
  const most = boxOf(forces);
  push.spot = spot;
  push.z = z;
  edgeLoad(state.origin, spot, z, 1, 0, 0, UNIT_OUT);
  edgeLoad(state.origin, spot, z, 0, 1, 0, UNIT_ALONG);
  edgeLoad(state.origin, spot, z, 0, 0, 1, UNIT_UP);
  for (let n = 0; n < state.limits.length; n++) {
    const limit = state.limits[n]!;
    const asked = limit.wanted ?? wanted;
    shareInto(limit.recover);
    if (surelyAbove(limit, spot, z, most, least * asked)) continue;
    const found = leastOf(limit, forces, asked, least);
    if (found / asked >= least) continue;
    least = found / asked;
    margin = found;
    index = n;
  }
  return { margin, wanted: index < 0 ? wanted : (state.limits[index]!.wanted ?? wanted), index };
}

/** Least margin of a limit under the forces, its `share` of them laid out; Infinity: none is below `least` of what is asked. */
function leastOf(limit: Limit, forces: Float64Array, asked: number, least: number): number {
  const u = limit.kind === 'tab' ? unitOf(limit) : null;
  let found = Number.POSITIVE_INFINITY;
  for (let i = 0; i < forces.length; i += 3) {
    const a = forces[i]!;
    const b = forces[i + 1]!;
    const c = forces[i + 2]!;
    for (let r = 0, k = 0; r < 6; r++, k += 3) force6[r] = share[k]! * a + share[k + 1]! * b + share[k + 2]! * c;
    if (limit.kind === 'tab' && stressAtMost(u!, force6) * least * asked <= limit.stress) continue;
    push.out = a;
    push.along = b;
    push.up = c;
    const margin = marginOf(limit, force6, push);
    if (margin / asked < least) {
      least = margin / asked;
      found = margin;
    }
  }
  return found;
}

/** Filled anew for every force: these run millions of times. */
const push = { spot: { x: 0, y: 0, nx: 0, ny: 0 } as EdgeSpot, z: 0, out: 0, along: 0, up: 0 };

const UNIT_OUT = new Float64Array(6);
const UNIT_ALONG = new Float64Array(6);
const UNIT_UP = new Float64Array(6);

/** 6x3: local force on a limit for a unit force out, along, up. */
const share = new Float64Array(18);

function shareInto(recover: Float64Array): void {
  const rows = recover.length / 6;
  // The numbers of the unit loads that are not nil: `edgeLoad`.
  const out = UNIT_OUT;
  const along = UNIT_ALONG;
  const up = UNIT_UP;
  for (let i = 0, r = 0; i < 3 * rows; i += 3, r += 6) {
    const k0 = recover[r]!;
    const k1 = recover[r + 1]!;
    const k3 = recover[r + 3]!;
    const k4 = recover[r + 4]!;
    const k5 = recover[r + 5]!;
    share[i] = k0 * out[0]! + k1 * out[1]! + k3 * out[3]! + k4 * out[4]! + k5 * out[5]!;
    share[i + 1] = k0 * along[0]! + k1 * along[1]! + k3 * along[3]! + k4 * along[4]! + k5 * along[5]!;
    share[i + 2] = recover[r + 2]! + k3 * up[3]! + k4 * up[4]!;
  }
  for (let i = 3 * rows; i < 18; i++) share[i] = 0;
}

/** Whether no force in the box can bring the limit below `margin`: every action at its greatest, all of one sign. */
function surelyAbove(limit: Limit, spot: EdgeSpot, z: Mm, most: Vector, margin: number): boolean {
  if (margin === Number.POSITIVE_INFINITY) return false;
  if (limit.kind === 'tab') {
    const u = unitOf(limit);
    const stress =
      mostOf(0, most) * u.pull +
      mostOf(1, most) * u.along +
      mostOf(2, most) * u.up +
      mostOf(3, most) * u.twist +
      mostOfBoth(4, 2, u.middle, most) * u.upright +
      mostOfBoth(5, 1, -u.middle, most) * u.flat;
    return stress * margin <= limit.stress;
  }
  if (limit.kind === 'floor') {
    const { thickness: t, span } = limit.strip;
    const bend = (3 * mostOf(2, most) * span) / (t * t);
    const stress = (mostOf(0, most) / t + bend + (Math.sqrt(3) * mostOf(1, most)) / t) / limit.length;
    return stress * margin <= limit.stress;
  }
  // Screws and glue only get nearer their limit with every component.
  for (let r = 0; r < 6; r++) force6[r] = mostOf(r, most);
  return marginOf(limit, force6, { spot, z, out: most[0], along: most[1], up: most[2] }) >= margin;
}

/** Greatest size of local force `r` for the box. */
function mostOf(r: number, most: Vector): number {
  const i = 3 * r;
  return Math.abs(share[i]!) * most[0] + Math.abs(share[i + 1]!) * most[1] + Math.abs(share[i + 2]!) * most[2];
}

/** As `mostOf`, of local force `r` and `times` that of `plus` together. */
function mostOfBoth(r: number, plus: number, times: number, most: Vector): number {
  let sum = 0;
  for (let j = 0; j < 3; j++) sum += Math.abs(share[3 * r + j]! + times * share[3 * plus + j]!) * most[j]!;
  return sum;
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

/** What is asked of a tab's sections over and over. */
interface Laid {
  readonly flat: Float64Array;
  readonly ductile: UnitStress;
  readonly brittle: UnitStress;
}

const laid = new WeakMap<readonly TabSection[], Laid>();
/** The tabs of a layout are alike: the next question is mostly about the same sections. */
let last: { readonly sections: readonly TabSection[]; readonly found: Laid } | null = null;

function laidOf(sections: readonly TabSection[]): Laid {
  if (last !== null && last.sections === sections) return last.found;
  let found = laid.get(sections);
  if (found === undefined) {
    // A pull with shear is von Mises sqrt(s^2 + 3 t^2), its first principal stress at most s + t.
    found = {
      flat: flatSections(sections),
      ductile: unitStress(sections, Math.sqrt(3)),
      brittle: unitStress(sections, 1),
    };
    laid.set(sections, found);
  }
  last = { sections, found };
  return found;
}

function unitOf(limit: Extract<Limit, { kind: 'tab' }>): UnitStress {
  const found = laidOf(limit.sections);
  return limit.brittle ? found.brittle : found.ductile;
}

/** Stress of a unit of each action, moments taken at the middle of the tab, the worst section for each. `ofShear`: what shear counts at most. */
function unitStress(sections: readonly TabSection[], ofShear: number): UnitStress {
  const middle = (sections[0]!.s + sections.at(-1)!.s) / 2;
  const most = (f: (q: TabSection) => number) => sections.reduce((m, q) => Math.max(m, f(q)), 0);
  return {
    middle,
    pull: most((q) => Math.max(q.pull, q.notchedPull)),
    along: most((q) => Math.abs(q.s - middle) * q.flatBend + q.sideShear + ofShear * q.shear),
    up: most((q) => Math.abs(q.s - middle) * q.uprightBend + ofShear * q.shear),
    twist: most((q) => ofShear * q.twist),
    upright: most((q) => q.uprightBend),
    flat: most((q) => q.flatBend),
  };
}

const force6 = new Float64Array(6);

/** Times the load that the limit bears. `push`: the force that makes the load, which a bond's rim feels itself. */
export function limitMargin(limit: Limit, load: Float64Array, push: RimPush): number {
  return marginOf(limit, recovered(limit.recover, load), push);
}

function marginOf(limit: Limit, f: Float64Array, push: RimPush): number {
  switch (limit.kind) {
    case 'tab': {
      const { flat } = laidOf(limit.sections);
      const stress = limit.brittle ? quickTabNormal(flat, f) : quickTabStress(flat, f);
      return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
    }
    case 'floor': {
      const { length } = limit;
      perMm[0] = f[0]! / length;
      perMm[1] = f[1]! / length;
      perMm[2] = f[2]! / length;
      const stress = floorStress(limit.strip, perMm);
      return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
    }
    case 'screw': {
      const turning = (1.5 * Math.abs(f[5]!)) / limit.radius;
      const opening = Math.hypot(f[3]!, f[4]!) / limit.radius;
      return slipMargin(limit.low, limit.friction, Math.hypot(f[0]!, f[1]!) + turning, Math.max(0, f[2]!) + opening);
    }
    case 'bond': {
      const pull = f[2]! / limit.area;
      const shear = Math.hypot(f[0]!, f[1]!) / limit.area;
      return Math.min(bondMargin(shear, pull, limit), rimMargin(limit.rim, push, pull, shear));
    }
  }
}

/** Filled anew each time. */
const perMm: [number, number, number] = [0, 0, 0];

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
