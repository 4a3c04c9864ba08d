/**
 * What holds one part at one moment, ready to be asked: how far an edge moves and how near each support is to its limit
 * under any force on the edge. Everything linear; contacts that only push are judged apart (see settle in contact.ts).
 */

import type { Mm, Mm2, Newton, Stress } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import type { EdgeSpot } from '../support/edge-spot.ts';
import type { FloorStrip } from '../support/floor.ts';
import type { RimLimit, RimPush } from '../support/rim.ts';
import type { SectionTable } from './quick-stress.ts';

export interface HeldState {
  readonly origin: Vector;
  /** Motion of the origin for a load about it, 6x6. */
  readonly compliance: Float64Array;
  readonly limits: readonly SupportLimit[];
}

/** Something that can give up. `recover`: load about the origin -> local force on it (rows of 6). */
export type SupportLimit = LimitMargin & LimitKind;

interface LimitMargin {
  /** Margin wanted of it; null: that of the pass (metal). */
  readonly wanted: number | null;
}

type LimitKind =
  | {
      readonly kind: 'tab';
      /** Index among the part's tabs; the stub is tab 0. */
      readonly index: number;
      readonly recover: Float64Array;
      readonly sections: SectionTable;
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
      /** What the force itself does to the film under its place, which a stiff body smooths away. */
      readonly rim: RimLimit;
    };

/** The forces of one pass at one place of the edge. Program coordinates. */
export interface EdgePush {
  readonly spot: EdgeSpot;
  readonly z: Mm;
  readonly forces: ForceSet;
}

export interface ForceSet {
  /** Triples [out, along, up] on the part at the edge. */
  readonly triples: Float64Array;
  /** Greatest size of each component. */
  readonly most: Vector;
}

export function forceSet(triples: Float64Array): ForceSet {
  const most: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < triples.length; i++) most[i % 3] = Math.max(most[i % 3]!, Math.abs(triples[i]!));
  return { triples, most };
}

/** Room for the figures of one question after another, made by who asks: millions of questions make no garbage. */
export class Workspace {
  /** Motion of the origin under a unit force in the normal, and under one upwards. */
  readonly motions = new Float64Array(12);
  readonly compliance = new Float64Array(6);
  readonly load = new Float64Array(6);
  readonly unitLoads = [new Float64Array(6), new Float64Array(6), new Float64Array(6)] as const;
  /** 6x3: local force on a limit for a unit force out, along, up. */
  readonly share = new Float64Array(18);
  readonly force = new Float64Array(6);
  readonly push: { -readonly [K in keyof RimPush]: RimPush[K] } = { spot: NOWHERE, z: 0, out: 0, along: 0, up: 0 };
}

const NOWHERE: EdgeSpot = { x: 0, y: 0, nx: 0, ny: 0 };

/** The part's own compliance at a spot, beyond that of a stiff body, mm/N. */
export interface OwnCompliance {
  readonly normal: number;
  readonly up: number;
}

export interface Movement {
  readonly normal: Mm;
  readonly up: Mm;
  readonly ownShare: number;
}

/** `downToo`: nothing lies under the part, so that downward movement counts as well. */
export function movementUnder(
  work: Workspace,
  state: Pick<HeldState, 'origin' | 'compliance'>,
  { spot, z, forces }: EdgePush,
  own: OwnCompliance,
  downToo: boolean,
): Movement {
  const c = edgeCompliance(work, state, spot, z);
  const { triples } = forces;
  let normal = 0;
  let up = 0;
  let ownNormal = 0;
  let ownUp = 0;
  for (let i = 0; i < triples.length; i += 3) {
    const out = triples[i]!;
    const along = triples[i + 1]!;
    const lift = triples[i + 2]!;
    const n = Math.abs(c[0]! * out + c[1]! * along + c[2]! * lift) + own.normal * Math.abs(out);
    const u = c[3]! * out + c[4]! * along + c[5]! * lift;
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

/** Greater of both movements of `movementUnder`, at a place of this compliance: for searches. One that is no more than `known` comes out as nil. */
export function greaterMovement(
  c: Float64Array,
  { triples, most: box }: ForceSet,
  own: OwnCompliance,
  downToo: boolean,
  known: Mm,
): Mm {
  const [c0, c1, c2, c3, c4, c5] = [c[0]!, c[1]!, c[2]!, c[3]!, c[4]!, c[5]!];
  const mostNormal = (Math.abs(c0) + own.normal) * box[0] + Math.abs(c1) * box[1] + Math.abs(c2) * box[2];
  const mostUp = Math.abs(c3) * box[0] + Math.abs(c4) * box[1] + (Math.abs(c5) + own.up) * box[2];
  if (Math.max(mostNormal, mostUp) * SURELY < known) return 0;
  let most = 0;
  for (let i = 0; i < triples.length; i += 3) {
    const out = triples[i]!;
    const along = triples[i + 1]!;
    const lift = triples[i + 2]!;
    const n = Math.abs(c0 * out + c1 * along + c2 * lift) + own.normal * Math.abs(out);
    const u = c3 * out + c4 * along + c5 * lift;
    const v = downToo ? Math.abs(u) + own.up * Math.abs(lift) : u + own.up * Math.max(0, lift);
    if (n > most) most = n;
    if (v > most) most = v;
  }
  return most;
}

/** Beyond all rounding of a bound. */
const SURELY = 1 + 1e-9;

/** Movement of the spot in its normal and upwards for unit forces out, along, up: 6 numbers, good until the next call. */
export function edgeCompliance(
  { motions, compliance }: Workspace,
  { origin, compliance: c }: Pick<HeldState, 'origin' | 'compliance'>,
  spot: EdgeSpot,
  z: Mm,
): Float64Array {
  const { nx, ny } = spot;
  const x = spot.x - origin[0];
  const y = spot.y - origin[1];
  const dz = z - origin[2];
  // Loads about the origin, as `edgeLoad` has them, without the numbers that are nil.
  const out3 = -dz * ny;
  const out4 = dz * nx;
  const out5 = x * ny - y * nx;
  const along5 = x * nx + y * ny;
  for (let q = 0; q < 6; q++) {
    motions[q] = nx * c[q]! + ny * c[6 + q]! + out3 * c[18 + q]! + out4 * c[24 + q]! + out5 * c[30 + q]!;
    motions[6 + q] = c[12 + q]! + y * c[18 + q]! - x * c[24 + q]!;
  }
  for (let k = 0; k < 2; k++) {
    const m0 = motions[6 * k]!;
    const m1 = motions[6 * k + 1]!;
    const m3 = motions[6 * k + 3]!;
    const m4 = motions[6 * k + 4]!;
    const m5 = motions[6 * k + 5]!;
    compliance[3 * k] = m0 * nx + m1 * ny + m3 * out3 + m4 * out4 + m5 * out5;
    compliance[3 * k + 1] = m1 * nx - m0 * ny - m3 * out4 + m4 * out3 + m5 * along5;
    compliance[3 * k + 2] = motions[6 * k + 2]! + m3 * y - m4 * x;
  }
  return compliance;
}

/** Load about the origin of one push, into `load`. */
export function edgeLoad(origin: Vector, { spot, z, out, along, up }: RimPush, load: Float64Array): Float64Array {
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
  return load;
}
