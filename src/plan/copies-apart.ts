/** The slot that is cut round one part must not reach into the next. */
import { fault, type Problem } from '../base/problem.ts';
import type { Mm } from '../base/units.ts';
import { loopGap } from '../geometry/measure/distance.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { placeLoop } from '../geometry/measure/transform.ts';
import type { Box } from '../geometry/types.ts';
import type { Job } from '../part/part.ts';
import { say, sayPlace } from './words.ts';

/** A gap given as a round figure is not refused for rounding. */
const ROUNDING: Mm = 1e-4;

/** One fault for each pair of parts with less than `slot` between them: where, and by how much to move one away. */
export function copiesApart(job: Job, slot: Mm): readonly Problem[] {
  const parts = job.places.map((place) => {
    const loop = placeLoop(place, job.part.outline.loop);
    return { loop, box: loopBox(loop) };
  });
  return parts.flatMap((a, i) =>
    parts.flatMap((b, k) => {
      if (k <= i || !isNear(a.box, b.box, slot)) return [];
      const gap = loopGap(a.loop, b.loop);
      if (gap.distance >= slot - ROUNDING) return [];
      const at = { x: (gap.p.x + gap.q.x) / 2, y: (gap.p.y + gap.q.y) / 2 };
      const more = Math.ceil((slot - gap.distance) * 100) / 100;
      return [
        fault(
          'copies-too-near',
          `parts ${i + 1} and ${k + 1} stand ${say(job, gap.distance)} apart at ${sayPlace(job, at)}`,
          `at least ${say(job, slot)}: the slot that is cut round each, allowance and room for swarf included`,
          `move one of them away by ${say(job, more)} or more, or use a smaller cutter`,
          { path: `place[${k}].at`, at: [at.x, at.y] },
        ),
      ];
    }),
  );
}

function isNear(a: Box, b: Box, by: Mm): boolean {
  return a.minX <= b.maxX + by && a.maxX >= b.minX - by && a.minY <= b.maxY + by && a.maxY >= b.minY - by;
}
