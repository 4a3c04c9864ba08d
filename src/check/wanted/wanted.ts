/** The solid that shall be left, part by part, in program coordinates: edges, holes and pockets as the job gives them. */
import type { Mm } from '../../base/units.ts';
import { type Placement, placeLoop, placePoint, placeSegment, unplacePoint } from '../../geometry/measure/transform.ts';
import type { Loop } from '../../geometry/types.ts';
import type { Job, Pocket } from '../../part/part.ts';
import { type Edge, edgeOf, withBoxes } from './edge.ts';
import { type HoleSpace, holeSpace } from './opening.ts';

export interface WantedPart {
  readonly index: number;
  readonly place: Placement;
  readonly edge: Edge;
  /** The joined loop, only to count lengths along the edge. */
  readonly loop: Loop;
  readonly holes: readonly HoleSpace[];
  readonly pockets: readonly WantedPocket[];
}

export interface WantedPocket {
  readonly part: number;
  readonly pocket: Pocket;
  /** Depth as z; -thickness for a through pocket. */
  readonly bottom: Mm;
  readonly through: boolean;
  readonly outer: Edge;
  readonly islands: readonly Edge[];
}

export interface Wanted {
  readonly thickness: Mm;
  readonly chamfer: Mm;
  readonly parts: readonly WantedPart[];
}

export function wantedOf(job: Job): Wanted {
  const { thickness, chamfer } = job.part;
  const edge = edgeOf(job.part.outline);
  const pocketEdges = job.part.pockets.map((p) => ({ outer: edgeOf(p.outline), islands: p.islands.map(edgeOf) }));
  const parts = job.places.map((place, index): WantedPart => {
    const holes = job.part.holes.map((h) => holeSpace(h, index, placePoint(place, h.at), thickness, chamfer));
    const pockets = job.part.pockets.map((pocket, i): WantedPocket => {
      const edges = pocketEdges[i]!;
      return {
        part: index,
        pocket,
        bottom: pocket.depth === null ? -thickness : -pocket.depth,
        through: pocket.depth === null,
        outer: placeEdge(place, edges.outer),
        islands: edges.islands.map((e) => placeEdge(place, e)),
      };
    });
    return {
      index,
      place,
      edge: placeEdge(place, edge),
      loop: placeLoop(place, job.part.outline.loop),
      holes,
      pockets,
    };
  });
  return { thickness, chamfer, parts };
}

function placeEdge(place: Placement, edge: Edge): Edge {
  return withBoxes(
    edge.pieces.map((s) => placeSegment(place, s)),
    (p) => edge.inside(unplacePoint(place, p)),
  );
}
