/** Ends that found no partner: how wide the gap is, and whether the end stands on another line. */
import type { Mm } from '../../../base/units.ts';
import { SegmentIndex } from '../../../geometry/measure/index.ts';
import { dist } from '../../../geometry/measure/point.ts';
import { nearestOn } from '../../../geometry/measure/segment.ts';
import type { Point } from '../../../geometry/types.ts';
import type { OpenChain } from '../drawing.ts';
import type { DrawingFindings } from '../findings.ts';
import { idsOf } from './ids.ts';
import { type Joined, place } from './join.ts';

interface FreeEnd {
  readonly chain: number;
  readonly at: Point;
}

/** Gaps are looked for among this many open chains; a drawing with more is not an outline, and each is told without its gap. */
const MOST_COMPARED = 2000;

export function openChains(joined: readonly Joined[], join: Mm, findings: DrawingFindings): OpenChain[] {
  const open = joined.filter((j) => !j.closed);
  const ends = open.flatMap((j, chain): FreeEnd[] => [
    { chain, at: j.segments[0]!.a },
    { chain, at: j.segments.at(-1)!.b },
  ]);
  tellJunctions(joined, open, ends, join, findings);
  return open.map((j, chain) => {
    const gap = open.length > MOST_COMPARED ? null : narrowest(ends, chain, open);
    const [from, to] = [ends[2 * chain]!.at, ends[2 * chain + 1]!.at];
    tellOpen(j, from, to, gap, join, findings);
    return { chain: j.segments, layer: j.sources[0]!.layer, ids: idsOf(j.sources), sources: j.sources, from, to, gap };
  });
}

function narrowest(ends: readonly FreeEnd[], chain: number, open: readonly Joined[]): OpenChain['gap'] {
  let best: OpenChain['gap'] = null;
  for (const mine of [2 * chain, 2 * chain + 1]) {
    for (const [k, other] of ends.entries()) {
      // A single line's own two ends are its length, not a gap.
      if (k === mine || (other.chain === chain && open[chain]!.segments.length === 1)) continue;
      if (open[other.chain]!.sources[0]!.layer !== open[chain]!.sources[0]!.layer) continue;
      const size = dist(ends[mine]!.at, other.at);
      if (best === null || size < best.size) best = { a: ends[mine]!.at, b: other.at, size };
    }
  }
  return best;
}

function tellOpen(j: Joined, from: Point, to: Point, gap: OpenChain['gap'], join: Mm, findings: DrawingFindings): void {
  const width =
    gap === null
      ? 'no other end is near'
      : `the gap from ${place(gap.a)} to ${place(gap.b)} is ${Number(gap.size.toPrecision(5))} mm`;
  const spot = gap?.a ?? from;
  findings.defect({
    code: 'open',
    at: { line: j.sources[0]!.line, at: [spot.x, spot.y] },
    found: `an open outline of ${j.segments.length} piece(s) from ${place(from)} to ${place(to)}: ${width}`,
    wanted: `ends within ${join} mm of each other`,
    remedy: 'close the gap in the drawing',
  });
}

function tellJunctions(
  joined: readonly Joined[],
  open: readonly Joined[],
  ends: readonly FreeEnd[],
  join: Mm,
  findings: DrawingFindings,
): void {
  const owners = joined.flatMap((j) => j.segments.map(() => j));
  const index = new SegmentIndex(joined.flatMap((j) => j.segments));
  for (const end of ends) {
    const own = open[end.chain]!;
    const layer = own.sources[0]!.layer;
    const onto = index.near(end.at, join).find((i) => {
      const s = index.segments[i]!;
      const n = nearestOn(s, end.at);
      const inner = dist(n.point, s.a) > join && dist(n.point, s.b) > join;
      return inner && owners[i]!.sources[0]!.layer === layer;
    });
    if (onto === undefined) continue;
    findings.defect({
      code: 't-junction',
      at: { line: own.sources[0]!.line, at: [end.at.x, end.at.y] },
      found: `a line ends on the middle of another (line ${owners[onto]!.sources[0]!.line} of the file)`,
      wanted: 'outlines that meet end to end',
      remedy: 'trim or split the lines in the drawing',
    });
  }
}
