/**
 * A tab whose own top is being cut: the force is on the tab itself, not on the part. As a beam built in at both ends with
 * the force in the middle (moment F L/8 at the roots), added to what the part's movement does to the tab.
 */
import type { Mm, Newton, Stress } from '../base/units.ts';
import { type TabSection, tabStress } from './tab-stress.ts';

/** Greatest stress of a force [out, along, up] in the middle of a tab with both ends standing still. */
export function topStress(
  sections: readonly TabSection[],
  length: Mm,
  force: readonly [Newton, Newton, Newton],
): { readonly stress: Stress; readonly normal: Stress } {
  const half = sections.filter((q) => q.s <= length / 2 + 1e-9);
  const [out, along, up] = force;
  const load = [out / 2, along / 2, up / 2, 0, (-up * length) / 8, (along * length) / 8];
  return tabStress(half, load);
}
