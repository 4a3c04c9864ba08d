/** Stretches of a path picked by the straight distance between their ends. */
import type { Mm } from '../../base/units.ts';
import { loopLength, pointAlong } from '../measure/loop.ts';
import { dist } from '../measure/point.ts';
import type { Loop } from '../types.ts';

export type ChordRun =
  | { readonly kind: 'run'; readonly from: Mm; readonly to: Mm }
  /** No two points of the path lie so far apart about this place. */
  | { readonly kind: 'too wide' };

/** Accuracy of the run's ends; a hundredth of the finest written digit. */
const FINE: Mm = 1e-6;

/**
 * The shortest stretch about the place s whose ends are `chord` apart, reaching equally far both ways along the path.
 * A tab of waist w between two cutter discs of diameter D needs a run with chord w + D on the path of the cutter's centre:
 * measured straight, since on a curve the discs come nearer than the path is long. `from` may be negative and `to` may pass
 * the loop's length.
 */
export function chordRun(loop: Loop, s: Mm, chord: Mm): ChordRun {
  const half = loopLength(loop) / 2;
  const apart = (u: Mm) => {
    const a = pointAlong(loop, s - u);
    const b = pointAlong(loop, s + u);
    return a && b ? dist(a.point, b.point) : 0;
  };
  const reach = firstReach(apart, chord, half);
  if (reach === undefined) return { kind: 'too wide' };
  let [near, far] = reach;
  while (far - near > FINE) {
    const middle = (near + far) / 2;
    if (apart(middle) < chord) near = middle;
    else far = middle;
  }
  return { kind: 'run', from: s - far, to: s + far };
}

/** First interval of reach in which the ends become far enough apart, by small steps: the distance need not grow steadily. */
function firstReach(apart: (u: Mm) => Mm, chord: Mm, half: Mm): [Mm, Mm] | undefined {
  const stride = Math.min(chord / 8, half / 8);
  let previous = chord / 2 - FINE;
  if (previous >= half) return undefined;
  if (apart(previous) >= chord) return [0, previous];
  for (let u = previous + stride; u < half; u += stride) {
    if (apart(u) >= chord) return [previous, u];
    previous = u;
  }
  return undefined;
}
