/**
 * What holds one part at one moment, ready to be asked: how far an edge moves and how near each support is to its limit
 * under any force on the edge. Everything linear; contacts that only push are judged apart (see settle in contact.ts).
 */

import type { Mm, Mm2, Newton, Stress } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import type { EdgeSpot } from '../support/edge-spot.ts';
import type { FloorStrip } from '../support/floor.ts';
import type { RimLimit } from '../support/rim.ts';
import type { TabSection } from './tab-stress.ts';

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
      /** What the force itself does to the film under its place, which a stiff body smooths away. */
      readonly rim: RimLimit;
    };

/** A place of the edge where the cutter can be. Program coordinates. */
/** The part's own give at a spot, beyond that of a stiff body, mm/N. */
export interface OwnGive {
  readonly normal: number;
  readonly up: number;
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

/** Greater of both movements of `movementUnder`, without an object: for searches. One that is no more than `known` comes out as nil. */
export function greaterMovement(
  state: Pick<HeldState, 'origin' | 'compliance'>,
  spot: EdgeSpot,
  z: Mm,
  forces: Float64Array,
  /** Greatest size of each component of the forces. */
  box: Vector,
  ownNormal: number,
  ownUp: number,
  downToo: boolean,
  known: Mm,
): Mm {
  const g = giveAt(state, spot, z);
  const g0 = g[0]!;
  const g1 = g[1]!;
  const g2 = g[2]!;
  const g3 = g[3]!;
  const g4 = g[4]!;
  const g5 = g[5]!;
  const mostNormal = (Math.abs(g0) + ownNormal) * box[0] + Math.abs(g1) * box[1] + Math.abs(g2) * box[2];
  const mostUp = Math.abs(g3) * box[0] + Math.abs(g4) * box[1] + (Math.abs(g5) + ownUp) * box[2];
  if (Math.max(mostNormal, mostUp) * SURELY < known) return 0;
  let most = 0;
  for (let i = 0; i < forces.length; i += 3) {
    const out = forces[i]!;
    const along = forces[i + 1]!;
    const lift = forces[i + 2]!;
    const n = Math.abs(g0 * out + g1 * along + g2 * lift) + ownNormal * Math.abs(out);
    const u = g3 * out + g4 * along + g5 * lift;
    const v = downToo ? Math.abs(u) + ownUp * Math.abs(lift) : u + ownUp * Math.max(0, lift);
    if (n > most) most = n;
    if (v > most) most = v;
  }
  return most;
}

/** Beyond all rounding of a bound. */
const SURELY = 1 + 1e-9;

/** Greatest size of each component over forces [out, along, up]; kept, since the same are asked again and again. */
export function boxOf(forces: Float64Array): Vector {
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

/** Movement of the spot in its normal and upwards for unit forces out, along, up: 6 numbers, good until the next call. */
export function giveAt(state: Pick<HeldState, 'origin' | 'compliance'>, spot: EdgeSpot, z: Mm): Float64Array {
  const { origin, compliance: c } = state;
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
    moved[q] = nx * c[q]! + ny * c[6 + q]! + out3 * c[18 + q]! + out4 * c[24 + q]! + out5 * c[30 + q]!;
    moved[6 + q] = c[12 + q]! + y * c[18 + q]! - x * c[24 + q]!;
  }
  for (let k = 0; k < 2; k++) {
    const m0 = moved[6 * k]!;
    const m1 = moved[6 * k + 1]!;
    const m3 = moved[6 * k + 3]!;
    const m4 = moved[6 * k + 4]!;
    const m5 = moved[6 * k + 5]!;
    give[3 * k] = m0 * nx + m1 * ny + m3 * out3 + m4 * out4 + m5 * out5;
    give[3 * k + 1] = m1 * nx - m0 * ny - m3 * out4 + m4 * out3 + m5 * along5;
    give[3 * k + 2] = moved[6 * k + 2]! + m3 * y - m4 * x;
  }
  return give;
}

const moved = new Float64Array(12);
const give = new Float64Array(6);

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
