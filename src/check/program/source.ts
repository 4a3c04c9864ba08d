/** Whether the joined loop that everything else was made from is the edge that the job's own circles and tangents give. */
import type { Mm } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { pointAt } from '../../geometry/measure/segment.ts';
import type { Outline } from '../../part/part.ts';
import type { Findings } from '../report/findings.ts';
import { edgeOf } from '../wanted/edge.ts';

/** A fifth of the gouge limit: what the two may differ by without any verdict hanging on it. */
const ALIKE: Mm = 0.001;

/** `block`: the line of the head that places the part. */
export function checkOutline(outline: Outline, name: string, block: number, out: Findings): void {
  const edge = edgeOf(outline);
  for (const s of outline.loop) {
    for (const t of [0, 0.25, 0.5, 0.75]) {
      const p = pointAt(s, t);
      const off = distanceToLoop(edge.pieces, p);
      if (off <= ALIKE) continue;
      const found = `${name}: the joined outline is ${off.toFixed(4)} mm off the circles and tangents it is made from`;
      out.fault({
        code: 'outline-differs',
        at: { program: 0, block, at: [p.x, p.y] as const },
        size: off,
        found,
        wanted: `within ${ALIKE} mm`,
        remedy: 'give the outline as vertices and report the job',
      });
      return;
    }
  }
}
