/** Distances in the plane, worked out here for the judge of planted faults: to lines, to arcs, to boxes round them. */
import type { Move } from './course.ts';

export interface P {
  readonly x: number;
  readonly y: number;
}

export interface Box {
  readonly x0: number;
  readonly y0: number;
  readonly x1: number;
  readonly y1: number;
}

export function boxOf(points: readonly P[], grown = 0): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of points) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return { x0: x0 - grown, y0: y0 - grown, x1: x1 + grown, y1: y1 + grown };
}

/** Surely further than `d` from all that is in the box: by more than what rounding could take. */
export function isBeyond(box: Box, p: P, d: number): boolean {
  const far = d + 1e-6;
  return p.x < box.x0 - far || p.x > box.x1 + far || p.y < box.y0 - far || p.y > box.y1 + far;
}

/** A line or an arc with what its distances ask for again and again. */
export type Curve = LineCurve | ArcCurve;

interface LineCurve {
  readonly kind: 'line';
  readonly a: P;
  readonly b: P;
  readonly box: Box;
}

/** Counter-clockwise from `a` to `b`; the whole circle where they are the same. */
interface ArcCurve {
  readonly kind: 'arc';
  readonly centre: P;
  readonly radius: number;
  readonly a: P;
  readonly b: P;
  readonly from: number;
  readonly sweep: number;
  readonly box: Box;
}

const TURN = 2 * Math.PI;

export function lineOf(a: P, b: P): LineCurve {
  return { kind: 'line', a, b, box: boxOf([a, b]) };
}

export function arcOf(centre: P, radius: number, a: P, b: P): ArcCurve {
  const from = Math.atan2(a.y - centre.y, a.x - centre.x);
  const whole = Math.hypot(a.x - b.x, a.y - b.y) < 1e-9;
  const sweep = whole ? TURN : (((Math.atan2(b.y - centre.y, b.x - centre.x) - from) % TURN) + TURN) % TURN;
  // Ends may lie off the circle where a centre is wrong.
  const round = boxOf([centre], radius);
  const box = boxOf([a, b, { x: round.x0, y: round.y0 }, { x: round.x1, y: round.y1 }]);
  return { kind: 'arc', centre, radius, a, b, from, sweep, box };
}

const curves = new WeakMap<Move, Curve>();

export function curveOf(m: Move): Curve {
  const known = curves.get(m);
  if (known !== undefined) return known;
  const r = () => Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  const [a, b] = m.clockwise ? [m.to, m.from] : [m.from, m.to];
  const curve = m.kind === 'arc' ? arcOf(m.centre, r(), a, b) : lineOf(m.from, m.to);
  curves.set(m, curve);
  return curve;
}

export function distanceTo(c: Curve, p: P): number {
  return c.kind === 'line' ? toLine(c.a, c.b, p) : toArc(c, p);
}

function toLine(a: P, b: P, p: P): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

function toArc({ centre, radius, a, b, from, sweep }: ArcCurve, p: P): number {
  const at = (((Math.atan2(p.y - centre.y, p.x - centre.x) - from) % TURN) + TURN) % TURN;
  if (at <= sweep) return Math.abs(Math.hypot(p.x - centre.x, p.y - centre.y) - radius);
  return Math.min(Math.hypot(p.x - a.x, p.y - a.y), Math.hypot(p.x - b.x, p.y - b.y));
}
