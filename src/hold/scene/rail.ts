/** The frame of stock that is left round the parts. */
import type { Mm } from '../../base/units.ts';
import { loopBox } from '../../geometry/measure/loop.ts';
import { placeLoop } from '../../geometry/measure/transform.ts';
import type { Job } from '../../part/part.ts';
import type { Plan } from '../../plan/plan.ts';

/** Least width between a slot and the stock's edge. Negative: the slot runs out of the stock. */
export function railWidth(job: Job, plan: Plan): Mm {
  const { min, max } = job.stock;
  const widths = job.places.flatMap((place) => {
    const box = loopBox(placeLoop(place, job.part.outline.loop));
    return [box.minX - min[0], max[0] - box.maxX, box.minY - min[1], max[1] - box.maxY];
  });
  return Math.min(...widths) - plan.slotWidth;
}
