/** What is told of a holding that is taken nevertheless. */

import { caution, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import { SAME_POINT } from '../../base/tolerance.ts';
import { WANTED_MOVEMENT } from '../../trade/holding-rules.ts';
import type { Decided } from '../evaluate/decide.ts';
import { holesFirst } from '../evaluate/holes-first.ts';
import { meets } from '../evaluate/judge.ts';
import type { StockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import { bendsWords, verdictOf, whatWouldDo } from './words.ts';

export function cautionsFor(scene: HoldScene, net: StockNet, decided: Decided): Problem[] {
  const told: Problem[] = [];
  if (!meets(decided.judged)) {
    told.push(
      caution(
        'hold-weak',
        verdictOf(scene, decided.judged),
        'the wanted margin and movement',
        whatWouldDo(scene, net, decided).join('; '),
        { path: 'hold' },
      ),
    );
  }
  const bends = bendsWords(decided.judged);
  if (bends !== null) {
    told.push(
      caution(
        'hold-part-bends',
        bends,
        'a part that is stiff beside its supports',
        'hold it nearer to that place: one more tab, a screw, glue, or a wider part',
        { path: 'hold' },
      ),
    );
  }
  if (net.assumedClamps) {
    told.push(
      caution(
        'clamps-assumed',
        'the job names no clamps',
        'where the stock is held',
        'write "clamps"; reckoned as if held along both short sides',
        { path: 'clamps' },
      ),
    );
  }
  const into = -scene.thickness - scene.plan.profileBottom;
  if (decided.way.floor === 0 && into < scene.thickest + scene.job.stock.flatness) {
    told.push(
      caution(
        'cut-through',
        `the last pass ${into > SAME_POINT ? `goes ${short(into, 3)} mm below the part` : "ends level with the part's lower face"} and the plate may reach ${short(scene.thickest + scene.job.stock.flatness, 3)} mm lower`,
        'a slot cut right through',
        'measure the plate, or put a backing plate under it',
        { path: 'stock' },
      ),
    );
  }
  const drilled = decided.way.glue ? null : holesFirst(scene);
  const wanted = WANTED_MOVEMENT.roughing.value;
  if (drilled !== null && drilled.springs !== null && drilled.springs > wanted) {
    told.push(
      caution(
        'plate-springs',
        `the plate springs ${short(drilled.springs, 3)} mm ${drilled.upwards ? 'up as the drill breaks through' : 'down under the drill'} at ${short(drilled.at.x, 1)}, ${short(drilled.at.y, 1)} (${short(drilled.force)} N), reckoned as a strip between its clamps`,
        `${short(wanted)} mm or less`,
        'back the plate up or clamp it nearer to the hole, or ease the feed by hand as the point comes through',
        { path: 'clamps' },
      ),
    );
  }
  return told;
}
