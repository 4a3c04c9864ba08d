/** Shapes become strands: lines and arcs end to end, in millimetres. */
import { SAME_POINT, SHORTEST_PIECE } from '../../../base/tolerance.ts';
import type { Mm } from '../../../base/units.ts';
import { dist } from '../../../geometry/measure/point.ts';
import { arcThrough, line, pointAt, segmentLength } from '../../../geometry/measure/segment.ts';
import type { Point, Segment } from '../../../geometry/types.ts';
import { type Affine, IDENTITY } from '../curve/affine.ts';
import { mapCurve } from '../curve/curve.ts';
import { fitCurve } from '../curve/fit.ts';
import type { Source } from '../drawing.ts';
import type { Placed } from '../dxf/expand.ts';
import type { DrawingFindings } from '../findings.ts';
import { FARTHEST } from '../limits.ts';

export interface Strand {
  readonly segments: readonly Segment[];
  readonly closed: boolean;
  readonly source: Source;
  readonly fitError: Mm;
}

export function strandOf(placed: Placed, toMm: Affine, fit: Mm, findings: DrawingFindings): Strand | null {
  const { shape, source } = placed;
  const fitted = shape.curves.map((c) => fitCurve(toMm === IDENTITY ? c : mapCurve(toMm, c), fit));
  const fitError = fitted.reduce((worst, f) => Math.max(worst, f.error), 0);
  if (fitError > fit) {
    findings.fault({
      code: 'not-fitted',
      at: { line: source.line },
      found: `${source.type} could only be followed within ${fitError} mm`,
      wanted: `arcs and lines within ${fit} mm`,
      remedy: 'allow a larger fit, or redraw this curve',
    });
    return null;
  }
  const raw = fitted.flatMap((f) => f.segments);
  const far = raw.find(
    (s) =>
      !(
        Math.abs(s.b.x) <= FARTHEST &&
        Math.abs(s.b.y) <= FARTHEST &&
        Math.abs(s.a.x) <= FARTHEST &&
        Math.abs(s.a.y) <= FARTHEST
      ),
  );
  if (far !== undefined) {
    findings.fault({
      code: 'too-far',
      at: { line: source.line },
      found: `${source.type} reaches ${far.b.x}, ${far.b.y} mm`,
      wanted: `coordinates within ${FARTHEST} mm`,
      remedy: 'check the units of the drawing, and move it near its zero',
    });
    return null;
  }
  return { segments: withoutTiny(raw, shape.closed, source, findings), closed: shape.closed, source, fitError };
}

/** Pieces too short to be written are left out and their neighbours drawn together; a run of them is thinned, not lost. */
function withoutTiny(
  raw: readonly Segment[],
  closed: boolean,
  source: Source,
  findings: DrawingFindings,
): readonly Segment[] {
  const kept: Segment[] = [];
  let dropped = 0;
  let place: Point | null = null;
  for (const s of raw) {
    const anchor = kept.at(-1)?.b ?? raw[0]!.a;
    const length = segmentLength(s);
    if (length >= SHORTEST_PIECE || dist(anchor, s.b) >= SHORTEST_PIECE) kept.push(moveEnds(s, anchor, s.b));
    else if (length > SAME_POINT) {
      // What is nearer than the same point is rounding, not a piece.
      dropped++;
      place ??= s.a;
    }
  }
  if (place !== null) tellTiny(dropped, place, source, findings);
  const last = kept.at(-1);
  const end = closed ? kept[0]?.a : raw.at(-1)?.b;
  if (last !== undefined && end !== undefined) kept[kept.length - 1] = moveEnds(last, last.a, end);
  return kept;
}

function tellTiny(dropped: number, at: Point, source: Source, findings: DrawingFindings): void {
  findings.note({
    code: 'tiny-piece',
    at: { line: source.line, at: [at.x, at.y] },
    found: `${source.type}: ${dropped} piece(s) shorter than ${SHORTEST_PIECE} mm merged into their neighbours`,
  });
}

/** The segment between other ends. Within SAME_POINT an arc keeps its centre; farther, it goes through its old middle. */
export function moveEnds(s: Segment, a: Point, b: Point): Segment {
  if (same(s.a, a) && same(s.b, b)) return s;
  if (s.kind === 'line') return line(a, b);
  if (Math.max(dist(s.a, a), dist(s.b, b)) <= SAME_POINT) return { ...s, a, b };
  if (a === b || same(a, b)) return { ...s, a, b: a, sweep: Math.sign(s.sweep) * 2 * Math.PI };
  return arcThrough(a, pointAt(s, 0.5), b);
}

export function same(p: Point, q: Point): boolean {
  return p.x === q.x && p.y === q.y;
}
