/** The tabs' waists against the check's own bound on the force: does what is left carry what still comes? */
import type { Mm2, Newton } from '../base/units.ts';
import { findMaterial } from '../trade/materials.ts';
import type { Findings } from './findings.ts';
import type { Loads } from './load.ts';
import { isVertical } from './stroke.ts';
import type { MeasuredTab } from './tabs.ts';
import type { Work } from './work.ts';

/** Shear yield over tensile yield (von Mises); for what breaks without yielding, a quarter of the tensile strength. */
const SHEAR = 0.577;
const BRITTLE = 0.25;
/** Wanted in a finishing pass (design, section 5). */
const WANTED = 2;

export function checkStrength(work: Work, tabs: readonly MeasuredTab[], loads: Loads, out: Findings): void {
  const found = findMaterial(work.job.material);
  const head = work.programs[0]?.head ?? null;
  if (found.kind === 'unknown' || head?.hold?.by !== 'tabs') return;
  const strength = found.value.strengths[0];
  const shear = strength.yield === null ? BRITTLE * strength.tensile : SHEAR * strength.yield;
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
    if (margin >= WANTED) continue;
    const spot = { program: 0, block: mine[0]!.tab.block, at: [mine[0]!.tab.at.x, mine[0]!.tab.at.y] as const };
    const words = `the tabs of part ${part.index + 1} carry ${margin.toFixed(2)} times the greatest force of the passes beside them (${force.toFixed(0)} N), in plain shear`;
    if (margin < 1)
      out.fault('tabs-weak', words, `${WANTED} times`, 'more, wider or higher tabs, or lighter passes', spot);
    else out.caution('tabs-weak', words, `${WANTED} times`, 'more, wider or higher tabs, or lighter passes', spot);
  }
}
