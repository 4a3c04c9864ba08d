/**
 * A part on edge as this check sees it, from the job alone: the hole's axis is Z, Z0 the crown of its boss, X to the right as one
 * looks at the upper face, Y0 in the middle of the thickness. The part is then a block with one blind hole.
 */
import { cosine, sine } from '../../base/angles.ts';
import { type Mm, toRad } from '../../base/units.ts';
import { line, pointAt, segmentLength } from '../../geometry/measure/segment.ts';
import { NO_PLACEMENT } from '../../geometry/measure/transform.ts';
import type { Loop, Point, Segment } from '../../geometry/types.ts';
import type { Clamp, EdgeHole, Job } from '../../part/part.ts';

export interface Jaw {
  readonly min: readonly [Mm, Mm];
  readonly max: readonly [Mm, Mm];
  readonly top: Mm;
}

export interface PartOnEdge {
  readonly hole: EdgeHole;
  /** Of the boss that stands up: its crown is round along X. */
  readonly radius: Mm;
  /** The block, its hole and, for clearance heights, what stands higher than the crown. */
  readonly job: Job;
  /** Points of the part's edge, close together: X and height over the crown. */
  readonly profile: readonly { readonly x: Mm; readonly z: Mm }[];
  /** What grips it. */
  readonly jaws: readonly Jaw[];
}

/** null: the job has no such hole. */
export function standOf(job: Job, index: number): PartOnEdge | null {
  const hole = job.part.edgeHoles.find((h) => h.index === index);
  const { source, loop } = job.part.outline;
  if (hole === undefined || source.kind !== 'bosses') return null;
  const boss = source.bosses[hole.boss]!;
  const up = { x: cosine(toRad(hole.directionDeg)), y: sine(toRad(hole.directionDeg)) };
  const profile = loop.flatMap(pointsOf).map(({ x, y }) => {
    const from = { x: x - boss.at.x, y: y - boss.at.y };
    return { x: from.x * up.y - from.y * up.x, z: from.x * up.x + from.y * up.y - boss.radius };
  });
  const block = blockJob(job, hole, profile);
  return { hole, radius: boss.radius, job: block, profile, jaws: jawsBeside(block.stock, -boss.radius) };
}

/** Apart by less than this (mm): a circle of 5 mm then lies less than 0.001 mm beyond its points. */
const APART: Mm = 0.1;

function pointsOf(s: Segment): Point[] {
  const count = Math.max(1, Math.ceil(segmentLength(s) / APART));
  return Array.from({ length: count }, (_, i) => pointAt(s, i / count));
}

function blockJob(job: Job, hole: EdgeHole, profile: PartOnEdge['profile']): Job {
  const half = job.part.thickness / 2;
  const xs = profile.map((p) => p.x);
  const [left, right] = [Math.min(...xs), Math.max(...xs)];
  const low = Math.min(...profile.map((p) => p.z));
  const { make, depth, diameter } = hole;
  const plain = { limits: null, countersink: null, counterbore: null };
  const block = {
    thickness: -low,
    outline: { loop: rectangle(left, right, half), source: { kind: 'vertices' as const }, inner: [] },
    holes: [{ index: hole.index, at: { x: 0, y: 0 }, make, depth, diameter, ...plain }],
    pockets: [],
    edgeHoles: [],
    chamfer: 0,
    noTabs: [],
  };
  return {
    ...job,
    part: block,
    stock: { min: [left, -half, low], max: [right, half, 0], above: 0, below: 0, measured: null, flatness: 0 },
    under: { ...job.under, kind: 'vice' },
    zero: 'part',
    places: [NO_PLACEMENT],
    clamps: [-1, 1].flatMap((side) => higherBlock(profile, side, half)),
    hold: { by: 'auto' },
  };
}

/** Jaws reach so far along and outwards: more than a vice's do (from memory). */
const JAW_REACH: Mm = 200;

/** Smooth jaws on both faces, no higher than the boss's middle: so the plan has them set. */
function jawsBeside({ min, max }: Job['stock'], top: Mm): Jaw[] {
  const [x0, x1] = [min[0] - JAW_REACH, max[0] + JAW_REACH];
  return [
    { min: [x0, min[1] - JAW_REACH], max: [x1, min[1]], top },
    { min: [x0, max[1]], max: [x1, max[1] + JAW_REACH], top },
  ];
}

function rectangle(left: Mm, right: Mm, half: Mm): Loop {
  const [a, b] = [
    { x: left, y: -half },
    { x: right, y: half },
  ];
  return [
    line(a, { x: b.x, y: a.y }),
    line({ x: b.x, y: a.y }, b),
    line(b, { x: a.x, y: b.y }),
    line({ x: a.x, y: b.y }, a),
  ];
}

/** Beyond what a spot drill covers; nearer, the edge is asked point by point. */
const BESIDE: Mm = 4;

function higherBlock(profile: PartOnEdge['profile'], side: number, half: Mm): Clamp[] {
  const there = profile.filter((p) => side * p.x > BESIDE && p.z > APART);
  if (there.length === 0) return [];
  const xs = there.map((p) => p.x);
  const top = Math.max(...there.map((p) => p.z));
  return [{ kind: 'block', min: [Math.min(...xs), -half], max: [Math.max(...xs), half], top }];
}
