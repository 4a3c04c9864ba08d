/** How far the direction of an outline turns about a place of it. */
import { arctangent2 } from '../../base/angles.ts';
import type { Mm, Rad } from '../../base/units.ts';
import type { Loop } from '../types.ts';
import { loopLength } from './loop.ts';
import { cross, dot } from './point.ts';
import { curvatureOf, directionAt, segmentLength } from './segment.ts';

/** Turning over the stretch from `s - reach` to `s + reach`, corners in it included; positive to the left, where a part bulges out. */
export function turningAbout(loop: Loop, s: Mm, reach: Mm): Rad {
  const length = loopLength(loop);
  let from = 0;
  let sum = 0;
  loop.forEach((segment, i) => {
    const to = from + segmentLength(segment);
    const next = loop[(i + 1) % loop.length]!;
    // The stretch may reach over the outline's start, either way.
    for (const lap of [-length, 0, length]) {
      const shared = Math.min(to + lap, s + reach) - Math.max(from + lap, s - reach);
      if (shared > 0) sum += shared * curvatureOf(segment);
      if (Math.abs(to + lap - s) <= reach) sum += corner(directionAt(segment, 1), directionAt(next, 0));
    }
    from = to;
  });
  return sum;
}

function corner(a: { readonly x: number; readonly y: number }, b: { readonly x: number; readonly y: number }): Rad {
  return arctangent2(cross(a, b), dot(a, b));
}
