/** Breaking the top edges with a pointed cutter, its point running in the open beside the edge. */
import type { Problem } from '../base/problem.ts';
import type { Mm } from '../base/units.ts';
import { RegionEdge } from '../geometry/measure/approach.ts';
import { chainBetween, loopLength, reverseLoop } from '../geometry/measure/loop.ts';
import { pointAt } from '../geometry/measure/segment.ts';
import { offsetRegion } from '../geometry/offset.ts';
import type { Chain, Loop, Region } from '../geometry/types.ts';
import type { Stub } from '../hold/holding.ts';
import type { Operation } from '../plan/plan.ts';
import type { Emitter } from './emitter.ts';
import { followChain, followLoop, placeOn } from './follow.ts';
import { type Piece, runInShortOrder } from './in-short-order.ts';
import { isClearOfClamps } from './keep-clear.ts';
import { leadIn, leadOut } from './lead.ts';
import { gapsBetween, type Lift, liftSlope, liftsOn } from './lift.ts';
import { openingRegions } from './openings.ts';
import { noEntry, noRoomForStub, noRoomForTab } from './problem.ts';
import { comeDown, feedsOf } from './profile.ts';
import { cutterOf, type Scene, stubOf, tabsOf } from './scene.ts';
import { runBesideStub } from './stub.ts';

/** The cutter comes on from this far beside the path. */
const ASIDE: Mm = 0.2;
const LEAD: Mm = 1;
const OVERLAP: Mm = 0.8;
/** A lift over a tall tab is this much longer than the tab: room for its two discs to be round. */
const OVER_TAB: Mm = 0.2;

export function chamferEdges(em: Emitter, scene: Scene, op: Operation): readonly Problem[] {
  if (op.target.kind !== 'edges') throw new Error('a chamfer without edges: a bug in the plan stage');
  const target = op.target;
  const { climb } = scene.plan;
  const pieces = target.parts.flatMap((part): Piece[] => [
    ...(target.outline ? around(scene.areas[part]!, target.reach) : []).map(
      (edge): Piece =>
        (e) =>
          outside(e, scene, op, part, climb ? reverseLoop(edge) : edge, target.reach),
    ),
    ...openingRegions(scene, part, target)
      .flatMap((opening) => within(opening, target.reach))
      .map(
        (loop): Piece =>
          (e) => {
            run(e, scene, op, climb ? loop : reverseLoop(loop), [], []);
            return [];
          },
      ),
  ]);
  return runInShortOrder(em, scene, pieces);
}

function around(area: Region, reach: Mm): readonly Loop[] {
  const made = offsetRegion(area, reach);
  return made.kind === 'regions' ? made.regions.map((r) => r.outer) : [];
}

function within(area: Region, reach: Mm): readonly Loop[] {
  const made = offsetRegion(area, -reach);
  return made.kind === 'regions' ? made.regions.flatMap((r) => [r.outer, ...r.holes]) : [];
}

/**
 * Tabs of a thin part may stand higher than the point runs: it is lifted over them. A cone of 90 degrees that rises at 45 just
 * clears the tab's flank, so the lift is no longer than the tab.
 */
function outside(em: Emitter, scene: Scene, op: Operation, part: number, loop: Loop, reach: Mm): readonly Problem[] {
  const { thickness } = scene.job.part;
  const depth = depthOf(op);
  const tall = tabsOf(scene, part).filter((t) => t.cutHeight - thickness > depth);
  const shape = { diameter: OVER_TAB, bottom: depth, thickness, upDeg: 45, downDeg: 45, leaves: 0 };
  const stub = stubOf(scene, part);
  if (stub) return besideStub(em, scene, op, stub, loop, reach);
  const found = liftsOn(loop, reach, tall, (t) => t.cutHeight, shape);
  if (found.kind === 'no room') return [noRoomForTab(found.tab)];
  const done = run(em, scene, op, loop, found.lifts, scene.areas);
  return done ? [] : [noEntry(part)];
}

/** From one side of the stub round to the other; the cone comes down and leaves in the open slot, clear of the stub's waist. */
function besideStub(em: Emitter, scene: Scene, op: Operation, stub: Stub, loop: Loop, reach: Mm): readonly Problem[] {
  const depth = depthOf(op);
  const beside = runBesideStub(scene, stub.part, loop, reach, stub.width - 2 * depth);
  if (!beside) return [noRoomForStub(stub)];
  const chain = chainBetween(loop, beside.from, beside.to);
  comeDown(em, scene, chain[0]!.a, depth, op.plungeFeed);
  followChain(em, chain, [{ s: 0, z: depth }], feedsOf(scene, op, cutterOf(scene, op)));
  em.rapidZ(scene.heights.retract);
  return [];
}

/** Once round, on and off by small arcs that keep their reach from every edge. False: no stretch between the lifts has room. */
function run(
  em: Emitter,
  scene: Scene,
  op: Operation,
  loop: Loop,
  lifts: readonly Lift[],
  keepOff: readonly Region[],
): boolean {
  const depth = depthOf(op);
  const edges = keepOff.map((area) => new RegionEdge(area));
  const length = loopLength(loop) + OVERLAP;
  const places = gapsBetween(loop, lifts).flatMap((g) =>
    [0.5, 0.25, 0.75, 0.1, 0.9, 0]
      .map((share) => g.from + share * (g.to - g.from))
      .filter((s) => lifts.length === 0 || (s - 2 * LEAD >= g.from && s + OVERLAP + 2 * LEAD <= g.to)),
  );
  const s = places.find((p) => isClear(scene, leadsAt(scene, loop, p), edges, op)) ?? places[0];
  if (s === undefined) return false;
  const leads = leadsAt(scene, loop, s);
  comeDown(em, scene, leads.on[0]!.a, depth, op.plungeFeed);
  em.chain(leads.on, depth, op.feed);
  const slope = lifts.length === 0 ? [{ s: 0, z: depth }] : liftSlope(lifts, length - OVERLAP, length, s, depth);
  followLoop(em, loop, s, length, slope, feedsOf(scene, op, cutterOf(scene, op)));
  em.chain(leads.off, depth, op.feed);
  em.rapidZ(scene.heights.retract);
  return true;
}

function depthOf(op: Operation): Mm {
  return op.depths[op.depths.length - 1]!;
}

function leadsAt(scene: Scene, loop: Loop, s: Mm): { readonly on: Chain; readonly off: Chain } {
  const side = scene.plan.climb ? 1 : -1;
  const on = placeOn(loop, s);
  const off = placeOn(loop, s + OVERLAP);
  return {
    on: leadIn(on.point, on.direction, side, ASIDE, LEAD),
    off: leadOut(off.point, off.direction, side, ASIDE, LEAD),
  };
}

function isClear(scene: Scene, leads: { on: Chain; off: Chain }, edges: readonly RegionEdge[], op: Operation): boolean {
  const reach = op.target.kind === 'edges' ? op.target.reach : 0;
  const both = [...leads.on, ...leads.off];
  const free = both.every((x) =>
    edges.every((e) => !e.holds(pointAt(x, 0.5)) && e.index.gap(x).distance >= reach - 1e-5),
  );
  return free && isClearOfClamps(scene, cutterOf(scene, op), both, depthOf(op));
}
