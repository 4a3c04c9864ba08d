/**
 * A small space frame of straight rectangular rails: the sacrificial stock that carries the tabs. Six movements a node
 * [x, y, z, turns], Timoshenko elements (Przemieniecki, Theory of Matrix Structural Analysis, ch. 5), lumped mass.
 */
import { cube } from '../../base/powers.ts';
import type { Mm } from '../../base/units.ts';
import type { Vector } from '../cutting/cut.ts';
import { type ElasticModuli, KAPPA, shearModulus, torsionConstant } from '../support/beam.ts';

export interface Rail {
  /** Indexes into `nodes`. */
  readonly from: number;
  readonly to: number;
  /** Across, in the plane of the plate. */
  readonly width: Mm;
  /** Upright: the plate's thickness, or what is left of it. */
  readonly height: Mm;
  /** mm4; without it, of the rectangle alone with both sides free. */
  readonly torsion?: number;
}

export interface RailFrame {
  readonly nodes: readonly Vector[];
  readonly rails: readonly Rail[];
  /** Indexes of nodes under a clamp: they do not move at all. */
  readonly clamped: readonly number[];
  readonly metal: ElasticModuli;
  /** tonne/mm3 (7.85e-9 for steel), so that N, mm and s fit. */
  readonly density: number;
}

/** Over some of the free movements only. `place[6 node + i]` is the row of a movement, -1 when it is clamped or of another group. */
export interface FrameGroup {
  readonly size: number;
  readonly place: Int32Array;
  readonly stiffness: Float64Array;
}

/**
 * Stiffness in groups of movements that do not act on one another: a level frame moves in its plane [x, y, turn about z] as if it
 * could not bend, and out of it as if it could not stretch. Two half systems cost a quarter of the whole. Any other frame is one group.
 */
export function frameGroups(frame: RailFrame): readonly FrameGroup[] {
  const rails = frame.rails.map((rail) => railStiffness(frame, rail));
  return (isLevel(frame) ? [IN_PLANE, OUT_OF_PLANE] : [ALL_MOVEMENTS]).map((movements) => {
    const place = placesOf(frame, movements);
    const size = freeOf(place);
    const stiffness = new Float64Array(size * size);
    frame.rails.forEach((rail, i) => addInto(stiffness, size, rails[i]!, rowsOf(rail, place)));
    return { size, place, stiffness };
  });
}

const ALL_MOVEMENTS = [0, 1, 2, 3, 4, 5];
const IN_PLANE = [0, 1, 5];
const OUT_OF_PLANE = [2, 3, 4];

function isLevel(frame: RailFrame): boolean {
  return frame.nodes.every((n) => n[2] === frame.nodes[0]![2]);
}

/** What the frame weighs, by row of every free movement: a diagonal. */
export function frameMass(frame: RailFrame): { readonly place: Int32Array; readonly mass: Float64Array } {
  const place = placesOf(frame, ALL_MOVEMENTS);
  const mass = new Float64Array(freeOf(place));
  for (const rail of frame.rails) {
    const lumps = railMass(frame, rail);
    rowsOf(rail, place).forEach((row, i) => {
      if (row >= 0) mass[row]! += lumps[i]!;
    });
  }
  return { place, mass };
}

/** Rows of the twelve movements of a rail's ends. */
function rowsOf(rail: Rail, place: Int32Array): Int32Array {
  const rows = new Int32Array(12);
  for (let i = 0; i < 6; i++) {
    rows[i] = place[6 * rail.from + i]!;
    rows[6 + i] = place[6 * rail.to + i]!;
  }
  return rows;
}

function freeOf(place: Int32Array): number {
  return place.reduce((n, v) => (v >= 0 ? n + 1 : n), 0);
}

/** Adds a small symmetric matrix to the rows and columns named by `rows` (-1: dropped, clamped). */
export function addInto(big: Float64Array, size: number, small: Float64Array, rows: ArrayLike<number>): void {
  const n = rows.length;
  for (let i = 0; i < n; i++) {
    const row = rows[i]! * size;
    if (row < 0) continue;
    for (let j = 0; j < n; j++) if (rows[j]! >= 0) big[row + rows[j]!]! += small[n * i + j]!;
  }
}

function placesOf(frame: RailFrame, movements: readonly number[]): Int32Array {
  const place = new Int32Array(6 * frame.nodes.length).fill(-1);
  const clamped = new Set(frame.clamped);
  let next = 0;
  frame.nodes.forEach((_, node) => {
    if (!clamped.has(node)) for (const i of movements) place[6 * node + i] = next++;
  });
  return place;
}

/** 12 x 12 in global axes, order: six movements of `from`, six of `to`. */
function railStiffness(frame: RailFrame, rail: Rail): Float64Array {
  const { length, axes } = railAxes(frame, rail);
  const local = localStiffness(length, rail, frame.metal);
  const turn = axes.flat();
  const out = new Float64Array(144);
  for (let p = 0; p < 12; p += 3) for (let q = 0; q < 12; q += 3) turnThree(local, turn, 12 * p + q, out);
  return out;
}

/** T^T K T of three rows and columns of a 12 x 12 that begin at `at`, into the same of `out`; T by rows, as `congruent` has it. */
function turnThree(k: Float64Array, turn: readonly number[], at: number, out: Float64Array): void {
  const turned = new Float64Array(9);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let m = 0; m < 3; m++) sum += k[at + 12 * i + m]! * turn[3 * m + j]!;
      turned[3 * i + j] = sum;
    }
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      let sum = 0;
      for (let m = 0; m < 3; m++) sum += turn[3 * m + i]! * turned[3 * m + j]!;
      out[at + 12 * i + j] = sum;
    }
  }
}

/** Local x along the rail, y across in the plane, z upright. */
function localStiffness(length: Mm, rail: Rail, metal: ElasticModuli): Float64Array {
  const { width: b, height: h } = rail;
  const e = metal.modulus;
  const g = shearModulus(metal);
  const area = b * h;
  const k = new Float64Array(144);
  const pair = (i: number, j: number, v: number) => {
    k[13 * i]! += v;
    k[13 * j]! += v;
    k[12 * i + j]! -= v;
    k[12 * j + i]! -= v;
  };
  pair(0, 6, (e * area) / length);
  pair(3, 9, (g * (rail.torsion ?? torsionConstant(b, h))) / length);
  bendInto(k, [1, 5, 7, 11], 1, length, (e * h * cube(b)) / 12, KAPPA * g * area);
  bendInto(k, [2, 4, 8, 10], -1, length, (e * b * cube(h)) / 12, KAPPA * g * area);
  return k;
}

/** Shift and turn at both ends; `sign` is -1 where a positive turn lowers the far end (turns about y). */
function bendInto(k: Float64Array, at: readonly number[], sign: number, length: Mm, ei: number, gas: number): void {
  const phi = (12 * ei) / (gas * length * length);
  const f = ei / (cube(length) * (1 + phi));
  const l = length * sign;
  const small = [
    12,
    6 * l,
    -12,
    6 * l,
    6 * l,
    (4 + phi) * length ** 2,
    -6 * l,
    (2 - phi) * length ** 2,
    -12,
    -6 * l,
    12,
    -6 * l,
    6 * l,
    (2 - phi) * length ** 2,
    -6 * l,
    (4 + phi) * length ** 2,
  ];
  for (let i = 0; i < 4; i++) for (let j = 0; j < 4; j++) k[12 * at[i]! + at[j]!]! += f * small[4 * i + j]!;
}

/** Half the rail at each end; turning inertia of that half about its own middle, the same for all three axes. */
function railMass(frame: RailFrame, rail: Rail): readonly number[] {
  const { length } = railAxes(frame, rail);
  const half = (frame.density * rail.width * rail.height * length) / 2;
  const spin = half * ((length / 2) ** 2 / 12 + (rail.width ** 2 + rail.height ** 2) / 12);
  const end = [half, half, half, spin, spin, spin];
  return [...end, ...end];
}

function railAxes(frame: RailFrame, rail: Rail): { readonly length: Mm; readonly axes: readonly Vector[] } {
  const a = frame.nodes[rail.from]!;
  const b = frame.nodes[rail.to]!;
  const d = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
  const length = Math.hypot(...d);
  if (!(length > 0)) throw new RangeError(`rail between nodes ${rail.from} and ${rail.to} has no length`);
  const x: Vector = [d[0] / length, d[1] / length, d[2] / length];
  const flat = Math.hypot(x[0], x[1]);
  // An upright post has no "in the plane"; its width is taken along X.
  const y: Vector = flat > 1e-9 ? [-x[1] / flat, x[0] / flat, 0] : [1, 0, 0];
  const z: Vector = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]];
  return { length, axes: [x, y, z] };
}
