/** Inside corners and curves that a cutter leaves round: no error, but told with place and size. */
import { arctangent2 } from '../../base/angles.ts';
import { note, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { cross, dot } from '../../geometry/measure/point.ts';
import { curvatureOf, directionAt } from '../../geometry/measure/segment.ts';
import type { Loop, Segment } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { say } from '../words.ts';

/** Turns below this are tangent joins (radians). */
const SAME_DIRECTION = 1e-3;

/** `loop` counter-clockwise; `side`: where the cutter runs. `whose`: `of the outline`, `of pocket 2`. `open`: no walls. Places in part axes. */
export function roundedCorners(
  job: Job,
  loop: Loop,
  side: 'outside' | 'inside',
  cutterRadius: Mm,
  whose: string,
  open: ReadonlySet<Segment> = new Set(),
): Problem[] {
  const sign = side === 'outside' ? -1 : 1;
  return loop.flatMap((s, i) => {
    const next = loop[(i + 1) % loop.length]!;
    if (open.has(s)) return [];
    const out = directionAt(s, 1);
    const into = directionAt(next, 0);
    const turn = sign * arctangent2(cross(out, into), dot(out, into));
    const hollow = sign * curvatureOf(s);
    const at: [number, number] = [s.b.x, s.b.y];
    const left = (what: string) => leftRound(job, `${what} ${whose}`, at, cutterRadius);
    return [
      ...(turn > SAME_DIRECTION && !open.has(next) ? [left('an inside corner')] : []),
      ...(hollow > 0 && 1 / hollow < cutterRadius - 1e-9 ? [left(`an inside curve of ${say(job, 1 / hollow)}`)] : []),
    ];
  });
}

function leftRound(job: Job, what: string, at: [number, number], radius: Mm): Problem {
  return note({
    code: 'corner-left-round',
    at: { at },
    found: `${what} is left with radius ${say(job, radius)}`,
    remedy: 'file it, or use a smaller cutter',
  });
}
