/** Lines drawn twice: what lies on another piece of the same layer is taken away from one of the two. */
import type { Mm } from '../../../base/units.ts';
import { SegmentIndex, widen } from '../../../geometry/measure/index.ts';
import { nearestOn, pointAt, segmentBox, segmentLength, subSegment } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import type { Source } from '../drawing.ts';
import type { Findings } from '../findings.ts';
import { MOST_PAIRS } from '../limits.ts';
import type { Strand } from './strand.ts';

/** Open run of neighbouring segments of one strand, or a whole closed one. */
export interface Run {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly source: Source;
  readonly fitError: Mm;
}

/** Pieces run along each other when a tenth of the joining distance apart or less: double lines, not narrow webs. */
const ALONG_SHARE = 0.1;

interface Piece {
  readonly strand: number;
  readonly rank: number;
  /** What is left of it. */
  left: Segment[];
}

export function withoutOverlaps(strands: readonly Strand[], join: Mm, findings: Findings): Run[] {
  const pieces = strands.flatMap((s, strand) =>
    s.segments.map((seg): Piece => ({ strand, rank: rankOf(s), left: [seg] })),
  );
  const originals = strands.flatMap((s) => s.segments);
  const index = new SegmentIndex(originals);
  const near = join * ALONG_SHARE;
  let pairs = 0;
  for (const [i, seg] of originals.entries()) {
    for (const j of index.within(widen(segmentBox(seg), near))) {
      if (j <= i) continue;
      if (++pairs > MOST_PAIRS) {
        crowded(strands[pieces[i]!.strand]!.source, seg.a, findings);
        return [];
      }
      if (strands[pieces[i]!.strand]!.source.layer !== strands[pieces[j]!.strand]!.source.layer) continue;
      // The piece of the closed or longer strand stays; of equals, the first drawn.
      const [high, low] = pieces[j]!.rank > pieces[i]!.rank ? [j, i] : [i, j];
      takeAway(pieces[low]!, pieces[high]!, near, strands[pieces[low]!.strand]!.source, findings);
    }
  }
  return runsOf(strands, pieces);
}

function rankOf(s: Strand): number {
  if (s.closed) return 2;
  return s.segments.length > 1 ? 1 : 0;
}

function crowded(source: Source, at: Point, findings: Findings): void {
  findings.fault(
    'too-crowded',
    `so many lines lie over one another that more than ${MOST_PAIRS} pairs would have to be compared`,
    'the outline of one small part',
    'export the outline alone, without hatching',
    { line: source.line, at: [at.x, at.y] },
  );
}

function takeAway(low: Piece, high: Piece, near: Mm, source: Source, findings: Findings): void {
  if (low.left.length === 0) return;
  low.left = low.left.flatMap((seg) => {
    for (const other of high.left) {
      const range = covered(seg, other, near);
      if (range === null) continue;
      const length = segmentLength(seg) * (range[1] - range[0]);
      const middle = pointAt(seg, (range[0] + range[1]) / 2);
      const whole = range[0] === 0 && range[1] === 1;
      findings.note(
        whole ? 'duplicate' : 'overlap',
        `${source.type} is drawn twice over ${rounded(length)} mm: the second is removed`,
        { line: source.line, at: [middle.x, middle.y] },
      );
      return remainders(seg, other, range, near);
    }
    return [seg];
  });
}

/** Range of `seg` that lies on `other`; null when they share less than a few times `near`. */
function covered(seg: Segment, other: Segment, near: Mm): [number, number] | null {
  const length = segmentLength(seg);
  const ts: number[] = [];
  if (nearestOn(other, seg.a).distance <= near) ts.push(0);
  if (nearestOn(other, seg.b).distance <= near) ts.push(1);
  for (const p of [other.a, other.b]) {
    const n = nearestOn(seg, p);
    if (n.distance <= near) ts.push(n.t);
  }
  if (ts.length < 2) return null;
  const range: [number, number] = [Math.min(...ts), Math.max(...ts)];
  const shared = (range[1] - range[0]) * length;
  // Pieces as short as that are only taken when they are the same from end to end: neighbours of a finely divided curve touch too.
  if (shared < 4 * near && !(shared === length && endsAgree(seg, other))) return null;
  const along = [0.25, 0.5, 0.75].every((k) => {
    const p = pointAt(seg, range[0] + (range[1] - range[0]) * k);
    return nearestOn(other, p).distance <= near;
  });
  if (!along) return null;
  return [range[0] * length <= near ? 0 : range[0], (1 - range[1]) * length <= near ? 1 : range[1]];
}

function endsAgree(p: Segment, q: Segment): boolean {
  const equal = (u: Point, v: Point): boolean => u.x === v.x && u.y === v.y;
  return (equal(p.a, q.a) && equal(p.b, q.b)) || (equal(p.a, q.b) && equal(p.b, q.a));
}

/** What is left on either side, ended on the other piece's own ends so that they meet again. */
function remainders(seg: Segment, other: Segment, [t0, t1]: [number, number], near: Mm): Segment[] {
  const snap = (p: Point): Point => [other.a, other.b].find((q) => Math.hypot(p.x - q.x, p.y - q.y) <= near) ?? p;
  const parts: Segment[] = [];
  if (t0 > 0) {
    const part = subSegment(seg, 0, t0);
    parts.push({ ...part, b: snap(part.b) });
  }
  if (t1 < 1) {
    const part = subSegment(seg, t1, 1);
    parts.push({ ...part, a: snap(part.a) });
  }
  return parts;
}

function runsOf(strands: readonly Strand[], pieces: readonly Piece[]): Run[] {
  const runs: Run[] = [];
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

function rounded(x: number): number {
  return Number(x.toPrecision(4));
}
