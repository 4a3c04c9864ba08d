/**
 * The edge of an outline as the check sees it: pieces of the job's own circles and tangents for bosses, slots and discs;
 * the loop itself where the drawing gave the loop.
 */
import type { Mm } from '../../base/units.ts';
import { circleCircle, crossings, lineCircle } from '../../geometry/measure/crossing.ts';
import { windingOf } from '../../geometry/measure/inside.ts';
import { angleOf, cross, dist, dot, positiveAngle, rot90, step, sub, unit } from '../../geometry/measure/point.ts';
import { arc, nearestOn, pointAt, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Line, Loop, Point, Segment } from '../../geometry/types.ts';
import type { Outline } from '../../part/part.ts';
import { discHull, type Hull, webHull } from './hull.ts';
import { type Edge, withBoxes } from './pieces.ts';
import { lessEdge, withinEdge } from './two-edges.ts';

/** Below this two curves count as touching; well above rounding, well below anything a mill can do. */
const TOUCH: Mm = 1e-7;

export function edgeOf(outline: Outline): Edge {
  const own = sourceEdge(outline);
  if (outline.cut === undefined) return own;
  const open = outline.cut.less.reduce((edge, opening) => lessEdge(edge, edgeOf(opening)), own);
  return outline.cut.within === null ? open : withinEdge(open, edgeOf(outline.cut.within));
}

function sourceEdge(outline: Outline): Edge {
  const source = outline.source;
  switch (source.kind) {
    case 'circle':
      return edgeOfHulls([discHull({ at: source.at, radius: source.diameter / 2 })], 0);
    case 'slot': {
      const radius = source.width / 2;
      return edgeOfHulls([webHull({ at: source.from, radius }, { at: source.to, radius })], 0);
    }
    case 'bosses': {
      const linked = new Set(source.webs.flat());
      const alone = source.bosses.filter((_, i) => !linked.has(i)).map(discHull);
      const webs = source.webs.flatMap(([i, j]) => {
        const a = source.bosses[i];
        const b = source.bosses[j];
        return a === undefined || b === undefined ? [] : [webHull(a, b)];
      });
      return edgeOfHulls([...webs, ...alone], source.fillet);
    }
    case 'vertices':
    case 'drawing':
      return edgeOfLoop(outline.cut?.drawn ?? outline.loop);
  }
}

export function edgeOfLoop(loop: Loop): Edge {
  return withBoxes(loop, (p) => windingOf(loop, p) !== 0);
}

function edgeOfHulls(hulls: readonly Hull[], fillet: Mm): Edge {
  const corners = fillet > 0 ? filletsOf(hulls, fillet) : [];
  const pieces = hulls.flatMap((h, i) => h.edge.flatMap((s) => trimmed(s, i, hulls, corners)));
  const inside = (p: Point) => hulls.some((h) => h.distance(p) < 0) || corners.some((c) => inFillet(c, p));
  return withBoxes([...pieces, ...corners.map((c) => c.arc)], inside);
}

/** The stretches of a hull's edge that are on the outside of everything. */
function trimmed(s: Segment, own: number, hulls: readonly Hull[], corners: readonly Fillet[]): Segment[] {
  const others = hulls.filter((_, i) => i !== own);
  const cuts = [0, 1];
  for (const o of others.flatMap((h) => h.edge)) {
    for (const c of crossings(s, o)) cuts.push(c.t);
    for (const end of [o.a, o.b]) pushIfOn(cuts, s, end);
  }
  for (const c of corners) for (const end of [c.arc.a, c.arc.b]) pushIfOn(cuts, s, end);
  cuts.sort((a, b) => a - b);
  return cuts.slice(1).flatMap((t, i) => {
    const t0 = cuts[i]!;
    if ((t - t0) * segmentLength(s) < TOUCH) return [];
    const middle = pointAt(s, (t0 + t) / 2);
    if (others.some((h) => h.distance(middle) < -TOUCH / 10) || corners.some((c) => inFillet(c, middle))) return [];
    return [subSegment(s, t0, t)];
  });
}

function pushIfOn(cuts: number[], s: Segment, p: Point): void {
  const n = nearestOn(s, p);
  if (n.distance < TOUCH && n.t > 0 && n.t < 1) cuts.push(n.t);
}

interface Fillet {
  readonly centre: Point;
  readonly radius: Mm;
  readonly arc: Segment;
  /** Directions from the centre to the two ends, the second counter-clockwise of the first by less than half a turn. */
  readonly from: Point;
  readonly to: Point;
  /** Where the two edges meet in the corner: nothing of the fillet lies further from its centre. */
  readonly reach: Mm;
}

/** Between the arc and the corner. */
function inFillet(f: Fillet, p: Point): boolean {
  const d = sub(p, f.centre);
  const l = dist(p, f.centre);
  return (
    l > f.radius + TOUCH &&
    l < f.reach &&
    cross(f.from, d) >= 0 &&
    cross(d, f.to) >= 0 &&
    dot(d, f.from) + dot(d, f.to) > 0
  );
}

/**
 * A fillet's centre is at the fillet's radius from two hulls and no nearer to any: the meeting points of their edges moved
 * outwards, kept where all distances agree and where the two edges do cross between the points of contact.
 */
function filletsOf(hulls: readonly Hull[], radius: Mm): Fillet[] {
  const found: Fillet[] = [];
  for (const [i, a] of hulls.entries()) {
    for (const b of hulls.slice(i + 1)) {
      for (const x of a.edge.flatMap((s) => b.edge.flatMap((o) => crossings(s, o).map((c) => c.point)))) {
        if (hulls.some((h) => h.distance(x) < -TOUCH)) continue;
        const f = filletAt(x, a, b, hulls, radius);
        if (f !== undefined && !found.some((g) => dist(g.centre, f.centre) < TOUCH)) found.push(f);
      }
    }
  }
  return found;
}

function filletAt(corner: Point, a: Hull, b: Hull, hulls: readonly Hull[], radius: Mm): Fillet | undefined {
  let best: Fillet | undefined;
  for (const s of a.edge) {
    for (const o of b.edge) {
      for (const centre of movedMeetings(s, o, radius)) {
        if (hulls.some((h) => h.distance(centre) < radius - TOUCH)) continue;
        const f = between(corner, nearestOn(s, centre), nearestOn(o, centre), centre, radius);
        if (f === undefined || !seesCorner(f, corner, hulls)) continue;
        if (best === undefined || f.reach < best.reach) best = f;
      }
    }
  }
  return best;
}

/** The corner that a fillet rounds is the first thing seen from its centre: edges also meet on the far side of a boss. */
function seesCorner(f: Fillet, corner: Point, hulls: readonly Hull[]): boolean {
  const way = sub(corner, f.centre);
  return [0.2, 0.4, 0.6, 0.8, 0.95].every((share) => {
    const l = f.radius + (f.reach - f.radius) * share;
    const p = step(f.centre, way, l / f.reach);
    return hulls.every((h) => h.distance(p) > -TOUCH);
  });
}

interface NearestPoint {
  readonly point: Point;
  readonly distance: Mm;
}

function between(
  corner: Point,
  first: NearestPoint,
  second: NearestPoint,
  centre: Point,
  radius: Mm,
): Fillet | undefined {
  if (Math.abs(first.distance - radius) > TOUCH || Math.abs(second.distance - radius) > TOUCH) return undefined;
  const u = unit(sub(first.point, centre));
  const v = unit(sub(second.point, centre));
  const [from, to] = cross(u, v) >= 0 ? [u, v] : [v, u];
  const d = sub(corner, centre);
  if (cross(from, d) < 0 || cross(d, to) < 0 || dot(d, from) + dot(d, to) <= 0) return undefined;
  const start = angleOf(from);
  const sweep = positiveAngle(angleOf(to) - start);
  if (sweep < 1e-9 || sweep > Math.PI) return undefined;
  // Clockwise about its own centre: the material stays on the left.
  return { centre, radius, arc: arc(centre, radius, start + sweep, -sweep), from, to, reach: dist(corner, centre) };
}

/** Meeting points of two pieces' whole curves moved outwards (right of the direction of travel) by a distance. */
function movedMeetings(s: Segment, o: Segment, by: Mm): Point[] {
  if (s.kind === 'arc' && o.kind === 'arc') return circleCircle(s.centre, s.radius + by, o.centre, o.radius + by);
  if (s.kind === 'arc') return o.kind === 'line' ? movedMeetings(o, s, by) : [];
  const a = moved(s, by);
  const d = sub(s.b, s.a);
  if (o.kind === 'arc') return lineCircle(a, d, o.centre, o.radius + by).map((t) => step(a, d, t));
  const e = sub(o.b, o.a);
  const across = cross(d, e);
  if (across === 0) return [];
  return [step(a, d, cross(sub(moved(o, by), a), e) / across)];
}

function moved(s: Line, by: Mm): Point {
  return step(s.a, rot90(unit(sub(s.b, s.a))), -by);
}
