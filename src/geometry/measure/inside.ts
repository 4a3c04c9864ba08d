import { orient2d } from 'robust-predicates';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import type { Arc, Loop, Point, Segment } from '../types.ts';
import { dist } from './point.ts';
import { nearestOn } from './segment.ts';

export type Where = 'inside' | 'outside' | 'edge';

/** Where p lies to a loop of either sense; `edge` means within `tol` of it. */
export function whereIs(loop: Loop, p: Point, tol: Mm = SAME_POINT): Where {
  if (loop.some((s) => nearestOn(s, p).distance <= tol)) return 'edge';
  return windingOf(loop, p) === 0 ? 'outside' : 'inside';
}

/**
 * Number of times a loop goes round p, counter-clockwise positive: that of the polygon of chords, plus one for every
 * arc whose cap (between arc and chord) holds p. Signs are exact (Shewchuk's orient2d, barring underflow); a point exactly on a chord is
 * taken as moved by an infinitesimal to the right and then up, in both counts alike, so that they agree.
 */
export function windingOf(loop: Loop, p: Point): number {
  return loop.reduce((sum, s) => sum + chordAndCapWinding(s, p), 0);
}

/** One segment's share of the winding number: its chord's crossing of the ray from p to the right, and its cap. */
export function chordAndCapWinding(s: Segment, p: Point): number {
  const cap = s.kind === 'arc' && capHolds(s, p) ? Math.sign(s.sweep) : 0;
  return chordCrossing(s.a, s.b, p) + cap;
}

/** +1 or -1 if the ray from p to the right crosses the chord upward or downward. */
function chordCrossing(a: Point, b: Point, p: Point): number {
  if (a.y <= p.y && b.y > p.y) return leftOf(a, b, p) ? 1 : 0;
  if (a.y > p.y && b.y <= p.y) return leftOf(a, b, p) ? 0 : -1;
  return 0;
}

/** The cap is the part of the disc on the outer side of the chord: right of it for a counter-clockwise arc. */
function capHolds(s: Arc, p: Point): boolean {
  if (dist(p, s.centre) >= s.radius) return false;
  // Without a chord the arc is a whole turn, give or take rounding, or next to nothing.
  if (s.a.x === s.b.x && s.a.y === s.b.y) return Math.abs(s.sweep) > Math.PI;
  return leftOf(s.a, s.b, p) === s.sweep < 0;
}

function leftOf(a: Point, b: Point, p: Point): boolean {
  // orient2d of robust-predicates is positive for clockwise in axes with Y up.
  const left = -orient2d(a.x, a.y, b.x, b.y, p.x, p.y);
  if (left !== 0) return left > 0;
  if (a.y !== b.y) return b.y < a.y;
  return b.x > a.x;
}
