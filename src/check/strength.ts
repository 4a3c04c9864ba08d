/** The tabs' waists against the check's own bound on the force: does what is left carry what still comes? */
import type { Mm2, Newton } from '../base/units.ts';
import { findMaterial } from '../trade/materials.ts';
import { FORCE_WEAR } from '../trade/milling-rules.ts';
import type { Findings } from './findings.ts';
import type { Loads } from './load.ts';
import { isVertical } from './stroke.ts';
import type { MeasuredTab } from './tabs.ts';
import type { Work } from './work.ts';

/** Shear strength over tensile (von Mises), of yield or, for what breaks without yielding, of Rm. */
const SHEAR = 0.577;
/** Wanted in a finishing pass (design, section 5). */
const WANTED = 2;
const WANTED_BRITTLE = 4;

export function checkStrength(work: Work, tabs: readonly MeasuredTab[], loads: Loads, out: Findings): void {
  const found = findMaterial(work.job.material);
  const head = work.programs[0]?.head ?? null;
  if (found.kind === 'unknown' || head?.hold?.by !== 'tabs') return;
  const strength = found.value.strengths[0];
  const shear = SHEAR * (strength.yield ?? strength.tensile);
  const wanted = strength.yield === null ? WANTED_BRITTLE : WANTED;
  for (const part of work.wanted.parts) {
    const mine = tabs.filter((t) => t.tab.part === part.index);
    if (mine.length === 0) continue;
    const area: Mm2 = mine.reduce(
      (sum, t) => sum + Math.max(0, Math.min(t.waist, 2 * t.tab.width)) * Math.max(0, t.height),
      0,
    );
    const most = -work.wanted.thickness + Math.max(...mine.map((t) => t.height));
    const b = part.edge.box;
    // Drilling pushes down on the backing plate; only what pushes along the plate is borne by the waists.
    const force: Newton = loads.greatest(
      (s) =>
        s.low < most &&
        !isVertical(s) &&
        s.box.maxX > b.minX - 10 &&
        s.box.minX < b.maxX + 10 &&
        s.box.maxY > b.minY - 10 &&
        s.box.minY < b.maxY + 10,
    );
    if (force === 0) continue;
    const margin = (area * shear) / force;
    if (margin >= wanted) continue;
    const spot = { program: 0, block: mine[0]!.tab.block, at: [mine[0]!.tab.at.x, mine[0]!.tab.at.y] as const };
    const words = `the tabs of part ${part.index + 1} carry ${margin.toFixed(2)} times the greatest force of the passes beside them (${force.toFixed(0)} N), in plain shear`;
    // The bound counts a worn cutter at its worst tooth; only what a sharp one would shear off is refused.
    if (margin * FORCE_WEAR.high < 1)
      out.fault('tabs-weak', words, `${wanted} times`, 'more, wider or higher tabs, or lighter passes', spot);
    else out.caution('tabs-weak', words, `${wanted} times`, 'more, wider or higher tabs, or lighter passes', spot);
  }
}
