/** The trade's cautions that sheet and page say: the usual ones, then those of the material, the holding and the coolant. */
import type { Holding } from '../../../hold/holding.ts';
import type { Job } from '../../../part/part.ts';
import { type CautionName, cautionText, USUAL_CAUTIONS } from '../../../trade/cautions.ts';
import { findMaterial } from '../../../trade/materials/materials.ts';

/** Without a job, a program alone is looked at: the usual ones. */
export function cautionsFor(job: Job | null, holding: Holding | null): string[] {
  const found = job === null ? null : findMaterial(job.material);
  const names: readonly CautionName[] = [
    ...USUAL_CAUTIONS,
    ...(found?.kind === 'found' ? found.value.cautions : []),
    ...(holding?.by === 'glue' ? (['glue fumes'] as const) : []),
    ...(job?.machine.coolant === 'mist' ? (['coolant mist'] as const) : []),
  ];
  return [...new Set(names)].map(cautionText);
}
