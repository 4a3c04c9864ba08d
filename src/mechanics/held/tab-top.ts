/**
 * A tab whose own top is being cut: the force is on the tab itself, not on the part. As a beam built in at both ends with
 * the force in the middle (moment F L/8 at the roots), added to what the part's movement does to the tab.
 */
import type { Mm, Newton } from '../../base/units.ts';
import type { TabSection } from './tab-stress.ts';

/** From the part's edge to the middle: what `topLoad` loads. */
export function halfOf(sections: readonly TabSection[], length: Mm): readonly TabSection[] {
  return sections.filter((q) => q.s <= length / 2 + 1e-9);
}

/** Load of `tabStress` on half a tab with both ends standing still, for a force [out, along, up] in its middle. */
export function topLoad(length: Mm, [out, along, up]: readonly [Newton, Newton, Newton]): readonly number[] {
  return [out / 2, along / 2, up / 2, 0, (-up * length) / 8, (along * length) / 8];
}
