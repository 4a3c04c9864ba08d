import { arctangent2 } from '../../base/angles.ts';
import type { Rad } from '../../base/units.ts';
import type { Arc, Point } from '../types.ts';
import { angleOf, cross, dot, positiveAngle, rotate, sub, unit } from './point.ts';

/** Arcs that turn less than this (radians) are reckoned from their chord; above, the centre is near enough to be accurate. */
export const FLAT_SWEEP = 0.5;

export function startAngle(arc: Arc): Rad {
  return angleOf(sub(arc.a, arc.centre));
}

/** Fraction of the sweep at which the arc passes the direction `angle` from its centre; undefined if it never does. */
export function fractionOfAngle(arc: Arc, angle: Rad): number | undefined {
  return fractionOfTurn(arc, arc.sweep > 0 ? angle - startAngle(arc) : startAngle(arc) - angle);
}

/** As `fractionOfAngle`, for the direction from the centre to p. A flat arc is reckoned from its start, not from its far centre. */
export function fractionToward(arc: Arc, p: Point): number | undefined {
  if (Math.abs(arc.sweep) >= FLAT_SWEEP) return fractionOfAngle(arc, angleOf(sub(p, arc.centre)));
  const q = sub(p, arc.a);
  const tangent = flatTangent(arc);
  return fractionOfTurn(arc, arctangent2(dot(q, tangent), arc.radius + outwardOf(arc, q, tangent)));
}

/** Direction of travel at the start of a flat arc, from its chord. */
export function flatTangent(arc: Arc): Point {
  return rotate(unit(sub(arc.b, arc.a)), -arc.sweep / 2);
}

/** Part of q along the outward normal at the start. */
export function outwardOf(arc: Arc, q: Point, tangent: Point): number {
  return cross(q, tangent) * Math.sign(arc.sweep);
}

export function angleIsSwept(arc: Arc, angle: Rad): boolean {
  return fractionOfAngle(arc, angle) !== undefined;
}

function fractionOfTurn(arc: Arc, turned: Rad): number | undefined {
  const whole = Math.abs(arc.sweep);
  const t = positiveAngle(turned) / whole;
  return t <= 1 ? t : undefined;
}
