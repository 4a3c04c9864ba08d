/** Room beyond the open sides of an area, for a disc to run out into: its walls go straight on, and it ends round. */
import { arccosine, arctangent2, sine, tangent } from '../base/angles.ts';
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { subtract, unite } from './join.ts';
import { distanceToLoop } from './measure/distance.ts';
import { orient } from './measure/loop.ts';
import { cross, dist, dot, len, rot90, scale, step, sub, unit } from './measure/point.ts';
import { arc, directionAt, line, pointAt } from './measure/segment.ts';
import type { Chain, Loop, Point, Region, Segment } from './types.ts';

export type RunOutOutcome =
  | { readonly kind: 'region'; readonly region: Region }
  | { readonly kind: 'failed'; readonly reason: string };

/** A side that leans further than this from the way out is not followed: the cosine of 60 degrees. */
const LEAST_ALONG = 0.5;
/** The end is a little less than half round, so that a straight piece is left between its arcs. */
const ROUND_SHARE = 0.98;

/**
 * `floor`, within the part, with what lies up to `out` beyond each of its `open` stretches and outside the part. `floor` and `part`
 * counter-clockwise; `end`: greatest radius of the corners out there.
 */
export function runOut(floor: Loop, open: readonly Chain[], part: Loop, out: Mm, end: Mm): RunOutOutcome {
  let sum: Region = { outer: floor, holes: [] };
  for (const mouth of open) {
    const made = subtract({ outer: beyond(floor, mouth, out, end), holes: [] }, [{ outer: part, holes: [] }]);
    if (made.kind === 'failed') return made;
    const middle = pointAt(mouth[Math.floor(mouth.length / 2)]!, 0.5);
    const here =
      made.kind === 'regions' ? made.regions.filter((r) => distanceToLoop(r.outer, middle) < SAME_POINT) : [];
    const both = unite([sum, ...here]);
    if (both.kind === 'failed') return both;
    if (both.kind !== 'regions' || both.regions.length !== 1) {
      return { kind: 'failed', reason: 'the room beyond an open side does not join it' };
    }
    sum = both.regions[0]!;
  }
  return { kind: 'region', region: sum };
}

/** From the middle of an open stretch straight out, between its walls' own directions. */
export function wayOut(floor: Loop, mouth: Chain): { readonly at: Point; readonly way: Point } {
  const { from, to } = wallsAt(floor, mouth);
  const both = { x: from.x + to.x, y: from.y + to.y };
  const straight = scale(rot90(unit(sub(mouth[mouth.length - 1]!.b, mouth[0]!.a))), -1);
  const way = len(both) > LEAST_ALONG && dot(unit(both), straight) > LEAST_ALONG ? unit(both) : straight;
  return { at: pointAt(mouth[Math.floor(mouth.length / 2)]!, 0.5), way };
}

/** A plain area over a mouth: from behind its innermost place to `out` beyond its outermost. */
function beyond(floor: Loop, mouth: Chain, out: Mm, end: Mm): Loop {
  const { from, to } = wallsAt(floor, mouth);
  const p = mouth[0]!.a;
  const q = mouth[mouth.length - 1]!.b;
  const across = sub(q, p);
  const { way } = wayOut(floor, mouth);
  const places = mouth.flatMap((s) => [0, 0.25, 0.5, 0.75, 1].map((t) => dot(pointAt(s, t), way)));
  const far = Math.max(...places) + out;
  const near = Math.min(...places);
  // Walls that spread are followed, so that the corners of the mouth are no inside corners; others go straight on.
  const side = (own: Point, outward: number) =>
    outward * dot(own, across) > outward * dot(way, across) && dot(own, way) > LEAST_ALONG ? own : way;
  const reach = (at: Point, along: Point, height: Mm) => step(at, along, (height - dot(at, way)) / dot(along, way));
  const left = side(from, -1);
  const right = side(to, 1);
  const corners = [
    ...(near < dot(q, way) - SAME_POINT ? [reach(q, way, near)] : []),
    ...(near < dot(p, way) - SAME_POINT ? [reach(p, way, near)] : []),
  ];
  // Seen along the way out, the mouth runs from the right to the left: its far end is turned the other way round.
  const [p1, q1] = [reach(p, left, far), reach(q, right, far)];
  return orient(
    rounded([...corners, p, p1, q1, q], [p1, q1], Math.min(end, (ROUND_SHARE * dist(p1, q1)) / 2, out / 2)),
    'ccw',
  );
}

/** Directions of the walls beside a mouth, both outward. */
function wallsAt(floor: Loop, mouth: Chain): { from: Point; to: Point } {
  const n = floor.length;
  const first = floor.indexOf(mouth[0]!);
  const last = floor.indexOf(mouth[mouth.length - 1]!);
  const from = directionAt(floor[(first + n - 1) % n]!, 1);
  const to = scale(directionAt(floor[(last + 1) % n]!, 0), -1);
  return { from, to };
}

/** A polygon with some of its corners rounded. */
function rounded(corners: readonly Point[], which: readonly Point[], radius: Mm): Loop {
  const n = corners.length;
  const cut = corners.map((c, i) => {
    if (!which.includes(c)) return { a: c, b: c, corner: null };
    const back = unit(sub(corners[(i + n - 1) % n]!, c));
    const on = unit(sub(corners[(i + 1) % n]!, c));
    const half = arccosine(Math.max(-1, Math.min(1, dot(back, on)))) / 2;
    const set = radius / tangent(half);
    return { a: step(c, back, set), b: step(c, on, set), corner: { back, on, half } };
  });
  return cut.flatMap(({ a, b, corner }, i): Segment[] => {
    const next = cut[(i + 1) % n]!;
    const on = dist(b, next.a) > SAME_POINT ? [line(b, next.a)] : [];
    return corner === null ? on : [turn(a, b, corner, radius), ...on];
  });
}

function turn(a: Point, b: Point, { back, on, half }: { back: Point; on: Point; half: number }, radius: Mm): Segment {
  const towards = unit({ x: back.x + on.x, y: back.y + on.y });
  const corner = step(a, back, -radius / tangent(half));
  const centre = step(corner, towards, radius / sine(half));
  const sign = cross(back, on) < 0 ? 1 : -1;
  const start = arctangent2(a.y - centre.y, a.x - centre.x);
  return { ...arc(centre, radius, start, sign * (Math.PI - 2 * half)), a, b };
}
