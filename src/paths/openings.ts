/** Pockets and bores of a part as areas in program coordinates. */

import type { Mm } from '../base/units.ts';
import { orient } from '../geometry/measure/loop.ts';
import { arc } from '../geometry/measure/segment.ts';
import type { Point, Region } from '../geometry/types.ts';
import type { Target } from '../plan/plan.ts';
import type { PlacedArea } from './pocket.ts';
import { holePlace, type Scene } from './scene.ts';

/** The area to clear, in the part's own axes: the pocket's outline less what is left standing in it. */
export function pocketArea(scene: Scene, part: number, pocket: number): PlacedArea {
  const { outline, islands } = scene.job.part.pockets[pocket]!;
  const area = { outer: orient(outline.loop, 'ccw'), holes: islands.map((i) => orient(i.loop, 'cw')) };
  return { key: `pocket ${pocket}`, area, place: scene.job.places[part]! };
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
