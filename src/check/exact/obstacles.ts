/**
 * The cutter, its shank and its holder against clamps and what lies under the stock, and depth against the flutes. Distances are exact: the
 * path of the axis to each clamp's rectangle.
 */
import type { Mm } from '../../base/units.ts';
import { segmentGap } from '../../geometry/measure/distance.ts';
import { line } from '../../geometry/measure/segment.ts';
import type { Box, Line, Point, Segment } from '../../geometry/types.ts';
import type { Clamp, Job } from '../../part/part.ts';
import type { Removal } from '../field/removal.ts';
import { tellMet } from '../field/upper.ts';
import { ROUNDING } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { type Stroke, spotOf } from '../strokes/stroke.ts';
import { near } from '../wanted/clear.ts';
import type { Jaw } from '../wanted/edge-stand.ts';
import { Below } from './below.ts';

/** Air kept round clamps and screw heads: they are set by hand. */
const CLAMP_AIR: Mm = 0.5;

/** `jaws`: those that hold a part on edge, which no clamp of the job is. */
export function checkObstacles(
  strokes: Iterable<Stroke>,
  job: Job,
  removal: Removal,
  out: Findings,
  jaws: readonly Jaw[] = [],
): void {
  const edgeJaws = jaws.map(({ min, max, top }) => ({ name: 'the jaws', ...boxOf(min, max), top, air: 0 }));
  const clamps = [...obstaclesOf(job), ...edgeJaws];
  const below = new Below(job, out);
  for (const s of strokes) {
    for (const c of clamps) checkClamp(s, c, out);
    below.check(s);
    const { volume, touched } = removal.of(s);
    if (volume > 0) checkReach(s, touched, job, out);
  }
  tellMet(removal.met, job, out);
  out.prove(
    'clamps',
    1e-6,
    'safe',
    'cutter, shank and holder of every stroke keep 0.5 mm from the clamps and out of jaws, each stroke taken at its lowest point',
  );
}

interface ClampObstacle {
  readonly name: string;
  readonly box: Box;
  readonly sides: readonly Line[];
  readonly top: Mm;
  /** Kept round it. */
  readonly air: Mm;
}

/** Jaws reach so far outwards and beyond both ends of the stock: no file says how far theirs do, and a vice's seldom more (from memory). */
const JAW_REACH: Mm = 200;

function obstaclesOf(job: Job): ClampObstacle[] {
  return job.clamps.flatMap((c, i) =>
    c.kind === 'block'
      ? [{ name: `clamp ${i + 1}`, ...boxOf(c.min, c.max), top: c.top, air: CLAMP_AIR }]
      : jawsOf(c, `the jaws, clamp ${i + 1}`, job),
  );
}

/**
 * The stock that two jaws grip and all beyond it. Nothing of them stands above the face that is wanted, or it could not be faced; they lie on the stock's
 * own sides, so that no air is asked for.
 */
function jawsOf({ axis, grip }: Extract<Clamp, { kind: 'jaws' }>, name: string, job: Job): ClampObstacle[] {
  const { min, max } = job.stock;
  const [x0, x1, y0, y1] = [min[0] - JAW_REACH, max[0] + JAW_REACH, min[1] - JAW_REACH, max[1] + JAW_REACH];
  const boxes =
    axis === 'x'
      ? [boxOf([x0, y0], [min[0] + grip, y1]), boxOf([max[0] - grip, y0], [x1, y1])]
      : [boxOf([x0, y0], [x1, min[1] + grip]), boxOf([x0, max[1] - grip], [x1, y1])];
  return boxes.map((box) => ({ name, ...box, top: Math.min(0, max[2]), air: 0 }));
}

function boxOf(min: readonly [Mm, Mm], max: readonly [Mm, Mm]): Pick<ClampObstacle, 'box' | 'sides'> {
  const corners: Point[] = [
    { x: min[0], y: min[1] },
    { x: max[0], y: min[1] },
    { x: max[0], y: max[1] },
    { x: min[0], y: max[1] },
  ];
  const sides = corners.map((p, i) => line(p, corners[(i + 1) % 4]!) as Line);
  return { box: { minX: min[0], minY: min[1], maxX: max[0], maxY: max[1] }, sides };
}

function checkClamp(s: Stroke, clamp: ClampObstacle, out: Findings): void {
  for (const body of s.tool.bodies) {
    if (s.low + body.from >= clamp.top + clamp.air - ROUNDING) continue;
    const reach = body.radius + clamp.air;
    if (!near(s.box, clamp.box, reach)) continue;
    const gap = gapToBox(s.path, clamp);
    if (gap >= reach - ROUNDING) continue;
    const found = `the ${body.name} of cutter ${s.tool.number} comes within ${Math.max(0, gap - body.radius).toFixed(2)} mm of ${clamp.name} at z ${s.low.toFixed(2)}`;
    const wanted = `${clamp.air > 0 ? `${clamp.air} mm of air` : 'nothing there'}, or above its top, z ${clamp.top.toFixed(2)}`;
    const remedy = 'raise the move, place the clamp elsewhere or take a longer cutter';
    out.fault({ code: 'clamp-hit', at: spotOf(s), size: reach - gap, found, wanted, remedy });
    return;
  }
}

function gapToBox(path: Segment, o: ClampObstacle): Mm {
  const { a } = path;
  if (a.x >= o.box.minX && a.x <= o.box.maxX && a.y >= o.box.minY && a.y <= o.box.maxY) return 0;
  return o.sides.reduce((best, side) => Math.min(best, segmentGap(side, path).distance), Infinity);
}

/** Flutes must reach up past the stock being cut, and neither shank nor holder may run against stock that stands beside the cut. */
function checkReach(s: Stroke, touched: Mm, job: Job, out: Findings): void {
  const c = s.tool.cutter;
  const spot = spotOf(s);
  const depth = touched - s.low;
  if (depth > c.fluteLength + ROUNDING) {
    const found = `cutter ${c.number} cuts ${depth.toFixed(2)} mm deep`;
    const wanted = `no more than its flutes, ${c.fluteLength} mm`;
    const remedy = 'take a longer cutter or cut in more passes';
    out.fault({ code: 'flutes-short', at: spot, size: depth - c.fluteLength, found, wanted, remedy });
  }
  const top = job.stock.max[2];
  if (c.shank > c.diameter + ROUNDING && s.low + c.fluteLength < top - ROUNDING) {
    const found = `the shank of cutter ${c.number} goes below the top of the stock`;
    const wanted = `flutes of at least ${(top - s.low).toFixed(2)} mm`;
    out.fault({ code: 'shank-rubs', at: spot, found, wanted, remedy: 'take a longer cutter' });
  }
  if (s.low + c.stickOut < top + ROUNDING) {
    const found = `the holder of cutter ${c.number} comes down on the stock`;
    const wanted = `a stick-out above ${(top - s.low).toFixed(2)} mm`;
    out.fault({ code: 'holder-hits', at: spot, found, wanted, remedy: 'let the cutter stand out further' });
  }
}
