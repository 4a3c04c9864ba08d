/**
 * The three kinds of curve drawings are made of, each closed under affine maps (a turned, stretched or mirrored one is of
 * the same kind): so blocks, groups and transforms need no special cases, and a circle stays one until a map squeezes it.
 */
import { arctangent, cosine, sine } from '../../../base/angles.ts';
import type { Point } from '../../../geometry/types.ts';
import { type Affine, movePoint, moveVector } from './affine.ts';

export interface Straight {
  readonly kind: 'straight';
  readonly a: Point;
  readonly b: Point;
}

/** centre + u cos t + v sin t for t from `start` to `start + sweep` (radians, |sweep| <= 2 pi). `a`, `b` are its ends, bit for bit. */
export interface EllipticArc {
  readonly kind: 'elliptic';
  readonly a: Point;
  readonly b: Point;
  readonly centre: Point;
  readonly u: Point;
  readonly v: Point;
  readonly start: number;
  readonly sweep: number;
}

/** Rational Bezier curve; weights are positive. */
export interface Bezier {
  readonly kind: 'bezier';
  readonly a: Point;
  readonly b: Point;
  readonly points: readonly Point[];
  readonly weights: readonly number[];
}

export type DrawnCurve = Straight | EllipticArc | Bezier;

export function straight(a: Point, b: Point): Straight {
  return { kind: 'straight', a, b };
}

export function bezier(points: readonly Point[], weights?: readonly number[]): Bezier {
  return { kind: 'bezier', a: points[0]!, b: points.at(-1)!, points, weights: weights ?? points.map(() => 1) };
}

/** Arc of an ellipse with the conjugate half-diameters u and v; a whole turn ends bit for bit where it starts. */
export function ellipticArc(centre: Point, u: Point, v: Point, start: number, sweep: number): EllipticArc {
  const at = (t: number): Point => ellipsePoint(centre, u, v, t);
  const a = at(start);
  return { kind: 'elliptic', a, b: Math.abs(sweep) >= 2 * Math.PI ? a : at(start + sweep), centre, u, v, start, sweep };
}

export function ellipsePoint(centre: Point, u: Point, v: Point, t: number): Point {
  const [c, s] = [cosine(t), sine(t)];
  return { x: centre.x + u.x * c + v.x * s, y: centre.y + u.y * c + v.y * s };
}

export function circularArc(centre: Point, radius: number, start: number, sweep: number): EllipticArc {
  return ellipticArc(centre, { x: radius, y: 0 }, { x: 0, y: radius }, start, sweep);
}

/** Arc from a to b with DXF bulge (tan of a quarter of the included angle, positive counter-clockwise). */
export function bulgeCurve(a: Point, b: Point, bulge: number): DrawnCurve {
  const chord = { x: b.x - a.x, y: b.y - a.y };
  if (bulge === 0 || (chord.x === 0 && chord.y === 0)) return straight(a, b);
  // The centre stands off the middle of the chord by (1 - bulge^2) / (4 bulge) chords, to the left for positive.
  const off = (1 - bulge * bulge) / (4 * bulge);
  const centre = { x: (a.x + b.x) / 2 - chord.y * off, y: (a.y + b.y) / 2 + chord.x * off };
  const u = { x: a.x - centre.x, y: a.y - centre.y };
  const sweep = 4 * arctangent(bulge);
  return { kind: 'elliptic', a, b, centre, u, v: { x: -u.y, y: u.x }, start: 0, sweep };
}

export function mapCurve(m: Affine, curve: DrawnCurve): DrawnCurve {
  const a = movePoint(m, curve.a);
  const b = curve.b === curve.a ? a : movePoint(m, curve.b);
  switch (curve.kind) {
    case 'straight':
      return { kind: 'straight', a, b };
    case 'elliptic':
      return {
        ...curve,
        a,
        b,
        centre: movePoint(m, curve.centre),
        u: moveVector(m, curve.u),
        v: moveVector(m, curve.v),
      };
    case 'bezier':
      return {
        ...curve,
        a,
        b,
        points: curve.points.map((p, i) => (i === 0 ? a : i === curve.points.length - 1 ? b : movePoint(m, p))),
      };
  }
}

/** A shape as drawn: curves end to end, still in the drawing's units. */
export interface DrawnShape {
  readonly curves: readonly DrawnCurve[];
  /** The drawing says it is closed; its last curve ends at the start of the first. */
  readonly closed: boolean;
}
