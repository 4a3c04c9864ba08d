/** Everything the path stage looks at, worked out once: the job's areas in program coordinates, heights, obstacles. */

import { type Mm, toRad } from '../base/units.ts';
import { placeLoop, placePoint } from '../geometry/measure/transform.ts';
import type { Box, Loop, Point, Region } from '../geometry/types.ts';
import type { Holding, Stub, Tab } from '../hold/holding.ts';
import type { Cutter, Job } from '../part/part.ts';
import type { Operation, Plan } from '../plan/plan.ts';
import { type Heights, heightsOf } from './heights.ts';
import type { PostAbilities } from './moves.ts';

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
  readonly obstacles: readonly Box[];
}

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
        c.kind === 'block' ? [{ minX: c.min[0], minY: c.min[1], maxX: c.max[0], maxY: c.max[1] }] : [],
      ),
      ...plan.heads.map(({ at, radius }) => ({
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

/** Lowest height at which a sideways rapid from a to b is free: over the stock, or over the clamps when one is near. */
export function crossingHeight(scene: Scene, a: Point, b: Point, reach: Mm): Mm {
  const near = scene.obstacles.some((box) => boxNearLine(box, a, b, reach));
  return near ? scene.heights.clearance : scene.heights.retract;
}

function boxNearLine(box: Box, a: Point, b: Point, reach: Mm): boolean {
  const minX = box.minX - reach;
  const maxX = box.maxX + reach;
  const minY = box.minY - reach;
  const maxY = box.maxY + reach;
  let t0 = 0;
  let t1 = 1;
  const clip = (p: number, d: number, low: number, high: number): boolean => {
    if (Math.abs(d) < 1e-12) return p >= low && p <= high;
    const u = (low - p) / d;
    const v = (high - p) / d;
    t0 = Math.max(t0, Math.min(u, v));
    t1 = Math.min(t1, Math.max(u, v));
    return t0 <= t1;
  };
  return clip(a.x, b.x - a.x, minX, maxX) && clip(a.y, b.y - a.y, minY, maxY);
}
