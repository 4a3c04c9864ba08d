/**
 * An SVG drawing of an outline at true size: one user unit is one millimetre, arcs stay arcs, Y is turned (SVG counts it
 * down). An empty group with the id `part-zero` marks the part's own 0,0, which need not be a corner of the sheet.
 * Line types by ISO 128: edges continuous wide, tabs dashed narrow.
 */
import { LAYERS, TABS_ID } from '../../base/drawing-layers.ts';
import { loopBox, uniteBoxes } from '../../geometry/measure/loop.ts';
import type { Box, Loop } from '../../geometry/types.ts';
import { element, esc } from '../markup/element.ts';
import { pathData, type SvgSpelling } from '../markup/svg.ts';
import { type DrawingContents, type DrawnHole, type DrawnTab, tabEnds } from './contents.ts';
import { exact } from './exact.ts';

/** Paper round the part, whole millimetres, so that shifts by it do not round. */
const MARGIN = 2;

/** ISO 128 line widths; half the usual 0.5/0.25 pair, so that small parts are not drowned. */
const WIDE = 0.25;
const NARROW = 0.13;

const SPELLING: SvgSpelling = { point: (p) => `${exact(p.x)},${exact(-p.y)}`, length: exact, y: 'down' };

export function outlineSvg({ name, outlines, openings = [], holes = [], tabs = [] }: DrawingContents): string {
  const box = paper([...outlines, ...openings].map(loopBox), holes);
  const [x, y, w, h] = [box.minX, -box.maxY, box.maxX - box.minX, box.maxY - box.minY].map(exact);
  const id = (layer: string, i: number) => `${layer.toLowerCase()}-${i + 1}`;
  const parts = [
    ...outlines.map((l, i) => loop(l, i === 0 ? LAYERS.outline.toLowerCase() : id(LAYERS.outline, i))),
    ...openings.map((l, i) => loop(l, id(LAYERS.opening, i))),
    ...holes.map((hole, i) => circle(hole, id(LAYERS.hole, i))),
  ];
  const waists = tabs.map((t, i) => waist(t, id(LAYERS.tab, i)));
  const size = { width: `${w}mm`, height: `${h}mm`, viewBox: `${x} ${y} ${w} ${h}` };
  const lines = [
    element('title', {}, esc(name)),
    '<desc>Millimetres, true size. The group part-zero stands at 0,0 of the part.</desc>',
    '<g id="part-zero"/>',
    group({ id: 'edges', ...stroke(WIDE) }, parts),
    tabs.length === 0 ? '' : group({ id: TABS_ID, ...stroke(NARROW), 'stroke-dasharray': '1.56 0.39' }, waists),
  ];
  const drawing = group(
    { xmlns: 'http://www.w3.org/2000/svg', ...size },
    lines.filter((l) => l !== ''),
    'svg',
  );
  return `<?xml version="1.0" encoding="UTF-8"?>\n${drawing}\n`;
}

function stroke(width: number) {
  return { fill: 'none', stroke: '#000000', 'stroke-width': width };
}

/** Each child on a line of its own. */
function group(attributes: Readonly<Record<string, string | number>>, inner: readonly string[], name = 'g'): string {
  return element(name, attributes, `\n${inner.join('\n')}\n`);
}

/** Whole millimetres round everything drawn. */
function paper(loops: readonly Box[], holes: readonly DrawnHole[]): Box {
  const round = holes.map(({ at: { x, y }, diameter }): Box => {
    const r = diameter / 2;
    return { minX: x - r, minY: y - r, maxX: x + r, maxY: y + r };
  });
  const boxes = [...loops, ...round];
  const all = boxes.length === 0 ? { minX: 0, minY: 0, maxX: 0, maxY: 0 } : boxes.reduce(uniteBoxes);
  return {
    minX: Math.floor(all.minX) - MARGIN,
    minY: Math.floor(all.minY) - MARGIN,
    maxX: Math.ceil(all.maxX) + MARGIN,
    maxY: Math.ceil(all.maxY) + MARGIN,
  };
}

function loop(l: Loop, id: string): string {
  const only = l[0]!;
  if (l.length === 1 && only.kind === 'arc') return circle({ at: only.centre, diameter: 2 * only.radius }, id);
  return element('path', { id, d: pathData(l, SPELLING) });
}

function circle({ at, diameter }: DrawnHole, id: string): string {
  return element('circle', { id, cx: exact(at.x), cy: exact(-at.y), r: exact(diameter / 2) });
}

function waist(tab: DrawnTab, id: string): string {
  const [a, b] = tabEnds(tab);
  return element('line', { id, x1: exact(a.x), y1: exact(-a.y), x2: exact(b.x), y2: exact(-b.y) });
}
