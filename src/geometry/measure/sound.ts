import type { Mm } from '../../base/units.ts';
import type { Segment } from '../types.ts';
import { dist, fromAngle, step } from './point.ts';
import { startAngle } from './sweep.ts';

/** Whether all figures of a segment are finite numbers. */
export function isFiniteSegment(s: Segment): boolean {
  const figures = [s.a.x, s.a.y, s.b.x, s.b.y];
  if (s.kind === 'arc') figures.push(s.centre.x, s.centre.y, s.radius, s.sweep);
  return figures.every((v) => Number.isFinite(v));
}

/** How far the ends of an arc are from where centre, radius and sweep put them; 0 for a line, infinite without radius or sweep. */
export function arcError(s: Segment): Mm {
  if (s.kind === 'line') return 0;
  if (!(s.radius > 0) || s.sweep === 0 || Math.abs(s.sweep) > 2 * Math.PI) return Number.POSITIVE_INFINITY;
  const start = startAngle(s);
  const a = step(s.centre, fromAngle(start), s.radius);
  const b = step(s.centre, fromAngle(start + s.sweep), s.radius);
  return Math.max(dist(a, s.a), dist(b, s.b));
}
