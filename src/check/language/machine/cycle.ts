/** Canned cycles G81 to G89 in all planes and both distance modes (report, 3.5.16 and 3.5.20). */

import { cycleDwells } from '../groups.ts';
import type { BlockCodes } from '../plan.ts';
import { given, I, J, K, L, P, type ProgramBlock, Q, R, X } from '../text/block.ts';
import { WHOLE } from '../text/expression.ts';
import { type CycleSite, cuttingSequence, goNormal, goPlane } from './cyclesteps.ts';
import { caution, fault, type Interpreter, refuse } from './machine.ts';
import { PLANE_AXES, type PlaneAxes } from './planes.ts';
import type { ModalState, Sticky } from './state.ts';

/** Bound on what one block may grow to, so that L1e9 or Q1e-9 ends at once. No drilling needs more. */
export const MOST_REPEATS = 10_000;
export const MOST_PECKS = 10_000;
/** Of a whole program: lines that ask for more than that are no drilling, and short as they are would be read for hours. */
export const MOST_STEPS = 200_000;

export function cycle(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  const column = p.motionColumn;
  if (s.compensation !== null) return refuse(m, 78, column);
  if (s.inverse) return refuse(m, 100, column);
  const values = stickyValues(m, b, p);
  if (values === null) return false;
  const repeats = repeatCount(m, b);
  if (repeats === 0) return false;
  if (!ready(m, p, column)) return false;
  const axes = PLANE_AXES[s.plane];
  const levels = levelsOf(m, p, values, axes);
  if (levels === null) return false;
  s.cycle = values;
  return drill(m, b, p, values, levels, repeats);
}

/** Words of this line, or those that still hold because the same cycle repeats. */
function stickyValues(m: Interpreter, b: ProgramBlock, p: BlockCodes): Sticky | null {
  const s = m.state;
  const old = s.cycle !== null && s.cycle.plane === s.plane ? s.cycle : null;
  const depthLetter = X + PLANE_AXES[s.plane].normal;
  const code = p.motion;
  const column = p.motionColumn;
  const miss = (condition: number) => {
    refuse(m, condition, column);
    return null;
  };
  if (old === null && !given(b, depthLetter)) return miss(87);
  if (old === null && !given(b, R)) return miss(88);
  if (cycleDwells(code) && old === null && !given(b, P)) return miss(92);
  if (code === 830 && old === null && !given(b, Q)) return miss(94);
  if (code === 870 && old === null && !(given(b, I) && given(b, J) && given(b, K))) return miss(97);
  const value = (letter: number, before: number | undefined) => (given(b, letter) ? b.value[letter]! : (before ?? 0));
  const sticky: Sticky = {
    plane: s.plane,
    r: value(R, old?.r),
    depth: value(depthLetter, old?.depth),
    p: value(P, old?.p),
    q: value(Q, old?.q),
    i: value(I, old?.i),
    j: value(J, old?.j),
    k: value(K, old?.k),
  };
  if (cycleDwells(code) && sticky.p < 0) return misplaced(m, 91, b.column[P]!);
  if (code === 830 && !(sticky.q > 0)) return misplaced(m, 93, b.column[Q]!);
  return sticky;
}

function misplaced(m: Interpreter, condition: number, column: number): null {
  refuse(m, condition, column);
  return null;
}

/** 0 after a refusal. */
function repeatCount(m: Interpreter, b: ProgramBlock): number {
  if (!given(b, L)) return 1;
  const l = Math.round(b.value[L]!);
  if (Math.abs(l - b.value[L]!) > WHOLE || l < 1) {
    refuse(m, 90, b.column[L]!, `L${b.value[L]}`);
    return 0;
  }
  if (l > MOST_REPEATS) {
    const found = `${l} repeats`;
    const wanted = `at most ${MOST_REPEATS}`;
    fault(m, { code: 'too-many-repeats', column: b.column[L]!, found, wanted, remedy: 'lower L' });
    return 0;
  }
  return l;
}

function ready(m: Interpreter, p: BlockCodes, column: number): boolean {
  const s = m.state;
  const code = p.motion;
  const spindle = s.spindle;
  if (code === 840 && !(spindle.on && spindle.clockwise)) return refuse(m, 95, column);
  if (code === 860 && !spindle.on) return refuse(m, 96, column);
  if ((code === 870 || code === 880) && !spindle.on) return refuse(m, 98, column);
  return s.feed > 0 || refuse(m, 103, column);
}

interface Levels {
  readonly axes: PlaneAxes;
  readonly retract: number;
  readonly depth: number;
  readonly clear: number;
}

function levelsOf(m: Interpreter, p: BlockCodes, v: Sticky, axes: PlaneAxes): Levels | null {
  const s = m.state;
  const n = axes.normal;
  const zero = s.origin[n]! + s.shift[n]!;
  const now = s.at[n]!;
  const retract = s.absolute ? zero + v.r * s.unit : now + v.r * s.unit;
  const depth = s.absolute ? zero + v.depth * s.unit : retract + v.depth * s.unit;
  const under = s.absolute ? v.r < v.depth : v.depth > 0;
  if (under) {
    refuse(m, 89, p.motionColumn, `R${v.r}, depth ${v.depth}`);
    return null;
  }
  if (s.returnLevel === 'unset') {
    const found = 'a cycle before G98 or G99';
    const wanted = 'G98 or G99';
    const remedy = 'taken as G98: write it at the start';
    caution(m, { code: 'return-level-unset', column: p.motionColumn, found, wanted, remedy });
  }
  if (Number.isNaN(now) && s.returnLevel !== 'r') {
    const found = 'the level before the cycle is not known';
    const wanted = 'a known level';
    caution(m, { code: 'level-unknown', column: p.motionColumn, found, wanted, remedy: 'move there first' });
  }
  const clear = s.returnLevel === 'r' ? retract : Math.max(now, retract);
  return { axes, retract, depth, clear };
}

function drill(m: Interpreter, b: ProgramBlock, p: BlockCodes, v: Sticky, l: Levels, repeats: number): boolean {
  const s = m.state;
  const n = l.axes.normal;
  const pecks = p.motion === 830 ? Math.ceil((l.retract - l.depth) / (v.q * s.unit) - 1e-9) : 0;
  if (pecks > MOST_PECKS) {
    return fault(m, {
      code: 'too-many-pecks',
      column: b.has & (1 << Q) ? b.column[Q]! : p.motionColumn,
      found: `${pecks} pecks`,
      wanted: `at most ${MOST_PECKS}`,
      remedy: 'raise Q',
    });
  }
  if (repeats * Math.max(1, pecks) > MOST_PECKS) {
    const found = `${repeats * pecks} pecks`;
    const wanted = `at most ${MOST_PECKS} a block`;
    return fault(m, { code: 'too-many-pecks', column: p.motionColumn, found, wanted, remedy: 'lower L or raise Q' });
  }
  m.pecks += repeats * Math.max(1, pecks);
  if (m.pecks > MOST_STEPS) {
    const found = `${m.pecks} holes and pecks up to here`;
    const wanted = `at most ${MOST_STEPS}`;
    return fault(m, { code: 'too-many-pecks', column: p.motionColumn, found, wanted, remedy: 'raise Q' });
  }
  const step = stepsOf(s, b, l.axes);
  let hole = holeAt(s, p.motion, 0, v, l);
  // A start at an unknown level counts as below R: the move to R is then shown, its start as unknown.
  if (!(s.at[n]! >= l.retract)) goNormal(m, hole, 'preliminary', l.retract);
  for (let i = 0; i < repeats; i++) {
    hole = holeAt(s, p.motion, i, v, l);
    const [u, w] = step.incremental ? [s.at[l.axes.first]! + step.u, s.at[l.axes.second]! + step.v] : [step.u, step.v];
    hole.u = u;
    hole.v = w;
    hole.pecks = pecks;
    goPlane(m, hole, 'position', u, w);
    if (s.at[n]! !== l.retract) goNormal(m, hole, 'approach', l.retract);
    cuttingSequence(m, hole);
  }
  return true;
}

function stepsOf(
  s: ModalState,
  b: ProgramBlock,
  axes: PlaneAxes,
): { readonly incremental: boolean; readonly u: number; readonly v: number } {
  const one = (axis: number) => {
    if (!given(b, X + axis)) return s.absolute ? s.at[axis]! : 0;
    const value = b.value[X + axis]! * s.unit;
    return s.absolute ? value + s.origin[axis]! + s.shift[axis]! : value;
  };
  return { incremental: !s.absolute, u: one(axes.first), v: one(axes.second) };
}

function holeAt(s: ModalState, motion: number, count: number, v: Sticky, l: Levels): CycleSite {
  const n = l.axes.normal;
  const zero = s.origin[n]! + s.shift[n]!;
  const known = (level: number) => (Number.isNaN(level) ? null : level - s.home[n]!);
  const tag = {
    code: motion / 10,
    hole: count,
    retract: known(l.retract),
    depth: known(l.depth),
    clear: known(l.clear),
  };
  // I, J, K go with X, Y, Z; the one normal to the plane is the level that G87 bores up to, the other two its sideways step.
  const ijk = [v.i * s.unit, v.j * s.unit, v.k * s.unit];
  const back = ijk[n]! + (s.absolute ? zero : l.depth);
  const levels = { retract: l.retract, depth: l.depth, clear: l.clear, back };
  return {
    ...levels,
    tag,
    axes: l.axes,
    u: 0,
    v: 0,
    dwell: v.p,
    peck: v.q * s.unit,
    pecks: 0,
    du: ijk[l.axes.first]!,
    dv: ijk[l.axes.second]!,
  };
}
