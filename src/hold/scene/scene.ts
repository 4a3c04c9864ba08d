/** Everything the holding is evaluated from, worked out once from job and plan. Program coordinates. */
import { type Tables, table } from '../../base/tables.ts';
import type { Mm, Stress } from '../../base/units.ts';
import { distanceToLoop } from '../../geometry/measure/distance.ts';
import { windingOf } from '../../geometry/measure/inside.ts';
import { loopBox, loopCentroid, loopLength, pointAlong } from '../../geometry/measure/loop.ts';
import { curvatureOf } from '../../geometry/measure/segment.ts';
import { placeLoop, placePoint } from '../../geometry/measure/transform.ts';
import type { Box, Loop, Point } from '../../geometry/types.ts';
import type { Rect } from '../../mechanics/plate/plate.ts';
import type { ElasticModuli } from '../../mechanics/support/beam.ts';
import type { EdgeSpot } from '../../mechanics/support/edge-spot.ts';
import type { Clamp, Cutter, Job, Stock } from '../../part/part.ts';
import type { Operation, Plan, PlanVariants } from '../../plan/plan.ts';
import { findMaterial, type Material } from '../../trade/materials/materials.ts';
import { thicknessDeviation } from '../../trade/stock.ts';
import { type Mouth, mouthsOf } from './mouths.ts';

/** What a holding is sought for, and what it is sought with. */
export interface HoldInput {
  readonly job: Job;
  readonly plan: Plan;
  readonly tables: Tables;
  /** The plan stage's own changes of a plan, for what would do better. */
  readonly variants: PlanVariants;
}

/** What follows from the job alone. */
export interface PlateScene {
  readonly material: Material;
  readonly metal: ElasticModuli;
  /** tonne/mm3. */
  readonly density: number;
  /** Yield, or Rm where the metal breaks without yielding. */
  readonly strength: Stress;
  readonly thickness: Mm;
  readonly bottom: Mm;
  readonly parts: readonly ScenePart[];
  readonly held: readonly Rect[];
  /** The plate may be thinner than its size by this, and its upper face off level: tabs and floors lose as much. */
  readonly thinnest: Mm;
  readonly thickest: Mm;
  readonly hollow: boolean;
}

export interface HoldScene extends HoldInput, PlateScene {
  /** Of the cutter that runs round the outline. */
  readonly cutter: Cutter;
  readonly finish: Operation;
  readonly slotWidth: Mm;
  readonly stays: (x: Mm, y: Mm) => boolean;
  /** What is cut out of the frame's upper face before pockets that are open at the edge. */
  readonly mouths: readonly Mouth[];
}

export interface ScenePart {
  readonly loop: Loop;
  readonly box: Box;
  readonly centre: Point;
  readonly spots: readonly PartSpot[];
  readonly holes: readonly { readonly at: Point; readonly radius: Mm; readonly index: number }[];
}

export interface PartSpot extends EdgeSpot {
  /** Positive: the edge bulges out. */
  readonly curvature: number;
  /** Metal inward along the normal to the far edge, holes taken off. */
  readonly depth: Mm;
  /** All spots of the part from the nearest on: squares of their distances, and the least depth so far. */
  readonly near: { readonly squares: readonly number[]; readonly depths: readonly Mm[] };
}

/** Places round the edge where the cutter is looked at: about every 3 mm on a small lever. */
const SPOTS = 32;

/** Made once a plan: choosing, comparing and drafting look at the same one. */
export function holdScene(input: HoldInput): HoldScene {
  return input.tables.once(SCENES, [input.job, input.plan], () => newScene(input));
}

const SCENES = table<[job: Job, plan: Plan], HoldScene>('what a holding is worked out from');

function newScene(input: HoldInput): HoldScene {
  const { job, plan, tables } = input;
  const plate = tables.once(PLATES, [job], () => plateScene(job));
  const finish = plan.setups.flatMap((s) => s.operations).find((o) => o.what === 'finish');
  if (!finish) throw new Error('a plan without a finishing pass: a bug in the plan stage');
  const { slotWidth } = plan;
  return {
    ...input,
    ...plate,
    cutter: plan.cutters.find((c) => c.number === finish.cutter)!,
    finish,
    slotWidth,
    stays: staysIn(job, plate.parts, slotWidth),
    mouths: mouthsOf(job, plan),
  };
}

const PLATES = table<[job: Job], PlateScene>('plate and parts of a job');

function plateScene(job: Job): PlateScene {
  const found = findMaterial(job.material);
  if (found.kind === 'unknown') throw new Error(`material ${job.material} passed the door unknown: a bug`);
  const material = found.value;
  const strength = material.strengths[0];
  const deviation = plateDeviation(job);
  return {
    material,
    metal: { modulus: material.elastic.E, poisson: material.elastic.nu },
    density: material.density.value * 1e-9,
    strength: strength.yield ?? strength.tensile,
    thickness: job.part.thickness,
    bottom: -job.part.thickness,
    parts: job.places.map((place) => scenePart(job, placeLoop(place, job.part.outline.loop), place)),
    held: job.clamps.flatMap((c) => clampRects(c, job.stock)),
    thinnest: deviation.thin,
    thickest: deviation.thick,
    hollow: job.under.kind === 'parallels' || job.under.kind === 'vice',
  };
}

function scenePart(job: Job, loop: Loop, place: Job['places'][number]): ScenePart {
  const holes = job.part.holes.map((h) => ({ at: placePoint(place, h.at), radius: h.diameter / 2, index: h.index }));
  const length = loopLength(loop);
  const bare = Array.from({ length: SPOTS }, (_, i) => {
    const spot = pointAlong(loop, ((i + 0.5) * length) / SPOTS)!;
    return {
      x: spot.point.x,
      y: spot.point.y,
      nx: spot.direction.y,
      ny: -spot.direction.x,
      curvature: curvatureOf(loop[spot.index]!),
    };
  });
  const box = loopBox(loop);
  const centre = loopCentroid(loop) ?? { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
  const deep = bare.map((s) => ({ ...s, depth: depthAt(bare, s, holes) }));
  return { loop, box, centre, holes, spots: deep.map((s) => ({ ...s, near: nearOf(deep, s) })) };
}

function nearOf(spots: readonly Omit<PartSpot, 'near'>[], s: Omit<PartSpot, 'near'>): PartSpot['near'] {
  const near = spots.map((q) => ({ square: (q.x - s.x) ** 2 + (q.y - s.y) ** 2, depth: q.depth }));
  near.sort((a, b) => a.square - b.square);
  let least = s.depth;
  const depths = near.map((n) => {
    least = Math.min(least, n.depth);
    return least;
  });
  return { squares: near.map((n) => n.square), depths };
}

/** From a spot straight in to the far side of the polygon of spots; the widest hole crossed is taken off. */
function depthAt(ring: readonly EdgeSpot[], s: EdgeSpot, holes: ScenePart['holes']): Mm {
  let far = Number.POSITIVE_INFINITY;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    if (a === s || b === s) return;
    const t = rayMeets(s, a, b);
    if (t !== null && t > 1e-9) far = Math.min(far, t);
  });
  if (!Number.isFinite(far)) far = 1;
  const lost = holes.reduce((most, h) => {
    const along = -((h.at.x - s.x) * s.nx + (h.at.y - s.y) * s.ny);
    const aside = Math.abs((h.at.x - s.x) * s.ny - (h.at.y - s.y) * s.nx);
    return along > 0 && along < far && aside < h.radius ? Math.max(most, 2 * h.radius) : most;
  }, 0);
  return Math.max(0.5, far - lost);
}

function rayMeets(s: EdgeSpot, a: EdgeSpot, b: EdgeSpot): Mm | null {
  const ax = a.x - s.x;
  const ay = a.y - s.y;
  const ex = b.x - a.x;
  const ey = b.y - a.y;
  const det = s.nx * ey - s.ny * ex;
  if (Math.abs(det) < 1e-12) return null;
  const t = -(ax * ey - ay * ex) / det;
  const u = (s.nx * ay - s.ny * ax) / -det;
  return u >= 0 && u <= 1 ? t : null;
}

/** The stretches of stock that a clamp holds; jaws grip both ends of an axis over their depth. */
export function clampRects(c: Clamp, { min, max }: Stock): Rect[] {
  const [x0, y0] = min;
  const [x1, y1] = max;
  if (c.kind === 'block') return [{ minX: c.min[0], minY: c.min[1], maxX: c.max[0], maxY: c.max[1] }];
  const g = c.grip;
  return c.axis === 'x'
    ? [
        { minX: x0, minY: y0, maxX: x0 + g, maxY: y1 },
        { minX: x1 - g, minY: y0, maxX: x1, maxY: y1 },
      ]
    : [
        { minX: x0, minY: y0, maxX: x1, maxY: y0 + g },
        { minX: x0, minY: y1 - g, maxX: x1, maxY: y1 },
      ];
}

/** Measured plates count as measured; others by the wider of the standards' limits for bright drawn flat. */
function plateDeviation(job: Job): { readonly thin: Mm; readonly thick: Mm } {
  const t = job.part.thickness + job.stock.below + job.stock.above;
  const { measured, flatness } = job.stock;
  if (measured !== null) return { thin: Math.max(0, t - measured) + flatness, thick: Math.max(0, measured - t) };
  const row = thicknessDeviation(t, 'bright drawn');
  return { thin: -(row?.lower ?? -0.1) + flatness, thick: row?.upper ?? 0 };
}

function staysIn(job: Job, parts: readonly ScenePart[], slotWidth: Mm): (x: Mm, y: Mm) => boolean {
  const [x0, y0] = job.stock.min;
  const [x1, y1] = job.stock.max;
  return (x, y) => {
    if (x < x0 || x > x1 || y < y0 || y > y1) return false;
    return parts.every(({ box, loop }) => {
      const aside = Math.max(box.minX - x, x - box.maxX, box.minY - y, y - box.maxY);
      if (aside > slotWidth) return true;
      return windingOf(loop, { x, y }) === 0 && distanceToLoop(loop, { x, y }) >= slotWidth - 1e-6;
    });
  };
}
