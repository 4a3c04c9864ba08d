/** Everything the path stage looks at, worked out once: the job's areas in program coordinates, heights, obstacles. */

import { tangent } from '../base/angles.ts';
import type { Tables } from '../base/tables.ts';
import { type Mm, toRad } from '../base/units.ts';
import type { Box, Point, Region } from '../geometry/types.ts';
import type { Holding, Stub, Tab } from '../hold/holding.ts';
import type { Cutter, Job } from '../part/part.ts';
import { type PlacedPart, placedParts } from '../part/placed.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import type { PostAbilities } from './moves.ts';
import { type Heights, heightsOf } from './travel/heights.ts';

export interface Scene extends PathsRequest {
  readonly heights: Heights;
  readonly tables: Tables;
  readonly parts: readonly PlacedPart[];
  /** Each part's area: outline less nothing; holes and pockets do not matter to a cutter running outside. */
  readonly areas: readonly Region[];
  /** Clamps and screw heads. */
  readonly obstacles: readonly ObstacleBox[];
}

/** `top`: its height, program coordinates. */
export type ObstacleBox = Box & { readonly top: Mm };

/** What the paths are made for: a plan, what holds the part, and what the post can say. */
export interface PathsRequest {
  readonly job: Job;
  readonly plan: Plan;
  readonly holding: Holding;
  readonly post: PostAbilities;
}

export function sceneOf({ job, plan, holding, post }: PathsRequest, tables: Tables): Scene {
  const parts = placedParts(job, tables);
  return {
    job,
    plan,
    holding,
    post,
    tables,
    parts,
    heights: heightsOf(
      job,
      plan.heads.map((h) => h.top),
    ),
    areas: parts.map((p) => ({ outer: p.outline, holes: [] })),
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
  return scene.parts[part]!.holes[hole]!.at;
}

/** Tangent of an angle given in degrees, for ramp lengths. */
export function slopeOf(deg: number): number {
  return tangent(toRad(deg));
}
