import type { Mm, Rad } from '../base/units.ts';

/** A point or free vector in the plane, millimetres. Right-handed axes: X right, Y away. */
export interface Point {
  readonly x: Mm;
  readonly y: Mm;
}

export interface Line {
  readonly kind: 'line';
  readonly a: Point;
  readonly b: Point;
}

/**
 * Circular arc from `a` to `b` about `centre`. `sweep` is signed, counter-clockwise positive, 0 < |sweep| <= 2 pi.
 * `a` and `b` are kept although they follow from the rest: neighbours must share end points bit for bit.
 */
export interface Arc {
  readonly kind: 'arc';
  readonly a: Point;
  readonly b: Point;
  readonly centre: Point;
  readonly radius: Mm;
  readonly sweep: Rad;
}

export type Segment = Line | Arc;

/** A chain of segments: each starts exactly where the one before ends. */
export type Chain = readonly Segment[];

/** A closed chain. Outer edges run counter-clockwise, the edges of openings clockwise (material on the left). */
export type Loop = Chain;

/** An area: one outer edge and its openings. */
export interface Region {
  readonly outer: Loop;
  readonly holes: readonly Loop[];
}

export interface Box {
  readonly minX: Mm;
  readonly minY: Mm;
  readonly maxX: Mm;
  readonly maxY: Mm;
}
