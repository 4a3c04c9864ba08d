/** What each canned cycle does at one hole, after the cutter stands over it at the retract level (report, 3.5.16.1 to 3.5.16.9). */

import type { CycleHole, CycleStep } from '../canonical.ts';
import { emitDwell, emitEvent, emitStraight, type Interpreter } from './machine.ts';
import type { PlaneAxes } from './planes.ts';

export interface CycleSite {
  readonly tag: CycleHole;
  readonly axes: PlaneAxes;
  /** Place in the plane, absolute, by the axes' order. */
  u: number;
  v: number;
  readonly retract: number;
  readonly depth: number;
  readonly clear: number;
  readonly dwell: number;
  readonly peck: number;
  pecks: number;
  /** G87: level that is bored up to, and the sideways step. */
  readonly back: number;
  readonly du: number;
  readonly dv: number;
}

/** How far above the last depth the rapid of G83 ends. Not in the report: 0.010 inch, reference interpreter. */
export const PECK_BACK_OFF_MM = 0.254;

export function cuttingSequence(m: Interpreter, h: CycleSite): void {
  switch (h.tag.code) {
    case 81:
      feedDown(m, h);
      return goNormal(m, h, 'retract', h.clear);
    case 82:
      feedDown(m, h);
      dwell(m, h);
      return goNormal(m, h, 'retract', h.clear);
    case 83:
      return pecks(m, h);
    case 84:
      return tap(m, h);
    case 85:
      feedDown(m, h);
      return goNormal(m, h, 'feed-out', h.clear, rate(m));
    case 86:
      feedDown(m, h);
      dwell(m, h);
      turning(m, false);
      goNormal(m, h, 'retract', h.clear);
      return turning(m, true);
    case 87:
      return backBore(m, h);
    case 88:
      return handBore(m, h);
    default:
      feedDown(m, h);
      dwell(m, h);
      return goNormal(m, h, 'feed-out', h.clear, rate(m));
  }
}

function feedDown(m: Interpreter, h: CycleSite): void {
  goNormal(m, h, 'feed', h.depth, rate(m));
}

function dwell(m: Interpreter, h: CycleSite): void {
  if (h.dwell > 0) emitDwell(m, h.dwell, { hole: h.tag, step: 'dwell' });
}

function pecks(m: Interpreter, h: CycleSite): void {
  for (let k = 1; k < h.pecks; k++) {
    const depth = h.retract - k * h.peck;
    goNormal(m, h, 'feed', depth, rate(m));
    goNormal(m, h, 'peck-clear', h.clear);
    goNormal(m, h, 'peck-return', depth + PECK_BACK_OFF_MM);
  }
  feedDown(m, h);
  goNormal(m, h, 'retract', h.clear);
}

/** The spindle runs backwards on the way out and clockwise again after it. */
function tap(m: Interpreter, h: CycleSite): void {
  const s = m.state;
  feedDown(m, h);
  s.spindle = { ...s.spindle, clockwise: false };
  goNormal(m, h, 'feed-out', h.clear, rate(m));
  s.spindle = { ...s.spindle, clockwise: true };
}

/** Boring from behind: down beside the axis with the spindle stopped, then up to K while it turns. */
function backBore(m: Interpreter, h: CycleSite): void {
  goPlane(m, h, 'offset', h.u + h.du, h.v + h.dv);
  turning(m, false);
  goNormal(m, h, 'enter', h.depth);
  goPlane(m, h, 'centre', h.u, h.v);
  turning(m, true);
  goNormal(m, h, 'feed', h.back, rate(m));
  goNormal(m, h, 'feed', h.depth, rate(m));
  turning(m, false);
  goPlane(m, h, 'offset', h.u + h.du, h.v + h.dv);
  goNormal(m, h, 'retract', h.clear);
  goPlane(m, h, 'centre', h.u, h.v);
  turning(m, true);
}

/** The operator takes the tool out by hand during the stop: shown as a rapid to the clear level. */
function handBore(m: Interpreter, h: CycleSite): void {
  feedDown(m, h);
  dwell(m, h);
  turning(m, false);
  emitEvent(m, 'stop', { hole: h.tag, step: 'hand-retract' });
  goNormal(m, h, 'hand-retract', h.clear);
  turning(m, true);
}

function turning(m: Interpreter, on: boolean): void {
  m.state.spindle = { ...m.state.spindle, on };
}

function rate(m: Interpreter): number {
  return m.state.feed * m.state.unit;
}

export function goPlane(m: Interpreter, h: CycleSite, step: CycleStep, u: number, v: number): void {
  const at = m.state.at;
  const t: [number, number, number] = [at[0]!, at[1]!, at[2]!];
  t[h.axes.first] = u;
  t[h.axes.second] = v;
  emitStraight(m, 'rapid', t[0], t[1], t[2], Number.NaN, { hole: h.tag, step });
}

export function goNormal(m: Interpreter, h: CycleSite, step: CycleStep, level: number, feed = Number.NaN): void {
  const at = m.state.at;
  const t: [number, number, number] = [at[0]!, at[1]!, at[2]!];
  t[h.axes.normal] = level;
  emitStraight(m, Number.isNaN(feed) ? 'rapid' : 'feed', t[0], t[1], t[2], feed, { hole: h.tag, step });
}
