/** Places where outlines of one layer cross or touch themselves or each other. */
import { SAME_POINT } from '../../../base/tolerance.ts';
import type { Mm } from '../../../base/units.ts';
import { crossings } from '../../../geometry/measure/crossing.ts';
import { SegmentIndex, widen } from '../../../geometry/measure/index.ts';
import { dist } from '../../../geometry/measure/point.ts';
import { segmentBox, segmentLength } from '../../../geometry/measure/segment.ts';
import type { Point } from '../../../geometry/types.ts';
import type { DrawingLoop } from '../drawing.ts';
import type { DrawingFindings } from '../findings.ts';

/**
 * Neighbours that should be tangent cross again close to their corner when coordinates are rounded: with six decimals and
 * a radius of 40 mm within sqrt(2 r e) = 9 micrometres. Crossings this many joining distances along the edge from each
 * other are that, or a loop too small for any cutter.
 */
const CORNER_JOINS = 5;

interface SegmentPlace {
  readonly loop: number;
  /** Length along the loop to the start of the segment, and of the whole loop. */
  readonly before: Mm;
  readonly whole: Mm;
}

/** Indexes of the loops that cross or touch themselves. */
export function tellCrossings(loops: readonly DrawingLoop[], join: Mm, findings: DrawingFindings): ReadonlySet<number> {
  const spots: SegmentPlace[] = loops.flatMap((l, loop) => spotsOf(l, loop));
  const index = new SegmentIndex(loops.flatMap((l) => l.loop));
  const selfCrossing = new Set<number>();
  const told: Point[] = [];
  for (const [i, p] of index.segments.entries()) {
    for (const j of index.within(widen(segmentBox(p), SAME_POINT))) {
      if (j <= i || loops[spots[i]!.loop]!.layer !== loops[spots[j]!.loop]!.layer) continue;
      const q = index.segments[j]!;
      for (const c of crossings(p, q)) {
        const [a, b] = [spots[i]!, spots[j]!];
        if (
          a.loop === b.loop &&
          alongApart(a, b, c.t * segmentLength(p), c.u * segmentLength(q)) <= CORNER_JOINS * join
        )
          continue;
        if (a.loop === b.loop) selfCrossing.add(a.loop);
        tell(loops[a.loop]!, loops[b.loop]!, c.point, told, findings);
      }
    }
  }
  return selfCrossing;
}

function spotsOf(l: DrawingLoop, loop: number): SegmentPlace[] {
  const lengths = l.loop.map(segmentLength);
  const whole = lengths.reduce((sum, x) => sum + x, 0);
  let before = 0;
  return lengths.map((length) => {
    const spot = { loop, before, whole };
    before += length;
    return spot;
  });
}

function alongApart(a: SegmentPlace, b: SegmentPlace, onA: Mm, onB: Mm): Mm {
  const apart = Math.abs(a.before + onA - (b.before + onB));
  return Math.min(apart, a.whole - apart);
}

/** Four segments meet at a common corner: one place is told once. */
function tell(p: DrawingLoop, q: DrawingLoop, at: Point, told: Point[], findings: DrawingFindings): void {
  if (told.length < 1000 && told.some((t) => dist(t, at) <= 10 * SAME_POINT)) return;
  told.push(at);
  const line = p.sources[0]!.line;
  const place = { line, at: [at.x, at.y] as const };
  if (p === q)
    findings.defect({
      code: 'self-crossing',
      at: place,
      found: 'the outline crosses or touches itself here',
      wanted: 'an outline that stays clear of itself',
      remedy: 'trim the lines in the drawing',
    });
  else
    findings.defect({
      code: 'crossing',
      at: place,
      found: `two outlines cross or touch here (the other starts at line ${q.sources[0]!.line})`,
      wanted: 'outlines that stay clear of each other',
      remedy: 'trim the lines, or draw one of them on another layer',
    });
}
