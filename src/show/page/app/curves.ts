/** The two curves under the time axis: holding margin and movement of the edge, on one time scale, with their limits. */
import { short } from '../../../base/text.ts';
import type { CourseColumns } from '../course-pack.ts';
import type { ViewLimits } from '../view-data.ts';
import { svg } from './elements.ts';
import { BLACK, BLUE, DASHED, GREEN, NARROW, VERMILLION, WIDE } from './ink.ts';

export interface CurveSpec {
  readonly values: Float32Array;
  readonly limits: readonly { readonly value: number; readonly label: string }[];
  readonly title: string;
  readonly unit: string;
  readonly colour: string;
  /** Whether small values are the bad ones. */
  readonly lowIsBad: boolean;
}

export const CURVE_HEIGHT = 124;
const TOP = 20;
const FOOT = 8;

export function curveSpecs(course: CourseColumns, limits: ViewLimits): readonly CurveSpec[] {
  return [
    {
      values: course.margin,
      limits: limits.margin,
      title: 'Holding margin, strength over load',
      unit: '',
      colour: GREEN,
      lowIsBad: true,
    },
    {
      values: course.movement,
      limits: limits.movement,
      title: 'Movement of the edge, mm',
      unit: ' mm',
      colour: BLUE,
      lowIsBad: false,
    },
  ];
}

/** One curve as SVG children; x runs over the whole width in pixels, time over the program. */
export function drawCurve(spec: CurveSpec, course: CourseColumns, total: number, width: number): SVGElement[] {
  const top = axisTop(spec);
  const y = (v: number) => TOP + (CURVE_HEIGHT - TOP - FOOT) * (1 - Math.min(1, v / top));
  const x = (t: number) => (t / Math.max(1e-9, total)) * width;
  const line = { fill: 'none', 'stroke-width': NARROW, stroke: BLACK };
  return [
    svg('line', { x1: 0, x2: width, y1: y(0), y2: y(0), ...line }),
    ...spec.limits.flatMap((l, i) => [
      svg('line', { x1: 0, x2: width, y1: y(l.value), y2: y(l.value), ...line, 'stroke-dasharray': DASHED.join(' ') }),
      // The lowest limit is named under its line, the others above: two near each other stay apart.
      svg(
        'text',
        { x: width - 4, y: y(l.value) + (i === 0 ? 13 : -3), class: 'label', 'text-anchor': 'end' },
        `${short(l.value, 3)} ${l.label}`,
      ),
    ]),
    svg('path', { d: outline(spec, course, x, y, width), fill: 'none', stroke: spec.colour, 'stroke-width': WIDE }),
    ...worst(spec, course, x, y),
    svg('text', { x: 0, y: 12, class: 'label' }, spec.title),
  ];
}

/** Room over the highest limit, and so far that the bad side shows. */
function axisTop(spec: CurveSpec): number {
  const limit = Math.max(...spec.limits.map((l) => l.value), 1e-6);
  if (spec.lowIsBad) return 2.5 * limit;
  return Math.max(1.25 * limit, Math.min(4 * limit, extreme(spec.values, false)?.value ?? 0));
}

/** One worst value a pixel: what matters of thousands of blocks is never lost between two pixels. */
function outline(
  spec: CurveSpec,
  course: CourseColumns,
  x: (t: number) => number,
  y: (v: number) => number,
  width: number,
): string {
  const worstAt = new Float64Array(Math.ceil(width) + 1).fill(NaN);
  for (let i = 0; i < course.count; i++) {
    const v = spec.values[i]!;
    if (Number.isNaN(v)) continue;
    const from = Math.floor(x(course.start[i]!));
    const to = Math.max(from, Math.floor(x(course.start[i]! + course.seconds[i]!) - 1e-6));
    for (let px = Math.max(0, from); px <= to && px < worstAt.length; px++) {
      const old = worstAt[px]!;
      if (Number.isNaN(old) || (spec.lowIsBad ? v < old : v > old)) worstAt[px] = v;
    }
  }
  let d = '';
  let pen = false;
  for (let px = 0; px < worstAt.length; px++) {
    const v = worstAt[px]!;
    if (Number.isNaN(v)) {
      pen = false;
      continue;
    }
    const h = y(v).toFixed(1);
    d += pen ? `L${px} ${h}` : `M${px} ${h}h0.5`;
    pen = true;
  }
  return d;
}

/** The worst place of all: a diamond and its figure. */
function worst(
  spec: CurveSpec,
  course: CourseColumns,
  x: (t: number) => number,
  y: (v: number) => number,
): SVGElement[] {
  const w = extreme(spec.values, spec.lowIsBad);
  if (!w) return [];
  const px = x(course.start[w.index]! + course.seconds[w.index]! / 2);
  const py = y(w.value);
  const anchor = px < 90 ? 'start' : 'end';
  return [
    svg('path', { d: `M${px} ${py - 6}l5 6l-5 6l-5 -6z`, fill: VERMILLION, stroke: BLACK, 'stroke-width': NARROW }),
    svg(
      'text',
      { x: px + (anchor === 'start' ? 9 : -9), y: Math.max(TOP, py - 6), class: 'label', 'text-anchor': anchor },
      `${spec.lowIsBad ? 'least' : 'most'} ${short(w.value, spec.lowIsBad ? 2 : 4)}${spec.unit}`,
    ),
  ];
}

export function extreme(
  values: Float32Array,
  least: boolean,
): { readonly index: number; readonly value: number } | null {
  let index = -1;
  for (let i = 0; i < values.length; i++) {
    const v = values[i]!;
    if (Number.isNaN(v)) continue;
    if (index < 0 || (least ? v < values[index]! : v > values[index]!)) index = i;
  }
  return index < 0 ? null : { index, value: values[index]! };
}

/** Blocks at which the margin is lowest or the movement greatest among their neighbours, worst first. */
export function dips(course: CourseColumns, limits: ViewLimits): readonly number[] {
  const wantedMargin = Math.max(...limits.margin.map((l) => l.value));
  const wantedMovement = Math.min(...limits.movement.map((l) => l.value));
  // Badness above 1 is past the limit; the two curves are put on one scale by their limits.
  const bad = Float64Array.from({ length: course.count }, (_, i) =>
    Math.max(badness(wantedMargin / Math.max(course.margin[i]!, 0.001)), badness(course.movement[i]! / wantedMovement)),
  );
  const found: number[] = [];
  const reach = Math.max(1, Math.floor(course.count / 60));
  for (let i = 0; i < course.count; i++) {
    if (bad[i] === 0) continue;
    let peak = true;
    for (let k = Math.max(0, i - reach); k <= Math.min(course.count - 1, i + reach) && peak; k++)
      if (bad[k]! > bad[i]! || (bad[k] === bad[i] && k < i)) peak = false;
    if (peak) found.push(i);
  }
  return found.sort((a, b) => bad[b]! - bad[a]!).slice(0, MOST_DIPS);
}

const MOST_DIPS = 12;

function badness(v: number): number {
  return Number.isNaN(v) ? 0 : v;
}
