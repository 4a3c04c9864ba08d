/** The solid that shall be left, part by part, in program coordinates: edges, holes and pockets as the job gives them. */
import type { Mm } from '../../base/units.ts';
import { type Placement, placeLoop, placePoint, placeSegment, unplacePoint } from '../../geometry/measure/transform.ts';
import type { Loop } from '../../geometry/types.ts';
import type { Job, Pocket } from '../../part/part.ts';
import { edgeOf } from './edge.ts';
import { type HoleSpace, holeSpace } from './opening.ts';
import { type Edge, withBoxes } from './pieces.ts';
import { lessEdge, wallOf } from './two-edges.ts';

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
  /** Of an open pocket; null: closed all round. */
  readonly open: OpenSides | null;
}

export interface OpenSides {
  /** The part less the pocket: a cutter in the pocket keeps off this, and may run out. */
  readonly solid: Edge;
  /** What of the solid's edge is wall of the pocket; inside is the solid. */
  readonly wall: Edge;
}

export interface WantedParts {
  readonly thickness: Mm;
  readonly chamfer: Mm;
  readonly parts: readonly WantedPart[];
}

export function wantedOf(job: Job): WantedParts {
  const { thickness, chamfer } = job.part;
  const edge = edgeOf(job.part.outline);
  const pocketEdges = job.part.pockets.map((p) => {
    const outer = edgeOf(p.outline);
    return { outer, islands: p.islands.map(edgeOf), open: p.outline.cut ? openSides(edge, outer) : null };
  });
  const parts = job.places.map((place, index): WantedPart => {
    const holes = job.part.holes.map((h) => holeSpace(h, index, placePoint(place, h.at), job.part, job.cutters));
    const pockets = job.part.pockets.map((pocket, i): WantedPocket => {
      const edges = pocketEdges[i]!;
      return {
        part: index,
        pocket,
        bottom: pocket.depth === null ? -thickness : -pocket.depth,
        through: pocket.depth === null,
        outer: placeEdge(place, edges.outer),
        islands: edges.islands.map((e) => placeEdge(place, e)),
        open: edges.open && { solid: placeEdge(place, edges.open.solid), wall: placeEdge(place, edges.open.wall) },
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

function openSides(part: Edge, floor: Edge): OpenSides {
  const solid = lessEdge(part, floor);
  return { solid, wall: withBoxes(wallOf(part, floor), solid.inside) };
}

function placeEdge(place: Placement, edge: Edge): Edge {
  return withBoxes(
    edge.pieces.map((s) => placeSegment(place, s)),
    (p) => edge.inside(unplacePoint(place, p)),
  );
}
