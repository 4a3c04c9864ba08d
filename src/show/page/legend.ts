/** What the lines and colours mean, drawn as they are drawn. */
import type { ViewData } from './data/view-data.ts';

const line = (stroke: string, width: number, dashes: string, y = 10) =>
  `<line x1="0" x2="80" y1="${y}" y2="${y}" stroke="${stroke}" stroke-width="${width}"${dashes === '' ? '' : ` stroke-dasharray="${dashes}"`}/>`;

const box = (fill: string, more = '') =>
  `<rect x="1" y="2" width="78" height="16" fill="${fill}" stroke="#000"/>${more}`;

const ROWS: readonly (readonly [string, string])[] = [
  [line('#000', 2, ''), 'edge of the part (continuous wide)'],
  [line('#0072b2', 1, '24 3 1 3'), 'path of the cutter’s centre (long-dashed dotted narrow)'],
  [line('#cc79a7', 1, '12 3'), 'rapid (dashed narrow)'],
  [line('#000', 1, '24 3 1 3'), 'centre line of a hole (long-dashed dotted narrow, black)'],
  [
    `<path d="M20 4V16M60 4V16M20 10H60" stroke="#009e73" stroke-width="2" fill="none"/>`,
    'tab, at its width, with its number',
  ],
  [box('#e4e2dc'), 'top of the stock, not cut'],
  [
    `<rect x="1" y="2" width="26" height="16" fill="#cee6f5"/><rect x="27" y="2" width="26" height="16" fill="#a9d1ea"/><rect x="53" y="2" width="26" height="16" fill="#84bce0"/><rect x="1" y="2" width="78" height="16" fill="none" stroke="#000"/>`,
    'cut, darker the deeper; white: cut through all of the stock',
  ],
  [
    box('#d55e00', '<path d="M4 18L20 2M24 18L40 2M44 18L60 2M64 18L78 4" stroke="#3c1400"/>'),
    'gouged: hatched, a ring marked G with its depth',
  ],
  [
    box('#e69f00', [10, 22, 34, 46, 58, 70].map((x) => `<circle cx="${x}" cy="10" r="2.5"/>`).join('')),
    'uncut: dotted, a square marked U with its height',
  ],
  [`<path d="M30 17l8 -14l8 14z" fill="#000" stroke="#000"/>`, 'fault at its place; an open triangle is a caution'],
];

export function legend(data: ViewData): string {
  const rows = data.hasJob ? ROWS : ROWS.filter(([, words]) => !/part|gouged|uncut|tab,/.test(words));
  const items = rows
    .map(([drawing, words]) => `<li aria-hidden="true"><svg viewBox="0 0 80 20">${drawing}</svg></li><li>${words}</li>`)
    .join('');
  return `<section aria-labelledby="h-legend"><h2 id="h-legend">Lines and colours</h2><ul class="legend">${items}</ul></section>`;
}
