/**
 * The tabs that the head declares, measured in the strokes: their waist is the least distance between what is cut low on one
 * side and on the other, their height the lowest cut over their middle.
 */
import { cosine, sine } from '../../base/angles.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { dist, dot, rot90, step, sub } from '../../geometry/measure/point.ts';
import { nearestOn, pointAt, segmentBox, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../geometry/types.ts';
import { LIMITS, TAB_WIDTH, WRITTEN } from '../limits.ts';
import type { HeadTab } from '../program/head.ts';
import type { Findings } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import { gapTo, near } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { heightAlong, WAIST_DEPTH, Waist } from './waist.ts';

export interface MeasuredTab {
  readonly tab: HeadTab;
  readonly waist: Mm;
  /** Lowest cut over its middle. */
  readonly height: Mm;
  /** The same at the part's own edge, where only the last passes reach. */
  readonly heightAtEdge: Mm;
  /** Strokes that lowered it, in order, each with the height from then on; before the first it is as thick as the part. */
  readonly lowered: readonly Lowered[];
  /** Of its section, the share that goes on through the stock behind it from the stroke of a number on; none: all of it, to the end. */
  readonly frame?: { readonly share: number; readonly from: number };
}

export interface Lowered {
  readonly stroke: Stroke;
  readonly height: Mm;
}

export function checkTabs(work: CheckedSetUp, out: Findings): MeasuredTab[] {
  const { strokes, complete } = work;
  const { thickness, parts } = work.wanted;
  const tabs = work.programs[0]?.head.tabs ?? [];
  const gauges = tabs.map((tab) => new TabGauge(tab, thickness));
  if (gauges.length > 0)
    for (const s of strokes)
      for (const g of gauges) if (g.takes(s)) for (const own of besideOwn(g.tab, s, parts)) g.add(own);
  const measured = gauges.map((g) => g.measured());
  for (const [i, m] of measured.entries()) {
    judge(m, complete, out);
    const same = measured.slice(0, i).find((other) => shareMetal(m, other));
    if (same !== undefined) tellSame(m, same, out);
  }
  if (tabs.length > 0 && complete) {
    out.prove(
      'tabs',
      0.01,
      'safe',
      'height over the middle and least distance between the low cuts on both sides, from exact distances of paths',
    );
  }
  return measured;
}

/** Stated apart from each other by less than half of both: what holds would be counted twice. Back to back they stand on two edges. */
function shareMetal(a: MeasuredTab, b: MeasuredTab): boolean {
  if (a.tab.part !== b.tab.part) return false;
  const turn = toRad(a.tab.directionDeg - b.tab.directionDeg);
  return cosine(turn) > 0 && dist(a.tab.at, b.tab.at) < (widthOf(a) + widthOf(b)) / 2 - TAB_WIDTH;
}

/** As much as is counted on. */
function widthOf(m: MeasuredTab): Mm {
  return Math.max(m.tab.width, Math.min(m.waist, 2 * m.tab.width));
}

function tellSame({ tab }: MeasuredTab, other: MeasuredTab, out: Findings): void {
  out.fault({
    code: 'head-disagrees',
    at: { program: 0, block: tab.block, at: [tab.at.x, tab.at.y] },
    found: `tabs ${other.tab.number} and ${tab.number} are the same metal, ${dist(tab.at, other.tab.at).toFixed(3)} mm apart`,
    wanted: 'each tab beside the others',
    remedy: 'make the program again from this job',
  });
}

/**
 * What of a stroke cuts beside a tab's own part, in running order: the slot round a neighbour lies behind the rail, and no waist ends there.
 * Judged a short piece at a time, or a stroke that touches a neighbour somewhere would count nowhere.
 */
export function besideOwn(tab: HeadTab, s: Stroke, parts: readonly WantedPart[]): readonly Stroke[] {
  const own = parts[tab.part];
  if (own === undefined || parts.length === 1) return [s];
  if (!near(s.box, boxRound(tab.at, reachOf(tab, s)), 0)) return [];
  const isNearer = (path: Segment) => {
    const box = segmentBox(path);
    const gap = gapTo(own.edge, path, box, FAR);
    return parts.every((p) => p === own || gapTo(p.edge, path, box, gap) >= gap);
  };
  const count = Math.min(MOST_PIECES, Math.ceil(segmentLength(s.path) / BESIDE_PIECE));
  if (count <= 1) return isNearer(s.path) ? [s] : [];
  return runsOf(count, (i) => {
    const piece = subSegment(s.path, i / count, (i + 1) / count);
    return near(segmentBox(piece), boxRound(tab.at, reachOf(tab, s)), 0) && isNearer(piece);
  }).map(([from, to]) => part(s, from / count, to / count));
}

/** Stretches of numbers below `count` for which something holds, each from its first to after its last. */
function runsOf(count: number, holds: (i: number) => boolean): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    if (!holds(i)) continue;
    const last = runs.at(-1);
    if (last?.[1] === i) last[1] = i + 1;
    else runs.push([i, i + 1]);
  }
  return runs;
}

function part(s: Stroke, from: number, to: number): Stroke {
  const path = subSegment(s.path, from, to);
  const [za, zb] = [heightAlong(s, from), heightAlong(s, to)];
  return { ...s, path, box: segmentBox(path), za, zb, low: Math.min(za, zb) };
}

/** Well below the width of any tab. */
const BESIDE_PIECE: Mm = 0.5;
const MOST_PIECES = 4096;

/** Further than any stroke looked at. */
const FAR: Mm = 1e3;

function judge(m: MeasuredTab, complete: boolean, out: Findings): void {
  const { tab } = m;
  const at = [tab.at.x, tab.at.y] as const;
  const spot = { program: 0, block: tab.block, at };
  const name = `tab ${tab.number}`;
  if (m.waist < tab.width - TAB_WIDTH) {
    const found = m.waist <= 0 ? `${name} is cut through` : `${name} is ${m.waist.toFixed(3)} mm wide at its waist`;
    const wanted = `at least ${tab.width.toFixed(3)} mm`;
    const remedy = 'lift the path over a longer stretch';
    out.fault({ code: 'tab-width', at: spot, size: tab.width - m.waist, found, wanted, remedy });
  }
  const low = m.height - tab.height;
  const high = m.heightAtEdge - tab.height;
  const off = low < -LIMITS.tabHeight ? low : high;
  if (low < -LIMITS.tabHeight || (high > LIMITS.tabHeight && complete)) {
    const found = `${name} is left ${(tab.height + off).toFixed(3)} mm high`;
    const wanted = `${tab.height.toFixed(3)} mm within ${LIMITS.tabHeight}`;
    const remedy = 'correct the height at which the path passes it';
    out.fault({ code: 'tab-height', at: spot, size: Math.abs(off), found, wanted, remedy });
  }
}

/** One tab; takes the strokes one by one. */
export class TabGauge {
  readonly tab: HeadTab;
  private readonly thickness: Mm;
  private readonly waist: Waist;
  private readonly middle: Lowering;
  private readonly edge: Lowering;

  constructor(tab: HeadTab, thickness: Mm) {
    const angle = toRad(tab.directionDeg);
    const out: Point = { x: cosine(angle), y: sine(angle) };
    this.tab = tab;
    this.thickness = thickness;
    this.waist = new Waist(tab, out, -thickness + tab.height - LIMITS.tabHeight);
    this.middle = new Lowering(tab, thickness, out, (radius) => radius);
    this.edge = new Lowering(tab, thickness, out, () => AT_EDGE);
  }

  /** Whether a stroke is low and near enough to say anything. */
  takes(s: Stroke): boolean {
    const { tab } = this;
    if (s.rapid || s.low >= -this.thickness + tab.height + 1) return false;
    return near(s.box, boxRound(tab.at, reachOf(tab, s)), 0);
  }

  add(s: Stroke): void {
    if (!this.takes(s)) return;
    this.waist.add(s);
    this.middle.add(s);
    this.edge.add(s);
  }

  measured(): MeasuredTab {
    const { tab, thickness } = this;
    const { lowered } = this.middle;
    const height = lowered.at(-1)?.height ?? thickness;
    const heightAtEdge = this.edge.lowered.at(-1)?.height ?? thickness;
    return { tab, waist: this.waist.width(), height, heightAtEdge, lowered };
  }
}

function reachOf(tab: HeadTab, s: Stroke): Mm {
  return tab.footprint + 4 * s.tool.shape.radius + tab.width;
}

function boxRound(p: Point, by: Mm) {
  return { minX: p.x - by, minY: p.y - by, maxX: p.x + by, maxY: p.y + by };
}

/** Beyond what may stay on an edge, nearer than any pass but the last. */
const AT_EDGE: Mm = 2 * LIMITS.uncut;

/** Cuts over a point beside the middle of the tab, each lower than those before it, above the part's lower face. */
class Lowering {
  readonly lowered: Lowered[] = [];
  private readonly tab: HeadTab;
  private readonly thickness: Mm;
  private readonly out: Point;
  private readonly aside: (radius: Mm) => Mm;

  constructor(tab: HeadTab, thickness: Mm, out: Point, aside: (radius: Mm) => Mm) {
    this.tab = tab;
    this.thickness = thickness;
    this.out = out;
    this.aside = aside;
  }

  add(s: Stroke): void {
    const z = s.tool.shape.flat ? this.flat(s) : lowestOnMiddle(s, this.tab.at, this.out);
    const height = z + this.thickness;
    if (height < (this.lowered.at(-1)?.height ?? Infinity)) this.lowered.push({ stroke: s, height });
  }

  private flat(s: Stroke): Mm {
    const r = s.tool.shape.radius;
    const middle = step(this.tab.at, this.out, this.aside(r));
    // Half the waist aside belongs to the tab; a lift that starts there is not over its middle.
    const n = nearestOn(s.path, middle);
    const reach = Math.max(0, r - WRITTEN);
    return n.distance > reach ? Infinity : lowestOver(s, middle, Math.min(reach, r)) + s.tool.shape.lift(0);
  }
}

/**
 * Lowest that a cone or ball cuts on the tab's middle line, from the edge outwards: its height there is its tip's and what its end rises over the
 * distance. Looked at in steps of a hundredth, which may miss as much of the height at 45 degrees.
 */
function lowestOnMiddle(s: Stroke, at: Point, out: Point): Mm {
  const { shape } = s.tool;
  const along = rot90(out);
  const count = Math.min(MOST_LOOKS, Math.max(1, Math.ceil(segmentLength(s.path) / LOOK)));
  let least = Infinity;
  for (let i = 0; i <= count; i++) {
    const from = sub(pointAt(s.path, i / count), at);
    const d = Math.abs(dot(from, along));
    if (d > shape.radius || dot(from, out) < -shape.radius || dot(from, out) > WAIST_DEPTH * shape.radius) continue;
    least = Math.min(least, heightAlong(s, i / count) + shape.lift(d));
  }
  return least;
}

const LOOK: Mm = 0.01;
const MOST_LOOKS = 20_000;

/** Lowest the tip goes while its disc covers a point. */
function lowestOver(s: Stroke, p: Point, r: Mm): Mm {
  if (s.za === s.zb) return s.za;
  const length = segmentLength(s.path);
  if (length === 0) return s.low;
  const n = nearestOn(s.path, p);
  const half = Math.sqrt(Math.max(0, r * r - n.distance * n.distance)) / length;
  const z = (t: number) => s.za + (s.zb - s.za) * Math.max(0, Math.min(1, t));
  return Math.min(z(n.t - half), z(n.t + half));
}
