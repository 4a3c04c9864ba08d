import { arctangent2, cosine, sine, tangent } from '../../base/angles.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { loopArea, orient } from '../measure/loop.ts';
import { cross, dist, dot, lerp, rot90, step, sub } from '../measure/point.ts';
import { splitAt } from '../measure/segment.ts';
import type { Arc, Loop, Point, Region, Segment } from '../types.ts';

/** A coordinate beyond this (mm) has lost the digits that SAME_POINT needs, and is no small part. */
export const FARTHEST: Mm = 1e5;

export type Ready =
  | { readonly kind: 'ready'; readonly loops: readonly Loop[] }
  | { readonly kind: 'unfit'; readonly reason: string };

/**
 * A region's loops as the engine wants them: finite, no pieces without length, ends shared bit for bit, arcs that agree
 * with their ends and turn at most 3/4 of a circle, the outer loop counter-clockwise and openings clockwise.
 */
export function readyRegion(region: Region): Ready {
  const outer = readyLoop(region.outer, 'ccw');
  if (typeof outer === 'string') return { kind: 'unfit', reason: `outer edge: ${outer}` };
  const loops = [outer];
  for (const [i, hole] of region.holes.entries()) {
    const loop = readyLoop(hole, 'cw');
    if (typeof loop === 'string') return { kind: 'unfit', reason: `opening ${i}: ${loop}` };
    loops.push(loop);
  }
  return { kind: 'ready', loops };
}

/** The loop made ready, or the reason in words why it cannot be. */
function readyLoop(loop: Loop, sense: 'ccw' | 'cw'): Loop | string {
  const kept: Segment[] = [];
  for (const s of loop) {
    if (!isFit(s)) return `a ${s.kind} has a length that is not a number or exceeds ${FARTHEST} mm`;
    if (s.kind === 'line' ? dist(s.a, s.b) > SAME_POINT : s.radius * Math.abs(s.sweep) > SAME_POINT) kept.push(s);
  }
  const closed: Segment[] = [];
  for (let i = 0; i < kept.length; i++) {
    const s = kept[i]!;
    const b = kept[(i + 1) % kept.length]!.a;
    if (dist(s.b, b) > JOIN) return `it is open by ${dist(s.b, b).toPrecision(3)} mm`;
    closed.push(...shortArcs(withEnds(s, s.a, b)));
  }
  if (closed.length < 2 || loopArea(closed) === 0) return 'it encloses no area';
  return orient(closed, sense);
}

/** Ends of neighbours that differ by rounding in earlier stages are joined; a wider gap is a fault of the caller. */
const JOIN: Mm = 1e-6;

function isFit(s: Segment): boolean {
  const numbers = [s.a.x, s.a.y, s.b.x, s.b.y];
  if (s.kind === 'arc') numbers.push(s.sweep, s.radius / 1e4, s.centre.x / 1e4, s.centre.y / 1e4);
  return numbers.every((v) => Math.abs(v) <= FARTHEST);
}

function withEnds(s: Segment, a: Point, b: Point): Segment {
  if (s.kind === 'line') return s.b === b ? s : { kind: 'line', a, b };
  return withTrueSweep(recentred({ ...s, a, b }));
}

/** An arc whose ends do not lie on its circle gets the circle through its ends with the same turn. */
function recentred(s: Arc): Arc {
  const off = Math.max(Math.abs(dist(s.a, s.centre) - s.radius), Math.abs(dist(s.b, s.centre) - s.radius));
  const chord = dist(s.a, s.b);
  if (off <= ON_CIRCLE * Math.min(1, s.radius, chord) || chord < SAME_POINT / 10) return s;
  const centre = step(lerp(s.a, s.b, 0.5), rot90(sub(s.b, s.a)), 0.5 / tangent(s.sweep / 2));
  return { ...s, centre, radius: dist(s.a, centre) };
}

/**
 * More than rounding of a radius up to a metre. In proportion less for small arcs and short chords: an offset carries the
 * error of their direction outward.
 */
const ON_CIRCLE: Mm = 1e-9;

/**
 * The turn from a to b about the centre, as the ends really have it: a sweep that disagrees with them by rounding would
 * make the direction at the end disagree with the point there. A whole turn keeps its sweep.
 */
export function withTrueSweep(s: Arc): Arc {
  const u = sub(s.a, s.centre);
  const v = sub(s.b, s.centre);
  const turn = arctangent2(cross(u, v), dot(u, v));
  const off = arctangent2(sine(turn - s.sweep), cosine(turn - s.sweep));
  return Math.abs(off) < Math.abs(s.sweep) ? { ...s, sweep: s.sweep + off } : s;
}

function shortArcs(s: Segment): readonly Segment[] {
  return s.kind === 'arc' && Math.abs(s.sweep) > 1.5 * Math.PI ? splitAt(s, 0.5) : [s];
}
