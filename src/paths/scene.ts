/** Everything the path stage looks at, worked out once: the job's areas in program coordinates, heights, obstacles. */

import { type Mm, toRad } from '../base/units.ts';
import { placeLoop, placePoint } from '../geometry/measure/transform.ts';
import type { Box, Loop, Point, Region } from '../geometry/types.ts';
import type { Holding, Stub, Tab } from '../hold/holding.ts';
import type { Cutter, Job } from '../part/part.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import type { PostAbilities } from './moves.ts';
import { type Heights, heightsOf } from './travel/heights.ts';

export interface Scene {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly post: PostAbilities;
  readonly heights: Heights;
  /** Each part's outer edge where it lies, counter-clockwise. */
  readonly outlines: readonly Loop[];
  /** Each part's area: outline less nothing; holes and pockets do not matter to a cutter running outside. */
  readonly areas: readonly Region[];
  /** Clamps and screw heads. */
  readonly obstacles: readonly Obstacle[];
}

/** `top`: its height, program coordinates. */
export type Obstacle = Box & { readonly top: Mm };

export function sceneOf(job: Job, plan: Plan, holding: Holding, post: PostAbilities): Scene {
  const outlines = job.places.map((place) => placeLoop(place, job.part.outline.loop));
  return {
    job,
    plan,
    holding,
    post,
    heights: heightsOf(
      job,
      plan.heads.map((h) => h.top),
    ),
    outlines,
    areas: outlines.map((outer) => ({ outer, holes: [] })),
    obstacles: [
      ...job.clamps.flatMap((c) =>
        c.kind === 'block' ? [{ minX: c.min[0], minY: c.min[1], maxX: c.max[0], maxY: c.max[1], top: c.top }] : [],
      ),
      ...plan.heads.map(({ at, radius, top }) => ({
        top,
        minX: at.x - radius,
        minY: at.y - radius,
        maxX: at.x + radius,
        maxY: at.y + radius,
      })),
    ],
  };
}

export function cutterOf(scene: Scene, op: Operation): Cutter {
  const cutter = scene.plan.cutters.find((c) => c.number === op.cutter);
  if (!cutter) throw new Error(`cutter ${op.cutter} is planned but not listed: a bug in the plan stage`);
  return cutter;
}

export function tabsOf(scene: Scene, part: number): readonly Tab[] {
  return scene.holding.tabs.filter((t) => t.part === part);
}

export function stubOf(scene: Scene, part: number): Stub | undefined {
  return scene.holding.stubs.find((s) => s.part === part);
}

export function holePlace(scene: Scene, part: number, hole: number): Point {
  return placePoint(scene.job.places[part]!, scene.job.part.holes[hole]!.at);
}

/** Tangent of an angle given in degrees, for ramp lengths. */
export function slopeOf(deg: number): number {
  return Math.tan(toRad(deg));
}
