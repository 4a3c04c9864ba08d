/**
 * Arms of an area that are hardly wider than the cutter. Loops in them would be many and short, each with a crescent of
 * metal: a slot along one wall and back along the other takes as long and a twentieth of the blocks.
 */
import type { Mm } from '../../base/units.ts';
import { intersect } from '../../geometry/join.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { loopLength } from '../../geometry/measure/loop.ts';
import { pointAt } from '../../geometry/measure/segment.ts';
import { hasNarrow } from '../../geometry/narrow.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Loop, Point, Region } from '../../geometry/types.ts';
import { LEAST_RAMP, LEAST_ROUND_SHARE, SLOT_FIRST_SHARE } from '../../plan/plan.ts';
import { type CoreStretch, stretches } from './new-edge.ts';

/** Where the centre may go, in one piece, and what of it is grown; the rest is slotted. */
export interface Lane {
  readonly area: Region;
  /** Cores lie in these; null: anywhere. */
  readonly grown: readonly Region[] | null;
}

/** Growth goes on this far into an arm, in radii: that covers corners of the room it leaves. */
const MOUTH = 1;
/** Less than this, in radii, beyond what is open is a corner that roughing leaves round. */
const CORNER = 0.25;

/** `areas`: where the centre may go when roughing. */
export function lanesOf(areas: readonly Region[], radius: Mm): readonly Lane[] {
  return areas.map((area) => {
    const room = offsetRegion(area, -SLOT_FIRST_SHARE * radius);
    if (room.kind !== 'regions') {
      const long = loopLength(area.outer) >= LEAST_RAMP * radius;
      return { area, grown: long ? [] : null };
    }
    if (!hasNarrow(area, SLOT_FIRST_SHARE * radius) && !hasNarrow(area, LEAST_ROUND_SHARE * radius)) {
      return { area, grown: null };
    }
    const made = room.regions.map((r) => offsetRegion(r, MOUTH * radius));
    return made.every((m) => m.kind === 'regions')
      ? { area, grown: made.flatMap((m) => (m.kind === 'regions' ? m.regions : [])) }
      : { area, grown: null };
  });
}

/** What of the cores lies where areas are grown. */
export function grownIn(lanes: readonly Lane[], cores: readonly Region[]): readonly Region[] {
  const edges = lanes.map((l) => new RegionEdge(l.area));
  return cores.flatMap((core) => {
    const lane = lanes[edges.findIndex((e) => e.signedDistance(pointAt(core.outer[0]!, 0.5)) < 0)];
    if (lane === undefined || lane.grown === null) return [core];
    return lane.grown.flatMap((g) => {
      const both = intersect(core, g);
      return both.kind === 'regions' ? both.regions : [];
    });
  });
}

/** The edges along arms, and round areas that are nothing else. `beyond`: how far a place lies outside what is open. */
export function armEdges({ area, grown }: Lane, radius: Mm, beyond: (p: Point) => Mm, rounded: boolean): CoreStretch[] {
  if (grown === null) return [];
  return edgesOf(area, radius, rounded).flatMap((loop) =>
    stretches(loop, beyond, radius).filter(({ chain }) =>
      chain.some((s) => PLACES.some((t) => beyond(pointAt(s, t)) > CORNER * radius)),
    ),
  );
}

const PLACES = [0.25, 0.5, 0.75, 1] as const;

/** Inside corners rounded as in all roughing, where that loses no arm. */
function edgesOf(area: Region, radius: Mm, rounded: boolean): Loop[] {
  const rho = LEAST_ROUND_SHARE * radius;
  const core = offsetRegion(area, -rho);
  if (!rounded || core.kind !== 'regions' || hasNarrow(area, rho)) return [area.outer, ...area.holes];
  const back = core.regions.map((r) => offsetRegion(r, rho));
  if (!back.every((b) => b.kind === 'regions')) return [area.outer, ...area.holes];
  return back.flatMap((b) => (b.kind === 'regions' ? b.regions.flatMap((r) => [r.outer, ...r.holes]) : []));
}
