/**
 * Force of a milling cutter on the PART, summed over the engaged teeth along a helix.
 *
 * Axes of every vector: [feed, left, up] - the cutter's direction of feed, the left of it seen from above, and away from
 * the table. Rotation angle phi is clockwise from `left`, the spindle turns clockwise (M3), so metal on the left of the
 * feed is cut conventionally (phi from 0) and metal on the right is climb-cut (phi up to pi).
 * Tooth at phi: on the tool Fx = -Ft cos - Fr sin, Fy = Ft sin - Fr cos (Altintas, Manufacturing Automation, ch. 2);
 * on the part the signs are turned round. Axial force lifts the part for a right-hand helix, presses for a left-hand one.
 */
import { cosine } from '../../base/angles.ts';
import type { Newton, Rad } from '../../base/units.ts';
import type { MillingCut, Vector } from './cut.ts';
import { type EdgeForce, edgeForces, type ForceLaw } from './force-law.ts';
import { cutAngles, cutFrame, type ToothSums, toothSums } from './teeth.ts';

export interface ForceSummary {
  /** Largest force in the plane of the table. */
  readonly inPlane: Newton;
  /** Largest sum of tangential forces. */
  readonly tangential: Newton;
  readonly left: { readonly least: Newton; readonly most: Newton };
  /** Largest lift and largest press, both positive. */
  readonly up: Newton;
  readonly down: Newton;
  readonly mean: Vector;
  /** Averaged over a turn: times the edge's speed it is the cutting power. */
  readonly meanTangential: Newton;
}

/** A quarter of a degree. */
const FINE_STEP: Rad = Math.PI / 720;

/**
 * Peaks and means over a turn, the worst of all laws component by component (not one state of the cutter). `step`: between the angles
 * looked at; every entry and exit is looked at as well. The sums over the teeth depend on a law by its power alone, so they are made
 * once for all laws of a power.
 */
export function worstForce(cut: MillingCut, edges: readonly EdgeForce[], step: Rad = FINE_STEP): ForceSummary {
  if (edges.length === 0) throw new RangeError('worstForce needs at least one force law');
  const frame = cutFrame(cut);
  const angles = cutAngles(frame, step);
  const straight = cutFrame({ ...cut, runout: 0 });
  const top = { inPlane: 0, tangential: 0, left: [0, 0], up: [0, 0] };
  let mean: Vector = [0, 0, 0];
  let meanTangential = 0;
  for (const group of byPower(edges)) {
    const { power } = group[0]!;
    for (const theta of angles) {
      const sums = toothSums(frame, power, theta);
      for (const edge of group) {
        const force = edgeForceOn(edge, sums, frame.axialSign);
        top.inPlane = Math.max(top.inPlane, Math.hypot(force[0], force[1]));
        top.tangential = Math.max(top.tangential, edge.tc * sums.p + edge.te * sums.p0);
        widen(top.left, force[1]);
        widen(top.up, force[2]);
      }
    }
    const sums = straight.meanSums(power);
    for (const edge of group) {
      const m = edgeForceOn(edge, sums, straight.axialSign);
      mean = [wider(mean[0], m[0]), wider(mean[1], m[1]), wider(mean[2], m[2])];
      meanTangential = Math.max(meanTangential, edge.tc * sums.p + edge.te * sums.p0);
    }
  }
  return {
    inPlane: top.inPlane,
    tangential: top.tangential,
    left: { least: top.left[0]!, most: top.left[1]! },
    up: top.up[1]!,
    down: Math.abs(top.up[0]!),
    mean,
    meanTangential,
  };
}

/**
 * Force vectors on the part that one tooth's pass can produce under any of the laws, as flat triples [feed, left, up].
 * `count` angles spread over the pass and every entry and exit; the vectors are blown up by 1/cos(step), because
 * between two angles the force moves on an arc (at most twice as fast as the cutter turns: sin^2 = (1 - cos 2phi)/2),
 * so that in every direction the set reaches as far as the true force to 1 % of the largest force (short bumps between two
 * angles), and up to 6 % further.
 */
export function forceCases(cut: MillingCut, laws: readonly ForceLaw[], wear: number, count = 12): Float64Array {
  const frame = cutFrame(cut);
  const edges = edgeForces(laws, wear);
  const step = frame.reach / Math.max(1, count - 1);
  const blow = 1 / cosine(Math.min(step, MOST_STEP));
  const angles = cutAngles(frame, Math.min(step, MOST_STEP));
  const out = new Float64Array(3 * angles.length * edges.length);
  let at = 0;
  for (const edgeGroup of byPower(edges)) {
    for (const theta of angles) {
      const sums = toothSums(frame, edgeGroup[0]!.power, theta);
      for (const edge of edgeGroup) {
        const force = edgeForceOn(edge, sums, frame.axialSign);
        for (let i = 0; i < 3; i++) out[at++] = blow * force[i]!;
      }
    }
  }
  return out;
}

/** 20 degrees: beyond it the blow-up would be more than 6 %, so more angles are taken instead. */
const MOST_STEP = Math.PI / 9;

function byPower(edges: readonly EdgeForce[]): EdgeForce[][] {
  const groups: EdgeForce[][] = [];
  for (const edge of edges) {
    const group = groups.find((g) => g[0]!.power === edge.power);
    if (group) group.push(edge);
    else groups.push([edge]);
  }
  return groups;
}

/** Of one law, from the sums over its teeth. */
export function edgeForceOn(e: EdgeForce, m: ToothSums, axialSign: number): Vector {
  const tCos = e.tc * m.c + e.te * m.c0;
  const tSin = e.tc * m.s + e.te * m.s0;
  const rCos = e.rc * m.c + e.re * m.c0;
  const rSin = e.rc * m.s + e.re * m.s0;
  return [tCos + rSin, rCos - tSin, axialSign * (e.ac * m.p + e.ae * m.p0)];
}

function widen(range: number[], value: number): void {
  range[0] = Math.min(range[0]!, value);
  range[1] = Math.max(range[1]!, value);
}

function wider(a: number, b: number): number {
  return Math.abs(b) > Math.abs(a) ? b : a;
}
