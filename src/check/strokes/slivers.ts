/**
 * Arcs whose ends a control may take for one point. It counts places in steps of its own (0.001 mm or 0.0001 inch are the usual ones, from memory), and
 * RS-274/NGC makes a full circle of an arc that ends where it begins: a hair's breadth becomes a whole turn.
 */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { SAME } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { type Stroke, spotOf } from './stroke.ts';

/** Both coordinates may fall on one step: its diagonal, in the coarser of the two. */
const MERGED: Mm = 0.00254 * Math.SQRT2;
/** A circle no wider than the written figures are good for changes nothing. */
const HARMLESS: Mm = 0.005;

export function checkSlivers(strokes: Iterable<Stroke>, out: Findings): void {
  for (const s of strokes) {
    if (s.path.kind !== 'arc' || Math.abs(s.path.sweep) > Math.PI || 2 * s.path.radius <= HARMLESS) continue;
    const chord = dist(s.path.a, s.path.b);
    if (chord >= MERGED - SAME) continue;
    const found = `the ends of an arc of radius ${s.path.radius.toFixed(3)} mm are ${chord.toFixed(5)} mm apart: a control that takes them for one cuts the whole circle`;
    const wanted = `ends at least ${MERGED.toFixed(4)} mm apart`;
    const remedy = 'leave the arc out or write a straight move';
    out.fault({ code: 'arc-sliver', at: spotOf(s), size: 2 * s.path.radius, found, wanted, remedy });
  }
}
