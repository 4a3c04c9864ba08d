/**
 * The cutter, its shank and its holder against clamps and what lies under the stock, and depth against the flutes. Distances are exact: the
 * path of the axis to each clamp's rectangle.
 */
import type { Mm } from '../base/units.ts';
import { segmentGap } from '../geometry/measure/distance.ts';
import { line } from '../geometry/measure/segment.ts';
import type { Box, Line, Point, Segment } from '../geometry/types.ts';
import type { CutterKind, Job } from '../part/part.ts';
import type { Findings } from './findings.ts';
import { ROUNDING } from './limits.ts';
import type { Removal } from './removal.ts';
import type { Stroke } from './stroke.ts';
import { near } from './wanted/clear.ts';

/** Air kept round clamps and screw heads: they are set by hand. */
const CLAMP_AIR: Mm = 0.5;

export function checkObstacles(strokes: Iterable<Stroke>, job: Job, removal: Removal, out: Findings): void {
  const clamps = job.clamps.flatMap((c, i) =>
    c.kind === 'block' ? [{ name: `clamp ${i + 1}`, ...boxOf(c.min, c.max), top: c.top }] : [],
  );
  const told = new Set<string>();
  for (const s of strokes) {
    for (const c of clamps) checkClamp(s, c, out);
    checkBelow(s, job, told, out);
    const { volume, touched } = removal.of(s);
    if (volume > 0) checkReach(s, touched, job, out);
  }
  out.prove(
    'clamps',
    1e-6,
    'safe',
    'cutter, shank and holder of every stroke keep 0.5 mm from the clamps, each stroke taken at its lowest point',
  );
}

interface Obstacle {
  readonly name: string;
  readonly box: Box;
  readonly sides: readonly Line[];
  readonly top: Mm;
}

function boxOf(min: readonly [Mm, Mm], max: readonly [Mm, Mm]): Pick<Obstacle, 'box' | 'sides'> {
  const corners: Point[] = [
    { x: min[0], y: min[1] },
    { x: max[0], y: min[1] },
    { x: max[0], y: max[1] },
    { x: min[0], y: max[1] },
  ];
  const sides = corners.map((p, i) => line(p, corners[(i + 1) % 4]!) as Line);
  return { box: { minX: min[0], minY: min[1], maxX: max[0], maxY: max[1] }, sides };
}

/** Radii of what turns with the cutter, each with the height of its lower end above the tip. */
function bodiesOf(s: Stroke): { name: string; radius: Mm; from: Mm }[] {
  const c = s.tool.cutter;
  return [
    { name: 'cutter', radius: s.tool.shape.radius, from: 0 },
    { name: 'shank', radius: c.shank / 2, from: c.fluteLength },
    { name: 'holder', radius: c.holder.diameter / 2, from: c.stickOut },
  ];
}

function checkClamp(s: Stroke, clamp: Obstacle, out: Findings): void {
  for (const body of bodiesOf(s)) {
    if (s.low + body.from >= clamp.top + CLAMP_AIR - ROUNDING) continue;
    const reach = body.radius + CLAMP_AIR;
    if (!near(s.box, clamp.box, reach)) continue;
    const gap = gapToBox(s.path, clamp);
    if (gap >= reach - ROUNDING) continue;
    out.fault(
      'clamp-hit',
      `the ${body.name} of cutter ${s.tool.number} comes within ${Math.max(0, gap - body.radius).toFixed(2)} mm of ${clamp.name} at z ${s.low.toFixed(2)}`,
      `${CLAMP_AIR} mm of air, or above its top, z ${clamp.top.toFixed(2)}`,
      'raise the move, place the clamp elsewhere or take a longer cutter',
      {
        program: s.program,
        block: s.block,
        at: [s.path.b.x, s.path.b.y, s.low],
        size: reach - gap,
      },
    );
    return;
  }
}

function gapToBox(path: Segment, o: Obstacle): Mm {
  const { a } = path;
  if (a.x >= o.box.minX && a.x <= o.box.maxX && a.y >= o.box.minY && a.y <= o.box.maxY) return 0;
  return o.sides.reduce((best, side) => Math.min(best, segmentGap(side, path).distance), Infinity);
}

/** Holes that are told once each; beyond them a hole may be told again. */
const MOST_HOLES = 10_000;

/**
 * The backing plate may be cut into, parallels, vice and table may not. Drills and reamers may come out between parallels: where these
 * lie is not in the job, so that is a caution.
 */
function checkBelow(s: Stroke, job: Job, told: Set<string>, out: Findings): void {
  const under = job.stock.min[2];
  const between = job.under.kind === 'parallels' && OUT_BELOW.includes(s.tool.cutter.kind);
  const floor = job.under.kind === 'plate' || between ? under - job.under.thickness : under;
  const { x, y } = s.path.b;
  const hole = `X ${x.toFixed(3)} Y ${y.toFixed(3)}`;
  if (between && s.low < under - ROUNDING && s.low >= floor && !told.has(hole)) {
    if (told.size < MOST_HOLES) told.add(hole);
    const spot = { program: s.program, block: s.block, at: [s.path.b.x, s.path.b.y, s.low] as const };
    out.caution(
      'between-parallels',
      `the hole at ${hole} comes out below the stock`,
      'no parallel under the hole',
      'look where the parallels lie',
      spot,
    );
  }
  if (s.low >= floor - ROUNDING || !near(s.box, stockBox(job), s.tool.shape.radius)) return;
  const into = job.under.kind === 'plate' ? 'through the backing plate' : `into the ${job.under.kind}`;
  out.fault(
    'cuts-below',
    `cutter ${s.tool.number} goes to z ${s.low.toFixed(3)}, ${into}`,
    `no lower than z ${floor.toFixed(3)}`,
    'cut less deep or lay a backing plate under the stock',
    {
      program: s.program,
      block: s.block,
      at: [s.path.b.x, s.path.b.y, s.low],
      size: floor - s.low,
    },
  );
}

const OUT_BELOW: readonly CutterKind[] = ['drill', 'reamer', 'tap', 'spot drill', 'centre drill'];

function stockBox(job: Job): Box {
  const { min, max } = job.stock;
  return { minX: min[0], minY: min[1], maxX: max[0], maxY: max[1] };
}

/** Flutes must reach up past the stock being cut, and neither shank nor holder may run against stock that stands beside the cut. */
function checkReach(s: Stroke, touched: Mm, job: Job, out: Findings): void {
  const c = s.tool.cutter;
  const spot = { program: s.program, block: s.block, at: [s.path.b.x, s.path.b.y, s.low] as const };
  const depth = touched - s.low;
  if (depth > c.fluteLength + ROUNDING) {
    out.fault(
      'flutes-short',
      `cutter ${c.number} cuts ${depth.toFixed(2)} mm deep`,
      `no more than its flutes, ${c.fluteLength} mm`,
      'take a longer cutter or cut in more passes',
      { ...spot, size: depth - c.fluteLength },
    );
  }
  const top = job.stock.max[2];
  if (c.shank > c.diameter + ROUNDING && s.low + c.fluteLength < top - ROUNDING) {
    out.fault(
      'shank-rubs',
      `the shank of cutter ${c.number} goes below the top of the stock`,
      `flutes of at least ${(top - s.low).toFixed(2)} mm`,
      'take a longer cutter',
      spot,
    );
  }
  if (s.low + c.stickOut < top + ROUNDING) {
    out.fault(
      'holder-hits',
      `the holder of cutter ${c.number} comes down on the stock`,
      `a stick-out above ${(top - s.low).toFixed(2)} mm`,
      'let the cutter stand out further',
      spot,
    );
  }
}
