/**
 * Floor and glue in plain shear against the check's own bound on the force, as far as head and job tell their strength: what would surely
 * tear is refused. `lifting.ts` and `glue.ts` state what is proven beyond that.
 */
import type { Mm, Newton } from '../../base/units.ts';
import { loopArea, loopLength } from '../../geometry/measure/loop.ts';
import { findMaterial } from '../../trade/materials/materials.ts';
import { FORCE_WEAR } from '../../trade/milling-rules.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical } from '../strokes/stroke.ts';
import type { MeasuredTab } from '../tabs/tabs.ts';
import { near } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import { proveGlue } from './glue.ts';
import { proveFloor, proveScrews } from './lifting.ts';
import type { Loads } from './load.ts';
import { BESIDE } from './pushes.ts';

/** Shear strength over tensile (von Mises). */
const SHEAR = 0.577;
/** Wanted: ductile metal on yield, brittle on Rm, and glue on an allowable that is derated already (design, section 5). */
const WANTED = { yield: 2, brittle: 4, glue: 1 } as const;
/** Metal over a floor that is not counted on any more when a pass comes so near to it. */
const ALMOST_THROUGH: Mm = 1;

export function checkBonds(work: CheckedSetUp, tabs: readonly MeasuredTab[], loads: Loads, out: Findings): void {
  const hold = work.programs[0]?.head.hold;
  switch (hold?.by) {
    case 'floor':
      checkFloorStrength(work, hold.figure ?? 0, loads, hold.block, out);
      return;
    case 'glue':
      checkGlue(work, loads, hold.block, out);
      return;
    case 'screws':
      proveScrews(work, tabs, loads, out);
      return;
    default:
      return;
  }
}

/** In-plane shear of the floor all round the part: 0.577 Rp t for every mm of its edge (von Mises; handbook of strength). */
function checkFloorStrength(work: CheckedSetUp, thickness: Mm, loads: Loads, block: number, out: Findings): void {
  const found = findMaterial(work.job.material);
  if (found.kind === 'unknown') return;
  const s = found.value.strengths[0];
  const wanted = s.yield === null ? WANTED.brittle : WANTED.yield;
  const low = work.job.stock.min[2] + thickness + ALMOST_THROUGH;
  const carried = (part: WantedPart) => SHEAR * (s.yield ?? s.tensile) * thickness * loopLength(part.loop);
  const bond = { name: 'the floor round', remedy: 'a thicker floor, or lighter passes', carried, wanted, low };
  judge(bond, work, loads, block, out);
  const metal = { stress: s.yield ?? s.tensile, brittle: s.yield === null };
  proveFloor(work, { metal, thickness, wanted }, loads, out);
}

/** The job states what its glue may be asked; what is bored away holds nothing. */
function checkGlue(work: CheckedSetUp, loads: Loads, block: number, out: Findings): void {
  const { hold, part } = work.job;
  if (hold.by !== 'glue') {
    out.doubt('strength of what holds', 'the job does not say what its glue may be asked');
    return;
  }
  const through = part.pockets.filter((p) => p.depth === null).map((p) => Math.abs(loopArea(p.outline.loop)));
  const holes = part.holes.filter((h) => h.depth === null).map((h) => (Math.PI / 4) * h.diameter ** 2);
  const area = Math.abs(loopArea(part.outline.loop)) - [...through, ...holes].reduce((a, b) => a + b, 0);
  const carried = () => hold.shear * hold.wetted * area;
  const bond = {
    name: 'the glue under',
    remedy: 'more glued face, or lighter passes',
    carried,
    wanted: WANTED.glue,
    low: 0,
  };
  judge(bond, work, loads, block, out);
  proveGlue(work, loads, out);
}

interface PlainBond {
  readonly name: string;
  readonly remedy: string;
  readonly carried: (part: WantedPart) => Newton;
  /** Times the force. */
  readonly wanted: number;
  /** Strokes below this height push on what the bond alone holds. */
  readonly low: Mm;
}

function judge(bond: PlainBond, work: CheckedSetUp, loads: Loads, block: number, out: Findings): void {
  const { name, remedy, carried, wanted, low } = bond;
  for (const part of work.wanted.parts) {
    const pushes = loads.forces((s) => s.low < low && !isVertical(s) && near(s.box, part.edge.box, BESIDE));
    let force = 0;
    for (const p of pushes) force = Math.max(force, p.force);
    const margin = carried(part) / force;
    if (!(margin < wanted)) continue;
    const found = `${name} part ${part.index + 1} carries ${margin.toFixed(2)} times the greatest force of the passes beside it (${force.toFixed(0)} N), in plain shear`;
    // The bound counts a worn cutter at its worst tooth; only what a sharp one would tear off is refused.
    const torn = margin * FORCE_WEAR.high < 1;
    out.faultIf(torn, { code: 'hold-weak', at: { program: 0, block }, found, wanted: `${wanted} times`, remedy });
  }
}
