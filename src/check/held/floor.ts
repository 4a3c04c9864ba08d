/** A floor that holds the part must be as thick as the head says, everywhere but under holes. */
import { dist } from '../../geometry/measure/point.ts';
import { LIMITS } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { spotOf } from '../strokes/stroke.ts';
import type { CheckedSetUp } from '../work.ts';

export function checkFloor(work: CheckedSetUp, out: Findings): void {
  const { job, wanted, strokes } = work;
  const hold = work.programs[0]?.head.hold;
  if (hold?.by !== 'floor' || hold.figure === null) return;
  const top = job.stock.min[2] + hold.figure;
  const least = top - LIMITS.tabHeight;
  for (const s of strokes) {
    if (s.rapid || s.low >= least) continue;
    const { a } = s.path;
    const inHole = wanted.parts.some(
      (p) =>
        p.holes.some((h) => dist(h.at, a) <= h.hole.diameter / 2) ||
        p.pockets.some((q) => q.through && q.outer.inside(a)),
    );
    if (inHole) continue;
    out.fault({
      code: 'floor-thin',
      at: spotOf(s),
      size: top - s.low,
      found: `cutter ${s.tool.number} goes to z ${s.low.toFixed(3)}, into the floor`,
      wanted: `a floor of ${hold.figure.toFixed(3)} mm, its top at z ${top.toFixed(3)}`,
      remedy: 'end the profile at the top of the floor',
    });
  }
}
