import { arctangent2, cosine, sine } from '../../base/angles.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm, Rad } from '../../base/units.ts';
import type { Point } from '../types.ts';

/** Points and free vectors share one type; all functions are pure and total on finite input. */

export function pt(x: Mm, y: Mm): Point {
  return { x, y };
}

export function add(p: Point, q: Point): Point {
  return { x: p.x + q.x, y: p.y + q.y };
}

export function sub(p: Point, q: Point): Point {
  return { x: p.x - q.x, y: p.y - q.y };
}

export function scale(p: Point, factor: number): Point {
  return { x: p.x * factor, y: p.y * factor };
}

/** p + q * factor: a step of `factor` along q. */
export function step(p: Point, q: Point, factor: number): Point {
  return { x: p.x + q.x * factor, y: p.y + q.y * factor };
}

export function dot(p: Point, q: Point): number {
  return p.x * q.x + p.y * q.y;
}

/** Positive when q lies counter-clockwise of p. */
export function cross(p: Point, q: Point): number {
  return p.x * q.y - p.y * q.x;
}

/**
 * Square root, not Math.hypot: only the root is required by the language to be correctly rounded, so only it gives the
 * same bits on every system. Coordinates are far from overflow.
 */
export function len(p: Point): Mm {
  return Math.sqrt(p.x * p.x + p.y * p.y);
}

export function dist(p: Point, q: Point): Mm {
  return len(sub(p, q));
}

/**
 * Vector of length one. The zero vector (and one so short, below 1e-160, that its square vanishes) has no direction and
 * gives the zero vector: test with `isZero`.
 */
export function unit(p: Point): Point {
  const l = len(p);
  return l === 0 ? { x: 0, y: 0 } : { x: p.x / l, y: p.y / l };
}

export function isZero(p: Point): boolean {
  return p.x === 0 && p.y === 0;
}

/** Quarter turn counter-clockwise, exact: the left-hand normal of a direction. */
export function rot90(p: Point): Point {
  return { x: -p.y, y: p.x };
}

/** Turn counter-clockwise about 0,0, or about `centre`. */
export function rotate(p: Point, angle: Rad, centre: Point = { x: 0, y: 0 }): Point {
  const c = cosine(angle);
  const s = sine(angle);
  const dx = p.x - centre.x;
  const dy = p.y - centre.y;
  return { x: centre.x + dx * c - dy * s, y: centre.y + dx * s + dy * c };
}

/** Straight blend; exact at both ends. */
export function lerp(p: Point, q: Point, t: number): Point {
  if (t === 0) return p;
  if (t === 1) return q;
  return { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t };
}

/** Direction of a vector in (-pi, pi]; the zero vector gives 0. */
export function angleOf(p: Point): Rad {
  return arctangent2(p.y, p.x);
}

/** Unit vector at an angle from X. */
export function fromAngle(angle: Rad): Point {
  return { x: cosine(angle), y: sine(angle) };
}

/** Angle brought into [0, 2 pi). */
export function positiveAngle(angle: Rad): Rad {
  const turn = 2 * Math.PI;
  const a = angle % turn;
  const wrapped = a < 0 ? a + turn : a;
  // A tiny negative remainder rounds up to a whole turn.
  return wrapped >= turn ? 0 : wrapped;
}

export function samePoint(p: Point, q: Point, tol: Mm = SAME_POINT): boolean {
  return dist(p, q) <= tol;
}
