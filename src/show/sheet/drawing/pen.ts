/**
 * SVG strokes on paper: millimetres of paper, y down. Line types by ISO 128-2, line group 0.35: wide 0.35, narrow 0.18 mm;
 * dashes in line widths: dashed 12-3, long-dashed dotted 24-3-0.5-3, long-dashed double-dotted 24-3-0.5-3-0.5-3.
 */
import { fixed } from '../../../base/text.ts';
import type { Mm } from '../../../base/units.ts';
import type { Loop, Point } from '../../../geometry/types.ts';
import { element, esc, type MarkupAttributes } from '../../markup/element.ts';
import { crossEnds, pathData, pointList } from '../../markup/svg.ts';
import { COLOURS } from '../style.ts';

export const WIDE: Mm = 0.35;
export const NARROW: Mm = 0.18;

/** Font size whose capitals are about 2.4 mm high in the usual sans-serif faces. */
export const LETTERING: Mm = 3.2;

export type LineType = 'edge' | 'narrow' | 'hidden' | 'centre' | 'adjacent';

const TYPES: Readonly<Record<LineType, MarkupAttributes>> = {
  edge: { 'stroke-width': WIDE },
  narrow: { 'stroke-width': NARROW },
  hidden: { 'stroke-width': NARROW, 'stroke-dasharray': '2.16 0.54' },
  // Begins with half a long dash: centre lines are drawn from the centre outwards, so that long dashes cross there.
  centre: { 'stroke-width': NARROW, 'stroke-dasharray': '2.16 0.54 0.09 0.54 2.16 0' },
  adjacent: { 'stroke-width': NARROW, 'stroke-dasharray': '4.32 0.54 0.09 0.54 0.09 0.54' },
};

/** From the work to paper: scale, and where the work's 0,0 lies. */
export interface View {
  readonly scale: number;
  readonly ox: Mm;
  readonly oy: Mm;
}

export function onPaper(v: View, p: Point): Point {
  return { x: v.ox + p.x * v.scale, y: v.oy - p.y * v.scale };
}

export function num(v: number): string {
  return fixed(v, 3);
}

export function stroke(a: Point, b: Point, type: LineType, colour: string = COLOURS.black): string {
  const ends = { x1: num(a.x), y1: num(a.y), x2: num(b.x), y2: num(b.y) };
  return element('line', { ...ends, stroke: colour, ...TYPES[type] });
}

export function polyline(points: readonly Point[], type: LineType): string {
  return element('polyline', { points: pointList(points, num), fill: 'none', stroke: COLOURS.black, ...TYPES[type] });
}

export function polygon(points: readonly Point[], paint: MarkupAttributes): string {
  return element('polygon', { points: pointList(points, num), ...paint });
}

export function rect(min: Point, max: Point, type: LineType, fill = 'none'): string {
  const at = { x: num(Math.min(min.x, max.x)), y: num(Math.min(min.y, max.y)) };
  const size = { width: num(Math.abs(max.x - min.x)), height: num(Math.abs(max.y - min.y)) };
  return element('rect', { ...at, ...size, fill, stroke: COLOURS.black, ...TYPES[type] });
}

export function circle(at: Point, radius: Mm, type: LineType, colour: string = COLOURS.black, fill = 'none'): string {
  return element('circle', { cx: num(at.x), cy: num(at.y), r: num(radius), fill, stroke: colour, ...TYPES[type] });
}

export function loopPath(v: View, loop: Loop, paint: MarkupAttributes): string {
  const point = (p: Point) => {
    const { x, y } = onPaper(v, p);
    return `${num(x)} ${num(y)}`;
  };
  const d = pathData(loop, { point, length: (radius) => num(radius * v.scale), y: 'down' });
  return element('path', { d, ...paint });
}

export function edgePath(v: View, loop: Loop, fill: string): string {
  return loopPath(v, loop, { fill, stroke: COLOURS.black, ...TYPES.edge });
}

/** Centre lines of a round thing, standing out 2 mm of paper beyond it. */
export function centreLines(at: Point, radius: Mm): string {
  return crossEnds(at, radius + 2)
    .map((end) => stroke(at, end, 'centre'))
    .join('');
}

export interface Lettering {
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Written upwards, to be read from the right (ISO 129-1). */
  readonly upright?: boolean;
  readonly colour?: string;
  /** Key path in the plan file. */
  readonly plan?: string | undefined;
}

export function letters(at: Point, text: string, how: Lettering = {}): string {
  const [x, y] = [num(at.x), num(at.y)];
  return element(
    'text',
    {
      x,
      y,
      'text-anchor': how.anchor ?? 'start',
      fill: how.colour ?? COLOURS.black,
      transform: how.upright ? `rotate(-90 ${x} ${y})` : undefined,
      'data-plan': how.plan,
      'data-is': how.plan && 'length',
    },
    esc(text),
  );
}

export function svg(width: Mm, height: Mm, title: string, body: readonly string[]): string {
  const [w, h] = [num(width), num(height)];
  const size = { width: `${w}mm`, height: `${h}mm`, viewBox: `0 0 ${w} ${h}`, 'font-size': LETTERING };
  const inner = [element('title', {}, esc(title)), ...body].join('\n');
  return element('svg', { xmlns: 'http://www.w3.org/2000/svg', role: 'img', ...size }, `\n${inner}\n`);
}
