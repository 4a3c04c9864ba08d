/** The plan as an SVG drawing in millimetres: edges, centre lines, tabs, clamps, with what is said of each. */
import type { FlatSegment, ViewClamp, ViewData, ViewHole, ViewTab, XY } from '../../data/view-data.ts';
import { svg } from '../elements.ts';
import { BLACK, DASHED, GREEN, LONG_DASHED_DOTTED, NARROW, WIDE } from './ink.ts';

const dash = (units: readonly number[]) => units.map((u) => u * NARROW).join(' ');
const STEADY = { 'vector-effect': 'non-scaling-stroke', fill: 'none' };
const narrow = { ...STEADY, 'stroke-width': NARROW };

export function workDrawing(data: ViewData, setup: number, clampsShown: boolean): SVGElement {
  const group = svg('g', { transform: 'scale(1 -1)' });
  const stock = data.setups[setup]?.stock ?? null;
  if (stock) {
    const [x, y] = stock.min;
    const size = { width: stock.max[0] - x, height: stock.max[1] - y };
    group.append(svg('rect', { x, y, ...size, ...narrow, stroke: BLACK, class: 'stock-edge' }));
  }
  // The part, its tabs and the clamps are known as they lie in the first set-up.
  if (setup > 0) return group;
  if (clampsShown && stock) for (const c of data.clamps) group.append(...clamp(c, stock.min, stock.max));
  for (const part of data.parts) {
    group.append(svg('path', { d: pathData(part.outline), ...STEADY, stroke: BLACK, 'stroke-width': WIDE }));
    for (const p of part.pockets)
      for (const loop of [p.outline, ...p.islands])
        group.append(svg('path', { d: pathData(loop), ...STEADY, stroke: BLACK, 'stroke-width': WIDE }));
    for (const h of part.holes) group.append(...hole(h));
  }
  for (const t of data.tabs) group.append(tab(t));
  return group;
}

export function pathData(loop: readonly FlatSegment[]): string {
  const n = (v: number) => Number(v.toFixed(4));
  const first = loop[0];
  if (first === undefined) return '';
  const pieces = loop.map((s) => {
    if (s.length === 4) return `L${n(s[2])} ${n(s[3])}`;
    const r = n(Math.hypot(s[0] - s[4], s[1] - s[5]));
    if (Math.abs(s[6]) > Math.PI * 1.99) {
      const [mx, my] = [2 * s[4] - s[0], 2 * s[5] - s[1]];
      const turn = s[6] > 0 ? 1 : 0;
      return `A${r} ${r} 0 0 ${turn} ${n(mx)} ${n(my)}A${r} ${r} 0 0 ${turn} ${n(s[2])} ${n(s[3])}`;
    }
    return `A${r} ${r} 0 ${Math.abs(s[6]) > Math.PI ? 1 : 0} ${s[6] > 0 ? 1 : 0} ${n(s[2])} ${n(s[3])}`;
  });
  return `M${n(first[0])} ${n(first[1])}${pieces.join('')}Z`;
}

function hole(h: ViewHole): SVGElement[] {
  const [x, y] = h.at;
  const out = h.mouth / 2 + Math.max(1.2, h.diameter * 0.25);
  const centre = { ...narrow, stroke: BLACK, 'stroke-dasharray': dash(LONG_DASHED_DOTTED) };
  const ring = (d: number) => svg('circle', { cx: x, cy: y, r: d / 2, ...STEADY, stroke: BLACK, 'stroke-width': WIDE });
  return [
    ring(h.diameter),
    ...(h.mouth > h.diameter ? [ring(h.mouth)] : []),
    // Drawn from the middle outwards, so that the long dashes cross there.
    ...[
      [out, 0],
      [-out, 0],
      [0, out],
      [0, -out],
    ].map(([dx, dy]) => svg('line', { x1: x, y1: y, x2: x + dx!, y2: y + dy!, ...centre })),
  ];
}

function tab(t: ViewTab): SVGElement {
  const shape = tabStrokes(t).map((l) => `M${l.map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`).join('L')}`);
  return svg('path', { d: shape.join(''), ...STEADY, stroke: GREEN, 'stroke-width': WIDE, class: 'tab-mark' });
}

/** Mark of a tab across the slot: its two sides, and a line between them as wide as its waist. */
export function tabStrokes(t: ViewTab): XY[][] {
  const a = (t.directionDeg * Math.PI) / 180;
  const [ux, uy] = [Math.cos(a), Math.sin(a)];
  const w = t.width / 2;
  const d = 1.5;
  const p = (along: number, out: number): XY => [t.at[0] - uy * along + ux * out, t.at[1] + ux * along + uy * out];
  return [
    [p(w, 0), p(w, d)],
    [p(-w, 0), p(-w, d)],
    [p(w, d / 2), p(-w, d / 2)],
  ];
}

function clamp(c: ViewClamp, min: readonly number[], max: readonly number[]): SVGElement[] {
  const boxes = c.kind === 'block' ? [[...c.min, ...c.max]] : jaws(c, min, max);
  return boxes.map(([x0, y0, x1, y1]) =>
    svg('rect', {
      x: x0!,
      y: y0!,
      width: x1! - x0!,
      height: y1! - y0!,
      'vector-effect': 'non-scaling-stroke',
      stroke: BLACK,
      'stroke-width': NARROW,
      'stroke-dasharray': dash(DASHED),
      fill: 'url(#clamp-hatch)',
      class: 'clamp',
    }),
  );
}

/** Jaws grip `grip` at both ends of their axis, and stand outside the stock. */
function jaws(c: Extract<ViewClamp, { kind: 'jaws' }>, min: readonly number[], max: readonly number[]): number[][] {
  const [x0, y0, x1, y1] = [min[0]!, min[1]!, max[0]!, max[1]!];
  const g = c.grip;
  const out = 3;
  return c.axis === 'x'
    ? [
        [x0 - out, y0, x0 + g, y1],
        [x1 - g, y0, x1 + out, y1],
      ]
    : [
        [x0, y0 - out, x1, y0 + g],
        [x0, y1 - g, x1, y1 + out],
      ];
}
