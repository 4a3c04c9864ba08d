import type { Rad } from '../../base/units.ts';
import type { Arc } from '../types.ts';
import { angleOf, positiveAngle, sub } from './point.ts';

/** Arcs that turn less than this (radians) are reckoned from their chord; above, the centre is near enough to be accurate. */
export const FLAT_SWEEP = 0.5;

export function startAngle(arc: Arc): Rad {
  return angleOf(sub(arc.a, arc.centre));
}

/** Fraction of the sweep at which the arc passes the direction `angle` from its centre; undefined if it never does. */
export function fractionOfAngle(arc: Arc, angle: Rad): number | undefined {
  const turned = arc.sweep > 0 ? positiveAngle(angle - startAngle(arc)) : positiveAngle(startAngle(arc) - angle);
  const whole = Math.abs(arc.sweep);
  return turned <= whole ? turned / whole : undefined;
}

export function angleIsSwept(arc: Arc, angle: Rad): boolean {
  return fractionOfAngle(arc, angle) !== undefined;
}
