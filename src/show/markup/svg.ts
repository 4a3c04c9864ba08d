/** Paths and points of SVG, however its numbers are spelt. */
import type { Loop, Point, Segment } from '../../geometry/types.ts';

/** How a drawing puts the work into numbers. */
export interface SvgSpelling {
  readonly point: (p: Point) => string;
  readonly length: (v: number) => string;
  /** Counter-clockwise in the work is sweep flag 0 where y counts down, 1 where it counts up. */
  readonly y: 'down' | 'up';
}

export function pathData(loop: Loop, spelling: SvgSpelling): string {
  const first = loop[0];
  if (first === undefined) return '';
  return `M${spelling.point(first.a)} ${loop.map((s) => command(s, spelling)).join(' ')} Z`;
}

/** A whole circle is two halves: SVG cannot say it in one. */
function command(s: Segment, { point, length, y }: SvgSpelling): string {
  if (s.kind === 'line') return `L${point(s.b)}`;
  const turn = s.sweep > 0 === (y === 'up') ? 1 : 0;
  const arc = (large: number, to: Point) => `A${length(s.radius)} ${length(s.radius)} 0 ${large} ${turn} ${point(to)}`;
  if (Math.abs(s.sweep) < 2 * Math.PI - 1e-6) return arc(Math.abs(s.sweep) > Math.PI ? 1 : 0, s.b);
  return `${arc(0, { x: 2 * s.centre.x - s.a.x, y: 2 * s.centre.y - s.a.y })} ${arc(0, s.b)}`;
}

/** `x1,y1 x2,y2`, as polygons and polylines want them. */
export function pointList(points: readonly Point[], length: SvgSpelling['length']): string {
  return points.map((p) => `${length(p.x)},${length(p.y)}`).join(' ');
}

/** Ends of four lines from a middle outwards: drawn so, the long dashes of centre lines cross there. */
export function crossEnds({ x, y }: Point, reach: number): readonly Point[] {
  return [
    { x: x + reach, y },
    { x: x - reach, y },
    { x, y: y + reach },
    { x, y: y - reach },
  ];
}
