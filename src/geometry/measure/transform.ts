import type { Rad } from '../../base/units.ts';
import type { Loop, Point, Region, Segment } from '../types.ts';
import { reverseLoop } from './loop.ts';
import { rotate } from './point.ts';
import { line } from './segment.ts';

/**
 * How a part lies in the program (design 4.2): mirror x to -x in the part's own axes, then turn counter-clockwise about
 * the part's 0,0, then move 0,0 to `at`.
 */
export interface Placement {
  readonly at: Point;
  readonly turn: Rad;
  readonly mirror: boolean;
}

export const NO_PLACEMENT: Placement = { at: { x: 0, y: 0 }, turn: 0, mirror: false };

export function placePoint(place: Placement, p: Point): Point {
  const turned = turnExact({ x: place.mirror ? -p.x : p.x, y: p.y }, place.turn);
  return { x: turned.x + place.at.x, y: turned.y + place.at.y };
}

/** From the program back to the part's own axes. */
export function unplacePoint(place: Placement, p: Point): Point {
  const turned = turnExact({ x: p.x - place.at.x, y: p.y - place.at.y }, -place.turn);
  return { x: place.mirror ? -turned.x : turned.x, y: turned.y };
}

/** A direction: mirrored and turned, not moved. */
export function placeVector(place: Placement, v: Point): Point {
  return turnExact({ x: place.mirror ? -v.x : v.x, y: v.y }, place.turn);
}

/** A segment keeps its sense of travel from a to b; a mirror flips the sweep. */
export function placeSegment(place: Placement, s: Segment): Segment {
  const a = placePoint(place, s.a);
  const b = placePoint(place, s.b);
  if (s.kind === 'line') return line(a, b);
  return { ...s, a, b, centre: placePoint(place, s.centre), sweep: place.mirror ? -s.sweep : s.sweep };
}

/** A loop keeps its orientation: after a mirror it is travelled backwards, so that an outer edge stays counter-clockwise. */
export function placeLoop(place: Placement, loop: Loop): Loop {
  const moved = loop.map((s) => placeSegment(place, s));
  return place.mirror ? reverseLoop(moved) : moved;
}

export function placeRegion(place: Placement, region: Region): Region {
  return { outer: placeLoop(place, region.outer), holes: region.holes.map((h) => placeLoop(place, h)) };
}

/** The placement that undoes another. */
export function inversePlacement(place: Placement): Placement {
  const turn = place.mirror ? place.turn : -place.turn;
  const back = { at: { x: 0, y: 0 }, turn, mirror: place.mirror };
  const at = placePoint(back, place.at);
  return { at: { x: 0 - at.x, y: 0 - at.y }, turn, mirror: place.mirror };
}

/** Quarter turns without rounding: a part turned by 90 degrees keeps round coordinates. */
function turnExact(p: Point, angle: Rad): Point {
  const quarters = Math.round(angle / (Math.PI / 2));
  if (quarters * (Math.PI / 2) !== angle) return rotate(p, angle);
  switch (((quarters % 4) + 4) % 4) {
    case 0:
      return p;
    case 1:
      return { x: 0 - p.y, y: p.x };
    case 2:
      return { x: 0 - p.x, y: 0 - p.y };
    default:
      return { x: p.y, y: 0 - p.x };
  }
}
