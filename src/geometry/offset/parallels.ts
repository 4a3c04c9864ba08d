import { arctangent2 } from '../../base/angles.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm, Rad } from '../../base/units.ts';
import { cross, dot, step, sub } from '../measure/point.ts';
import { directionAt, pointAt, segmentLength } from '../measure/segment.ts';
import type { Arc, Loop, Point, Segment } from '../types.ts';
import { exposed } from './exposed.ts';

/**
 * Every curve that the edge at distance |d| can be made of, as exact lines and arcs: each segment moved by d, and an
 * arc of radius |d| about each corner that is convex as seen from the moved edge. Directions are those of the source,
 * so material stays on the left. d > 0 moves to the right, away from material.
 *
 * Nothing is trimmed here: which parts count is decided by distance (offset.ts).
 */
export function parallelCurves(loops: readonly Loop[], d: Mm): Parallels {
  const curves: Segment[] = [];
  const smooth: boolean[] = [];
  const add = (whole: Segment | undefined, loop: Loop, i: number): boolean => {
    const s = whole && exposed(whole, loop, i, d);
    if (s) smooth[curves.push(s) - 1] = false;
    return s !== undefined;
  };
  for (const loop of loops) {
    let corner = false;
    for (let i = 0; i < loop.length; i++) {
      const here = loop[i]!;
      const moved = add(parallel(here, d), loop, i);
      if (moved && corner) smooth[curves.length - 2] = true;
      corner = add(cornerArc(here, loop[(i + 1) % loop.length]!, d), loop, i);
      if (moved && corner) smooth[curves.length - 2] = true;
    }
  }
  return { curves, smooth };
}

export interface Parallels {
  readonly curves: readonly Segment[];
  /** Curve i runs smoothly into curve i + 1: one of them is the arc about their common corner, so they meet nowhere else. */
  readonly smooth: readonly boolean[];
}

/** The segment moved by d to its right; undefined for an arc that has shrunk to its centre or past it. */
function parallel(s: Segment, d: Mm): Segment | undefined {
  if (s.kind === 'line') {
    const t = directionAt(s, 0);
    return { kind: 'line', a: toTheRight(s.a, t, d), b: toTheRight(s.b, t, d) };
  }
  const radius = s.sweep > 0 ? s.radius + d : s.radius - d;
  if (radius < SAME_POINT) return undefined;
  const k = radius / s.radius;
  return {
    ...s,
    a: step(s.centre, sub(s.a, s.centre), k),
    b: step(s.centre, sub(s.b, s.centre), k),
    radius,
  };
}

function toTheRight(p: Point, direction: Point, d: Mm): Point {
  return { x: p.x + direction.y * d, y: p.y - direction.x * d };
}

function cornerArc(here: Segment, next: Segment, d: Mm): Arc | undefined {
  const u = directionAt(here, 1);
  const v = directionAt(next, 0);
  const sweep = turnAt(here, next, u, v);
  if (sweep * d <= 0 || Math.abs(sweep * d) < SAME_POINT) return undefined;
  const centre = here.b;
  const a = toTheRight(centre, u, d);
  return { kind: 'arc', a, b: toTheRight(centre, v, d), centre, radius: Math.abs(d), sweep };
}

/**
 * Signed turn from u to v. Near half a turn (a spike of material, or a slit) the sign is in doubt: sides that cross within
 * SAME_POINT turn the other way at their very end. It is read where they have come apart by more than that.
 */
function turnAt(here: Segment, next: Segment, u: Point, v: Point): Rad {
  const turn = arctangent2(cross(u, v), dot(u, v));
  if (Math.abs(turn) < Math.PI - CUSP) return turn;
  const longest = Math.min(segmentLength(here), segmentLength(next));
  let side = 0;
  for (let l = Math.min(NEAR, longest); l <= longest && Math.abs(side) <= SAME_POINT; l *= 2) {
    const back = sub(here.b, pointAt(here, 1 - l / segmentLength(here)));
    side = cross(back, sub(pointAt(next, l / segmentLength(next)), here.b)) / l;
  }
  return side < 0 ? -Math.abs(turn) : Math.abs(turn);
}

/** Turns this near to half a turn (radians) are looked at along their sides. */
const CUSP = 0.01;
/** The first look is this far along the sides (mm): a turn that differs from half a turn by CUSP has come apart ten times over. */
const NEAR: Mm = 1e-4;
