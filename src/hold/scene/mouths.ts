/** What pockets that are open at the edge take out of the frame before them: there the frame is as low as their floor. */
import type { Mm } from '../../base/units.ts';
import { windingOf } from '../../geometry/measure/inside.ts';
import { loopBox } from '../../geometry/measure/loop.ts';
import { placeLoop } from '../../geometry/measure/transform.ts';
import { runOut } from '../../geometry/mouth.ts';
import type { Box, Loop } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { MOUTH_END, type Plan } from '../../plan/plan.ts';

export interface Mouth {
  readonly loop: Loop;
  readonly box: Box;
  readonly depth: Mm;
}

/** Areas in program coordinates, each with its pocket; how far out the plan's cutter may be seen, all of it (safe side). */
export function mouthsOf(job: Job, plan: Plan): readonly Mouth[] {
  return plan.setups.flatMap((s) =>
    s.operations.flatMap(({ target: t, depths }) => {
      if (t.kind !== 'pocket' || t.out <= 0) return [];
      const { outline, open } = job.part.pockets[t.pocket]!;
      const room = runOut(outline.loop, open, job.part.outline.loop, t.out, MOUTH_END);
      if (room.kind === 'failed') throw new Error(`${room.reason}, which the plan stage did not find: a bug`);
      return t.parts.map((part) => {
        const loop = placeLoop(job.places[part]!, room.region.outer);
        return { loop, box: loopBox(loop), depth: -depths.at(-1)! };
      });
    }),
  );
}

/** Depth that mouths have taken at a place of the frame; 0: none does. */
export function takenAt(mouths: readonly Mouth[], x: Mm, y: Mm): Mm {
  return mouths.reduce((most, { loop, box, depth }) => {
    if (depth <= most || x < box.minX || x > box.maxX || y < box.minY || y > box.maxY) return most;
    return windingOf(loop, { x, y }) === 0 ? most : depth;
  }, 0);
}
