/**
 * The tabs that the head declares, measured in the strokes: their waist is the least distance between what is cut low on one
 * side and on the other, their height the lowest cut over their middle.
 */
import { type Mm, toRad } from '../base/units.ts';
import { segmentGap } from '../geometry/measure/distance.ts';
import { dot, rot90, step, sub } from '../geometry/measure/point.ts';
import { nearestOn, pointAt, segmentBox, segmentLength, subSegment } from '../geometry/measure/segment.ts';
import type { Point, Segment } from '../geometry/types.ts';
import type { Findings } from './findings.ts';
import type { HeadTab } from './head.ts';
import { LIMITS, TAB_WIDTH, WRITTEN } from './limits.ts';
import { pathBelow, type Stroke } from './stroke.ts';
import { gapTo, near } from './wanted/clear.ts';
import type { WantedPart } from './wanted/wanted.ts';

export interface MeasuredTab {
  readonly tab: HeadTab;
  readonly waist: Mm;
  /** Lowest cut over its middle. */
  readonly height: Mm;
  /** The same at the part's own edge, where only the last passes reach. */
  readonly heightAtEdge: Mm;
  /** Strokes that lowered it, in order, each with the height from then on; before the first it is as thick as the part. */
  readonly lowered: readonly Lowered[];
}

export interface Lowered {
  readonly stroke: Stroke;
  readonly height: Mm;
}

export function checkTabs(
  tabs: readonly HeadTab[],
  strokes: readonly Stroke[],
  thickness: Mm,
  complete: boolean,
  parts: readonly WantedPart[],
  out: Findings,
): MeasuredTab[] {
  const measured = tabs.map((tab) => measureTab(tab, strokesAt(tab, strokes, parts), thickness));
  for (const m of measured) judge(m, complete, out);
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

/** Strokes that cut beside a tab's own part: the slot round a neighbour lies behind the rail, and no waist ends there. */
export function strokesAt(tab: HeadTab, strokes: readonly Stroke[], parts: readonly WantedPart[]): readonly Stroke[] {
  const own = parts[tab.part];
  if (own === undefined || parts.length === 1) return strokes;
  const close = strokes.filter((s) => near(s.box, boxRound(tab.at, reachOf(tab, s)), 0));
  return close.filter((s) => {
    const gap = gapTo(own.edge, s.path, s.box, FAR);
    return parts.every((p) => p === own || gapTo(p.edge, s.path, s.box, gap) >= gap);
  });
}

/** Further than any stroke looked at. */
const FAR: Mm = 1e3;

function judge(m: MeasuredTab, complete: boolean, out: Findings): void {
  const { tab } = m;
  const at = [tab.at.x, tab.at.y] as const;
  const spot = { program: 0, block: tab.block, at };
  const name = `tab ${tab.number}`;
  if (m.waist < tab.width - TAB_WIDTH) {
    const found = m.waist <= 0 ? `${name} is cut through` : `${name} is ${m.waist.toFixed(3)} mm wide at its waist`;
    out.fault('tab-width', found, `at least ${tab.width.toFixed(3)} mm`, 'lift the path over a longer stretch', {
      ...spot,
      size: tab.width - m.waist,
    });
  }
  const low = m.height - tab.height;
  const high = m.heightAtEdge - tab.height;
  const off = low < -LIMITS.tabHeight ? low : high;
  if (low < -LIMITS.tabHeight || (high > LIMITS.tabHeight && complete)) {
    out.fault(
      'tab-height',
      `${name} is left ${(tab.height + off).toFixed(3)} mm high`,
      `${tab.height.toFixed(3)} mm within ${LIMITS.tabHeight}`,
      'correct the height at which the path passes it',
      { ...spot, size: Math.abs(off) },
    );
  }
}

export function measureTab(tab: HeadTab, strokes: readonly Stroke[], thickness: Mm): MeasuredTab {
  const angle = toRad(tab.directionDeg);
  const out: Point = { x: Math.cos(angle), y: Math.sin(angle) };
  const along = rot90(out);
  const local = (s: Stroke) => near(s.box, boxRound(tab.at, reachOf(tab, s)), 0);
  const close = strokes.filter((s) => !s.rapid && s.low < -thickness + tab.height + 1 && local(s));
  const top = -thickness + tab.height;
  const loweredOver = (aside: (radius: Mm) => Mm) => loweringOf(tab, close, thickness, out, aside);
  const lowered = loweredOver((radius) => radius);
  const height = lowered.at(-1)?.height ?? thickness;
  const heightAtEdge = loweredOver(() => AT_EDGE).at(-1)?.height ?? thickness;
  return { tab, waist: waistOf(tab, close, top, along, out), height, heightAtEdge, lowered };
}

function reachOf(tab: HeadTab, s: Stroke): Mm {
  return tab.footprint + 4 * s.tool.shape.radius + tab.width;
}

function boxRound(p: Point, by: Mm) {
  return { minX: p.x - by, minY: p.y - by, maxX: p.x + by, maxY: p.y + by };
}

interface Low {
  readonly path: Segment;
  readonly radius: Mm;
  /** No point of the disc is nearer than this to the tab's middle line. */
  readonly aside: Mm;
}

function waistOf(tab: HeadTab, strokes: readonly Stroke[], top: Mm, along: Point, out: Point): Mm {
  const left: Low[] = [];
  const right: Low[] = [];
  for (const s of strokes) {
    for (const { path, radius } of discsAt(s, top - LIMITS.tabHeight)) {
      for (const piece of halves(path, tab.at, along)) {
        const middle = sub(pointAt(piece, 0.5), tab.at);
        if (dot(middle, out) < -radius || dot(middle, out) > WAIST_DEPTH * radius + tab.width) continue;
        const aside = Math.abs(dot(middle, along)) - segmentLength(piece) / 2 - radius;
        (dot(middle, along) >= 0 ? left : right).push({ path: piece, radius, aside });
      }
    }
  }
  return leastBetween(left.sort(byAside), right.sort(byAside));
}

/**
 * What a stroke cuts in the plane at `height`, where the tab is narrowest: the whole disc of a flat end, of a cone or ball the disc at that
 * height. Sloping strokes of those are taken in short parts, each by its lowest place: the waist may come out too narrow, never too wide.
 */
function discsAt(s: Stroke, height: Mm): { readonly path: Segment; readonly radius: Mm }[] {
  const path = pathBelow(s, height);
  if (path === undefined) return [];
  const { shape } = s.tool;
  const count = shape.flat ? 1 : Math.max(1, Math.ceil(Math.abs(s.zb - s.za) / PART_FALL));
  if (count === 1) return [{ path, radius: shape.flat ? shape.radius : shape.at(height - s.low) }];
  return Array.from({ length: count }, (_, i) => {
    const low = Math.min(heightAlong(s, i / count), heightAlong(s, (i + 1) / count));
    return { path: subSegment(s.path, i / count, (i + 1) / count), radius: shape.at(height - low), low };
  }).filter((part) => part.low < height);
}

function heightAlong(s: Stroke, share: number): Mm {
  return s.za + (s.zb - s.za) * share;
}

/** Fall of one part of a sloping cone: its radius is taken too large by no more than this at 90 degrees. */
const PART_FALL: Mm = 0.01;

function byAside(a: Low, b: Low): number {
  return a.aside - b.aside;
}

/** Nearest first: once the middle line alone keeps two discs further apart than the least gap found, so it does all that follow. */
function leastBetween(left: readonly Low[], right: readonly Low[]): Mm {
  let least = Infinity;
  for (const l of left) {
    if (right.length === 0 || l.aside + right[0]!.aside >= least) break;
    for (const r of right) {
      if (l.aside + r.aside >= least) break;
      if (!near(segmentBox(l.path), segmentBox(r.path), least + l.radius + r.radius)) continue;
      least = Math.min(least, segmentGap(l.path, r.path).distance - l.radius - r.radius);
    }
  }
  return least;
}

/** Paths further out than this many radii belong to a slot beside the tab, not to its waist. */
const WAIST_DEPTH = 6;

/** A path that crosses the tab's middle line is cut there, so that both sides are seen. */
function halves(path: Segment, at: Point, along: Point): Segment[] {
  const side = (p: Point) => dot(sub(p, at), along);
  const a = side(path.a);
  const b = side(path.b);
  if (segmentLength(path) === 0) return [path];
  const count = path.kind === 'arc' ? ARC_PARTS : a * b < 0 ? 2 : 1;
  if (count === 1) return [path];
  if (path.kind === 'line') {
    const t = a / (a - b);
    return [subSegment(path, 0, t), subSegment(path, t, 1)];
  }
  return Array.from({ length: count }, (_, i) => subSegment(path, i / count, (i + 1) / count));
}

const ARC_PARTS = 32;

/** Beyond what may stay on an edge, nearer than any pass but the last. */
const AT_EDGE: Mm = 2 * LIMITS.uncut;

/** Cuts over a point beside the middle of the tab, each lower than those before it, above the part's lower face. */
function loweringOf(
  tab: HeadTab,
  strokes: readonly Stroke[],
  thickness: Mm,
  out: Point,
  aside: (radius: Mm) => Mm,
): Lowered[] {
  const lowered: Lowered[] = [];
  for (const s of strokes) {
    const r = s.tool.shape.radius;
    if (!s.tool.shape.flat) {
      const height = lowestOnMiddle(s, tab.at, out) + thickness;
      if (height < (lowered.at(-1)?.height ?? Infinity)) lowered.push({ stroke: s, height });
      continue;
    }
    const middle = step(tab.at, out, aside(r));
    // Half the waist aside belongs to the tab; a lift that starts there is not over its middle.
    const n = nearestOn(s.path, middle);
    const reach = Math.max(0, r - WRITTEN);
    if (n.distance > reach) continue;
    const z = lowestOver(s, middle, Math.min(reach, r));
    const height = z + s.tool.shape.lift(0) + thickness;
    if (height < (lowered.at(-1)?.height ?? Infinity)) lowered.push({ stroke: s, height });
  }
  return lowered;
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
