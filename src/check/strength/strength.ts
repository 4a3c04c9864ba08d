/** The tabs' waists against the check's own bound on the force: does what is left carry what still comes? */
import type { Mm, Mm2, Newton, Stress } from '../../base/units.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { FORCE_WEAR } from '../../trade/milling-rules.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import { firstStroke } from '../strokes/strokes.ts';
import type { MeasuredTab } from '../tabs/tabs.ts';
import { near } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { behindOf, heightAt, remedyOf, waistAt } from './grip.ts';
import type { Loads } from './load.ts';
import { BESIDE, runsBeside } from './pushes.ts';

/** Shear strength over tensile (von Mises), of yield or, for what breaks without yielding, of Rm. */
const SHEAR = 0.577;
/** Wanted in a finishing pass (design, section 5). */
const WANTED = 2;
const WANTED_BRITTLE = 4;

export function checkStrength(work: CheckedSetUp, tabs: readonly MeasuredTab[], loads: Loads, out: Findings): void {
  const found = findMaterial(work.job.material);
  const head = work.programs[0]?.head ?? null;
  const by = head?.hold?.by;
  if (found.kind === 'unknown' || (by !== 'tabs' && by !== 'stub')) return;
  const strength = found.value.strengths[0];
  const shear = SHEAR * (strength.yield ?? strength.tensile);
  const wanted = strength.yield === null ? WANTED_BRITTLE : WANTED;
  for (const part of work.wanted.parts) {
    const mine = tabs.filter((t) => t.tab.part === part.index);
    if (mine.length === 0) continue;
    // A stub stands to the top and carries alone once little is left below the slot.
    const alone = by === 'stub' ? ALMOST_THROUGH : Math.max(...mine.map((t) => t.height));
    const most = -work.wanted.thickness + alone;
    const worst = worstMoment(work, part, mine, { most, shear }, loads);
    if (worst === null || worst.margin >= wanted) continue;
    const { margin, force } = worst;
    const spot = { program: 0, block: mine[0]!.tab.block, at: [mine[0]!.tab.at.x, mine[0]!.tab.at.y] as const };
    const words = `the ${by === 'stub' ? 'stub' : 'tabs'} of part ${part.index + 1} ${by === 'stub' ? 'carries' : 'carry'} ${margin.toFixed(2)} times the greatest force of the passes beside them (${force.toFixed(0)} N), in plain shear${behindOf(mine)}`;
    const remedy = remedyOf(mine, by === 'stub');
    // The bound counts a worn cutter at its worst tooth; only what a sharp one would shear off is refused.
    const sheared = margin * FORCE_WEAR.high < 1;
    out.faultIf(sheared, { code: 'tabs-weak', at: spot, found: words, wanted: `${wanted} times`, remedy });
  }
}

/** Metal left below a slot that is not counted on any more: as high as a tab may be, and under the usual pass. */
const ALMOST_THROUGH: Mm = 1;

interface LeastMargin {
  readonly margin: number;
  readonly force: Newton;
}

/**
 * The least margin of all strokes since the edge began to be cut below the tabs' tops: before that the part is one with the plate, and the
 * tabs carry nothing. Each stroke is held against the tabs as high as they stand when it is done.
 */
function worstMoment(
  work: CheckedSetUp,
  part: WantedPart,
  tabs: readonly MeasuredTab[],
  { most, shear }: { readonly most: Mm; readonly shear: Stress },
  loads: Loads,
): LeastMargin | null {
  const first = firstStroke(work.strokes, (s) => !s.rapid && s.low < most && runsBeside(part, s));
  if (first === undefined) return null;
  const b = part.edge.box;
  // Drilling pushes down on the backing plate; only what pushes along the plate is borne by the waists.
  const counts = (s: Stroke) => s.index >= first.index && s.low < most && !isVertical(s) && near(s.box, b, BESIDE);
  let worst: LeastMargin | null = null;
  for (const { stroke, force } of loads.forces(counts)) {
    const area: Mm2 = tabs.reduce(
      (sum, t) => sum + waistAt(t, stroke.index) * Math.max(0, heightAt(t, stroke.index, work.wanted.thickness)),
      0,
    );
    const margin = (area * shear) / force;
    if (force > 0 && (worst === null || margin < worst.margin)) worst = { margin, force };
  }
  return worst;
}
