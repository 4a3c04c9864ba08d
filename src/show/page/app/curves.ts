/** The two curves under the time axis: holding margin and movement of the edge, on one time scale, with their limits. */
import { short } from '../../../base/text.ts';
import type { CourseColumns } from '../data/course-pack.ts';
import { svg } from './elements.ts';
import { BLACK, BLUE, DASHED, GREEN, GREY, NARROW, VERMILLION, WIDE } from './picture/ink.ts';
import { minuteText, niceStep, spreadApart, type TimeSpan, timeStep } from './ticks.ts';

export interface CurveSpec {
  readonly id: 'margin' | 'movement';
  readonly values: Float32Array;
  /** What is wanted of the value, row by row. */
  readonly wanted: Float32Array;
  readonly title: string;
  readonly colour: string;
  /** Whether small values are the bad ones. */
  readonly lowIsBad: boolean;
  /** Whether the minutes stand under it: both curves are on one time scale, so the lower one carries them. */
  readonly minutes: boolean;
}

/** So low that picture and both curves fit into the first screen; five figures of the scale still stand clear of each other. */
export const PLOT = 64;
/** Half a figure over the plot. */
export const TOP = 8;

/** Under the plot: room for the minutes, or for half a figure. */
export function curveHeight(spec: CurveSpec): number {
  return TOP + PLOT + (spec.minutes ? 22 : 6);
}
/** Room of the scale's figures at the left and of the limits' at the right; the slider above keeps the same. */
export const SIDES = { left: 48, right: 72 } as const;
/** Half the slider's thumb: at its ends the thumb's middle stands so far inside. */
export const THUMB = 8;

export function curveSpecs({ margin, wantedMargin, movement, wantedMovement }: CourseColumns): readonly CurveSpec[] {
  const strength = 'Strength of the holding over the load, times';
  return [
    {
      id: 'margin',
      values: margin,
      wanted: wantedMargin,
      title: strength,
      colour: GREEN,
      lowIsBad: true,
      minutes: false,
    },
    {
      id: 'movement',
      values: movement,
      wanted: wantedMovement,
      title: 'Movement of the edge, mm',
      colour: BLUE,
      lowIsBad: false,
      minutes: true,
    },
  ];
}

/** Above its curve: what it is, what is wanted, and the worst of it. */
export function curveWords(spec: CurveSpec, course: CourseColumns): string {
  const wanted = limitsOf(spec).map((v) => short(v, 3));
  const limit =
    wanted.length === 0 ? '' : ` Dashed: ${spec.lowIsBad ? 'least' : 'most'} wanted, ${wanted.join(' or ')}.`;
  const row = worstRow(spec);
  if (row < 0) return `${spec.title}. Nothing to show: the holding is not loaded in this program.`;
  const of = short(spec.wanted[row]!, 3);
  const worst = `${short(spec.values[row]!, spec.lowIsBad ? 2 : 4)} where ${of} is wanted, block ${course.block[row]}`;
  return `${spec.title}.${limit} Diamond: worst, ${worst}.`;
}

export function timeX(span: TimeSpan, t: number): number {
  const from = SIDES.left + THUMB;
  const to = span.width - SIDES.right - THUMB;
  return from + (t / Math.max(1e-9, span.total)) * Math.max(1, to - from);
}

/** How a curve lies on the screen: x of a time, y of a value, the ends of the upright scale. */
interface Plot {
  readonly spec: CurveSpec;
  readonly course: CourseColumns;
  readonly span: TimeSpan;
  readonly limits: readonly number[];
  readonly step: number;
  readonly top: number;
  readonly x: (t: number) => number;
  readonly y: (v: number) => number;
}

function plotOf(spec: CurveSpec, course: CourseColumns, span: TimeSpan): Plot {
  const limits = limitsOf(spec);
  const step = niceStep(axisTop(spec, limits) / 4);
  const top = step * Math.ceil(axisTop(spec, limits) / step - 1e-9);
  const y = (v: number) => TOP + PLOT * (1 - Math.min(1, v / top));
  return { spec, course, span, limits, step, top, x: (t) => timeX(span, t), y };
}

/** One curve as SVG children; x in pixels. */
export function drawCurve(spec: CurveSpec, course: CourseColumns, span: TimeSpan): SVGElement[] {
  const plot = plotOf(spec, course, span);
  const { x, y } = plot;
  const level = (from: number, to: number, v: number, stroke: string) =>
    svg('line', { x1: x(from), x2: x(to), y1: y(v), y2: y(v), ...LIMIT, stroke });
  return [
    ...scale(plot),
    ...minutes(plot),
    ...plot.limits.map((v) => level(0, span.total, v, GREY)),
    ...wantedRuns(spec, course).map(({ from, to, value }) => level(from, to, value, BLACK)),
    ...limitNames(plot),
    svg('path', { d: outline(plot), fill: 'none', stroke: spec.colour, 'stroke-width': WIDE }),
    ...worst(plot),
  ];
}

const LIMIT = { fill: 'none', 'stroke-width': NARROW * 1.5, 'stroke-dasharray': DASHED.join(' ') };
const THIN = { stroke: BLACK, 'stroke-width': NARROW };

/** Upright scale with its figures; what is better than the top is drawn at the top, and the figure there says so. */
function scale({ spec, top, step, span, x, y }: Plot): SVGElement[] {
  const [left, right] = [x(0), x(span.total)];
  const ticks = Array.from({ length: Math.round(top / step) + 1 }, (_, i) => i * step);
  const beyond = spec.lowIsBad && spec.values.some((v) => v > top);
  const text = (v: number) => `${beyond && v === ticks.at(-1) ? '≥' : ''}${short(v, 3)}`;
  return [
    svg('path', { d: `M${left} ${y(top)}V${y(0)}H${right}`, fill: 'none', ...THIN }),
    ...ticks.flatMap((v) => [
      svg('line', { x1: left - 5, x2: left, y1: y(v), y2: y(v), ...THIN }),
      svg('text', { x: left - 8, y: y(v) + 4, class: 'label', 'text-anchor': 'end' }, text(v)),
    ]),
  ];
}

function minutes({ spec, span, x }: Plot): SVGElement[] {
  const step = timeStep(span);
  const foot = TOP + PLOT;
  const times = Array.from({ length: Math.floor(span.total / step + 1e-9) + 1 }, (_, i) => i * step);
  const ticks = times.map((t) => svg('line', { x1: x(t), x2: x(t), y1: foot, y2: foot + 5, ...THIN }));
  if (!spec.minutes) return ticks;
  const look = { y: foot + 18, class: 'label', 'text-anchor': 'middle' };
  return [...ticks, ...times.map((t) => svg('text', { x: x(t), ...look }, minuteText(t)))];
}

function limitNames({ spec, limits, span, x, y }: Plot): SVGElement[] {
  const wanted = limits.map((v) => y(v) + 4);
  const places = spreadApart(wanted, 15);
  const word = spec.lowIsBad ? 'least' : 'most';
  const look = { x: x(span.total) + 6, class: 'label' };
  return limits.map((v, i) => svg('text', { ...look, y: places[i]! }, `${word} ${short(v, 3)}`));
}

/** Every value that is wanted somewhere, greatest first: as they stand from the top down. */
function limitsOf(spec: CurveSpec): number[] {
  const known = [...new Set([...spec.wanted].filter((v) => !Number.isNaN(v)).map((v) => Number(v.toFixed(4))))];
  return known.sort((a, b) => b - a);
}

/** Stretches over which the same is wanted, the gaps between cuts closed. */
function wantedRuns(spec: CurveSpec, course: CourseColumns): { from: number; to: number; value: number }[] {
  const runs: { from: number; to: number; value: number }[] = [];
  for (let i = 0; i < course.count; i++) {
    const value = spec.wanted[i]!;
    if (Number.isNaN(value)) continue;
    const [from, to] = [course.start[i]!, course.start[i]! + course.seconds[i]!];
    const last = runs.at(-1);
    if (last && last.value === value) last.to = to;
    else runs.push({ from, to, value });
  }
  return runs;
}

/** Room over the highest limit, and so far that the bad side shows. */
function axisTop(spec: CurveSpec, limits: readonly number[]): number {
  const limit = Math.max(...limits, 1e-3);
  if (spec.lowIsBad) return 2.5 * limit;
  const most = spec.values.filter((v) => !Number.isNaN(v)).reduce((a, v) => Math.max(a, v), 0);
  return Math.max(1.1 * limit, Math.min(4 * limit, most));
}

/** One worst value a pixel: what matters of thousands of blocks is never lost between two pixels. */
function outline({ spec, course, span, x, y }: Plot): string {
  const worstAt = new Float64Array(Math.ceil(span.width) + 1).fill(NaN);
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
    d += pen ? `L${px} ${h}` : `M${px} ${h}h1.5`;
    pen = true;
  }
  return d;
}

function worst({ spec, course, x, y }: Plot): SVGElement[] {
  const row = worstRow(spec);
  if (row < 0) return [];
  const px = x(course.start[row]! + course.seconds[row]! / 2);
  const py = y(spec.values[row]!);
  return [svg('path', { d: `M${px} ${py - 6}l5 6l-5 6l-5 -6z`, fill: VERMILLION, ...THIN })];
}

/** How bad a row is: 1 is just what is wanted, more is worse; 0 where nothing is in question. The plan file ranks alike. */
export function badness(spec: CurveSpec, row: number): number {
  const [v, wanted] = [spec.values[row]!, spec.wanted[row]!];
  if (Number.isNaN(v) || Number.isNaN(wanted)) return 0;
  return spec.lowIsBad ? wanted / Math.max(v, 1e-3) : v / wanted;
}

/** Row farthest on the bad side of what is wanted there; -1 for none. */
export function worstRow(spec: CurveSpec): number {
  let best = -1;
  for (let i = 0; i < spec.values.length; i++) {
    const bad = badness(spec, i);
    if (bad > 0 && (best < 0 || bad > badness(spec, best))) best = i;
  }
  return best;
}

/** Rows at which margin or movement is worst among its neighbours, worst of all first. */
export function dips(course: CourseColumns): readonly number[] {
  const specs = curveSpecs(course);
  const bad = Float64Array.from({ length: course.count }, (_, i) => Math.max(...specs.map((s) => badness(s, i))));
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
