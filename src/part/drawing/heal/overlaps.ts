/** Lines drawn twice: what lies on another piece of the same layer is taken away from one of the two. */
import type { Mm } from '../../../base/units.ts';
import { SegmentIndex, widen } from '../../../geometry/measure/index.ts';
import { dist } from '../../../geometry/measure/point.ts';
import { nearestOn, pointAt, segmentBox, segmentLength, subSegment } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import type { Source } from '../drawing.ts';
import type { DrawingFindings } from '../findings.ts';
import { MOST_PAIRS } from '../limits.ts';
import { moveEnds, type Strand } from './strand.ts';

/** Open run of neighbouring segments of one strand, or a whole closed one. */
export interface SegmentRun {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly source: Source;
  readonly fitError: Mm;
}

/** Pieces run along each other when a tenth of the joining distance apart or less: double lines, not narrow webs. */
const ALONG_SHARE = 0.1;

interface StrandPiece {
  readonly strand: number;
  readonly rank: number;
  /** What is left of it. */
  left: Segment[];
}

export function withoutOverlaps(strands: readonly Strand[], join: Mm, findings: DrawingFindings): SegmentRun[] {
  const pieces = strands.flatMap((s, strand) =>
    s.segments.map((seg): StrandPiece => ({ strand, rank: rankOf(s), left: [seg] })),
  );
  const originals = strands.flatMap((s) => s.segments);
  const index = new SegmentIndex(originals);
  const near = join * ALONG_SHARE;
  const tooMany = firstPast(MOST_PAIRS, originals, index, near);
  if (tooMany !== null) {
    crowded(strands[pieces[tooMany]!.strand]!.source, originals[tooMany]!.a, findings);
    return [];
  }
  for (const [i, seg] of originals.entries()) {
    for (const j of index.within(widen(segmentBox(seg), near))) {
      if (j <= i) continue;
      if (strands[pieces[i]!.strand]!.source.layer !== strands[pieces[j]!.strand]!.source.layer) continue;
      // The piece of the closed or longer strand stays; of equals, the first drawn.
      const [high, low] = pieces[j]!.rank > pieces[i]!.rank ? [j, i] : [i, j];
      takeAway(pieces[low]!, pieces[high]!, near, strands[pieces[low]!.strand]!.source, findings);
    }
  }
  return runsOf(strands, pieces);
}

/** The segment at which there are more pairs to compare than `most`, counted before any is compared; null: there are not. */
function firstPast(most: number, segments: readonly Segment[], index: SegmentIndex, near: Mm): number | null {
  // Each pair is met from both its ends, and each segment meets itself.
  let met = 0;
  for (const [i, seg] of segments.entries()) {
    met += index.within(widen(segmentBox(seg), near)).length - 1;
    if (met > 2 * most) return i;
  }
  return null;
}

function rankOf(s: Strand): number {
  if (s.closed) return 2;
  return s.segments.length > 1 ? 1 : 0;
}

function crowded(source: Source, at: Point, findings: DrawingFindings): void {
  findings.fault({
    code: 'too-crowded',
    at: { line: source.line, at: [at.x, at.y] },
    found: `so many lines lie over one another that more than ${MOST_PAIRS} pairs would have to be compared`,
    wanted: 'the outline of one small part',
    remedy: 'export the outline alone, without hatching',
  });
}

function takeAway(low: StrandPiece, high: StrandPiece, near: Mm, source: Source, findings: DrawingFindings): void {
  low.left = low.left.flatMap((seg) => {
    for (const other of high.left) {
      const ranges = covered(seg, other, near);
      if (ranges.length === 0) continue;
      for (const range of ranges) tell(seg, range, source, findings);
      return remainders(seg, other, ranges, near);
    }
    return [seg];
  });
}

function tell(seg: Segment, [t0, t1]: ParameterRange, source: Source, findings: DrawingFindings): void {
  const middle = pointAt(seg, (t0 + t1) / 2);
  const length = Number((segmentLength(seg) * (t1 - t0)).toPrecision(4));
  const code = t0 === 0 && t1 === 1 ? 'duplicate' : 'overlap';
  const place = { line: source.line, at: [middle.x, middle.y] as const };
  findings.note({ code, at: place, found: `${source.type} is drawn twice over ${length} mm: the second is removed` });
}

type ParameterRange = readonly [number, number];

/** Ranges of `seg` that lie on `other`, each longer than a few times `near`; its ends are 0 and 1 exactly. */
function covered(seg: Segment, other: Segment, near: Mm): ParameterRange[] {
  const length = segmentLength(seg);
  // A common stretch begins and ends at an end of one of the two.
  const inner = [other.a, other.b].flatMap((p) => {
    const n = nearestOn(seg, p);
    return n.distance <= near && n.t * length > near && (1 - n.t) * length > near ? [n.t] : [];
  });
  const stops = [0, ...inner.sort((p, q) => p - q), 1];
  const ranges: ParameterRange[] = [];
  for (let i = 1; i < stops.length; i++) {
    const range: ParameterRange = [stops[i - 1]!, stops[i]!];
    if (range[1] === range[0] || !runsAlong(seg, range, other, near)) continue;
    const last = ranges.at(-1);
    if (last?.[1] === range[0]) ranges[ranges.length - 1] = [last[0], range[1]];
    else ranges.push(range);
  }
  // Shorter ones count only when the two are the same from end to end: neighbours of a finely divided curve touch as well.
  return ranges.filter(([t0, t1]) => (t1 - t0) * length >= 4 * near || (t1 - t0 === 1 && endsAgree(seg, other)));
}

function runsAlong(seg: Segment, [t0, t1]: ParameterRange, other: Segment, near: Mm): boolean {
  return [0, 0.25, 0.5, 0.75, 1].every((k) => nearestOn(other, pointAt(seg, t0 + (t1 - t0) * k)).distance <= near);
}

function endsAgree(p: Segment, q: Segment): boolean {
  const equal = (u: Point, v: Point): boolean => u.x === v.x && u.y === v.y;
  return (equal(p.a, q.a) && equal(p.b, q.b)) || (equal(p.a, q.b) && equal(p.b, q.a));
}

/** What is left beside the ranges, ended on the other piece's own ends so that they meet again. */
function remainders(seg: Segment, other: Segment, ranges: readonly ParameterRange[], near: Mm): Segment[] {
  const snap = (p: Point): Point => [other.a, other.b].find((q) => dist(p, q) <= near) ?? p;
  const parts: Segment[] = [];
  let from = 0;
  for (const [t0, t1] of [...ranges, [1, 1] as const]) {
    if (t0 > from) {
      const part = subSegment(seg, from, t0);
      parts.push(moveEnds(part, from === 0 ? part.a : snap(part.a), t0 === 1 ? part.b : snap(part.b)));
    }
    from = t1;
  }
  return parts;
}

function runsOf(strands: readonly Strand[], pieces: readonly StrandPiece[]): SegmentRun[] {
  const runs: SegmentRun[] = [];
  let first = 0;
  for (const strand of strands) {
    const own = pieces.slice(first, first + strand.segments.length);
    first += strand.segments.length;
    const { source, fitError } = strand;
    if (own.every((p, k) => p.left.length === 1 && p.left[0] === strand.segments[k])) {
      if (own.length > 0) runs.push({ segments: strand.segments, closed: strand.closed, source, fitError });
      continue;
    }
    for (const segments of unbroken(
      own.flatMap((p) => p.left),
      strand.closed,
    ))
      runs.push({ segments, closed: false, source, fitError });
  }
  return runs;
}

/** Maximal stretches in which each segment starts where the one before ends. */
function unbroken(segments: readonly Segment[], closed: boolean): Segment[][] {
  const runs: Segment[][] = [];
  for (const s of segments) {
    const last = runs.at(-1);
    if (last !== undefined && meets(last.at(-1)!, s)) last.push(s);
    else runs.push([s]);
  }
  const [head, tail] = [runs[0], runs.at(-1)];
  if (closed && runs.length > 1 && meets(tail!.at(-1)!, head![0]!)) runs[0] = [...runs.pop()!, ...head!];
  return runs;
}

function meets(p: Segment, q: Segment): boolean {
  return p.b.x === q.a.x && p.b.y === q.a.y;
}
