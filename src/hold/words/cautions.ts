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
import { whatWouldDo } from './advice.ts';
import { bendsWords, verdictOf } from './words.ts';

export function cautionsFor(scene: HoldScene, net: StockNet, decided: Decided): Problem[] {
  const reported: Problem[] = [];
  if (!meets(decided.judged)) {
    reported.push(
      caution({
        code: 'hold-weak',
        at: { path: 'hold' },
        found: verdictOf(scene, decided.judged),
        wanted: 'the wanted margin and movement',
        remedy: whatWouldDo(scene, net, decided).join('; '),
      }),
    );
  }
  const bends = bendsWords(decided.judged);
  if (bends !== null) {
    reported.push(
      caution({
        code: 'hold-part-bends',
        at: { path: 'hold' },
        found: bends,
        wanted: 'a part that is stiff beside its supports',
        remedy: 'hold it nearer to that place: one more tab, a screw, glue, or a wider part',
      }),
    );
  }
  if (net.assumedClamps) {
    reported.push(
      caution({
        code: 'clamps-assumed',
        at: { path: 'clamps' },
        found: 'the job names no clamps',
        wanted: 'where the stock is held',
        remedy: 'write "clamps"; reckoned as if held along both short sides',
      }),
    );
  }
  const into = -scene.thickness - scene.plan.profileBottom;
  if (decided.way.floor === 0 && into < scene.thickest + scene.job.stock.flatness) {
    reported.push(
      caution({
        code: 'cut-through',
        at: { path: 'stock' },
        found: `the last pass ${into > SAME_POINT ? `goes ${short(into, 3)} mm below the part` : "ends level with the part's lower face"} and the plate may reach ${short(scene.thickest + scene.job.stock.flatness, 3)} mm lower`,
        wanted: 'a slot cut right through',
        remedy: 'measure the plate, or put a backing plate under it',
      }),
    );
  }
  const drilled = decided.way.glue ? null : holesFirst(scene);
  const wanted = WANTED_MOVEMENT.roughing.value;
  if (drilled !== null && drilled.springs !== null && drilled.springs > wanted) {
    reported.push(
      caution({
        code: 'plate-springs',
        at: { path: 'clamps' },
        found: `the plate springs ${short(drilled.springs, 3)} mm ${drilled.upwards ? 'up as the drill breaks through' : 'down under the drill'} at ${short(drilled.at.x, 1)}, ${short(drilled.at.y, 1)} (${short(drilled.force)} N), reckoned as a strip between its clamps`,
        wanted: `${short(wanted)} mm or less`,
        remedy: 'back the plate up or clamp it nearer to the hole, or ease the feed by hand as the point comes through',
      }),
    );
  }
  return reported;
}
