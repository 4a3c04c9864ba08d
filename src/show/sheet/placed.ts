/** The job's part in program coordinates. */
import { type Placement, placeLoop, placePoint } from '../../geometry/measure/transform.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Hole, HoleMake, Job, Part } from '../../part/part.ts';
import { sized, type Units } from './figures.ts';

export interface PlacedHole {
  readonly hole: Hole;
  readonly at: Point;
}

export interface PlacedPart {
  readonly index: number;
  readonly place: Placement;
  readonly outline: Loop;
  readonly pockets: readonly { readonly edge: Loop; readonly islands: readonly Loop[] }[];
  readonly holes: readonly PlacedHole[];
}

export function placedParts(job: Job): PlacedPart[] {
  return job.places.map((place, index) => placed(job.part, place, index));
}

function placed(part: Part, place: Placement, index: number): PlacedPart {
  return {
    index,
    place,
    outline: placeLoop(place, part.outline.loop),
    pockets: part.pockets.map((p) => ({
      edge: placeLoop(place, p.outline.loop),
      islands: p.islands.map((i) => placeLoop(place, i.loop)),
    })),
    holes: part.holes.map((hole) => ({ hole, at: placePoint(place, hole.at) })),
  };
}

/** `ream 5 H7`, `tap M2.5`, `clear M2, medium`, with sinks. */
export function holeWords(u: Units, hole: Hole): string {
  const depth = hole.depth === null ? 'through' : `${sized(u, hole.depth)} deep`;
  const sink = hole.countersink
    ? `, countersunk to ${u.size(hole.countersink.diameter)} at ${hole.countersink.angle}°`
    : '';
  const bored = hole.counterbore
    ? `, counterbored ${u.size(hole.counterbore.diameter)}, ${sized(u, hole.counterbore.depth)} deep`
    : '';
  return `${makeWords(u, hole.make, hole.diameter)}, ${depth}${sink}${bored}`;
}

export function makeWords(u: Units, make: HoleMake, diameter: number): string {
  switch (make.kind) {
    case 'drill':
      return `drill ${u.size(diameter)}`;
    case 'ream':
      return `ream ${u.size(make.nominal)} ${make.fit}`;
    case 'tap':
      return `tap ${make.thread}`;
    case 'clear':
      return `clear ${make.screw}, ${make.series}`;
    case 'bore':
      return `bore ${u.size(make.nominal)}${make.fit === null ? '' : ` ${make.fit}`}`;
  }
}
