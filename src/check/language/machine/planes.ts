/** The three planes of arcs, and what their two ends tell (report, 3.5.3). */
import { arctangent2 } from '../../../base/angles.ts';
import { MM_PER_INCH } from '../../../base/units.ts';
import type { BlockCodes } from '../plan.ts';
import { given, type ProgramBlock, X } from '../text/block.ts';
import { type Interpreter, refuse } from './machine.ts';

/** Ends of an arc may lie at radii that differ by this much (report, 3.5.3.2). */
export const ARC_TOLERANCE_MM = 0.002;
export const ARC_TOLERANCE_INCH = 0.0002;

/** Absorbs the rounding of doubles, six orders below the tolerances themselves. */
export const ROUNDING_MM = 1e-9;

/** Axes of a plane in the order that makes a turn from the first to the second counter-clockwise (report, 4.3.6.1). */
export interface PlaneAxes {
  readonly first: 0 | 1 | 2;
  readonly second: 0 | 1 | 2;
  readonly normal: 0 | 1 | 2;
}

export const PLANE_AXES = {
  XY: { first: 0, second: 1, normal: 2 },
  XZ: { first: 2, second: 0, normal: 1 },
  YZ: { first: 1, second: 2, normal: 0 },
} as const satisfies Record<string, PlaneAxes>;

/** Signed sweep, 0 < |sweep| <= 2 pi; a whole turn when the ends are the same point. */
export function sweepOf(u0: number, v0: number, u1: number, v1: number, way: 1 | -1, whole: boolean): number {
  if (whole) return way * 2 * Math.PI;
  const angle = way * arctangent2(u0 * v1 - v0 * u1, u0 * u1 + v0 * v1);
  return way * (angle > 0 ? angle : angle + 2 * Math.PI);
}

/** Whether both ends lie on the circle, judged on the plane only. */
export function radiiAgree(
  m: Interpreter,
  b: ProgramBlock,
  p: BlockCodes,
  axes: PlaneAxes,
  from: readonly [number, number],
  to: readonly [number, number],
  centre: readonly [number, number],
): boolean {
  const inch = m.state.unit === MM_PER_INCH;
  const r0 = Math.hypot(from[0] - centre[0], from[1] - centre[1]);
  const r1 = Math.hypot(to[0] - centre[0], to[1] - centre[1]);
  if (r0 < ROUNDING_MM || r1 < ROUNDING_MM) return refuse(m, 56, p.motionColumn);
  const allowed = inch ? ARC_TOLERANCE_INCH * MM_PER_INCH : ARC_TOLERANCE_MM;
  if (Math.abs(r0 - r1) <= allowed + ROUNDING_MM) return true;
  const helix = given(b, X + axes.normal);
  const found = inch
    ? `${(r0 / MM_PER_INCH).toFixed(5)} and ${(r1 / MM_PER_INCH).toFixed(5)} inch`
    : `${r0.toFixed(4)} and ${r1.toFixed(4)} mm`;
  return refuse(m, helix ? 51 : inch ? 50 : 49, p.motionColumn, found);
}
