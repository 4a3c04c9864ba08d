/** Breaking the top edges with a pointed cutter, its point running in the open beside the edge. */
import type { Problem } from '../base/problem.ts';
import type { Mm } from '../base/units.ts';
import { RegionEdge } from '../geometry/measure/approach.ts';
import { loopLength, reverseLoop } from '../geometry/measure/loop.ts';
import { pointAt } from '../geometry/measure/segment.ts';
import { offsetRegion } from '../geometry/offset.ts';
import type { Loop, Region } from '../geometry/types.ts';
import type { Operation } from '../plan/plan.ts';
import type { Emitter } from './emitter.ts';
import { followLoop, placeOn } from './follow.ts';
import { leadIn, leadOut } from './lead.ts';
import { openingRegions } from './openings.ts';
import { comeDown, feedsOf } from './profile.ts';
import { cutterOf, type Scene } from './scene.ts';

/** The cutter comes on from this far beside the path. */
const ASIDE: Mm = 0.2;
const LEAD: Mm = 1;
const OVERLAP: Mm = 0.8;

export function chamferEdges(em: Emitter, scene: Scene, op: Operation): readonly Problem[] {
  if (op.target.kind !== 'edges') throw new Error('a chamfer without edges: a bug in the plan stage');
  const { reach, parts } = op.target;
  for (const part of parts) {
    const area = scene.areas[part]!;
    for (const loop of around(area, reach))
      run(em, scene, op, scene.plan.climb ? reverseLoop(loop) : loop, scene.areas);
    for (const opening of openingRegions(scene, part, op.target)) {
      for (const loop of within(opening, reach)) run(em, scene, op, scene.plan.climb ? loop : reverseLoop(loop), []);
    }
  }
  return [];
}

function around(area: Region, reach: Mm): readonly Loop[] {
  const made = offsetRegion(area, reach);
  return made.kind === 'regions' ? made.regions.map((r) => r.outer) : [];
}

function within(area: Region, reach: Mm): readonly Loop[] {
  const made = offsetRegion(area, -reach);
  return made.kind === 'regions' ? made.regions.flatMap((r) => [r.outer, ...r.holes]) : [];
}

function run(em: Emitter, scene: Scene, op: Operation, loop: Loop, keepOff: readonly Region[]): void {
  const depth = op.depths[op.depths.length - 1]!;
  const side = scene.plan.climb ? 1 : -1;
  const length = loopLength(loop);
  const edges = keepOff.map((area) => new RegionEdge(area));
  const reach = op.target.kind === 'edges' ? op.target.reach : 0;
  const places = [0.5, 0.25, 0.75, 0.1, 0.9, 0].map((share) => share * length);
  const s = places.find((p) => leadsClear(loop, p, side, edges, reach)) ?? places[0]!;
  const on = placeOn(loop, s);
  const off = placeOn(loop, s + OVERLAP);
  const lead = leadIn(on.point, on.direction, side, ASIDE, LEAD);
  const out = leadOut(off.point, off.direction, side, ASIDE, LEAD);
  comeDown(em, scene, lead[0]!.a, depth, op.plungeFeed);
  em.chain(lead, depth, op.feed);
  followLoop(em, loop, s, length + OVERLAP, [{ s: 0, z: depth }], feedsOf(scene, op, cutterOf(scene, op)));
  em.chain(out, depth, op.feed);
  em.rapidZ(scene.heights.retract);
}

function leadsClear(loop: Loop, s: Mm, side: 1 | -1, edges: readonly RegionEdge[], reach: Mm): boolean {
  const on = placeOn(loop, s);
  const off = placeOn(loop, s + OVERLAP);
  const segments = [
    ...leadIn(on.point, on.direction, side, ASIDE, LEAD),
    ...leadOut(off.point, off.direction, side, ASIDE, LEAD),
  ];
  return segments.every((x) =>
    edges.every((e) => !e.holds(pointAt(x, 0.5)) && e.index.gap(x).distance >= reach - 1e-5),
  );
}
