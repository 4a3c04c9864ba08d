/**
 * SVG strokes on paper: millimetres of paper, y down. Line types by ISO 128-2, line group 0.35: wide 0.35, narrow 0.18 mm;
 * dashes in line widths: dashed 12-3, long-dashed dotted 24-3-0.5-3, long-dashed double-dotted 24-3-0.5-3-0.5-3.
 */
import { fixed } from '../../../base/text.ts';
import type { Mm } from '../../../base/units.ts';
import type { Loop, Point, Segment } from '../../../geometry/types.ts';
import { esc } from '../../markup/html.ts';
import { COLOURS } from '../style.ts';

export const WIDE: Mm = 0.35;
export const NARROW: Mm = 0.18;

/** Font size whose capitals are about 2.4 mm high in the usual sans-serif faces. */
export const LETTERING: Mm = 3.2;

export type LineType = 'edge' | 'narrow' | 'hidden' | 'centre' | 'adjacent';

const TYPES: Readonly<Record<LineType, string>> = {
  edge: `stroke-width="${WIDE}"`,
  narrow: `stroke-width="${NARROW}"`,
  hidden: `stroke-width="${NARROW}" stroke-dasharray="2.16 0.54"`,
  // Begins with half a long dash: centre lines are drawn from the centre outwards, so that long dashes cross there.
  centre: `stroke-width="${NARROW}" stroke-dasharray="2.16 0.54 0.09 0.54 2.16 0"`,
  adjacent: `stroke-width="${NARROW}" stroke-dasharray="4.32 0.54 0.09 0.54 0.09 0.54"`,
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
  return `<line x1="${num(a.x)}" y1="${num(a.y)}" x2="${num(b.x)}" y2="${num(b.y)}" stroke="${colour}" ${TYPES[type]}/>`;
}

export function polyline(points: readonly Point[], type: LineType): string {
  const p = points.map((q) => `${num(q.x)},${num(q.y)}`).join(' ');
  return `<polyline points="${p}" fill="none" stroke="${COLOURS.black}" ${TYPES[type]}/>`;
}

export function rect(min: Point, max: Point, type: LineType, fill = 'none'): string {
  const [x, y] = [Math.min(min.x, max.x), Math.min(min.y, max.y)];
  const [w, h] = [Math.abs(max.x - min.x), Math.abs(max.y - min.y)];
  return `<rect x="${num(x)}" y="${num(y)}" width="${num(w)}" height="${num(h)}" fill="${fill}" stroke="${COLOURS.black}" ${TYPES[type]}/>`;
}

export function circle(at: Point, radius: Mm, type: LineType, colour: string = COLOURS.black, fill = 'none'): string {
  return `<circle cx="${num(at.x)}" cy="${num(at.y)}" r="${num(radius)}" fill="${fill}" stroke="${colour}" ${TYPES[type]}/>`;
}

export function loopPath(v: View, loop: Loop, attributes: string): string {
  return `<path d="${pathData(v, loop)}" ${attributes}/>`;
}

export function edgePath(v: View, loop: Loop, fill: string): string {
  return loopPath(v, loop, `fill="${fill}" stroke="${COLOURS.black}" ${TYPES.edge}`);
}

function pathData(v: View, loop: Loop): string {
  const start = onPaper(v, loop[0]!.a);
  return `M${num(start.x)} ${num(start.y)} ${loop.map((s) => command(v, s)).join(' ')} Z`;
}

/** With y turned down, counter-clockwise is SVG's sweep flag 0. A whole circle is two halves: SVG cannot say it in one. */
function command(v: View, s: Segment): string {
  const b = onPaper(v, s.b);
  if (s.kind === 'line') return `L${num(b.x)} ${num(b.y)}`;
  const r = num(s.radius * v.scale);
  const flag = s.sweep > 0 ? 0 : 1;
  if (Math.abs(s.sweep) < 2 * Math.PI - 1e-6) {
    return `A${r} ${r} 0 ${Math.abs(s.sweep) > Math.PI ? 1 : 0} ${flag} ${num(b.x)} ${num(b.y)}`;
  }
  const far = onPaper(v, { x: 2 * s.centre.x - s.a.x, y: 2 * s.centre.y - s.a.y });
  return `A${r} ${r} 0 0 ${flag} ${num(far.x)} ${num(far.y)} A${r} ${r} 0 0 ${flag} ${num(b.x)} ${num(b.y)}`;
}

/** Centre lines of a round thing, standing out 2 mm of paper beyond it. */
export function centreLines(at: Point, radius: Mm): string {
  const reach = radius + 2;
  return [
    { x: reach, y: 0 },
    { x: -reach, y: 0 },
    { x: 0, y: reach },
    { x: 0, y: -reach },
  ]
    .map((d) => stroke(at, { x: at.x + d.x, y: at.y + d.y }, 'centre'))
    .join('');
}

export interface Lettering {
  readonly anchor?: 'start' | 'middle' | 'end';
  /** Written upwards, to be read from the right (ISO 129-1). */
  readonly upright?: boolean;
  readonly colour?: string;
  /** Key path in the plan file. */
  readonly plan?: string;
}

export function letters(at: Point, text: string, how: Lettering = {}): string {
  const turned = how.upright ? ` transform="rotate(-90 ${num(at.x)} ${num(at.y)})"` : '';
  const plan = how.plan ? ` data-plan="${how.plan}" data-is="length"` : '';
  return `<text x="${num(at.x)}" y="${num(at.y)}" text-anchor="${how.anchor ?? 'start'}" fill="${how.colour ?? COLOURS.black}"${turned}${plan}>${esc(text)}</text>`;
}

/** A white strip behind lettering that stands on lines. */
export function plate(at: Point, width: Mm, height: Mm): string {
  return `<rect x="${num(at.x)}" y="${num(at.y)}" width="${num(width)}" height="${num(height)}" fill="#ffffff" stroke="none"/>`;
}

export function svg(width: Mm, height: Mm, title: string, body: readonly string[]): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="${num(width)}mm" height="${num(height)}mm" viewBox="0 0 ${num(width)} ${num(height)}" font-size="${LETTERING}">`,
    `<title>${esc(title)}</title>`,
    ...body,
    '</svg>',
  ].join('\n');
}
