/** What turns above the flutes, shank and holder where they are wider than their cutter, against the stock that stands at that moment. */
import type { Mm } from '../../base/units.ts';
import { pointAt, segmentLength } from '../../geometry/measure/segment.ts';
import type { Job } from '../../part/part.ts';
import { type Field, highestUnder } from '../../stock/field.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { type Stroke, spotOf, type ToolBody } from '../strokes/stroke.ts';

/** Stock that a body ran against. */
export interface Met {
  readonly stroke: Stroke;
  readonly body: ToolBody;
  readonly stands: Mm;
}

/** Kept of one program set; more of the same would be told by their number only. */
const MOST_MET = 1000;
/** Cells from one place to the next along a path: discs of a millimetre and more leave nothing between them. */
const STEP_CELLS = 4;

/** Before a stroke is swept: which of its wide bodies meet what stands. Each is taken at the stroke's lowest. */
export function meetStock(s: Stroke, field: Field, top: Mm, met: Met[]): void {
  for (const body of s.tool.wide) {
    const low = s.low + body.from;
    if (low >= top - ROUNDING || met.length >= MOST_MET) return;
    const stands = standsAlong(s, body.radius + field.cell, field, Math.max(low, field.bottom) + ROUNDING);
    if (stands !== null) met.push({ stroke: s, body, stands });
  }
}

/** The first stock above `over` under a disc on its way; null: none. */
function standsAlong(s: Stroke, radius: Mm, field: Field, over: Mm): Mm | null {
  const steps = Math.max(1, Math.ceil(segmentLength(s.path) / (STEP_CELLS * field.cell)));
  for (let i = 0; i <= steps; i++) {
    const { x, y } = pointAt(s.path, i / steps);
    const stands = highestUnder(field, x, y, radius);
    if (stands !== undefined && stands > over) return stands;
  }
  return null;
}

export function tellMet(met: readonly Met[], job: Job, out: Findings): void {
  for (const { stroke: s, body, stands } of met) {
    const low = s.low + body.from;
    out.fault({
      code: body.name === 'shank' ? 'shank-rubs' : 'holder-hits',
      at: spotOf(s),
      size: stands - low,
      found: `the ${body.name} of cutter ${s.tool.number} comes down to z ${low.toFixed(2)} where the stock stands to z ${stands.toFixed(2)}`,
      wanted: `no ${body.name} below the top of the stock, z ${job.stock.max[2].toFixed(2)}, but where wider room is cut`,
      remedy: 'cut less deep or take a longer cutter',
    });
  }
}
