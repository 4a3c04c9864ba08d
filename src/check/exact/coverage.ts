/**
 * Which stretches of an edge have a cut within reach: for every stroke the exact interval of each piece of the edge that lies
 * within a distance of the stroke's path, then the union of the intervals. Nothing is sampled.
 */
import type { Mm } from '../../base/units.ts';
import { crossings } from '../../geometry/measure/crossing.ts';
import { rot90, step, sub, unit } from '../../geometry/measure/point.ts';
import { arc, circle, line, nearestOn, pointAt, segmentLength } from '../../geometry/measure/segment.ts';
import { startAngle } from '../../geometry/measure/sweep.ts';
import type { Box, Segment } from '../../geometry/types.ts';
import { SHORTEST_GAP } from '../limits.ts';
import { near } from '../wanted/clear.ts';

export interface UncutSpan {
  readonly piece: Segment;
  readonly index: number;
  readonly from: number;
  readonly to: number;
}

export interface DiscCut {
  readonly path: Segment;
  readonly radius: Mm;
}

/** Stretches kept of a piece before those that overlap are joined. */
const KEPT_SPANS = 512;

export class Coverage {
  private readonly pieces: readonly Segment[];
  private readonly boxes: readonly Box[];
  private readonly spans: [number, number][][];
  /** For each piece: how many stretches are kept before they are joined again. */
  private readonly most: number[];

  constructor(pieces: readonly Segment[], boxes: readonly Box[]) {
    this.pieces = pieces;
    this.boxes = boxes;
    this.spans = pieces.map(() => []);
    this.most = pieces.map(() => KEPT_SPANS);
  }

  /** A cut of a disc of `radius` along a path; stock up to `slack` beyond it counts as cut. Whether it cuts anything of the edge. */
  add(path: Segment, box: Box, radius: Mm, slack: Mm): boolean {
    const reach = radius + slack;
    if (reach <= 0) return false;
    let used = false;
    for (const [i, piece] of this.pieces.entries()) {
      if (!near(this.boxes[i]!, box, reach)) continue;
      const spans = spansWithin(piece, path, reach);
      if (spans.length === 0) continue;
      used = true;
      for (const span of spans) this.spans[i]!.push(span);
      if (this.spans[i]!.length > this.most[i]!) this.join(i);
    }
    return used;
  }

  /** Many cuts over the same stretch say no more than one. */
  private join(i: number): void {
    const joined = joinedSpans(this.spans[i]!);
    this.spans[i] = joined;
    this.most[i] = Math.max(KEPT_SPANS, 2 * joined.length);
  }

  gaps(): UncutSpan[] {
    return this.pieces.flatMap((piece, index) => {
      const shortest = SHORTEST_GAP / Math.max(segmentLength(piece), SHORTEST_GAP);
      return openSpans(this.spans[index]!, shortest).map(([from, to]) => ({ piece, index, from, to }));
    });
  }
}

function joinedSpans(spans: readonly [number, number][]): [number, number][] {
  const joined: [number, number][] = [];
  for (const [from, to] of [...spans].sort((a, b) => a[0] - b[0])) {
    const last = joined.at(-1);
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else joined.push([from, to]);
  }
  return joined;
}

function openSpans(spans: readonly [number, number][], shortest: number): [number, number][] {
  const sorted = [...spans].sort((a, b) => a[0] - b[0]);
  const open: [number, number][] = [];
  let done = 0;
  for (const [from, to] of [...sorted, [1, 1] as const]) {
    if (from - done > shortest) open.push([done, from]);
    done = Math.max(done, to);
  }
  return open;
}

/** Stretches of a piece, as fractions of its length, within `reach` of a path. */
export function spansWithin(piece: Segment, path: Segment, reach: Mm): [number, number][] {
  const cuts = [0, 1];
  for (const border of bordersOf(path, reach)) for (const c of crossings(piece, border)) cuts.push(c.t);
  cuts.sort((a, b) => a - b);
  const spans: [number, number][] = [];
  for (let i = 1; i < cuts.length; i++) {
    const from = cuts[i - 1]!;
    const to = cuts[i]!;
    if (to <= from || nearestOn(path, pointAt(piece, (from + to) / 2)).distance > reach) continue;
    const last = spans.at(-1);
    if (last !== undefined && last[1] === from) last[1] = to;
    else spans.push([from, to]);
  }
  return spans;
}

/** Curves that hold the border of everything within `reach` of a path. */
function bordersOf(path: Segment, reach: Mm): Segment[] {
  const ends: Segment[] = [circle(path.a, reach)];
  if (path.a.x !== path.b.x || path.a.y !== path.b.y) ends.push(circle(path.b, reach));
  if (path.kind === 'arc') {
    const inner = Math.abs(path.radius - reach);
    const start = startAngle(path);
    const sides = [arc(path.centre, path.radius + reach, start, path.sweep)];
    if (inner > 0) sides.push(arc(path.centre, inner, path.radius > reach ? start : start + Math.PI, path.sweep));
    return [...ends, ...sides];
  }
  if (ends.length === 1) return ends;
  const n = rot90(unit(sub(path.b, path.a)));
  return [
    ...ends,
    line(step(path.a, n, reach), step(path.b, n, reach)),
    line(step(path.a, n, -reach), step(path.b, n, -reach)),
  ];
}
