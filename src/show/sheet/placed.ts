/** The job's part in program coordinates. */
import { type Placement, placeLoop, placePoint } from '../../geometry/measure/transform.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Hole, Job, Part } from '../../part/part.ts';

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
