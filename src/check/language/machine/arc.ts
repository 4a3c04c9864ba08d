/** G2 and G3 in three planes, centre and radius format, flat and helical (report, 3.5.3 and 4.3.6.1). */

import type { BlockCodes } from '../plan.ts';
import { firstColumn, given, I, OFFSETS, type ProgramBlock, R, X } from '../text/block.ts';
import { compensatedArc } from './compensated.ts';
import { feedAlong } from './feed.ts';
import { caution, emitArc, type Interpreter, refuse, startUnknown } from './machine.ts';
import { PLANE_AXES, type PlaneAxes, ROUNDING_MM, radiiAgree, sweepOf } from './planes.ts';
import { target } from './target.ts';

/** R may fall short of half the chord by this share (reference interpreter: rounding of a half circle). */
const RADIUS_SLACK = 1e-12;

/** Ends closer than this may be one point or two, depending on rounding: a sliver or a full circle. One last digit at 4 decimals, with room. */
const CHORD_DOUBTFUL_MM = 5e-4;

export function arc(m: Interpreter, b: ProgramBlock, p: BlockCodes): boolean {
  const s = m.state;
  const axes = PLANE_AXES[s.plane];
  if (!given(b, X + axes.first) && !given(b, X + axes.second))
    return refuse(m, s.plane === 'XY' ? 44 : s.plane === 'XZ' ? 45 : 46, p.motionColumn);
  if (given(b, R) && (b.has & OFFSETS) !== 0) return refuse(m, 54, firstColumn(b, OFFSETS | (1 << R)));
  if (given(b, I + axes.normal)) return refuse(m, 55, b.column[I + axes.normal]!);
  if (!given(b, R) && (b.has & OFFSETS) === 0) return refuse(m, s.plane === 'XY' ? 47 : 48, p.motionColumn);
  const t = Float64Array.from(target(m, b));
  const comp = s.compensation;
  const start = [
    comp !== null && !comp.first ? comp.x : s.at[0]!,
    comp !== null && !comp.first ? comp.y : s.at[1]!,
    s.at[2]!,
  ];
  const u0 = start[axes.first]!;
  const v0 = start[axes.second]!;
  if (Number.isNaN(u0) || Number.isNaN(v0) || Number.isNaN(s.at[axes.normal]!))
    return startUnknown(m, 'an arc from a place that the program has not stated', 'move all three axes there first');
  const chord = Math.hypot(t[axes.first]! - u0, t[axes.second]! - v0);
  const way = p.motion === 30 ? 1 : -1;
  const centre = given(b, R)
    ? centreByRadius(m, b, p, u0, v0, t[axes.first]!, t[axes.second]!, way)
    : centreByOffsets(m, b, axes, u0, v0);
  if (centre === null) return false;
  if (comp !== null) return compensatedArc(m, b, p, t, centre, way);
  if (!given(b, R) && !radiiAgree(m, b, p, axes, [u0, v0], [t[axes.first]!, t[axes.second]!], centre)) return false;
  if (chord > 0 && chord < CHORD_DOUBTFUL_MM) {
    const found = `the ends of the arc are ${chord.toFixed(5)} mm apart`;
    const wanted = 'ends that rounding cannot merge';
    const remedy = 'leave the arc out or write a full circle';
    caution(m, { code: 'arc-chord-doubtful', column: p.motionColumn, found, wanted, remedy });
  }
  return turn(m, b, axes, t, centre, u0, v0, way, chord);
}

function turn(
  m: Interpreter,
  b: ProgramBlock,
  axes: PlaneAxes,
  t: Float64Array,
  centre: readonly [number, number],
  u0: number,
  v0: number,
  way: 1 | -1,
  chord: number,
): boolean {
  const s = m.state;
  const sweep = sweepOf(
    u0 - centre[0],
    v0 - centre[1],
    t[axes.first]! - centre[0],
    t[axes.second]! - centre[1],
    way,
    chord < ROUNDING_MM,
  );
  const radius = Math.hypot(u0 - centre[0], v0 - centre[1]);
  const rise = t[axes.normal]! - s.at[axes.normal]!;
  const c: [number, number, number] = [0, 0, 0];
  c[axes.first] = centre[0];
  c[axes.second] = centre[1];
  const length = Math.hypot(radius * sweep, rise);
  emitArc(m, { x: t[0]!, y: t[1]!, z: t[2]!, centre: c, radius, sweep }, feedAlong(m, b, length));
  return true;
}

function centreByOffsets(
  m: Interpreter,
  b: ProgramBlock,
  axes: PlaneAxes,
  u0: number,
  v0: number,
): readonly [number, number] {
  const du = given(b, I + axes.first) ? b.value[I + axes.first]! * m.state.unit : 0;
  const dv = given(b, I + axes.second) ? b.value[I + axes.second]! * m.state.unit : 0;
  return [u0 + du, v0 + dv];
}

/** R above zero: the turn of 180 degrees or less; below zero: the other one (report, 3.5.3.1). */
function centreByRadius(
  m: Interpreter,
  b: ProgramBlock,
  p: BlockCodes,
  u0: number,
  v0: number,
  u1: number,
  v1: number,
  way: 1 | -1,
): readonly [number, number] | null {
  const radius = b.value[R]! * m.state.unit;
  const chord = Math.hypot(u1 - u0, v1 - v0);
  const half = chord / 2;
  const size = Math.abs(radius);
  if (chord < ROUNDING_MM) {
    refuse(m, 52, p.motionColumn);
    return null;
  }
  if (!(half <= size * (1 + RADIUS_SLACK))) {
    refuse(m, 53, b.column[R]!, `half the chord is ${half.toFixed(4)} mm`);
    return null;
  }
  const height = Math.sqrt(Math.max(0, (size - half) * (size + half)));
  const side = (radius >= 0 ? 1 : -1) * way;
  return [(u0 + u1) / 2 - (side * height * (v1 - v0)) / chord, (v0 + v1) / 2 + (side * height * (u1 - u0)) / chord];
}
