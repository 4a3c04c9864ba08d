/** The plan as an SVG drawing in millimetres: edges, centre lines, tabs, clamps, with what is said of each. */
import { short } from '../../../../base/text.ts';
import { toRad } from '../../../../base/units.ts';
import { fromAngle } from '../../../../geometry/measure/point.ts';
import type { Clamp } from '../../../../part/part.ts';
import { jawStrips } from '../../../jaws.ts';
import { crossEnds, pathData, type SvgSpelling } from '../../../markup/svg.ts';
import type { FlatSegment, ViewData, ViewHole, ViewSetup, ViewTab, XY } from '../../data/view-data.ts';
import { loopOf } from '../../worker/wanted-field.ts';
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
  if (clampsShown && stock) for (const c of data.clamps) group.append(...clamp(c, stock));
  for (const part of data.parts) {
    const loops = [part.outline, ...part.pockets.flatMap((p) => [p.outline, ...p.islands])];
    group.append(...loops.map(edge), ...part.holes.flatMap(hole));
  }
  for (const t of data.tabs) group.append(tab(t));
  return group;
}

const SPELLING: SvgSpelling = {
  point: (p) => `${tenth(p.x)} ${tenth(p.y)}`,
  length: tenth,
  y: 'up',
};

/** Tenths of a micrometre. */
function tenth(v: number): string {
  return short(v, 4);
}

function edge(loop: readonly FlatSegment[]): SVGElement {
  const d = pathData(loopOf(loop), SPELLING);
  return svg('path', { d, ...STEADY, stroke: BLACK, 'stroke-width': WIDE });
}

function hole(h: ViewHole): SVGElement[] {
  const [x, y] = h.at;
  const out = h.mouth / 2 + Math.max(1.2, h.diameter * 0.25);
  const centre = { ...narrow, stroke: BLACK, 'stroke-dasharray': dash(LONG_DASHED_DOTTED) };
  const ring = (d: number) => svg('circle', { cx: x, cy: y, r: d / 2, ...STEADY, stroke: BLACK, 'stroke-width': WIDE });
  return [
    ring(h.diameter),
    ...(h.mouth > h.diameter ? [ring(h.mouth)] : []),
    ...crossEnds({ x, y }, out).map((end) => svg('line', { x1: x, y1: y, x2: end.x, y2: end.y, ...centre })),
  ];
}

function tab(t: ViewTab): SVGElement {
  const shape = tabStrokes(t).map((l) => `M${l.map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`).join('L')}`);
  return svg('path', { d: shape.join(''), ...STEADY, stroke: GREEN, 'stroke-width': WIDE, class: 'tab-mark' });
}

/** Mark of a tab across the slot: its two sides, and a line between them as wide as its waist. */
export function tabStrokes(t: ViewTab): XY[][] {
  const { x: ux, y: uy } = fromAngle(toRad(t.directionDeg));
  const w = t.width / 2;
  const d = 1.5;
  const p = (along: number, out: number): XY => [t.at[0] - uy * along + ux * out, t.at[1] + ux * along + uy * out];
  return [
    [p(w, 0), p(w, d)],
    [p(-w, 0), p(-w, d)],
    [p(w, d / 2), p(-w, d / 2)],
  ];
}

/** Jaws stand out this far beyond the stock. */
const JAW = 3;

function clamp(c: Clamp, stock: NonNullable<ViewSetup['stock']>): SVGElement[] {
  const strips = c.kind === 'block' ? [[...c.min, ...c.max] as const] : jawStrips(c, stock, JAW);
  const look = {
    ...narrow,
    stroke: BLACK,
    'stroke-dasharray': dash(DASHED),
    fill: 'url(#clamp-hatch)',
    class: 'clamp',
  };
  return strips.map(([x, y, x1, y1]) => svg('rect', { x, y, width: x1 - x, height: y1 - y, ...look }));
}
