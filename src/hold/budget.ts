/** How hard the cutter may push a part that hangs on its tabs: the planner eases its passes to this. */
import type { Newton } from '../base/units.ts';
import type { Job } from '../part/part.ts';
import { WANTED_MARGIN } from '../trade/holding-rules.ts';
import { findMaterial } from '../trade/materials.ts';
import type { Holding } from './holding.ts';

/** Shear yield over tensile yield (von Mises). */
const SHEAR = 0.577;
/** A force at the far end of a part loads one tab more than its share: of n tabs the worst takes 1/n times this. */
const UNEVEN = 2;

/** Force in the plane of the table that the weakest part's tabs carry with the wanted margin; null where tabs do not hold. */
export function forceBudget(job: Job, holding: Holding): Newton | null {
  const material = findMaterial(job.material);
  if (holding.by !== 'tabs' || material.kind === 'unknown') return null;
  const strength = material.value.strengths[0];
  const shear = strength.yield === null ? SHEAR * strength.tensile : SHEAR * strength.yield;
  const wanted = strength.yield === null ? WANTED_MARGIN.brittle.value : WANTED_MARGIN['tab finishing'].value;
  const area = (part: number) =>
    holding.tabs.filter((t) => t.part === part).reduce((sum, t) => sum + t.width * t.cutHeight, 0);
  const least = Math.min(...job.places.map((_, part) => area(part)));
  return (least * shear) / wanted / UNEVEN;
}
