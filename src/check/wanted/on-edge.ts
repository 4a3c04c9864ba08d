/** What a declared tab or stub needs to know of the edge it stands on. */
import { type Mm, toDeg } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import { angleOf, dist } from '../../geometry/measure/point.ts';
import { placePoint } from '../../geometry/measure/transform.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import { WRITTEN } from '../limits.ts';
import type { WantedPart } from './wanted.ts';

/** Tells that the head disagrees: block, what was found, what was wanted. */
export type Say = (block: number, found: string, want: string, at?: Point) => void;

/** The edge's outward normal at a place and how far a direction is off it, degrees. */
export function faces(
  part: WantedPart,
  s: Mm,
  directionDeg: number,
): { readonly normal: number; readonly off: number } {
  const total = loopLength(part.loop);
  // Written figures cannot tell on which side of a corner a tab at the corner stands: the normal of either edge will do.
  const [near, ...others] = [0, -CORNER, CORNER].map((d) => normalAt(part, (((s + d) % total) + total) % total));
  const offOf = (n: number) => Math.abs(((((directionDeg - n + 180) % 360) + 360) % 360) - 180);
  const normal = others.reduce((a, b) => (offOf(b) < offOf(a) ? b : a), near!);
  return { normal, off: offOf(normal) };
}

/** Twice what both coordinates of a place may be rounded by. */
const CORNER: Mm = 4 * WRITTEN;

function normalAt(part: WantedPart, s: Mm): number {
  const d = pointAlong(part.loop, s)?.direction ?? { x: 1, y: 0 };
  return toDeg(angleOf({ x: d.y, y: -d.x }));
}

export function onNoTab(job: Job, part: WantedPart, p: Point): boolean {
  const source = job.part.outline.source;
  return job.part.noTabs.some((n) => {
    if (n.kind === 'boss') {
      const boss = source.kind === 'bosses' ? source.bosses[n.boss] : undefined;
      return boss !== undefined && Math.abs(dist(placePoint(part.place, boss.at), p) - boss.radius) < 1e-3;
    }
    // A mirrored part is travelled the other way, so its stretch runs from `to` to `from`.
    const [a, b] = part.place.mirror ? [n.to, n.from] : [n.from, n.to];
    const from = positionOf(part.loop, placePoint(part.place, a))?.s;
    const to = positionOf(part.loop, placePoint(part.place, b))?.s;
    const s = positionOf(part.loop, p)?.s;
    if (from === undefined || to === undefined || s === undefined) return false;
    return from <= to ? s >= from - WRITTEN && s <= to + WRITTEN : s >= from - WRITTEN || s <= to + WRITTEN;
  });
}
