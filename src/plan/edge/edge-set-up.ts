/**
 * How a part stands for a hole from its edge: on edge between smooth jaws, the hole's axis upright. Axes of that set-up: Z up along
 * the hole, Z0 on the crown of its boss; X0 on the hole's axis, X to the right as one looks at the upper face; Y away, Y0 in
 * the middle of the thickness.
 */
import { type Mm, toRad } from '../../base/units.ts';
import { loopBox, loopLength, pointAlong } from '../../geometry/measure/loop.ts';
import { line } from '../../geometry/measure/segment.ts';
import { NO_PLACEMENT, placeLoop, placePoint } from '../../geometry/measure/transform.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Clamp, EdgeHole, Hole, Job } from '../../part/part.ts';
import type { EdgeStand } from '../plan.ts';

export interface UngrippedStand extends Omit<EdgeStand, 'grip'> {
  /** Places along the edge that are higher than the crown. */
  readonly higher: readonly { readonly x: Mm; readonly z: Mm }[];
}

export function standOf(job: Job, hole: EdgeHole): UngrippedStand {
  const { source, loop } = job.part.outline;
  if (source.kind !== 'bosses') throw new Error('an edge hole without a boss: a bug in the part stage');
  const upright = { ...NO_PLACEMENT, turn: toRad(90 - hole.directionDeg) };
  const centres = source.bosses.map((b) => placePoint(upright, b.at));
  const { radius } = source.bosses[hole.boss]!;
  const own = centres[hole.boss]!;
  const stood = placeLoop({ ...upright, at: { x: -own.x, y: -own.y - radius } }, loop);
  const half = job.part.thickness / 2;
  const box = loopBox(stood);
  const higher = higherThan(stood);
  const blocks = blocksOf(higher, half);
  return {
    hole,
    job: edgeJob(job, hole, { minX: box.minX, maxX: box.maxX, half, height: -box.minY, blocks }),
    higher,
    loop: stood,
    parts: job.places.map((p) => p.mirror),
    radius,
    centres: centres.map((c) => ({ x: c.x - own.x, z: c.y - own.y - radius })),
  };
}

interface Stood {
  readonly minX: Mm;
  readonly maxX: Mm;
  /** Half the thickness. */
  readonly half: Mm;
  /** From the crown down to the part's lowest place. */
  readonly height: Mm;
  readonly blocks: readonly Clamp[];
}

/** The same job with the part as it stands: a block as long, thick and high as the part, with one blind hole. */
function edgeJob(job: Job, edge: EdgeHole, { minX, maxX, half, height, blocks }: Stood): Job {
  const hole: Hole = {
    index: edge.index,
    fromEdge: true,
    at: { x: 0, y: 0 },
    make: edge.make,
    depth: edge.depth,
    diameter: edge.diameter,
    limits: null,
    countersink: null,
    counterbore: null,
  };
  return {
    ...job,
    part: {
      thickness: height,
      outline: { loop: rectangle(minX, maxX, half), source: { kind: 'vertices' }, inner: [] },
      holes: [hole],
      pockets: [],
      edgeHoles: [],
      chamfer: 0,
      noTabs: [],
    },
    stock: { min: [minX, -half, -height], max: [maxX, half, 0], above: 0, below: 0, measured: null, flatness: 0 },
    under: { kind: 'vice', thickness: 0, material: job.under.material },
    zero: 'part',
    places: [NO_PLACEMENT],
    clamps: [{ kind: 'jaws', axis: 'y', grip: height - edge.depth }, ...blocks],
    hold: { by: 'auto' },
  };
}

function rectangle(minX: Mm, maxX: Mm, half: Mm): Loop {
  const corners: Point[] = [
    { x: minX, y: -half },
    { x: maxX, y: -half },
    { x: maxX, y: half },
    { x: minX, y: half },
  ];
  return corners.map((a, i) => line(a, corners[(i + 1) % 4]!));
}

function higherThan(stood: Loop): UngrippedStand['higher'] {
  const length = loopLength(stood);
  const count = Math.ceil(length / LOOK);
  return Array.from({ length: count }, (_, i) => pointAlong(stood, (i * length) / count)!.point)
    .filter((p) => p.y > LEVEL)
    .map((p) => ({ x: p.x, z: p.y }));
}

/** The part beside the hole, where it stands higher than the crown: in the way like a clamp. One block a side, beyond what is drilled. */
function blocksOf(higher: UngrippedStand['higher'], half: Mm): Clamp[] {
  return [-1, 1].flatMap((side): Clamp[] => {
    const there = higher.filter((p) => side * p.x >= BESIDE);
    if (there.length === 0) return [];
    const xs = there.map((p) => p.x);
    const top = Math.max(...there.map((p) => p.z)) + LOOK;
    return [{ kind: 'block', min: [Math.min(...xs) - LOOK, -half], max: [Math.max(...xs) + LOOK, half], top }];
  });
}

/** The edge is looked at this far apart, and blocks are made larger by as much. */
const LOOK: Mm = 0.1;
/** As high as the crown itself. */
const LEVEL: Mm = 0.001;
/** Nearer to the axis the edge slopes up from the mouth itself, and is looked at point by point. */
const BESIDE: Mm = 4;
