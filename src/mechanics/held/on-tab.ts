/** A tab thinned by a cut over its own top: its margin is that of what the part does to it and of the cut itself, added. */
import type { Mm } from '../../base/units.ts';
import { edgeLoad, type HeldState, type Limit } from './held-state.ts';
import { peakTabStress, type TabSection, tabStress } from './tab-stress.ts';
import { halfOf, topLoad } from './tab-top.ts';
import { limitMargin, type Weakest } from './weakest.ts';

type TabLimit = Extract<Limit, { kind: 'tab' }>;

/**
 * The whole force is also put on the part at the tab (at most half of it gets there: errs on the safe side). `spot`: the
 * tab's own place. Forces: triples [out, along, up]; `length`: width of the slot.
 */
export function weakestOnTab(
  state: HeldState,
  tab: number,
  spot: { readonly x: Mm; readonly y: Mm; readonly nx: number; readonly ny: number },
  pass: { readonly z: Mm; readonly forces: Float64Array; readonly wanted: number },
  length: Mm,
): Weakest {
  const load = new Float64Array(6);
  const halves = state.limits.map((l) => (l.kind === 'tab' && l.index === tab ? halfOf(l.sections, length) : []));
  let worst: Weakest = { margin: Number.POSITIVE_INFINITY, wanted: pass.wanted, index: -1 };
  for (let i = 0; i < pass.forces.length; i += 3) {
    const [out, along, up] = [pass.forces[i]!, pass.forces[i + 1]!, pass.forces[i + 2]!];
    edgeLoad(state.origin, spot, pass.z, out, along, up, load);
    for (const [n, limit] of state.limits.entries()) {
      const own = limit.kind === 'tab' && limit.index === tab;
      const margin = own
        ? ownMargin(limit, load, halves[n]!, topLoad(length, [out, along, up]))
        : limitMargin(limit, load, { spot, z: pass.z, out, along, up });
      const wanted = limit.wanted ?? pass.wanted;
      if (margin / wanted < worst.margin / worst.wanted) worst = { margin, wanted, index: n };
    }
  }
  return worst;
}

/** Stresses of the two loads added: the equivalent stress of a sum is never more than the sum. `half`: of its sections, under `top`. */
function ownMargin(limit: TabLimit, load: Float64Array, half: readonly TabSection[], top: readonly number[]): number {
  for (let i = 0; i < 6; i++) {
    let sum = 0;
    for (let j = 0; j < 6; j++) sum += limit.recover[6 * i + j]! * load[j]!;
    moved[i] = sum;
  }
  const stress = limit.brittle
    ? tabStress(limit.sections, moved).normal + tabStress(half, top).normal
    : peakTabStress(limit.sections, moved) + peakTabStress(half, top);
  return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
}

/** Filled anew each time. */
const moved = new Float64Array(6);
