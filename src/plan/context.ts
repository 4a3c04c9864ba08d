/** What every step of planning looks at. */
import type { Tables } from '../base/tables.ts';
import type { Mm } from '../base/units.ts';
import type { Hole, Job } from '../part/part.ts';
import { type PlacedPart, placedParts } from '../part/placed.ts';
import type { Material } from '../trade/materials/materials.ts';
import type { HoleTarget } from './plan.ts';

export interface PlanContext {
  readonly job: Job;
  readonly material: Material;
  readonly parts: readonly PlacedPart[];
  readonly climb: boolean;
  readonly tables: Tables;
}

export function planContext(job: Job, material: Material, tables: Tables): PlanContext {
  return { job, material, parts: placedParts(job, tables), climb: climbs(job), tables };
}

/** The same holes of every copy, copy by copy. */
export function holeTargets({ parts }: PlanContext, holes: readonly Hole[]): HoleTarget[] {
  return parts.flatMap((p) =>
    holes.map((h) => ({ part: p.index, hole: h.index, at: p.holes.find((q) => q.hole === h)!.at })),
  );
}

/**
 * Climb milling pulls the table through its backlash: with more play than half the smallest usual chip (0.05 mm of play
 * is felt as a jerk on a light machine, common practice) the cut is conventional unless the job asks otherwise.
 */
const CLIMB_BACKLASH: Mm = 0.05;

function climbs(job: Job): boolean {
  if (job.finish.direction !== 'auto') return job.finish.direction === 'climb';
  return job.machine.backlash <= CLIMB_BACKLASH;
}
