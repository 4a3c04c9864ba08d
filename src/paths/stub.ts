/**
 * Round a part that stands on a stub: an open path from one side of the stub to the other, always in the direction of the
 * climb (or not) that the plan chose; where a wider slot is wanted the cutter comes back along its far wall.
 */
import type { Problem } from '../base/problem.ts';
import { type Mm, toRad } from '../base/units.ts';
import { chainBetween, positionOf } from '../geometry/measure/loop.ts';
import { add, fromAngle, scale } from '../geometry/measure/point.ts';
import { reverseSegment, segmentLength } from '../geometry/measure/segment.ts';
import { inversePlacement, placePoint, placeVector, unplacePoint } from '../geometry/measure/transform.ts';
import { chordRun } from '../geometry/run.ts';
import type { Chain, Loop } from '../geometry/types.ts';
import type { Operation } from '../plan/plan.ts';
import type { Emitter } from './emitter.ts';
import { type Feeds, followChain, placeOn } from './follow.ts';
import { leadIn, leadOut } from './lead.ts';
import { noRoomForStub } from './problem.ts';
import { comeDown, feedsOf, heightsOver, type ProfilePath, profilePath } from './profile.ts';
import { cutterOf, type Scene, slopeOf } from './scene.ts';
import type { Slope } from './slope.ts';

/** The stretch of a path that is cut: from one side of the stub round to the other. `to` may pass the loop's length. */
export interface OpenRun {
  readonly from: Mm;
  readonly to: Mm;
}

/** `chord`: how far apart the cutter's centre stands on both sides of the stub, straight. Null: the loop is too short for that. */
export function runBesideStub(scene: Scene, part: number, loop: Loop, offset: Mm, chord: Mm): OpenRun | null {
  const stub = stubOf(scene, part);
  if (!stub) return null;
  const place = positionOf(loop, add(stub.at, scale(stub.out, offset)));
  const kept = place ? chordRun(loop, place.s, chord) : { kind: 'too wide' as const };
  if (kept.kind === 'too wide') return null;
  const length = loop.reduce((sum, s) => sum + segmentLength(s), 0);
  return { from: kept.to, to: kept.from + length };
}

/** Every copy stands on its own stub, at the same place of the part as the first. */
function stubOf(scene: Scene, part: number) {
  const { stub } = scene.holding;
  if (!stub) return null;
  const first = scene.job.places[0]!;
  const place = scene.job.places[part]!;
  const out = placeVector(inversePlacement(first), fromAngle(toRad(stub.directionDeg)));
  return { at: placePoint(place, unplacePoint(first, stub.at)), out: placeVector(place, out), width: stub.width };
}

export function roughBesideStub(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const near = openPath(scene, op, part, cutter.diameter / 2 + op.allowance, 0);
  const wide = op.widen > 0 ? openPath(scene, op, part, cutter.diameter / 2 + op.allowance + op.widen, 0) : null;
  const problems = [near, wide].flatMap((p) => (p && 'problems' in p ? p.problems : []));
  if (problems.length > 0 || 'problems' in near || (wide && 'problems' in wide)) return problems;
  const feeds = feedsOf(scene, op, cutter);
  const start = near.chain[0]!.a;
  let z = op.from;
  for (const depth of op.depths) {
    if (z === op.from || !wide) comeDown(em, scene, start, z, op.rampFeed);
    zigzag(em, scene, near, z, depth, slopeOf(op.rampDeg), feeds);
    follow(em, scene, near, depth, feeds);
    if (wide) {
      const back = [...wide.chain].reverse().map(reverseSegment);
      em.feedTo(back[0]!.a, depth, feeds.cut);
      const lifted = heightsOver(wide.path, wide.run.from, wide.length, scene, [{ s: 0, z: depth }]);
      followChain(em, back, turned(lifted, wide.length), feeds);
      em.feedTo(start, depth, feeds.cut);
    } else em.rapidZ(scene.heights.retract);
    z = depth;
  }
  em.rapidZ(scene.heights.retract);
  return [];
}

/** The same heights travelled from the other end. */
function turned(slope: Slope, length: Mm): Slope {
  return slope.map((k) => ({ s: length - k.s, z: k.z })).reverse();
}

/** Down by half on the way out and by half on the way back, so that no wedge is left standing at the stub. */
function zigzag(em: Emitter, scene: Scene, open: OpenPath, z: Mm, depth: Mm, slope: number, feeds: Feeds): void {
  const half = Math.min((z - depth) / slope / 2, open.length / 2);
  const out = chainBetween(open.path.loop, open.run.from, open.run.from + half);
  const middle = (z + depth) / 2;
  const level = (wanted: Slope) => heightsOver(open.path, open.run.from, half, scene, wanted);
  const there = [
    { s: 0, z },
    { s: half, z: middle },
  ];
  followChain(em, out, level(there), feeds);
  const back = level([
    { s: 0, z: depth },
    { s: half, z: middle },
  ]);
  followChain(em, [...out].reverse().map(reverseSegment), turned(back, half), feeds);
}

export function finishBesideStub(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  // The leads reach back towards the stub by as much as they lie aside: they keep out of its waist.
  const open = openPath(scene, op, part, cutter.diameter / 2 + op.allowance, 2 * op.leadAside);
  if ('problems' in open) return open.problems;
  const feeds = feedsOf(scene, op, cutter);
  const side = scene.plan.climb ? 1 : -1;
  const first = placeOn(open.path.loop, open.run.from);
  const last = placeOn(open.path.loop, open.run.to);
  const on = leadIn(first.point, first.direction, side, op.leadAside, op.leadAside);
  const off = leadOut(last.point, last.direction, side, op.leadAside, op.leadAside);
  for (const depth of op.depths) {
    for (let turn = 0; turn < op.turns; turn++) {
      comeDown(em, scene, on[0]?.a ?? first.point, depth, op.feed);
      em.chain(on, depth, op.feed);
      follow(em, scene, open, depth, feeds);
      em.chain(off, depth, op.feed);
      em.rapidZ(scene.heights.retract);
    }
  }
  return [];
}

interface OpenPath {
  readonly path: ProfilePath;
  readonly run: OpenRun;
  readonly chain: Chain;
  readonly length: Mm;
}

function openPath(
  scene: Scene,
  op: Operation,
  part: number,
  offset: Mm,
  more: Mm,
): OpenPath | { readonly problems: readonly Problem[] } {
  const made = profilePath(scene, op, part, offset);
  if (!made.ok) return made;
  const path = made.value;
  const { width } = scene.holding.stub!;
  const run = runBesideStub(scene, part, path.loop, offset, width + cutterOf(scene, op).diameter + more);
  if (!run) return { problems: [noRoomForStub(scene.holding.stub!)] };
  return { path, run, chain: chainBetween(path.loop, run.from, run.to), length: run.to - run.from };
}

function follow(em: Emitter, scene: Scene, open: OpenPath, depth: Mm, feeds: Feeds): void {
  const level = heightsOver(open.path, open.run.from, open.length, scene, [{ s: 0, z: depth }]);
  followChain(em, open.chain, level, feeds);
}
