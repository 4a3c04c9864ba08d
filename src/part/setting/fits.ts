/** Whether holes and pockets lie where they can be made: inside the part, clear of each other and of the edge. */

import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { distanceToLoop, loopGap } from '../../geometry/measure/distance.ts';
import { whereIs } from '../../geometry/measure/inside.ts';
import { dist } from '../../geometry/measure/point.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Desk } from '../desk.ts';
import type { Hole, Pocket } from '../part.ts';
import type { KeyPath } from '../schema/jsonc.ts';

/**
 * Walls between a hole or pocket and whatever is next to it, of the hole's diameter: below a tenth (or 0.2 mm) the drill
 * breaks out or the wall tears, below a quarter it bulges when reamed or tapped (common practice).
 */
const LEAST_WALL = { ofDiameter: 0.1, mm: 0.2 };
const STURDY_WALL = { ofDiameter: 0.25 };

/** Less than this (mm) either way would be told as nothing: half of the last figure in which lengths are told, in an inch file. */
const TOUCHING = 0.00127;

export function checkFits(edge: Loop, holes: readonly Hole[], pockets: readonly Pocket[], desk: Desk): void {
  for (const hole of holes) checkHoleInPart(edge, hole, desk);
  for (const [i, hole] of holes.entries()) for (const other of holes.slice(i + 1)) checkHolePair(hole, other, desk);
  for (const pocket of pockets) checkPocketInPart(edge, pocket, desk);
  for (const [i, pocket] of pockets.entries()) {
    for (const hole of holes) checkHoleAndPocket(hole, pocket, desk);
    for (const other of pockets.slice(i + 1)) checkPocketPair(pocket, other, desk);
  }
}

/** Diameter of the finished hole: a tapped one is as wide as its thread. */
function finishedDiameter(hole: Hole): Mm {
  return hole.make.kind === 'tap' ? Math.max(hole.diameter, hole.make.major) : hole.diameter;
}

/** Greatest diameter at the top face. */
function mouthOf(hole: Hole): Mm {
  return Math.max(hole.diameter, hole.countersink?.diameter ?? 0, hole.counterbore?.diameter ?? 0);
}

function checkHoleInPart(edge: Loop, hole: Hole, desk: Desk): void {
  const path: KeyPath = ['part', 'holes', hole.index];
  const where = whereIs(edge, hole.at);
  if (where !== 'inside') {
    const words = where === 'edge' ? 'lies on the edge of the part' : 'lies outside the part';
    desk.fault({
      code: 'hole-outside',
      at: [...path, 'at'],
      point: hole.at,
      found: `the hole at ${desk.sayPoint(hole.at)} ${words}`,
      wanted: 'a hole inside the outline',
      remedy: 'move the hole',
    });
    return;
  }
  const toEdge = distanceToLoop(edge, hole.at);
  wall(toEdge - finishedDiameter(hole) / 2, hole, path, 'hole-through-edge', 'the edge of the part', desk);
  if (mouthOf(hole) > hole.diameter && mouthOf(hole) / 2 >= toEdge) {
    const found = `the recess of ${desk.say(mouthOf(hole))} runs over the edge, which is ${desk.say(toEdge)} from the centre`;
    desk.fault({
      code: 'recess-through-edge',
      at: path,
      point: hole.at,
      found,
      wanted: 'a countersink or counterbore inside the outline',
      remedy: 'choose a smaller screw, or move the hole',
    });
  }
}

function checkHolePair(a: Hole, b: Hole, desk: Desk): void {
  const between = dist(a.at, b.at) - (finishedDiameter(a) + finishedDiameter(b)) / 2;
  const [larger, smaller] = a.diameter >= b.diameter ? [a, b] : [b, a];
  wall(between, larger, ['part', 'holes', b.index], 'holes-overlap', `hole ${smaller.index + 1}`, desk);
}

function wall(width: Mm, hole: Hole, path: KeyPath, broken: string, next: string, desk: Desk): void {
  const least = Math.max(LEAST_WALL.mm, LEAST_WALL.ofDiameter * finishedDiameter(hole));
  const sturdy = STURDY_WALL.ofDiameter * finishedDiameter(hole);
  const who = `hole ${hole.index + 1} of ${desk.say(finishedDiameter(hole))}`;
  const remedy = 'move the hole or make it smaller';
  const thin = `the wall between ${who} and ${next} is ${desk.say(width)}`;
  if (width < TOUCHING) {
    desk.fault({
      code: broken,
      at: path,
      point: hole.at,
      found: -width < TOUCHING ? `${who} touches ${next}` : `${who} breaks by ${desk.say(-width)} into ${next}`,
      wanted: `a wall of at least ${desk.say(least)}`,
      remedy,
    });
  } else if (width < least) {
    desk.fault({
      code: 'wall-too-thin',
      at: path,
      point: hole.at,
      found: thin,
      wanted: `at least ${desk.say(least)}`,
      remedy,
    });
  } else if (width < sturdy) {
    desk.caution({
      code: 'wall-thin',
      at: path,
      point: hole.at,
      found: thin,
      wanted: `a quarter of the hole's diameter, ${desk.say(sturdy)}`,
      remedy: 'expect it to bulge; ream and tap gently',
    });
  }
}

function checkPocketInPart(edge: Loop, pocket: Pocket, desk: Desk): void {
  const path: KeyPath = ['part', 'pockets', pocket.index];
  const loop = pocket.outline.loop;
  if (pocket.open.length === 0) checkClosedPocket(edge, loop, [...path, 'outline'], desk);
  for (const [i, island] of pocket.islands.entries()) {
    if (loopGap(loop, island.loop).distance <= 0 || !isInside(loop, island.loop)) {
      desk.fault({
        code: 'island-outside',
        at: [...path, 'islands', i],
        point: island.loop[0]!.a,
        found: 'the island runs over the wall of its pocket',
        wanted: 'an island inside the pocket',
        remedy: 'move it or make it smaller',
      });
    }
  }
}

function checkClosedPocket(edge: Loop, loop: Loop, path: KeyPath, desk: Desk): void {
  const gap = loopGap(edge, loop);
  if (gap.distance > SAME_POINT && !isInside(edge, loop)) {
    desk.fault({
      code: 'pocket-outside',
      at: path,
      point: loop[0]!.a,
      found: isInside(loop, edge) ? 'the whole part lies inside the pocket' : 'the pocket lies outside the part',
      wanted: 'a pocket inside the outline, or one that crosses it',
      remedy: 'move it or make it smaller',
    });
  } else if (gap.distance < LEAST_WALL.mm) {
    desk.fault({
      code: 'wall-too-thin',
      at: path,
      point: gap.p,
      found: `the wall between pocket and edge is ${desk.say(Math.max(0, gap.distance))}`,
      wanted: `at least ${desk.say(LEAST_WALL.mm)}, or a pocket that crosses the edge`,
      remedy: 'move it or make it smaller',
    });
  }
}

/** A hole in the floor of a blind pocket, or in an island, is sound; one that cuts a wall, or hangs in an opening, is not. */
function checkHoleAndPocket(hole: Hole, pocket: Pocket, desk: Desk): void {
  const path: KeyPath = ['part', 'holes', hole.index];
  const { loop } = pocket.outline;
  const radius = mouthOf(hole) / 2;
  const walls = [loop, ...pocket.islands.map((i) => i.loop)];
  const toWall = Math.min(...walls.map((w) => distanceToLoop(w, hole.at)));
  const inside = whereIs(loop, hole.at) === 'inside';
  const cuts = toWall < radius;
  if (!cuts && !(inside && pocket.depth === null)) return;
  const found = cuts
    ? `hole ${hole.index + 1} cuts the wall of pocket ${pocket.index + 1}`
    : `hole ${hole.index + 1} lies in the opening of pocket ${pocket.index + 1}`;
  desk.fault({
    code: 'pocket-over-hole',
    at: path,
    point: hole.at,
    found,
    wanted: 'a hole wholly inside or wholly outside a pocket, and not in an opening',
    remedy: 'move one of them',
  });
}

function checkPocketPair(a: Pocket, b: Pocket, desk: Desk): void {
  const apart = loopGap(a.outline.loop, b.outline.loop).distance;
  const within = isInside(a.outline.loop, b.outline.loop) || isInside(b.outline.loop, a.outline.loop);
  if (apart > 0 && !within) return;
  desk.fault({
    code: 'pockets-overlap',
    at: ['part', 'pockets', b.index],
    point: b.outline.loop[0]!.a,
    found: `pockets ${a.index + 1} and ${b.index + 1} overlap`,
    wanted: 'pockets apart from each other',
    remedy: 'join them into one outline, or move one',
  });
}

/** Whether a loop that does not cross `outer` lies inside it. */
function isInside(outer: Loop, loop: Loop): boolean {
  const start: Point = loop[0]!.a;
  return whereIs(outer, start) === 'inside';
}
