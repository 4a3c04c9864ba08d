/** Lines that mark tabs, as `outline` draws them: no edge of the part, so they are neither joined with edges nor told as open. */
import { LAYERS, TABS_ID } from '../../../base/drawing-layers.ts';
import type { Mm } from '../../../base/units.ts';
import { SegmentIndex } from '../../../geometry/measure/index.ts';
import { directionAt, pointAt } from '../../../geometry/measure/segment.ts';
import type { Segment } from '../../../geometry/types.ts';
import { count, type DrawingFindings } from '../findings.ts';
import type { Strand } from './strand.ts';

/** Sine of the angle between a mark and the edge that it touches: drawn along the tangent, it has none but for rounding. */
const ALONG = 0.01;

/**
 * Without the marks, which are counted among what is left out. A mark is one straight line on the tabs' layer, or in their group, whose
 * middle lies on an edge and which runs along it there; any other line there is an edge like those of other layers.
 */
export function withoutTabMarks(strands: readonly Strand[], join: Mm, findings: DrawingFindings): readonly Strand[] {
  const meant = strands.filter(isOnTabs);
  if (meant.length === 0) return strands;
  const edges = new SegmentIndex(strands.filter((s) => !isOnTabs(s)).flatMap((s) => s.segments));
  const marks = new Set(meant.filter((s) => s.segments.length === 1 && runsAlong(s.segments[0]!, edges, join)));
  if (marks.size > 0) count(findings.ignored, 'lines that mark tabs', marks.size);
  return strands.filter((s) => !marks.has(s));
}

function isOnTabs({ source }: Strand): boolean {
  return source.layer === LAYERS.tab || source.ids.includes(TABS_ID);
}

function runsAlong(mark: Segment, edges: SegmentIndex, join: Mm): boolean {
  if (mark.kind !== 'line') return false;
  const near = edges.nearest(pointAt(mark, 0.5));
  if (near === undefined || near.distance > join) return false;
  const [along, edge] = [directionAt(mark, 0), directionAt(edges.segments[near.index]!, near.t)];
  return Math.abs(along.x * edge.y - along.y * edge.x) < ALONG;
}
