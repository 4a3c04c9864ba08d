/** Engagement of the passes beside a part. */
import type { Mm, Rad } from '../../base/units.ts';
import { step } from '../../geometry/measure/point.ts';
import { directionAt, line } from '../../geometry/measure/segment.ts';
import type { Chain } from '../../geometry/types.ts';
import { SweptArea } from '../clear/swept.ts';

/** Places looked at, as a share of the cutter's radius. */
const SPACING = 0.25;

/** Greatest engagement along a finishing pass, in the slot that roughing left: it ran along `rough`. */
export function finishBite(rough: Chain, pass: Chain, radius: Mm): Rad {
  const swept = new SweptArea(radius);
  for (const s of rough) swept.add(s);
  // The lead comes on along the tangent.
  const first = pass[0]!;
  swept.add(line(step(first.a, directionAt(first, 0), -SPACING * radius), first.a));
  let peak = 0;
  for (const s of pass) {
    peak = Math.max(peak, swept.greatest(s, SPACING * radius));
    swept.add(s);
  }
  return peak;
}
