/** Places on the edge of a part where a tab might stand. Part axes. */
import type { Mm } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import { dist } from '../../geometry/measure/point.ts';
import { curvatureOf } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job, NoTab } from '../../part/part.ts';
import type { Plan } from '../../plan/plan.ts';

export interface EdgePlace {
  /** Arc length along the outline. */
  readonly s: Mm;
  readonly at: Point;
  /** Outward normal, unit. */
  readonly normal: Point;
  readonly curvature: number;
  /** Distance along the edge to the nearest corner or change from line to arc. */
  readonly toCorner: Mm;
}

/** Half the usual waist: nearer places are the same to a saw. */
const STRIDE: Mm = 1;
/** Bound on the search on long edges. */
const MOST_PLACES = 72;

export function edgePlace(job: Job, s: Mm): EdgePlace {
  const loop = job.part.outline.loop;
  const spot = pointAlong(loop, s)!;
  const segment = loop[spot.index]!;
  const before = dist(segment.a, spot.point);
  const after = dist(segment.b, spot.point);
  return {
    s,
    at: spot.point,
    normal: { x: spot.direction.y, y: -spot.direction.x },
    curvature: curvatureOf(segment),
    toCorner: Math.min(before, after),
  };
}

/** Places looked at round the edge, the same for every question: about a millimetre apart, fewer on long edges. */
export function allPlaces(job: Job): readonly EdgePlace[] {
  const length = loopLength(job.part.outline.loop);
  const count = Math.max(12, Math.min(MOST_PLACES, Math.round(length / STRIDE)));
  return Array.from({ length: count }, (_, i) => edgePlace(job, (i * length) / count));
}

/** Who keeps tabs and stubs off an edge: the job, or the plan, which cuts the frame away beside it. */
export type Forbidding = 'noTabs' | 'cut corner';

/** Whether a tab `width` wide may stand at this place, its whole waist taken; null: it may. What the job says goes first. */
export function forbidden(job: Job, plan: Plan, place: EdgePlace, width: Mm): Forbidding | null {
  const { noTabs } = job.part;
  if (noTabs.length + plan.bare.length === 0) return null;
  const waist = [place, edgePlace(job, place.s - width / 2), edgePlace(job, place.s + width / 2)];
  const on = (n: NoTab) => waist.some((p) => covers(job, n, p));
  if (noTabs.some(on)) return 'noTabs';
  return plan.bare.some(on) ? 'cut corner' : null;
}

function covers(job: Job, n: NoTab, place: EdgePlace): boolean {
  if (n.kind === 'boss') {
    const source = job.part.outline.source;
    if (source.kind !== 'bosses') return false;
    const boss = source.bosses[n.boss];
    return boss !== undefined && Math.abs(dist(boss.at, place.at) - boss.radius) < 1e-6;
  }
  const loop = job.part.outline.loop;
  const from = positionOf(loop, n.from)!.s;
  const to = positionOf(loop, n.to)!.s;
  const length = loopLength(loop);
  const s = ((place.s % length) + length) % length;
  return from <= to ? s >= from && s <= to : s >= from || s <= to;
}
