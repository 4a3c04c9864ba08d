/** Breaking the top edges with a pointed cutter, its point running in the open beside the edge. */
import type { Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { chainBetween, loopLength, reverseLoop } from '../../geometry/measure/loop.ts';
import { line, pointAt } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Chain, Loop, Region, Segment } from '../../geometry/types.ts';
import type { Stub } from '../../hold/holding.ts';
import type { Operation } from '../../plan/plan.ts';
import { comeDown } from '../along/come-down.ts';
import { followChain, followLoop, placeOn } from '../along/follow.ts';
import { leadIn, leadOut } from '../along/lead.ts';
import type { Emitter } from '../emitter.ts';
import { openingRegions } from '../openings.ts';
import { noEntry, noRoomForStub, noRoomForTab } from '../problem.ts';
import { cutterOf, type Scene, stubOf, tabsOf } from '../scene.ts';
import { type OrderedPiece, runInShortOrder } from '../travel/in-short-order.ts';
import { isClearOfClamps } from '../travel/keep-clear.ts';
import { gapsBetween, type Lift, liftSlope, liftsOn } from './lift.ts';
import { feedsOf } from './profile.ts';
import { runBesideStub } from './stub.ts';

const LEAD: Mm = 1;
/** How the cutter comes on: from so far beside the path, by an arc of such a radius. The largest first; the last has none. */
const LEADS: readonly { readonly radius: Mm; readonly aside: Mm }[] = [
  { radius: LEAD, aside: 0.2 },
  { radius: 0.4, aside: 0.2 },
  { radius: 0.15, aside: 0.1 },
  { radius: 0, aside: 0 },
];
const OVERLAP: Mm = 0.8;
/** A lift over a tall tab is this much longer than the tab: room for its two discs to be round. */
const OVER_TAB: Mm = 0.2;

export function chamferEdges(em: Emitter, scene: Scene, op: Operation): readonly Problem[] {
  if (op.target.kind !== 'edges') throw new Error('a chamfer without edges: a bug in the plan stage');
  const target = op.target;
  const { climb } = scene.plan;
  const pieces = target.parts.flatMap((part): OrderedPiece[] => [
    ...(target.outline ? around(scene.areas[part]!, target.reach) : []).map(
      (edge): OrderedPiece =>
        (e) =>
          outside(e, scene, op, part, climb ? reverseLoop(edge) : edge, target.reach),
    ),
    ...openingRegions(scene, part, target)
      .flatMap((opening) => within(opening, target.reach))
      .map(
        ({ loop, room }): OrderedPiece =>
          (e) => {
            run(e, scene, op, climb ? loop : reverseLoop(loop), [], isInside(room));
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

function within(area: Region, reach: Mm): readonly { readonly loop: Loop; readonly room: Region }[] {
  const made = offsetRegion(area, -reach);
  if (made.kind !== 'regions') return [];
  return made.regions.flatMap((room) => [room.outer, ...room.holes].map((loop) => ({ loop, room })));
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
  const done = run(em, scene, op, loop, found.lifts, keepsOff(scene.areas, reach));
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

type Leads = { readonly on: Chain; readonly off: Chain };
type Free = (lead: Segment) => boolean;

function keepsOff(areas: readonly Region[], reach: Mm): Free {
  const edges = areas.map((area) => new RegionEdge(area));
  return (lead) => edges.every((e) => !e.holds(pointAt(lead, 0.5)) && e.index.gap(lead).distance >= reach - 1e-5);
}

/** In an opening the leads stay where the path may run; a small hole has no room for large ones. */
function isInside(room: Region): Free {
  const edge = new RegionEdge(room);
  return (lead) => {
    const places = Array.from({ length: LOOKS + 1 }, (_, i) => pointAt(lead, i / LOOKS));
    return places.every((p) => edge.holds(p) || edge.index.gap(line(p, p)).distance < 1e-5);
  };
}

/** Places looked at along a lead, each under 0.1 mm from the next. */
const LOOKS = 8;

/**
 * Once round, on and off by small arcs where they are free, as large as there is room for; else straight down on the path, which lies in the
 * open. False: no stretch between the lifts has room.
 */
function run(em: Emitter, scene: Scene, op: Operation, loop: Loop, lifts: readonly Lift[], free: Free): boolean {
  const depth = depthOf(op);
  const length = loopLength(loop) + OVERLAP;
  const places = gapsBetween(loop, lifts).flatMap((g) =>
    [0.5, 0.25, 0.75, 0.1, 0.9, 0]
      .map((share) => g.from + share * (g.to - g.from))
      .filter((s) => lifts.length === 0 || (s - 2 * LEAD >= g.from && s + OVERLAP + 2 * LEAD <= g.to)),
  );
  const choices = LEADS.flatMap((lead) => places.map((s) => ({ s, leads: leadsAt(scene, loop, s, lead) })));
  const entry = choices.find(({ leads }) => isClear(scene, leads, free, op)) ?? choices.at(-places.length);
  if (entry === undefined) return false;
  const { s, leads } = entry;
  comeDown(em, scene, leads.on[0]?.a ?? placeOn(loop, s).point, depth, op.plungeFeed);
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

function leadsAt(scene: Scene, loop: Loop, s: Mm, { radius, aside }: (typeof LEADS)[number]): Leads {
  const side = scene.plan.climb ? 1 : -1;
  const on = placeOn(loop, s);
  const off = placeOn(loop, s + OVERLAP);
  return {
    on: leadIn(on.point, on.direction, side, aside, radius),
    off: leadOut(off.point, off.direction, side, aside, radius),
  };
}

function isClear(scene: Scene, leads: Leads, free: Free, op: Operation): boolean {
  const both = [...leads.on, ...leads.off];
  return both.every(free) && isClearOfClamps(scene, cutterOf(scene, op), both, depthOf(op));
}
