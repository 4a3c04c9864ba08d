import { arctangent2 } from '../../base/angles.ts';
import { SAME_POINT, TANGENT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { cross, dist, dot, len, lerp, sub } from '../measure/point.ts';
import { directionAt, segmentLength } from '../measure/segment.ts';
import type { Arc, Line, Loop, Point, Segment } from '../types.ts';

/**
 * The same loop with as few pieces as it needs: neighbours on one line or one circle become one piece, and tangent
 * pieces too short to matter are taken up by their neighbours. A whole circle stays two arcs, so that every piece
 * has two ends. The loop keeps its first point where it can.
 */
export function tidy(loop: Loop): Loop {
  return merged(withoutCrumbs(merged(loop)));
}

/** Length below which a piece is a crumb: its removal moves the edge by far less than this (see `takeUp`). */
const CRUMB: Mm = 1e-5;

function merged(loop: Loop): Loop {
  const out: Segment[] = [];
  for (const s of loop) {
    const last = out[out.length - 1];
    const one = last && join(last, s);
    if (one) out[out.length - 1] = one;
    else out.push(s);
  }
  while (out.length > 2) {
    const one = join(out[out.length - 1]!, out[0]!);
    if (!one) break;
    out.pop();
    out[0] = one;
  }
  return out;
}

function join(s: Segment, t: Segment): Segment | undefined {
  if (s.kind === 'line') return t.kind === 'line' ? joinLines(s, t) : undefined;
  return t.kind === 'arc' ? joinArcs(s, t) : undefined;
}

function joinLines(s: Line, t: Line): Line | undefined {
  const u = sub(s.b, s.a);
  const v = sub(t.b, t.a);
  const sine = Math.abs(cross(u, v)) / (len(u) * len(v));
  // The shared point lies off the joined line by no more than the shorter piece times the sine of the turn.
  const off = sine * Math.min(len(u), len(v));
  return dot(u, v) > 0 && off <= SAME_POINT / 10 ? { kind: 'line', a: s.a, b: t.b } : undefined;
}

function joinArcs(s: Arc, t: Arc): Arc | undefined {
  const sweep = s.sweep + t.sweep;
  const oneCircle = dist(s.centre, t.centre) <= SAME_POINT && Math.abs(s.radius - t.radius) <= SAME_POINT;
  if (!oneCircle || s.sweep * t.sweep < 0 || Math.abs(sweep) > LARGEST_ARC) return undefined;
  const longer = Math.abs(s.sweep) >= Math.abs(t.sweep) ? s : t;
  return { ...longer, a: s.a, b: t.b, sweep };
}

/** Arcs are joined up to a little less than a whole turn. */
const LARGEST_ARC = 2 * Math.PI - 1e-3;

function withoutCrumbs(loop: Loop): Loop {
  const out: Segment[] = [...loop];
  for (let i = 0; i < out.length && out.length > 2; i++) {
    const s = out[i]!;
    const before = (i + out.length - 1) % out.length;
    const after = (i + 1) % out.length;
    if (segmentLength(s) >= CRUMB || !isSmooth(out[before]!, s, out[after]!)) continue;
    const middle = lerp(s.a, s.b, 0.5);
    out[before] = withEnd(out[before]!, middle);
    out[after] = withStart(out[after]!, middle);
    out.splice(i, 1);
    i--;
  }
  return out;
}

/** A crumb that continues its neighbours within a thousandth of a radian moves them sideways by its length times that. */
function isSmooth(before: Segment, s: Segment, after: Segment): boolean {
  const u = directionAt(before, 1);
  const v = directionAt(after, 0);
  const w = directionAt(s, 0.5);
  return [cross(u, v), cross(u, w)].every((c) => Math.abs(c) < 100 * TANGENT) && dot(u, v) > 0 && dot(u, w) > 0;
}

function withEnd(s: Segment, b: Point): Segment {
  return s.kind === 'line' ? { ...s, b } : { ...s, b, sweep: s.sweep + turnOf(s, s.b, b) };
}

function withStart(s: Segment, a: Point): Segment {
  return s.kind === 'line' ? { ...s, a } : { ...s, a, sweep: s.sweep - turnOf(s, s.a, a) };
}

/** Angle about the arc's centre from p to q, both near each other. */
function turnOf(s: Arc, p: Point, q: Point): number {
  const u = sub(p, s.centre);
  const v = sub(q, s.centre);
  return arctangent2(cross(u, v), dot(u, v));
}
