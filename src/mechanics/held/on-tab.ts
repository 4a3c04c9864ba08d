/** A tab thinned by a cut over its own top: its margin is that of what the part does to it and of the cut itself, added. */
import type { Mm } from '../../base/units.ts';
import { times } from '../math/matrix.ts';
import { type EdgePush, edgeLoad, type HeldState, type SupportLimit, type Workspace } from './held-state.ts';
import { peakTabStress, type TabSection, tabStress } from './tab-stress.ts';
import { halfOf, topLoad } from './tab-top.ts';
import { limitMargin, type Weakest } from './weakest.ts';

type LimitOfTab = Extract<SupportLimit, { kind: 'tab' }>;

/** The tab that is thinned. */
export interface ThinnedTab {
  readonly index: number;
  /** Width of the slot. */
  readonly length: Mm;
}

/** The whole force is also put on the part at the tab (at most half of it gets there: errs on the safe side). `push`: at the tab's own place. */
export function weakestOnTab(
  work: Workspace,
  state: HeldState,
  tab: ThinnedTab,
  { spot, z, forces: { triples } }: EdgePush,
  wantedOfPass: number,
): Weakest {
  const { length } = tab;
  const isOwn = (l: SupportLimit): l is LimitOfTab => l.kind === 'tab' && l.index === tab.index;
  const halves = state.limits.map((l) => (isOwn(l) ? halfOf(l.sections.list, length) : []));
  let worst: Weakest = { margin: Number.POSITIVE_INFINITY, wanted: wantedOfPass, index: -1 };
  for (let i = 0; i < triples.length; i += 3) {
    const [out, along, up] = [triples[i]!, triples[i + 1]!, triples[i + 2]!];
    const push = { spot, z, out, along, up };
    const load = edgeLoad(state.origin, push, work.load);
    for (const [n, limit] of state.limits.entries()) {
      const margin = isOwn(limit)
        ? ownMargin(limit, load, halves[n]!, topLoad(length, [out, along, up]))
        : limitMargin(work, limit, load, push);
      const wanted = limit.wanted ?? wantedOfPass;
      if (margin / wanted < worst.margin / worst.wanted) worst = { margin, wanted, index: n };
    }
  }
  return worst;
}

/** Stresses of the two loads added: the equivalent stress of a sum is never more than the sum. `half`: of its sections, under `top`. */
function ownMargin(limit: LimitOfTab, load: Float64Array, half: readonly TabSection[], top: readonly number[]): number {
  const { list } = limit.sections;
  const moved = times(limit.recover, 6, load);
  const stress = limit.brittle
    ? tabStress(list, moved).normal + tabStress(half, top).normal
    : peakTabStress(list, moved) + peakTabStress(half, top);
  return stress > 0 ? limit.stress / stress : Number.POSITIVE_INFINITY;
}
