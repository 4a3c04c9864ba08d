/** Free ends that lie within the joining distance are paired, nearest first; runs are then walked into chains and loops. */
import { SAME_POINT } from '../../../base/tolerance.ts';
import type { Mm } from '../../../base/units.ts';
import { dist, dot, lerp } from '../../../geometry/measure/point.ts';
import { directionAt, reverseSegment } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import type { Source } from '../drawing.ts';
import type { DrawingFindings } from '../findings.ts';
import type { SegmentRun } from './overlaps.ts';
import { moveEnds, same } from './strand.ts';

export interface Joined {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly sources: readonly Source[];
  readonly fitError: Mm;
}

/** End `2 r` is the start of run r, end `2 r + 1` its finish. */
type End = number;

interface JoinCandidate {
  readonly p: End;
  readonly q: End;
  readonly gap: Mm;
  /** 1 for straight on, -1 for straight back. */
  readonly straightness: number;
}

/** Ends looked at round one end; more on one spot is a knot of lines that nothing can unpick. */
const MOST_AT_A_SPOT = 64;

export function joinRuns(runs: readonly SegmentRun[], join: Mm, findings: DrawingFindings): Joined[] {
  const partner = pairEnds(runs, join, findings);
  const done = new Set<number>();
  const joined: Joined[] = [];
  for (const [r, run] of runs.entries()) {
    if (done.has(r)) continue;
    if (run.closed)
      joined.push({ segments: run.segments, closed: true, sources: [run.source], fitError: run.fitError });
    else joined.push(walk(runs, partner, r, done, findings));
  }
  return joined;
}

function pairEnds(runs: readonly SegmentRun[], join: Mm, findings: DrawingFindings): Map<End, End> {
  const partner = new Map<End, End>();
  for (const c of candidates(runs, join, findings)) {
    if (partner.has(c.p) || partner.has(c.q)) continue;
    partner.set(c.p, c.q);
    partner.set(c.q, c.p);
  }
  return partner;
}

function candidates(runs: readonly SegmentRun[], join: Mm, findings: DrawingFindings): JoinCandidate[] {
  const grid = new EndGrid(join);
  const found: JoinCandidate[] = [];
  for (const [r, run] of runs.entries()) {
    if (run.closed) continue;
    for (const end of [2 * r, 2 * r + 1]) {
      const p = endPoint(runs, end);
      const close = grid.near(p).filter((other) => mayJoin(runs, other, end, join));
      // Told once, when the third end arrives.
      if (close.length === 2) branch(p, run.source, findings);
      for (const other of close) found.push(candidate(runs, other, end));
      grid.add(p, end);
    }
  }
  const rank = (c: JoinCandidate): number => (c.gap <= SAME_POINT ? 0 : c.gap);
  return found.sort((a, b) => rank(a) - rank(b) || b.straightness - a.straightness || a.p - b.p || a.q - b.q);
}

function mayJoin(runs: readonly SegmentRun[], p: End, q: End, join: Mm): boolean {
  const [a, b] = [runs[p >> 1]!, runs[q >> 1]!];
  if (a.source.layer !== b.source.layer || dist(endPoint(runs, p), endPoint(runs, q)) > join) return false;
  return a !== b || !tooShortToClose(a, join);
}

/** Ends by their place: squares of some joining distances, so that most look-ups meet one square only. */
class EndGrid {
  private readonly cells = new Map<number, End[]>();
  private readonly reach: Mm;
  private readonly size: Mm;

  constructor(join: Mm) {
    this.reach = join;
    this.size = 8 * join;
  }

  add(p: Point, end: End): void {
    const key = cellKey(Math.floor(p.x / this.size), Math.floor(p.y / this.size));
    const cell = this.cells.get(key);
    if (cell === undefined) this.cells.set(key, [end]);
    else cell.push(end);
  }

  /** Ends in every square the reach touches; some may lie farther off. */
  near(p: Point): End[] {
    const [x0, x1] = [Math.floor((p.x - this.reach) / this.size), Math.floor((p.x + this.reach) / this.size)];
    const [y0, y1] = [Math.floor((p.y - this.reach) / this.size), Math.floor((p.y + this.reach) / this.size)];
    const found: End[] = [];
    for (let x = x0; x <= x1; x++) {
      for (let y = y0; y <= y1; y++)
        for (const end of (this.cells.get(cellKey(x, y)) ?? []).slice(0, MOST_AT_A_SPOT)) found.push(end);
    }
    return found;
  }
}

/** Squares may share a key (distances are looked at after), but rarely: two large odd numbers spread them. */
function cellKey(x: number, y: number): number {
  return (Math.imul(x, 73_856_093) ^ Math.imul(y, 19_349_663)) >>> 0;
}

function candidate(runs: readonly SegmentRun[], p: End, q: End): JoinCandidate {
  const straightness = -dot(outward(runs, p), outward(runs, q));
  return { p, q, gap: dist(endPoint(runs, p), endPoint(runs, q)), straightness };
}

function branch(at: Point, source: Source, findings: DrawingFindings): void {
  findings.defect({
    code: 'branch',
    at: { line: source.line, at: [at.x, at.y] },
    found: 'three or more ends meet here',
    wanted: 'two ends at every corner of an outline',
    remedy: 'draw the outline on a layer of its own, or delete the line that does not belong to it',
  });
}

/** A run that does not leave the joining distance would close on itself. */
function tooShortToClose(run: SegmentRun, join: Mm): boolean {
  const start = run.segments[0]!.a;
  return run.segments.length === 1 && run.segments[0]!.kind === 'line' && dist(start, run.segments[0]!.b) <= join;
}

function endPoint(runs: readonly SegmentRun[], end: End): Point {
  const { segments } = runs[end >> 1]!;
  return end % 2 === 0 ? segments[0]!.a : segments.at(-1)!.b;
}

/** Direction in which the run would go on beyond its end. */
function outward(runs: readonly SegmentRun[], end: End): Point {
  const { segments } = runs[end >> 1]!;
  if (end % 2 === 1) return directionAt(segments.at(-1)!, 1);
  const d = directionAt(segments[0]!, 0);
  return { x: -d.x, y: -d.y };
}

function walk(
  runs: readonly SegmentRun[],
  partner: ReadonlyMap<End, End>,
  from: number,
  done: Set<number>,
  findings: DrawingFindings,
): Joined {
  const entry = firstEntry(partner, from);
  const segments: Segment[] = [];
  const sources: Source[] = [];
  let fitError = 0;
  let end: End | undefined = entry;
  while (end !== undefined && !done.has(end >> 1)) {
    const run: SegmentRun = runs[end >> 1]!;
    done.add(end >> 1);
    const backwards = end % 2 === 1;
    const own = backwards ? run.segments.toReversed().map(reverseSegment) : run.segments;
    if (backwards) turnedRound(run, findings);
    append(segments, own, run.source, findings);
    sources.push(run.source);
    fitError = Math.max(fitError, run.fitError);
    end = partner.get(backwards ? end - 1 : end + 1);
  }
  const closed = end !== undefined && end === entry;
  if (closed) closeUp(segments, runs[from]!.source, findings);
  return { segments, closed, sources, fitError };
}

/** Walks back from the start of a run to the first end that has no partner; round a loop, that is where it began. */
function firstEntry(partner: ReadonlyMap<End, End>, from: number): End {
  let entry: End = 2 * from;
  for (let before = partner.get(entry); before !== undefined; before = partner.get(entry)) {
    entry = before % 2 === 0 ? before + 1 : before - 1;
    if (entry >> 1 === from) return 2 * from;
  }
  return entry;
}

/** An ARC of DXF always runs counter-clockwise: one that has to be turned round says nothing about the drawing. */
function turnedRound(run: SegmentRun, findings: DrawingFindings): void {
  if (run.source.type === 'ARC') return;
  const at = run.segments[0]!.a;
  findings.note({
    code: 'turned-round',
    at: { line: run.source.line, at: [at.x, at.y] },
    found: `${run.source.type} ran against the rest of its outline and is turned round`,
  });
}

function append(segments: Segment[], own: readonly Segment[], source: Source, findings: DrawingFindings): void {
  const before = segments.at(-1);
  const first = own[0]!;
  if (before === undefined) {
    for (const s of own) segments.push(s);
    return;
  }
  const meeting = meetingPoint(before, first, source, findings);
  segments[segments.length - 1] = moveEnds(before, before.a, meeting);
  segments.push(moveEnds(first, meeting, first.b));
  for (const s of own.slice(1)) segments.push(s);
}

function closeUp(segments: Segment[], source: Source, findings: DrawingFindings): void {
  const last = segments.at(-1)!;
  const first = segments[0]!;
  const meeting = meetingPoint(last, first, source, findings);
  if (segments.length === 1) {
    segments[0] = moveEnds(first, meeting, meeting);
    return;
  }
  segments[segments.length - 1] = moveEnds(last, last.a, meeting);
  segments[0] = moveEnds(first, meeting, first.b);
}

/** Where two ends are brought together: a line gives way to an arc, equals meet half-way. */
function meetingPoint(before: Segment, next: Segment, source: Source, findings: DrawingFindings): Point {
  const [p, q] = [before.b, next.a];
  if (same(p, q)) return p;
  const gap = dist(p, q);
  if (gap <= SAME_POINT) return p;
  if (gap > ROUNDED_GAP) tellGap(p, q, source, findings);
  if (before.kind === next.kind) return lerp(p, q, 0.5);
  return before.kind === 'arc' ? p : q;
}

/** Half of the finest digit that programs carry (mm): ends apart by less were rounded when the drawing was written. */
const ROUNDED_GAP = 0.00005;

function tellGap(p: Point, q: Point, source: Source, findings: DrawingFindings): void {
  const gap = dist(p, q);
  findings.note({
    code: 'joined',
    at: { line: source.line, at: [p.x, p.y] },
    found: `a gap of ${Number(gap.toPrecision(4))} mm is closed, from ${place(p)} to ${place(q)}`,
  });
}

export function place(p: Point): string {
  return `${Number(p.x.toFixed(4))}, ${Number(p.y.toFixed(4))}`;
}
