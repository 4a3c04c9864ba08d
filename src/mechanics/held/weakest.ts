/** Which limit of a held part is nearest, over many forces at one place of its edge. */
import type { Stress } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { floorStress } from '../support/floor.ts';
import { bondMargin } from '../support/glue.ts';
import { type RimPush, rimMargin } from '../support/rim.ts';
import { slipMargin } from '../support/screw.ts';
import { type EdgePush, edgeLoad, type HeldState, type SupportLimit, type Workspace } from './held-state.ts';
import { quickTabNormal, quickTabStress, type UnitStress } from './quick-stress.ts';

export interface Weakest {
  /** Limit over load, and what is wanted, where their ratio is least. */
  readonly margin: number;
  readonly wanted: number;
  /** Index into `limits`; -1 when there is none. */
  readonly index: number;
}

/**
 * `unless`: only a ratio of margin to wanted below this is looked for; what is surely above is passed over unasked, and
 * the answer then is Infinity. Most places and cases are.
 */
export function weakestUnder(
  work: Workspace,
  state: HeldState,
  { spot, z, forces }: EdgePush,
  wanted: number,
  unless: number = Number.POSITIVE_INFINITY,
): Weakest {
  let least = unless;
  let margin = Number.POSITIVE_INFINITY;
  let index = -1;
  const { push, unitLoads } = work;
  push.spot = spot;
  push.z = z;
  for (let k = 0; k < 3; k++) {
    push.out = k === 0 ? 1 : 0;
    push.along = k === 1 ? 1 : 0;
    push.up = k === 2 ? 1 : 0;
    edgeLoad(state.origin, push, unitLoads[k]!);
  }
  for (let n = 0; n < state.limits.length; n++) {
    const limit = state.limits[n]!;
    const asked = limit.wanted ?? wanted;
    shareInto(work, limit.recover);
    if (surelyAbove(work, limit, forces.most, least * asked)) continue;
    const found = leastOf(work, limit, forces.triples, asked, least);
    if (found / asked >= least) continue;
    least = found / asked;
    margin = found;
    index = n;
  }
  return { margin, wanted: index < 0 ? wanted : (state.limits[index]!.wanted ?? wanted), index };
}

/** Least margin of a limit under the forces, its `share` of them laid out; Infinity: none is below `least` of what is asked. */
function leastOf(work: Workspace, limit: SupportLimit, triples: Float64Array, asked: number, least: number): number {
  const { share, force, push } = work;
  const unit = limit.kind === 'tab' ? unitOf(limit) : null;
  let found = Number.POSITIVE_INFINITY;
  for (let i = 0; i < triples.length; i += 3) {
    const a = triples[i]!;
    const b = triples[i + 1]!;
    const c = triples[i + 2]!;
    for (let r = 0, k = 0; r < 6; r++, k += 3) force[r] = share[k]! * a + share[k + 1]! * b + share[k + 2]! * c;
    if (limit.kind === 'tab' && stressAtMost(unit!, force) * least * asked <= limit.stress) continue;
    push.out = a;
    push.along = b;
    push.up = c;
    const margin = marginOf(limit, force, push);
    if (margin / asked < least) {
      least = margin / asked;
      found = margin;
    }
  }
  return found;
}

function shareInto({ share, unitLoads: [out, along, up] }: Workspace, recover: Float64Array): void {
  const end = recover.length / 2;
  // The numbers of the unit loads that are not nil: `edgeLoad`.
  for (let i = 0, r = 0; i < end; i += 3, r += 6) {
    const k0 = recover[r]!;
    const k1 = recover[r + 1]!;
    const k3 = recover[r + 3]!;
    const k4 = recover[r + 4]!;
    const k5 = recover[r + 5]!;
    share[i] = k0 * out[0]! + k1 * out[1]! + k3 * out[3]! + k4 * out[4]! + k5 * out[5]!;
    share[i + 1] = k0 * along[0]! + k1 * along[1]! + k3 * along[3]! + k4 * along[4]! + k5 * along[5]!;
    share[i + 2] = recover[r + 2]! + k3 * up[3]! + k4 * up[4]!;
  }
  share.fill(0, end);
}

/** Whether no force in the box can bring the limit below `margin`: every action at its greatest, all of one sign. */
function surelyAbove({ share, force, push }: Workspace, limit: SupportLimit, most: Vector, margin: number): boolean {
  if (margin === Number.POSITIVE_INFINITY) return false;
  if (limit.kind === 'tab') {
    const u = unitOf(limit);
    const stress =
      mostOf(share, 0, most) * u.pull +
      mostOf(share, 1, most) * u.along +
      mostOf(share, 2, most) * u.up +
      mostOf(share, 3, most) * u.twist +
      mostOfBoth(share, 4, 2, u.middle, most) * u.upright +
      mostOfBoth(share, 5, 1, -u.middle, most) * u.flat;
    return stress * margin <= limit.stress;
  }
  if (limit.kind === 'floor') {
    const { thickness: t, span } = limit.strip;
    const bend = (3 * mostOf(share, 2, most) * span) / (t * t);
    const stress = (mostOf(share, 0, most) / t + bend + (Math.sqrt(3) * mostOf(share, 1, most)) / t) / limit.length;
    return stress * margin <= limit.stress;
  }
  // Screws and glue only get nearer their limit with every component.
  for (let r = 0; r < 6; r++) force[r] = mostOf(share, r, most);
  [push.out, push.along, push.up] = most;
  return marginOf(limit, force, push) >= margin;
}

/** Greatest size of local force `r` for the box. */
function mostOf(share: Float64Array, r: number, most: Vector): number {
  const i = 3 * r;
  return Math.abs(share[i]!) * most[0] + Math.abs(share[i + 1]!) * most[1] + Math.abs(share[i + 2]!) * most[2];
}

/** As `mostOf`, of local force `r` and `times` that of `plus` together. */
function mostOfBoth(share: Float64Array, r: number, plus: number, times: number, most: Vector): number {
  let sum = 0;
  for (let j = 0; j < 3; j++) sum += Math.abs(share[3 * r + j]! + times * share[3 * plus + j]!) * most[j]!;
  return sum;
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

function unitOf({ sections, brittle }: Extract<SupportLimit, { kind: 'tab' }>): UnitStress {
  return brittle ? sections.brittle : sections.ductile;
}

/** Times the load that the limit bears. `push`: the force that makes the load, which a bond's rim feels itself. */
export function limitMargin(work: Workspace, limit: SupportLimit, load: Float64Array, push: RimPush): number {
  const { recover } = limit;
  const { force } = work;
  for (let i = 0, r = 0; r < recover.length; i++, r += 6) {
    let sum = 0;
    for (let k = 0; k < 6; k++) sum += recover[r + k]! * load[k]!;
    force[i] = sum;
  }
  return marginOf(limit, force, push);
}

function marginOf(limit: SupportLimit, f: Float64Array, push: RimPush): number {
  switch (limit.kind) {
    case 'tab': {
      const { flat } = limit.sections;
      const stress = limit.brittle ? quickTabNormal(flat, f) : quickTabStress(flat, f);
      return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
    }
    case 'floor': {
      const { length } = limit;
      const stress = floorStress(limit.strip, f[0]! / length, f[1]! / length, f[2]! / length);
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
