/**
 * Floor and screws against lifting, tipping and turning: what can be proven from the job is proven, with the figure; what cannot is listed
 * with the figure that was missed. No fault follows from these: their models leave out more than those of tabs. Glue: `glue.ts`.
 */
import type { Mm, Newton } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import { FRICTION } from '../../trade/holding-rules.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { HAND_TORQUE, PRELOAD_REUSED, proofLoad, TORQUE_COEFFICIENTS } from '../../trade/threads/screws.ts';
import { findThread } from '../../trade/threads/threads.ts';
import { eventsOf } from '../program/events.ts';
import type { Findings } from '../report/findings.ts';
import type { MeasuredTab } from '../tabs/tabs.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { carried, groundOf, type Tie } from './collapse.ts';
import { barOf, metalOf } from './grip.ts';
import type { Force, Loads } from './load.ts';
import { forcesOn, hullOf, profileBelow, pushOf } from './pushes.ts';
import { barTie, type Metal } from './ties.ts';

/** Shear over tension (von Mises). */
const SHEAR = 0.577;

interface FloorBond {
  readonly metal: Metal;
  readonly thickness: Mm;
  /** Times the force. */
  readonly wanted: number;
}

/** Bending of the floor as a strip over the slot, and its shear; that it would stretch before it tears is left out. */
export function proveFloor(
  work: CheckedSetUp,
  { metal, thickness, wanted }: FloorBond,
  loads: Loads,
  out: Findings,
): void {
  const low = work.job.stock.min[2] + thickness + ALMOST_THROUGH;
  const margins = work.wanted.parts.map((part) => {
    const slot = 2 * profileBelow(work, part, low).radius;
    const fold = (metal.stress * thickness * thickness) / ((metal.brittle ? 3 : 2) * slot);
    const along = SHEAR * metal.stress * thickness;
    return leastMargin(work, part, edgeTies(part, Math.min(fold, along), along), low, loads);
  });
  state('the floor bears', Math.min(...margins), wanted, 'as it folds, with nothing for how far it would stretch', out);
}

/** Metal over a floor that is not counted on any more when a pass comes so near to it. */
const ALMOST_THROUGH: Mm = 1;

function edgeTies(part: WantedPart, up: number, along: number): Tie[] {
  const points = hullOf(part);
  return points.map((at, i) => {
    const next = points[(i + 1) % points.length]!;
    const length = Math.hypot(next.x - at.x, next.y - at.y);
    return { at, out: NO_AXIS, tip: (rise) => up * length * Math.abs(rise), side: along * length, turn: 0 };
  });
}

const NO_AXIS: Point = { x: 1, y: 0 };

function leastMargin(work: CheckedSetUp, part: WantedPart, ties: readonly Tie[], low: Mm, loads: Loads): number {
  const ground = groundOf(hullOf(part), ties);
  const forces = forcesOn(part, loads, (s) => s.low < low);
  return least(forces, (f) => carried(ground, pushOf(f, work.wanted.thickness)));
}

/** Infinity where nothing pushes. */
function least(forces: Iterable<Force>, margin: (f: Force) => number): number {
  let found = Infinity;
  for (const f of forces) found = Math.min(found, margin(f));
  return found;
}

/** Wanted on slip (design, section 5). */
const SLIP = 2;

/** Friction under screws as tight as a short key makes them, by the worst torque coefficient, and what tabs there are beside them. */
export function proveScrews(work: CheckedSetUp, tabs: readonly MeasuredTab[], loads: Loads, out: Findings): void {
  const thread = work.programs[0]?.head.hold?.thread ?? (work.job.hold.by === 'screws' ? work.job.hold.thread : null);
  const row = thread === null ? null : findThread(thread);
  const material = findMaterial(work.job.material);
  const metal = metalOf(work);
  const fitted = eventsOf(work).filter((e) => e.event.kind === 'screws');
  if (row?.kind !== 'found' || material.kind === 'unknown' || metal === null || fitted.length === 0) {
    out.doubt('strength of what holds', 'neither job nor head says which screws are fitted, and when');
    return;
  }
  const { high, low } = { low: TORQUE_COEFFICIENTS.dry.value, high: TORQUE_COEFFICIENTS.dry.spread.high };
  const each = (HAND_TORQUE.value * PRELOAD_REUSED.value * proofLoad(row.value, '8.8').value * low) / high;
  const friction = FRICTION.smooth.machined.value * material.value.frictionFactor.value;
  const holes = new Set(fitted.flatMap((e) => (e.event.kind === 'screws' ? e.event.holes : [])));
  const from = fitted[0]!.stroke;
  const margins = work.wanted.parts.map((part) => {
    const ties = part.holes
      .filter((h) => holes.has(h.hole.index))
      .map((h) => screwTie(h.at, each, friction * each, row.value.major / 2));
    const ground = groundOf(hullOf(part), [...ties, ...tabTies(work, part, tabs, metal)]);
    const forces = forcesOn(part, loads, (s) => s.index >= from);
    return least(forces, (f) => carried(ground, pushOf(f, work.wanted.thickness)));
  });
  const tight = `if each is tightened by hand to ${each.toFixed(0)} N at the worst coefficient of torque`;
  const bears = tabs.length > 0 ? 'screws and tabs together bear' : 'the screws bear';
  state(bears, Math.min(...margins), SLIP, tight, out);
}

/** As low as they are left: before that they bear more. */
function tabTies(work: CheckedSetUp, part: WantedPart, tabs: readonly MeasuredTab[], metal: Metal): Tie[] {
  const mine = tabs.filter((t) => t.tab.part === part.index);
  if (mine.length === 0) return [];
  const radius = profileBelow(work, part, Math.max(...mine.map((t) => t.height)) - work.wanted.thickness).radius;
  return mine.map((t) => barTie(barOf(t, t.height, radius, Infinity), metal));
}

function screwTie(at: Point, up: Newton, side: Newton, radius: Mm): Tie {
  return { at, out: NO_AXIS, tip: (rise) => up * Math.abs(rise), side, turn: side * radius };
}

export function state(bears: string, margin: number, wanted: number, how: string, out: Findings): void {
  const times = margin < 100 ? margin.toFixed(1) : 'over 100';
  const words = `${bears} ${times} times the push of a blunt cutter and its upward pull, tipping and turning included`;
  if (margin >= wanted) out.prove('strength of what holds', null, 'unsafe', `${words}, ${how}`);
  else out.doubt('strength of what holds', `${words}, and ${wanted} times is wanted, ${how}`);
}
