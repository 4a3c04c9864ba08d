/** The lifts of a profile path over its tabs. */

import { tangent } from '../../base/angles.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import { add, dist, fromAngle, rot90, scale } from '../../geometry/measure/point.ts';
import { type ChordRun, chordRun } from '../../geometry/offset/run.ts';
import type { Loop } from '../../geometry/types.ts';
import type { Tab } from '../../hold/holding.ts';
import { higherOf, type Knot, type Slope } from '../along/slope.ts';

/** One lift: over [from, to] of the path the cutter's end stays at `top`; ramps reach `up` before and `down` after. */
export interface Lift {
  readonly from: Mm;
  readonly to: Mm;
  readonly top: Mm;
  readonly up: Mm;
  readonly down: Mm;
}

export interface LiftShape {
  readonly diameter: Mm;
  readonly bottom: Mm;
  readonly thickness: Mm;
  readonly upDeg: number;
  readonly downDeg: number;
  /** Stock that the pass leaves on the edge. */
  readonly leaves: Mm;
}

export type LiftOutcome =
  | { readonly kind: 'lifts'; readonly lifts: readonly Lift[] }
  | { readonly kind: 'no room'; readonly tab: Tab };

/** `offset`: distance from the part's edge to the path. `height`: of each tab, above the lower face. */
export function liftsOn(
  path: Loop,
  offset: Mm,
  tabs: readonly Tab[],
  height: (t: Tab) => Mm,
  shape: LiftShape,
): LiftOutcome {
  const lifts: Lift[] = [];
  for (const tab of tabs) {
    const near = add(tab.at, scale(fromAngle(toRad(tab.directionDeg)), offset));
    const place = positionOf(path, near);
    const run = place ? runOver(path, place.s, tab, offset, shape) : { kind: 'too wide' as const };
    if (run.kind === 'too wide') return { kind: 'no room', tab };
    const top = -shape.thickness + height(tab);
    const rise = Math.max(0, top - shape.bottom);
    lifts.push({
      from: run.from,
      to: run.to,
      top,
      up: rise / tangent(toRad(shape.upDeg)),
      down: rise / tangent(toRad(shape.downDeg)),
    });
  }
  return { kind: 'lifts', lifts };
}

/**
 * Passes further out turn a corner in a longer way, so about a corner their ends do not lie behind those of the last pass, and one pass's
 * end might come nearer to the other end of another pass than the tab is wide: each end keeps its distance from where the last pass ends
 * on the other side.
 */
function runOver(path: Loop, s: Mm, tab: Tab, offset: Mm, { diameter, leaves }: LiftShape): ChordRun {
  const chord = tab.width + diameter;
  const run = chordRun(path, s, chord);
  if (run.kind === 'too wide' || leaves <= 0) return run;
  if (pointAlong(path, run.from)?.index === pointAlong(path, run.to)?.index) return run;
  const out = fromAngle(toRad(tab.directionDeg));
  const middle = add(tab.at, scale(out, offset - leaves));
  const ends = [-1, 1].map((side) => add(middle, scale(rot90(out), (side * chord) / 2)));
  const clear = (from: Mm, sense: 1 | -1): Mm | undefined => {
    const start = pointAlong(path, from)!.point;
    const other = dist(ends[0]!, start) > dist(ends[1]!, start) ? ends[0]! : ends[1]!;
    for (let u = 0; u < chord; u += STEP) {
      if (dist(pointAlong(path, from + sense * u)!.point, other) >= chord + SPARE) return from + sense * u;
    }
    return undefined;
  };
  const from = clear(run.from, -1);
  const to = clear(run.to, 1);
  return from === undefined || to === undefined ? { kind: 'too wide' } : { kind: 'run', from, to };
}

/** The last pass's ends are taken beside the tab as if its edge went on straight; about an outside corner they lie a little nearer (mm). */
const SPARE: Mm = 0.05;
/** In which an end is moved on (mm). */
const STEP: Mm = 0.01;

/** Heights the lifts ask for over [0, length] of a path travelled round and round; elsewhere `bottom`. */
export function liftSlope(lifts: readonly Lift[], period: Mm, length: Mm, start: Mm, bottom: Mm): Slope {
  let slope: Slope = [{ s: 0, z: bottom }];
  const turns = Math.ceil(length / period) + 1;
  for (let turn = -1; turn <= turns; turn++) {
    for (const lift of lifts) {
      const shift = turn * period - start;
      const knots: Knot[] = [
        { s: lift.from - lift.up + shift, z: bottom },
        { s: lift.from + shift, z: lift.top },
        { s: lift.to + shift, z: lift.top },
        { s: lift.to + lift.down + shift, z: bottom },
      ];
      if (knots[3]!.s < 0 || knots[0]!.s > length) continue;
      slope = higherOf(slope, knots, Math.min(0, knots[0]!.s), Math.max(length, knots[3]!.s));
    }
  }
  return slope;
}

/** A free stretch between lifts, ramps left out. */
export interface FreeStretch {
  readonly from: Mm;
  readonly to: Mm;
}

/** The stretches of the loop clear of every lift, longest first; the whole loop when there is none. */
export function gapsBetween(path: Loop, lifts: readonly Lift[]): readonly FreeStretch[] {
  const period = loopLength(path);
  if (lifts.length === 0) return [{ from: 0, to: period }];
  const spans = lifts
    .map((l) => {
      const from = (((l.from - l.up) % period) + period) % period;
      return { from, to: from + (l.to - l.from) + l.up + l.down };
    })
    .sort((a, b) => a.from - b.from);
  const gaps: FreeStretch[] = [];
  let end = spans[0]!.to;
  for (const span of [...spans.slice(1), { from: spans[0]!.from + period, to: 0 }]) {
    if (span.from > end) gaps.push({ from: end, to: span.from });
    end = Math.max(end, span.to);
  }
  return gaps.sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from);
}
