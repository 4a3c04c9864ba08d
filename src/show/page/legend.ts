/** What the lines and colours mean, drawn as they are drawn. */
import { element } from '../markup/element.ts';
import type { ViewData } from './data/view-data.ts';

const line = (stroke: string, width: number, dashes?: string) =>
  element('line', { x1: 0, x2: 80, y1: 10, y2: 10, stroke, 'stroke-width': width, 'stroke-dasharray': dashes });
const path = (d: string, paint: Readonly<Record<string, string | number>>) => element('path', { d, ...paint });
const rect = (x: number, width: number, paint: Readonly<Record<string, string>>) =>
  element('rect', { x, y: 2, width, height: 16, ...paint });
const box = (fill: string) => rect(1, 78, { fill, stroke: '#000' });
const dots = [10, 22, 34, 46, 58, 70].map((cx) => element('circle', { cx, cy: 10, r: 2.5 }));
const tints = ['#cee6f5', '#a9d1ea', '#84bce0'].map((fill, i) => rect(1 + 26 * i, 26, { fill }));

const ROWS: readonly (readonly [drawing: string, words: string])[] = [
  [line('#000', 2), 'edge of the part (continuous wide)'],
  [line('#0072b2', 1, '24 3 1 3'), 'path of the cutter’s centre (long-dashed dotted narrow)'],
  [line('#cc79a7', 1, '12 3'), 'rapid (dashed narrow)'],
  [line('#000', 1, '24 3 1 3'), 'centre line of a hole (long-dashed dotted narrow, black)'],
  [
    path('M20 4V16M60 4V16M20 10H60', { stroke: '#009e73', 'stroke-width': 2, fill: 'none' }),
    'tab, at its width, with its number',
  ],
  [box('#e4e2dc'), 'top of the stock, not cut'],
  [`${tints.join('')}${box('none')}`, 'cut, darker the deeper; white: cut through all of the stock'],
  [
    box('#d55e00') + path('M4 18L20 2M24 18L40 2M44 18L60 2M64 18L78 4', { stroke: '#3c1400' }),
    'gouged: hatched, a ring marked G with its depth',
  ],
  [box('#e69f00') + dots.join(''), 'uncut: dotted, a square marked U with its height'],
  [path('M30 17l8 -14l8 14z', { fill: '#000', stroke: '#000' }), 'fault at its place; an open triangle is a caution'],
];

export function legend(data: ViewData): string {
  const rows = data.hasJob ? ROWS : ROWS.filter(([, words]) => !/part|gouged|uncut|tab,/.test(words));
  const items = rows
    .map(([drawing, words]) => `<li aria-hidden="true"><svg viewBox="0 0 80 20">${drawing}</svg></li><li>${words}</li>`)
    .join('');
  return `<section aria-labelledby="h-legend"><h2 id="h-legend">Lines and colours</h2><ul class="legend">${items}</ul></section>`;
}
