/** CONTRACT: the part as each copy of it lies, in program coordinates. The check works this out for itself. */
import { Tables, table } from '../base/tables.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { type Placement, placeLoop, placePoint } from '../geometry/measure/transform.ts';
import type { Box, Loop, Point } from '../geometry/types.ts';
import type { Hole, Job } from './part.ts';

export interface PlacedPart {
  readonly index: number;
  readonly place: Placement;
  /** Counter-clockwise, however the copy lies. */
  readonly outline: Loop;
  readonly box: Box;
  readonly pockets: readonly PlacedPocket[];
  readonly holes: readonly PlacedHole[];
}

export interface PlacedPocket {
  readonly edge: Loop;
  readonly islands: readonly Loop[];
}

export interface PlacedHole {
  readonly hole: Hole;
  readonly at: Point;
}

const PLACED = table<[job: Job], readonly PlacedPart[]>('the part as its copies lie');

/** One a copy, in the order of the job's places. */
export function placedParts(job: Job, tables: Tables = new Tables()): readonly PlacedPart[] {
  return tables.once(PLACED, [job], () => job.places.map((place, index) => placed(job, place, index)));
}

function placed({ part }: Job, place: Placement, index: number): PlacedPart {
  const outline = placeLoop(place, part.outline.loop);
  return {
    index,
    place,
    outline,
    box: loopBox(outline),
    pockets: part.pockets.map((p) => ({
      edge: placeLoop(place, p.outline.loop),
      islands: p.islands.map((i) => placeLoop(place, i.loop)),
    })),
    holes: part.holes.map((hole) => ({ hole, at: placePoint(place, hole.at) })),
  };
}
