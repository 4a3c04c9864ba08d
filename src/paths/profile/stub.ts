/**
 * Round a part that stands on a stub: an open path from one side of the stub to the other, always in the direction of the
 * climb (or not) that the plan chose; where a wider slot is wanted the cutter comes back along its far wall.
 */
import type { Problem } from '../../base/problem.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { chainBetween, loopLength, positionOf } from '../../geometry/measure/loop.ts';
import { add, dot, fromAngle, rot90, scale, sub } from '../../geometry/measure/point.ts';
import { reverseSegment } from '../../geometry/measure/segment.ts';
import type { Chain, Loop } from '../../geometry/types.ts';
import type { Stub } from '../../hold/holding.ts';
import type { Operation } from '../../plan/plan.ts';
import { comeDown } from '../along/come-down.ts';
import { type Feeds, followChain, placeOn } from '../along/follow.ts';
import { leadIn, leadOut } from '../along/lead.ts';
import type { Slope } from '../along/slope.ts';
import type { Emitter } from '../emitter.ts';
import { noRoomForStub } from '../problem.ts';
import { cutterOf, type Scene, slopeOf, stubOf } from '../scene.ts';
import { along } from './footprint.ts';
import { feedsOf, heightsOver, type ProfilePath, profilePath, roughPath } from './profile.ts';
import { finishBite } from './profile-bite.ts';

/** The stretch of a path that is cut: from one side of the stub round to the other. `to` may pass the loop's length. */
export interface OpenRun {
  readonly from: Mm;
  readonly to: Mm;
}

/**
 * `chord`: how far apart the cutter's centre stands on both sides of the stub, half of it on either side of the line that runs out
 * square from the edge. Null: the loop does not reach so far aside.
 */
export function runBesideStub(scene: Scene, part: number, loop: Loop, offset: Mm, chord: Mm): OpenRun | null {
  const stub = stubOf(scene, part);
  if (!stub) return null;
  const place = positionOf(loop, add(stub.at, scale(fromAngle(toRad(stub.directionDeg)), offset)));
  if (!place) return null;
  const length = loopLength(loop);
  const along = rot90(fromAngle(toRad(stub.directionDeg)));
  const aside = (u: Mm) => Math.abs(dot(sub(placeOn(loop, place.s + u).point, stub.at), along));
  const after = firstBeyond(aside, chord / 2, length / 2);
  const before = firstBeyond((u) => aside(-u), chord / 2, length / 2);
  return after === null || before === null ? null : { from: place.s + after, to: place.s + length - before };
}

/** Accuracy of the run's ends; a hundredth of the finest written digit. */
const FINE: Mm = 1e-6;

/** Least u at which the way aside is `wanted`, by small steps: it need not grow steadily. */
function firstBeyond(aside: (u: Mm) => Mm, wanted: Mm, most: Mm): Mm | null {
  let near = 0;
  let far = wanted - FINE;
  const stride = Math.min(wanted, most) / 8;
  while (far < most && aside(far) < wanted) {
    near = far;
    far += stride;
  }
  if (far >= most) return null;
  while (far - near > FINE) {
    const middle = (near + far) / 2;
    if (aside(middle) < wanted) near = middle;
    else far = middle;
  }
  return far;
}

/** The stubs with the length of edge that the last finishing pass leaves. Without one, which other stages tell, as the holding has them. */
export function stubsAsCut(scene: Scene): readonly Stub[] {
  const finishing = scene.plan.setups.flatMap((s) => s.operations).findLast((o) => o.what === 'finish');
  if (finishing === undefined) return scene.holding.stubs;
  return scene.holding.stubs.map((stub) => {
    const open = finishPath(scene, finishing, stub.part);
    if ('problems' in open) return stub;
    const { loop } = open.path;
    const edge = scene.parts[stub.part]!.outline;
    const ends = [open.run.from, open.run.to].map((s) => along(edge, stub.at, placeOn(loop, s).point));
    return { ...stub, footprint: Math.max(stub.width, Math.abs(ends[0]! - ends[1]!)) };
  });
}

export function roughBesideStub(em: Emitter, scene: Scene, op: Operation, part: number): readonly Problem[] {
  const cutter = cutterOf(scene, op);
  const offset = cutter.diameter / 2 + op.allowance;
  const near = openPath(scene, op, part, offset, 0, roughPath);
  const wide = op.widen > 0 ? openPath(scene, op, part, offset + op.widen, 0, roughPath) : null;
  const problems = [near, wide].flatMap((p) => (p && 'problems' in p ? p.problems : []));
  if (problems.length > 0 || 'problems' in near || (wide && 'problems' in wide)) return problems;
  const feeds = feedsOf(scene, op, cutter);
  const start = near.chain[0]!.a;
  em.bite(op.id, Math.PI, 0);
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
  const open = finishPath(scene, op, part);
  if ('problems' in open) return open.problems;
  const roughed = roughPath(scene, op, part, open.path.offset + op.leadAside);
  if (roughed.ok) em.bite(op.id, finishBite(roughed.value.loop, open.chain, cutter.diameter / 2), 0);
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

/** The leads reach back towards the stub, and may lean to it, by as much as they lie aside: they keep out of its waist. */
function finishPath(scene: Scene, op: Operation, part: number) {
  return openPath(
    scene,
    op,
    part,
    cutterOf(scene, op).diameter / 2 + op.allowance,
    2 * Math.SQRT2 * op.leadAside,
    profilePath,
  );
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
  pathAt: typeof roughPath,
): OpenPath | { readonly problems: readonly Problem[] } {
  const made = pathAt(scene, op, part, offset);
  if (!made.ok) return made;
  const path = made.value;
  const stub = stubOf(scene, part)!;
  const run = runBesideStub(scene, part, path.loop, offset, stub.width + cutterOf(scene, op).diameter + more);
  if (!run) return { problems: [noRoomForStub(stub)] };
  return { path, run, chain: chainBetween(path.loop, run.from, run.to), length: run.to - run.from };
}

function follow(em: Emitter, scene: Scene, open: OpenPath, depth: Mm, feeds: Feeds): void {
  const level = heightsOver(open.path, open.run.from, open.length, scene, [{ s: 0, z: depth }]);
  followChain(em, open.chain, level, feeds);
}
