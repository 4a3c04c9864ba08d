/** The holding in words: verdict and what it comes from. */
import { short } from '../../base/text.ts';
import type { SupportLimit } from '../../mechanics/held/held-state.ts';
import type { Judged } from '../evaluate/judge.ts';
import { OWN_SHARE_REPORTED } from '../evaluate/own-compliance.ts';
import type { HoldScene } from '../scene/scene.ts';

export function verdictOf(scene: HoldScene, j: Judged): string {
  const margin = `margin ${short(j.margin.least, 2)} of ${short(j.margin.wanted, 1)} wanted${limitWords(j.margin.limit)}`;
  const way = j.movement.upwards ? 'upwards' : 'in its normal';
  const most = j.movement.most < LEAST_TOLD ? `under ${LEAST_TOLD}` : short(j.movement.most, 3);
  const movement = `the edge moves ${most} mm of ${short(j.movement.wanted, 3)} mm allowed ${way}`;
  const at = placeWords(scene, j);
  return `${margin}; ${movement}${at}`;
}

/** A movement (mm) that three decimals would round to 0: it is told as under the last of them. */
const LEAST_TOLD = 0.001;

function placeWords(scene: HoldScene, j: Judged): string {
  const weak = j.margin.least < j.margin.wanted ? j.margin : j.movement;
  if (!weak.spot || !weak.moment) return '';
  const op = scene.plan.setups.flatMap((s) => s.operations).find((o) => o.id === weak.moment!.operation);
  return `, worst in "${op?.title ?? weak.moment.kind}" at ${short(weak.spot.x, 1)}, ${short(weak.spot.y, 1)}`;
}

/** Where the part bends so much by itself that taking it as stiff says too little; null: it does not. */
export function bendsWords({ ownShare, movement }: Judged): string | null {
  if (ownShare <= OWN_SHARE_REPORTED) return null;
  const at = movement.spot ? ` at ${short(movement.spot.x, 1)}, ${short(movement.spot.y, 1)}` : '';
  return `the part's own bending makes ${Math.round(100 * ownShare)} % of the most movement${at}: the stiff model does not hold there, the bending is an estimate`;
}

export function limitWords(limit: SupportLimit | null): string {
  switch (limit?.kind) {
    case undefined:
      return '';
    case 'tab':
      return ` (tab ${limit.index + 1})`;
    case 'floor':
      return ' (floor)';
    case 'screw':
      return ' (a screw slips)';
    case 'bond':
      return ' (the glue)';
  }
}
