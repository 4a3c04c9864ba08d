/** Round the outside of each part: roughing as one descending spiral over the tabs, finishing at full depth with tangent leads. */

import { bad, good, type Outcome, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { closestApproach } from '../../geometry/measure/approach.ts';
import { chainBetween, loopArea, loopLength, positionOf, reverseLoop } from '../../geometry/measure/loop.ts';
import { dist, rot90, step } from '../../geometry/measure/point.ts';
import { reverseSegment } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Chain, Loop, Point } from '../../geometry/types.ts';
import type { Cutter } from '../../part/part.ts';
import { LEAST_ROUND_SHARE, type Operation } from '../../plan/plan.ts';
import { comeDown } from '../along/come-down.ts';
import { type Feeds, followChain, followLoop, placeOn } from '../along/follow.ts';
import { leadIn, leadOut, straightIn } from '../along/lead.ts';
import { higherOf, type Slope } from '../along/slope.ts';
import type { Emitter } from '../emitter.ts';
import { arcFeedFactor } from '../feed.ts';
import { noEntry, noRoomForTab, pathVanished } from '../problem.ts';
import { cutterOf, type Scene, slopeOf, tabsOf } from '../scene.ts';
import { startOf } from '../travel/in-short-order.ts';
import { isClearOfClamps } from '../travel/keep-clear.ts';
import { gapsBetween, type Lift, liftSlope, liftsOn } from './lift.ts';
import { finishBite } from './profile-bite.ts';
import { roundedInside } from './round-inside.ts';

/** A path round one part with the lifts over its tabs. */
export interface ProfilePath {
  readonly part: number;
  readonly loop: Loop;
  /** Distance of the path from the finished edge. */
  readonly offset: Mm;
  readonly lifts: readonly Lift[];
  readonly length: Mm;
}

/** How far past its start a finishing pass runs on, so that no mark is left where it began (common practice 0.5-1 mm). */
const OVERLAP: Mm = 0.8;
/** Lead radius as a share of the cutter's diameter (common practice 0.5-1 D). */
const LEAD_SHARE = 0.75;
/** A cutter comes down in the open slot this far behind the tangent point at least. */
const ENTRY_ROOM: Mm = 0.5;

/** As roughing runs: its inside corners rounded. */
export function roughPath(scene: Scene, op: Operation, part: number, offset: Mm): Outcome<ProfilePath> {
  return profilePath(scene, op, part, offset, LEAST_ROUND_SHARE * (cutterOf(scene, op).diameter / 2));
}

export function profilePath(
  scene: Scene,
  op: Operation,
  part: number,
  offset: Mm,
  round: Mm = 0,
): Outcome<ProfilePath> {
  const cutter = cutterOf(scene, op);
  const grown = offsetRegion(scene.areas[part]!, offset);
  if (grown.kind !== 'regions' || grown.regions.length !== 1) return bad(pathVanished(part, cutter.diameter));
  const sharp = grown.regions[0]!.outer;
  const outer = round > 0 ? roundedInside(scene.areas[part]!, sharp, offset, round) : sharp;
  // Climb milling outside with a right-hand spindle runs clockwise.
  const clockwise = scene.plan.climb;
  const loop = loopArea(outer) > 0 === clockwise ? reverseLoop(outer) : outer;
  const found = liftsOn(loop, offset, tabsOf(scene, part), (t) => t.cutHeight, {
    diameter: cutter.diameter,
    bottom: scene.plan.profileBottom,
    thickness: scene.job.part.thickness,
    ...scene.plan.tabRamp,
    leaves: offset - cutter.diameter / 2,
  });
  if (found.kind === 'no room') return bad(noRoomForTab(found.tab));
  return good({ part, loop, offset, lifts: found.lifts, length: loopLength(loop) });
}

/** One descending spiral: ramp to each depth along the path, then once round at that depth. */
export function rough(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const made = roughPath(scene, op, part, cutter.diameter / 2 + op.allowance);
  if (!made.ok) return made.problems;
  const path = made.value;
  const wide = op.widen > 0 ? roughPath(scene, op, part, path.offset + op.widen) : null;
  if (wide && !wide.ok) return wide.problems;
  const first = startPlace(path, startOf(em, scene));
  if (first === undefined) return [noEntry(part)];
  let at = first;
  const feeds = feedsOf(scene, op, cutter);
  const top = op.from;
  em.bite(op.id, Math.PI, 0);
  comeDown(em, scene, placeOn(path.loop, at).point, top, op.rampFeed);
  let z = top;
  for (const depth of op.depths) {
    const ramp = (z - depth) / slopeOf(op.rampDeg);
    const run = stopClear(path, at + ramp + path.length);
    const length = run - at;
    const spiral: Slope = [
      { s: 0, z },
      { s: ramp, z: depth },
    ];
    followLoop(em, path.loop, at, length, heightsOver(path, at, length, scene, spiral), feeds);
    at = run % path.length;
    if (wide?.ok) widenSlot(em, scene, path, wide.value, at, depth, feeds);
    z = depth;
  }
  em.rapidZ(scene.heights.retract);
  return [];
}

/** Off the lifts by this much, where the stretch is long enough for it. */
const OFF_LIFT: Mm = 1;
/** Places tried along a free stretch. */
const START_STRIDE: Mm = 2;

/** The place clear of the lifts that is nearest to where the cutter comes from. */
function startPlace(path: ProfilePath, from: Point): Mm | undefined {
  const places = gapsBetween(path.loop, path.lifts).flatMap((gap) => {
    const off = Math.min((gap.to - gap.from) / 2, OFF_LIFT);
    const count = Math.floor((gap.to - gap.from - 2 * off) / START_STRIDE);
    return Array.from({ length: count + 1 }, (_, i) => gap.from + off + i * START_STRIDE);
  });
  return nearestTo(path.loop, places, from)[0];
}

/** Nearest first; round a boss that the cutter stands over all are as near, and then the place itself decides, not the loop's first edge. */
function nearestTo(loop: Loop, places: readonly Mm[], from: Point): Mm[] {
  return places
    .map((s) => ({ s, at: placeOn(loop, s).point }))
    .map(({ s, at }) => ({ s, keys: [dist(at, from), at.x, at.y] }))
    .sort((a, b) => firstApart(a.keys, b.keys))
    .map(({ s }) => s);
}

function firstApart(a: readonly Mm[], b: readonly Mm[]): number {
  const i = a.findIndex((v, k) => Math.abs(v - b[k]!) > AS_NEAR);
  return i < 0 ? 0 : a[i]! - b[i]!;
}

/** An outline read from a drawing differs by its rounding (mm). */
const AS_NEAR: Mm = 1e-6;

/** Once round a little further out at the same depth, and back: room for swarf in a slot deeper than it is wide. */
function widenSlot(em: Emitter, scene: Scene, path: ProfilePath, wide: ProfilePath, at: Mm, z: Mm, feeds: Feeds): void {
  const home = placeOn(path.loop, at).point;
  const place = positionOf(wide.loop, home);
  if (!place) return;
  em.feedTo(place.point, z, feeds.cut);
  const level: Slope = [{ s: 0, z }];
  followLoop(em, wide.loop, place.s, wide.length, heightsOver(wide, place.s, wide.length, scene, level), feeds);
  em.feedTo(home, z, feeds.cut);
}

/** Wanted heights over `length` of the path from `start`, raised where a tab stands. */
export function heightsOver(path: ProfilePath, start: Mm, length: Mm, scene: Scene, wanted: Slope): Slope {
  if (path.lifts.length === 0) return wanted;
  const lifts = liftSlope(path.lifts, path.length, length, start, scene.plan.profileBottom);
  return higherOf(wanted, lifts, 0, length);
}

/** Moves a stopping place on, out of any lift, so that the next depth starts in the open. */
function stopClear(path: ProfilePath, s: Mm): Mm {
  for (const lift of path.lifts) {
    const from = lift.from - lift.up;
    const to = lift.to + lift.down;
    const turns = Math.floor((s - from) / path.length);
    const shifted = from + turns * path.length;
    if (s < shifted + (to - from) && s > shifted) return stopClear(path, shifted + (to - from) + 1e-3);
  }
  return s;
}

/** Full depth in one level pass a depth, over the tabs, on and off by arcs through the slot roughing left. */
export function finish(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const made = profilePath(scene, op, part, cutter.diameter / 2 + op.allowance);
  if (!made.ok) return made.problems;
  const path = made.value;
  const entry = finishEntry(scene, op, path, cutter, startOf(em, scene));
  if (!entry) return [noEntry(part)];
  const roughed = roughPath(scene, op, part, path.offset + op.leadAside);
  if (roughed.ok) em.bite(op.id, finishBite(roughed.value.loop, path.loop, cutter.diameter / 2), 0);
  const feeds = feedsOf(scene, op, cutter);
  const turns = op.turns;
  const length = turns * path.length + OVERLAP;
  for (const depth of op.depths) {
    comeDown(em, scene, entry.start, depth, op.feed);
    em.chain(entry.lead, depth, op.feed);
    const level: Slope = [{ s: 0, z: depth }];
    followLoop(em, path.loop, entry.s, length, heightsOver(path, entry.s, length, scene, level), feeds);
    em.chain(entry.out, depth, op.feed);
    em.rapidZ(scene.heights.retract);
  }
  return [];
}

/** Places tried along a free stretch. */
const ENTRY_SHARES = [0.5, 0.35, 0.65, 0.2, 0.8] as const;

interface ProfileEntry {
  readonly s: Mm;
  readonly start: Point;
  readonly lead: Chain;
  readonly out: Chain;
}

/** The place to come on: between the lifts, near where the cutter comes from, where both leads keep off every part and clamp. */
function finishEntry(scene: Scene, op: Operation, path: ProfilePath, cutter: Cutter, from: Point): ProfileEntry | null {
  const side = scene.plan.climb ? 1 : -1;
  const aside = op.leadAside;
  for (const radius of [LEAD_SHARE * cutter.diameter, (LEAD_SHARE * cutter.diameter) / 2, 0]) {
    const lead = radius > 0 ? Math.sqrt(Math.max(0, radius * radius - (radius - aside) ** 2)) : 0;
    const roomy = gapsBetween(path.loop, path.lifts).flatMap((gap) =>
      ENTRY_SHARES.map((share) => gap.from + share * (gap.to - gap.from)).filter(
        (s) => s - lead - ENTRY_ROOM >= gap.from && s + OVERLAP + lead + ENTRY_ROOM <= gap.to,
      ),
    );
    for (const s of nearestTo(path.loop, roomy, from)) {
      const entry = entryAt(path, s, side, aside, radius);
      if (leadsAreFree(scene, op, entry, cutter)) return entry;
    }
  }
  return null;
}

function entryAt(path: ProfilePath, s: Mm, side: 1 | -1, aside: Mm, radius: Mm): ProfileEntry {
  const on = placeOn(path.loop, s);
  const off = placeOn(path.loop, s + OVERLAP);
  const lead =
    radius > 0 ? leadIn(on.point, on.direction, side, aside, radius) : straightIn(on.point, on.direction, side, aside);
  const out = radius > 0 ? leadOut(off.point, off.direction, side, aside, radius) : [];
  const start = lead[0]?.a ?? step(on.point, rot90(on.direction), side * aside);
  return { s, start, lead, out };
}

function leadsAreFree(scene: Scene, op: Operation, entry: ProfileEntry, cutter: Cutter): boolean {
  const clear = cutter.diameter / 2 + op.allowance;
  const leads = [...entry.lead, ...entry.out];
  const free = leads.every((segment) =>
    scene.areas.every((area) => closestApproach(segment, area).distance >= clear - 1e-5),
  );
  return free && isClearOfClamps(scene, cutter, leads, op.depths.at(-1)!);
}

/** Each tab thinned in one light pass, one lift a tab. */
export function lighten(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const made = profilePath(scene, op, part, cutter.diameter / 2 + op.allowance);
  if (!made.ok) return made.problems;
  const path = made.value;
  em.bite(op.id, Math.PI, 0);
  const feeds = feedsOf(scene, op, cutter);
  tabsOf(scene, part).forEach((tab, i) => {
    const lift = path.lifts[i]!;
    if (tab.height >= tab.cutHeight) return;
    const from = lift.from - lift.up;
    const length = lift.to + lift.down - from;
    const top = -scene.job.part.thickness + tab.cutHeight;
    const steps = op.depths.filter((z) => z < top - 1e-9);
    // To and fro over the one tab: each step starts in the open slot where the one before it ended.
    const there = chainBetween(path.loop, from, from + length);
    const back = reverseLoop(there);
    // On the way back the work lies on the other side, and the same piece of edge wants the same feed.
    const homeward: Feeds = { ...feeds, factor: (piece) => feeds.factor(reverseSegment(piece)) };
    comeDown(em, scene, placeOn(path.loop, from).point, steps[0]!, op.feed);
    steps.forEach((z, k) => {
      em.feedZ(z, op.feed);
      const forth = k % 2 === 0;
      followChain(em, forth ? there : back, [{ s: 0, z }], forth ? feeds : homeward);
    });
    em.rapidZ(scene.heights.retract);
  });
  return [];
}

export function feedsOf(scene: Scene, op: Operation, cutter: Cutter): Feeds {
  const workOn = scene.plan.climb ? 'right' : 'left';
  return {
    cut: op.feed,
    ramp: op.rampFeed,
    factor: (piece) => arcFeedFactor(piece, cutter.diameter / 2, op.feedCap, workOn),
  };
}
