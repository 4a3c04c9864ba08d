/** What is drawn over plan and free view alike, in screen pixels: cutter, labels, findings, marked places, the measure, a scale bar. */
import { short } from '../../../../base/text.ts';
import { toRad } from '../../../../base/units.ts';
import { crossEnds } from '../../../markup/svg.ts';
import type { ViewTab, XY } from '../../data/view-data.ts';
import { type ElementAttributes, svg } from '../elements.ts';
import type { Store } from '../store.ts';
import { BLACK, GREEN, LONG_DASHED_DOTTED, NARROW, WIDE } from './ink.ts';
import { tabStrokes } from './plan-drawing.ts';

/** How the view in use puts a place of the work on the screen. */
export interface Screen {
  readonly width: number;
  readonly height: number;
  /** Pixels a millimetre. */
  readonly scale: number;
  readonly project: (x: number, y: number, z: number) => XY;
  readonly plan: boolean;
}

/** With a view box, all layers of the stage shrink alike when it is printed smaller than it stands on the screen. */
export function layOver(over: SVGSVGElement, store: Store, w: Screen): void {
  over.setAttribute('viewBox', `0 0 ${w.width} ${w.height}`);
  over.replaceChildren(...overlay(store, w));
}

function overlay(store: Store, w: Screen): SVGElement[] {
  const { state, data } = store;
  const tabs = store.program.view.setup === 0 ? data.tabs : [];
  return [
    ...tabs.flatMap((t, i) => [...tabMark(w, t), tabLabel(w, t, `tab ${i + 1}`)]),
    ...(state.shown.marks ? [...markedPlaces(store, w), ...findings(store, w)] : []),
    ...(w.plan ? cutter(store, w) : []),
    ...spot(store, w),
    ...measure(store, w),
    scaleBar(w),
  ];
}

function label(x: number, y: number, text: string, more: ElementAttributes = {}): SVGElement {
  return svg('text', { x, y, class: 'label', ...more }, text);
}

function tabLabel(w: Screen, { at, directionDeg }: ViewTab, text: string): SVGElement {
  const a = toRad(directionDeg);
  const [x, y] = w.project(at[0] + 1.5 * Math.cos(a), at[1] + 1.5 * Math.sin(a), 0);
  if (!w.plan) {
    // Beyond the mark, the way the tab points on the screen.
    const [x0, y0] = w.project(at[0], at[1], 0);
    const far = 20 / Math.max(1, Math.hypot(x - x0, y - y0));
    return label(x + (x - x0) * far, y + (y - y0) * far + 4, text, { 'text-anchor': 'middle', fill: '#00664b' });
  }
  const out = 12;
  const anchor = Math.cos(a) > 0.3 ? 'start' : Math.cos(a) < -0.3 ? 'end' : 'middle';
  return label(x + Math.cos(a) * out, y - Math.sin(a) * out + 5, text, { 'text-anchor': anchor, fill: '#00664b' });
}

/** The plan's drawing has its own; over the free view the same mark lies on the top face. */
function tabMark(w: Screen, t: ViewTab): SVGElement[] {
  if (w.plan) return [];
  const shape = tabStrokes(t).map((line) => `M${line.map(([x, y]) => w.project(x, y, 0).join(' ')).join('L')}`);
  const line = { d: shape.join(''), fill: 'none', class: 'tab-mark' };
  return [
    svg('path', { ...line, stroke: '#ffffff', 'stroke-width': 3 * WIDE }),
    svg('path', { ...line, stroke: GREEN, 'stroke-width': 1.5 * WIDE }),
  ];
}

function cutter(store: Store, w: Screen): SVGElement[] {
  const [x, y] = w.project(...store.moment.at);
  const r = Math.max(3, ((store.cutter?.diameter ?? 1) / 2) * w.scale);
  const line = { stroke: BLACK, 'stroke-width': WIDE };
  const cross = { stroke: BLACK, 'stroke-width': NARROW, 'stroke-dasharray': LONG_DASHED_DOTTED.join(' ') };
  return [
    svg('circle', { cx: x, cy: y, r, fill: '#ffffff', 'fill-opacity': 0.35, ...line, class: 'cutter' }),
    ...crossEnds({ x, y }, r + 8).map((end) => svg('line', { x1: x, y1: y, x2: end.x, y2: end.y, ...cross })),
  ];
}

/** Gouges: a ring and G; uncut stock: a square and U; both with their size. */
function markedPlaces({ state }: Store, w: Screen): SVGElement[] {
  const counts = { gouge: 0, uncut: 0 };
  return (state.places ?? []).flatMap((p) => {
    const n = ++counts[p.kind];
    if ((state.field?.position ?? 0) < p.move) return [];
    const [x, y] = w.project(p.at[0], p.at[1], 0);
    // A long gouge is seen by its colour; the ring shows where it is worst.
    const r = Math.max(9, Math.min(18, (p.across / 2) * w.scale + 5));
    const text = `${p.kind === 'gouge' ? 'G' : 'U'}${n} ${short(p.worst, 2)}`;
    const line = { fill: 'none', stroke: BLACK, 'stroke-width': WIDE };
    const shape =
      p.kind === 'gouge'
        ? svg('circle', { cx: x, cy: y, r, ...line, class: 'gouge-mark' })
        : svg('rect', { x: x - r, y: y - r, width: 2 * r, height: 2 * r, ...line, class: 'uncut-mark' });
    return [shape, label(x + r + 4, y - r + 4, text)];
  });
}

/** Faults: a filled triangle; cautions: an open one. Findings at one place share a label. */
function findings({ data, state, program }: Store, w: Screen): SVGElement[] {
  if (program.view.setup > 0) return [];
  const groups: { x: number; y: number; severity: 'fault' | 'caution'; numbers: number[] }[] = [];
  for (const [i, f] of data.findings.entries()) {
    if (f.at === null || f.severity === 'note' || f.program !== state.program) continue;
    const [x, y] = w.project(f.at[0]!, f.at[1]!, f.at[2] ?? 0);
    const near = groups.find((g) => g.severity === f.severity && Math.abs(g.x - x) < 40 && Math.abs(g.y - y) < 16);
    if (near) near.numbers.push(i + 1);
    else groups.push({ x, y, severity: f.severity, numbers: [i + 1] });
  }
  return groups.flatMap(({ x, y, severity, numbers }) => {
    const fill = severity === 'fault' ? BLACK : '#ffffff';
    const words = `${severity}${numbers.length > 1 ? 's' : ''} ${numbers.join(', ')}`;
    const d = `M${x} ${y}l7 -13h-14z`;
    return [
      svg('path', { d, fill, stroke: BLACK, 'stroke-width': NARROW * 1.5, class: `finding-mark ${severity}` }),
      label(x, y - 17, words, { 'text-anchor': 'middle' }),
    ];
  });
}

function spot({ state }: Store, w: Screen): SVGElement[] {
  if (!state.spot) return [];
  const [x, y] = w.project(...state.spot.at, 0);
  const ring = { cx: x, cy: y, fill: 'none', stroke: BLACK };
  return [
    svg('circle', { ...ring, r: 16, 'stroke-width': 5, stroke: '#ffffff' }),
    svg('circle', { ...ring, r: 16, 'stroke-width': WIDE, class: 'spot' }),
    svg('circle', { ...ring, r: 20, 'stroke-width': NARROW }),
    label(x, y + 38, state.spot.label, { 'text-anchor': 'middle' }),
  ];
}

/** Dimension line after ISO 129: narrow, with oblique strokes at its ends. */
function measure({ state }: Store, w: Screen): SVGElement[] {
  const points = state.measure.map((p) => w.project(p[0], p[1], p[2] ?? 0));
  const stroke = { stroke: BLACK, 'stroke-width': NARROW, fill: 'none' };
  const ticks = points.map(([x, y]) =>
    svg('path', { d: `M${x - 6} ${y + 6}L${x + 6} ${y - 6}M${x - 6} ${y}H${x + 6}M${x} ${y - 6}V${y + 6}`, ...stroke }),
  );
  const [a, b] = points;
  const [p, q] = state.measure;
  if (!a || !b || !p || !q) return ticks;
  const text = short(Math.hypot(p[0] - q[0], p[1] - q[1]), 2);
  const line = svg('line', { x1: a[0], y1: a[1], x2: b[0], y2: b[1], ...stroke, class: 'measure-line' });
  return [line, ...ticks, label((a[0] + b[0]) / 2, (a[1] + b[1]) / 2 - 8, text, { 'text-anchor': 'middle' })];
}

/** The round length whose bar is nearest to a tenth of the sheet. */
function scaleBar(w: Screen): SVGElement {
  const wanted = w.width / 8 / w.scale;
  const ten = 10 ** Math.floor(Math.log10(wanted));
  const length = ([5, 2, 1].find((s) => s * ten <= wanted) ?? 1) * ten;
  const px = length * w.scale;
  const [x, y] = [16, w.height - 16];
  const group = svg('g', { stroke: BLACK, 'stroke-width': NARROW, fill: 'none' });
  group.append(svg('path', { d: `M${x} ${y - 5}V${y + 5}M${x} ${y}H${x + px}M${x + px} ${y - 5}V${y + 5}` }));
  group.append(svg('text', { x: x + px + 8, y: y + 5, class: 'label', stroke: 'none' }, `${short(length, 3)} mm`));
  return group;
}
