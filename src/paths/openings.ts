/** Pockets and bores of a part as areas in program coordinates. */

import type { Mm } from '../base/units.ts';
import { loopLength, orient } from '../geometry/measure/loop.ts';
import { arc } from '../geometry/measure/segment.ts';
import { runOut, wayOut } from '../geometry/mouth.ts';
import type { Point, Region } from '../geometry/types.ts';
import { MOUTH_END, type Target } from '../plan/plan.ts';
import type { PlacedArea } from './clear/pocket.ts';
import { holePlace, type Scene } from './scene.ts';

/** The area to clear, in the part's own axes: the pocket less what is left standing in it, and `out` of the room before open sides. */
export function pocketArea(scene: Scene, part: number, pocket: number, out: Mm): PlacedArea {
  const { outline, islands, open } = scene.job.part.pockets[pocket]!;
  const holes = islands.map((i) => orient(i.loop, 'cw'));
  const key = `pocket ${pocket}`;
  const place = scene.job.places[part]!;
  if (out === 0) return { key, area: { outer: orient(outline.loop, 'ccw'), holes }, place, enter: null, start: null };
  const room = runOut(outline.loop, open, scene.job.part.outline.loop, out, MOUTH_END);
  if (room.kind === 'failed') throw new Error(`${room.reason}, which the plan stage did not find: a bug`);
  const widest = open.reduce((a, b) => (loopLength(b) > loopLength(a) ? b : a));
  const enter = { ...wayOut(outline.loop, widest), most: out };
  return { key, area: { ...room.region, holes: [...room.region.holes, ...holes] }, place, enter, start: null };
}

export function boreRegion(centre: Point, diameter: Mm): Region {
  const r = diameter / 2;
  return { outer: [arc(centre, r, 0, Math.PI), arc(centre, r, Math.PI, Math.PI)].map(closeExactly), holes: [] };
}

/** Both halves share their ends bit for bit. */
function closeExactly<T extends { a: Point; b: Point }>(half: T, i: number, all: readonly T[]): T {
  return { ...half, b: all[(i + 1) % all.length]!.a };
}

export function openingRegions(
  scene: Scene,
  part: number,
  target: Extract<Target, { kind: 'edges' }>,
): readonly Region[] {
  return target.bores.map((b) => boreRegion(holePlace(scene, part, b.hole), b.diameter));
}
