import { cosine, sine } from '../../../base/angles.ts';
import type { Point } from '../../../geometry/types.ts';

/** x' = a x + c y + e, y' = b x + d y + f: the order of SVG's matrix(a b c d e f). */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

/** First `inner`, then `outer`. */
export function compose(outer: Affine, inner: Affine): Affine {
  return {
    a: outer.a * inner.a + outer.c * inner.b,
    b: outer.b * inner.a + outer.d * inner.b,
    c: outer.a * inner.c + outer.c * inner.d,
    d: outer.b * inner.c + outer.d * inner.d,
    e: outer.a * inner.e + outer.c * inner.f + outer.e,
    f: outer.b * inner.e + outer.d * inner.f + outer.f,
  };
}

export function translation(x: number, y: number): Affine {
  return { ...IDENTITY, e: x, f: y };
}

export function scaling(x: number, y: number): Affine {
  return { ...IDENTITY, a: x, d: y };
}

/** Counter-clockwise in axes with Y up; quarter turns are exact. */
export function turning(degrees: number): Affine {
  const quarter = degrees / 90;
  if (Number.isInteger(quarter)) {
    const c = [1, 0, -1, 0][((quarter % 4) + 4) % 4]!;
    const s = [0, 1, 0, -1][((quarter % 4) + 4) % 4]!;
    return { a: c, b: s, c: -s, d: c, e: 0, f: 0 };
  }
  const angle = (degrees * Math.PI) / 180;
  const [c, s] = [cosine(angle), sine(angle)];
  return { a: c, b: s, c: -s, d: c, e: 0, f: 0 };
}

export function movePoint(m: Affine, p: Point): Point {
  return { x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f };
}

/** A free vector: not shifted. */
export function moveVector(m: Affine, v: Point): Point {
  return { x: m.a * v.x + m.c * v.y, y: m.b * v.x + m.d * v.y };
}
