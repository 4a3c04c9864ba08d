/**
 * How much edge each tab really keeps from being cut to the lower face: from where the last finishing path leaves that height to where it
 * is back, carried over to the edge. Along an inside curve that is more than the path is long, along an outside one less.
 */
import type { Mm } from '../../base/units.ts';
import { loopArea, loopLength, positionOf } from '../../geometry/measure/loop.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Tab } from '../../hold/holding.ts';
import { placeOn } from '../along/follow.ts';
import { cutterOf, type Scene, slopeOf, tabsOf } from '../scene.ts';
import { profilePath } from './profile.ts';

/** The tabs with the footprint that the path leaves. Without a finishing path, which other stages tell, as the holding has them. */
export function tabsAsCut(scene: Scene): readonly Tab[] {
  const finishing = scene.plan.setups.flatMap((s) => s.operations).findLast((o) => o.what === 'finish');
  if (finishing === undefined) return scene.holding.tabs;
  const found = new Map<Tab, Mm>();
  for (const part of scene.parts.keys()) {
    const tabs = tabsOf(scene, part);
    if (tabs.length === 0) continue;
    const offset = cutterOf(scene, finishing).diameter / 2 + finishing.allowance;
    const made = profilePath(scene, finishing, part, offset);
    if (!made.ok) continue;
    const { loop, lifts } = made.value;
    for (const [i, tab] of tabs.entries()) {
      const lift = lifts[i]!;
      const { upDeg, downDeg } = scene.plan.tabRamp;
      const leaves = placeOn(loop, lift.from - tab.cutHeight / slopeOf(upDeg)).point;
      const isBack = placeOn(loop, lift.to + tab.cutHeight / slopeOf(downDeg)).point;
      const sense = loopArea(loop) > 0 ? 1 : -1;
      const edge = scene.parts[part]!.outline;
      found.set(tab, sense * (along(edge, tab.at, isBack) - along(edge, tab.at, leaves)));
    }
  }
  return scene.holding.tabs.map((t) => ({ ...t, footprint: Math.max(t.width, found.get(t) ?? t.footprint) }));
}

/** Length along the edge from the place nearest to `a` to that nearest to `b`, the shorter way round; clockwise negative. */
export function along(edge: Loop, a: Point, b: Point): Mm {
  const whole = loopLength(edge);
  const d = positionOf(edge, b)!.s - positionOf(edge, a)!.s;
  return d - whole * Math.round(d / whole);
}
