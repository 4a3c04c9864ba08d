/** Places of tabs that the job itself names. Part axes. */
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import { positionOf } from '../../geometry/measure/loop.ts';
import { dist } from '../../geometry/measure/point.ts';
import type { Point } from '../../geometry/types.ts';
import { besideCutCorner } from '../scene/beside-corner.ts';
import { type EdgePlace, edgePlace, forbidden } from '../scene/edge.ts';
import type { HoldScene } from '../scene/scene.ts';

/** A place given by the job may lie this far off the edge and still be meant for it. */
const NEAR_EDGE: Mm = 0.5;

export function givenPlaces(
  { job, plan }: HoldScene,
  at: readonly Point[],
  width: Mm,
): { readonly places: readonly EdgePlace[]; readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const places = at.flatMap((p, i) => {
    const on = positionOf(job.part.outline.loop, p)!;
    const path = `hold.tabs.at[${i}]`;
    if (dist(on.point, p) > NEAR_EDGE) {
      problems.push(offEdge(p, on.distance, path));
      return [];
    }
    const place = edgePlace(job, on.s);
    const off = forbidden(job, plan, place, width);
    if (off === 'noTabs') problems.push(onForbidden(p, path));
    if (off === 'cut corner') problems.push(besideCutCorner(plan, 'tab', path));
    return [place];
  });
  return { places, problems };
}

function offEdge(p: Point, off: Mm, path: string): Problem {
  return fault({
    code: 'tab-off-edge',
    at: { path },
    found: `a tab at ${short(p.x)}, ${short(p.y)}, ${short(off)} mm from the edge`,
    wanted: 'a place on the outline',
    remedy: 'move it to the edge',
  });
}

function onForbidden(p: Point, path: string): Problem {
  return fault({
    code: 'tab-forbidden',
    at: { path },
    found: `a tab at ${short(p.x)}, ${short(p.y)} on a stretch that "noTabs" names`,
    wanted: 'a place that "noTabs" leaves free',
    remedy: 'move the tab, or shorten the stretch',
  });
}
