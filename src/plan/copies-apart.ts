/** The slot that is cut round one part must not reach into the next. */
import { fault, type Problem } from '../base/problem.ts';
import type { Mm } from '../base/units.ts';
import { loopGap } from '../geometry/measure/distance.ts';
import { windingOf } from '../geometry/measure/inside.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { placeLoop } from '../geometry/measure/transform.ts';
import type { Box } from '../geometry/types.ts';
import type { PlanContext } from './context.ts';
import type { OpenArea } from './openings/openings-plan.ts';
import { say, sayPlace } from './words.ts';

/** A gap given as a round figure is not refused for rounding. */
const ROUNDING: Mm = 1e-4;
/** What is cut before an open side keeps this far off the next part: more than its finishing allowance. */
const MOUTH_ROOM: Mm = 0.5;

/** One fault for each pair of parts with less than `slot` between them: where, and by how much to move one away. */
export function copiesApart({ job, parts }: PlanContext, slot: Mm): readonly Problem[] {
  return parts.flatMap((a, i) =>
    parts.flatMap((b, k) => {
      if (k <= i || !isNear(a.box, b.box, slot)) return [];
      const gap = loopGap(a.outline, b.outline);
      if (gap.distance >= slot - ROUNDING) return [];
      const at = { x: (gap.p.x + gap.q.x) / 2, y: (gap.p.y + gap.q.y) / 2 };
      const more = Math.ceil((slot - gap.distance) * 100) / 100;
      return [
        fault({
          code: 'copies-too-near',
          at: { path: `place[${k}].at`, at: [at.x, at.y] },
          found: `parts ${i + 1} and ${k + 1} stand ${say(job, gap.distance)} apart at ${sayPlace(job, at)}`,
          wanted: `at least ${say(job, slot)}: the slot that is cut round each, allowance and room for swarf included`,
          remedy: `move one of them away by ${say(job, more)} or more, or use a smaller cutter`,
        }),
      ];
    }),
  );
}

/** What is cut before the open sides of one part's pockets keeps off the other parts. */
export function mouthsApart({ job, parts }: PlanContext, open: readonly OpenArea[]): readonly Problem[] {
  return open.flatMap(({ index, loop }) =>
    parts.flatMap(({ place }, i) => {
      const room = placeLoop(place, loop);
      return parts.flatMap(({ outline, box }, k) => {
        if (k === i || !isNear(loopBox(room), box, MOUTH_ROOM)) return [];
        const gap = loopGap(room, outline);
        if (gap.distance >= MOUTH_ROOM && windingOf(room, outline[0]!.a) === 0) return [];
        return [
          fault({
            code: 'copies-too-near',
            at: { path: `place[${k}].at`, at: [gap.q.x, gap.q.y] },
            found: `the open side of pocket ${index + 1} of part ${i + 1} is cut out to part ${k + 1} at ${sayPlace(job, gap.q)}`,
            wanted: `at least ${say(job, MOUTH_ROOM)} between what is cut there and the next part`,
            remedy: 'move one of them away, or turn it',
          }),
        ];
      });
    }),
  );
}

function isNear(a: Box, b: Box, by: Mm): boolean {
  return a.minX <= b.maxX + by && a.maxX >= b.minX - by && a.minY <= b.maxY + by && a.maxY >= b.minY - by;
}
