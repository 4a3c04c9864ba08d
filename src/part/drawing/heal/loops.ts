/** Closed chains become outlines: one sense, whole circles known as such, sorted by size, with their depth of nesting. */
import { SAME_POINT } from '../../../base/tolerance.ts';
import { SegmentIndex } from '../../../geometry/measure/index.ts';
import { windingOf } from '../../../geometry/measure/inside.ts';
import { loopArea, loopBox, loopLength, orient } from '../../../geometry/measure/loop.ts';
import { dist } from '../../../geometry/measure/point.ts';
import { circle, line, pointAt } from '../../../geometry/measure/segment.ts';
import type { Loop } from '../../../geometry/types.ts';
import type { DrawingLoop } from '../drawing.ts';
import type { DrawingFindings } from '../findings.ts';
import { idsOf } from './ids.ts';
import type { Joined } from './join.ts';

export function loopsOf(joined: readonly Joined[], findings: DrawingFindings): DrawingLoop[] {
  const loops = joined.filter((j) => j.closed).map((j) => outlineOf(j, findings));
  const sorted = loops.toSorted(
    (p, q) => Math.abs(loopArea(q.loop)) - Math.abs(loopArea(p.loop)) || p.sources[0]!.line - q.sources[0]!.line,
  );
  const depths = depthsOf(sorted);
  return sorted.map((l, i) => ({ ...l, depth: depths[i]! }));
}

function outlineOf(j: Joined, findings: DrawingFindings): DrawingLoop {
  const area = loopArea(j.segments);
  const source = j.sources[0]!;
  const start = j.segments[0]!.a;
  const place = { line: source.line, at: [start.x, start.y] as const };
  const whole = wholeCircle(j.segments);
  if (area < 0 && whole === null)
    findings.note({ code: 'turned-round', at: place, found: 'a clockwise outline is turned counter-clockwise' });
  // One arc from the point of greatest x, however it was drawn: two drawings of one circle are then the same loop.
  const loop = whole === null ? orient(j.segments, 'ccw') : [circle(whole.centre, whole.diameter / 2)];
  const ids = idsOf(j.sources);
  const { sources, fitError } = j;
  return { loop, layer: source.layer, ids, sources, depth: 0, fitError, box: loopBox(loop), circle: whole };
}

/** Without those that enclose nothing (told). Done after crossings are looked for: a figure of eight may have no area either. */
export function withInside(loops: readonly DrawingLoop[], findings: DrawingFindings): DrawingLoop[] {
  return loops.filter((l) => {
    if (Math.abs(loopArea(l.loop)) > SAME_POINT * loopLength(l.loop)) return true;
    const { type, line: at } = l.sources[0]!;
    const start = l.loop[0]!.a;
    const place = { line: at, at: [start.x, start.y] as const };
    findings.defect({
      code: 'no-area',
      at: place,
      found: `a closed ${type} encloses nothing`,
      wanted: 'an outline with an inside',
      remedy: 'delete it in the drawing',
    });
    return false;
  });
}

/** Centre and diameter when every piece is an arc of one circle, within rounding. */
function wholeCircle(loop: Loop): DrawingLoop['circle'] {
  const first = loop[0]!;
  if (first.kind !== 'arc') return null;
  const one = loop.every(
    (s) =>
      s.kind === 'arc' && Math.abs(s.radius - first.radius) <= SAME_POINT && dist(s.centre, first.centre) <= SAME_POINT,
  );
  return one ? { centre: first.centre, diameter: 2 * first.radius } : null;
}

/** Within one layer: a border on another layer is not around a part. */
function depthsOf(loops: readonly DrawingLoop[]): number[] {
  return ancestorsOf(loops).map((around, i) => around.filter((k) => loops[k]!.layer === loops[i]!.layer).length);
}

/**
 * For every loop the indexes of those around it, from the largest inward, whatever their layer. The loops must come
 * sorted by area, largest first: only earlier ones can be around one. Sound for outlines that do not cross.
 */
export function ancestorsOf(loops: readonly DrawingLoop[]): number[][] {
  // A diagonal has the same box as its loop.
  const tree = new SegmentIndex(
    loops.map(({ box }) => line({ x: box.minX, y: box.minY }, { x: box.maxX, y: box.maxY })),
  );
  return loops.map((l, i) => {
    // An odd fraction, so as not to fall on a corner, where drawings like to touch.
    const p = pointAt(l.loop[0]!, 0.37);
    const boxes = tree.within({ minX: p.x, minY: p.y, maxX: p.x, maxY: p.y });
    return boxes.filter((k) => k < i && windingOf(loops[k]!.loop, p) !== 0);
  });
}
