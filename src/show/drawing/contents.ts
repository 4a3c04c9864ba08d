import { cosine, sine } from '../../base/angles.ts';
import type { Mm, Rad } from '../../base/units.ts';
import type { Loop, Point } from '../../geometry/types.ts';

/** What a drawing of an outline shows, at true size, in the part's own axes (millimetres, Y up). */
export interface DrawingContents {
  readonly name: string;
  /** Outer edges; usually one. */
  readonly outlines: readonly Loop[];
  /** Edges of pockets and openings. */
  readonly openings?: readonly Loop[];
  readonly holes?: readonly DrawnHole[];
  readonly tabs?: readonly DrawnTab[];
}

export interface DrawnHole {
  readonly at: Point;
  readonly diameter: Mm;
}

/** A tab stands on the edge at `at`; `direction` is the outward normal, counter-clockwise from X. */
export interface DrawnTab {
  readonly at: Point;
  readonly direction: Rad;
  /** Waist along the edge. */
  readonly width: Mm;
}

/** The two ends of a tab's waist, on the tangent through its middle. */
export function tabEnds(tab: DrawnTab): readonly [Point, Point] {
  const half = tab.width / 2;
  const [x, y] = [-sine(tab.direction) * half, cosine(tab.direction) * half];
  return [
    { x: tab.at.x - x, y: tab.at.y - y },
    { x: tab.at.x + x, y: tab.at.y + y },
  ];
}
