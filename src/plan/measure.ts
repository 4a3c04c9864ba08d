/** Stops to brush out swarf and to measure: what to measure, what it should read, what to do with the figure. */
import { short } from '../base/text.ts';
import { MM_PER_INCH, type Mm } from '../base/units.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import type { Hole, Job } from '../part/part.ts';
import type { StopReason } from './plan.ts';
import { say } from './words.ts';

export function swarfStop(...lines: readonly string[]): StopReason {
  return { kind: 'swarf', lines };
}

/** How far a reading may be off before it is worth correcting: what calipers and a hand tell apart (common practice). */
const WORTH_CORRECTING: Mm = 0.02;
/** Sizes told at most: a person measures one or two, not a list. */
const MOST_SIZES = 3;

/** Before the last pass, with `left` standing on the edge all round. */
export function measureStop(job: Job, left: Mm): StopReason {
  const sizes = outsideSizes(job);
  const nominal = inUnits(job, sizes[0]!.size + 2 * left);
  return {
    kind: 'measure',
    lines: [
      'Brush the slot clean and measure the part where it stands',
      ...sizes.map(
        ({ name, size }) =>
          `${name}: ${say(job, size + 2 * left)} now, within ${say(job, WORTH_CORRECTING)}; ${say(job, size)} when finished`,
      ),
      ...job.part.holes.filter((h) => h.limits !== null && gauged(h)).map((h) => gaugeLine(job, h)),
      `Further out: stop here and give the job finish.measured: feature "outside", nominal ${nominal}, actual your reading`,
      'Then make the program again and run its last finishing pass',
      `Right: go on, the last pass takes ${say(job, left)} off each side`,
    ],
  };
}

interface OutsideSize {
  readonly name: string;
  readonly size: Mm;
}

/** Across round bosses where there are any, else over all. */
function outsideSizes(job: Job): OutsideSize[] {
  const { source, loop } = job.part.outline;
  if (source.kind === 'circle') return [{ name: 'Diameter', size: source.diameter }];
  if (source.kind === 'slot') return [{ name: 'Width', size: source.width }];
  const box = loopBox(loop);
  const over = [
    { name: `Over all, along the drawing's X`, size: box.maxX - box.minX },
    { name: `Over all, along the drawing's Y`, size: box.maxY - box.minY },
  ];
  if (source.kind !== 'bosses') return over;
  const bosses = source.bosses.map((b, i) => ({ name: `Across boss ${i + 1}`, size: 2 * b.radius }));
  return [...bosses]
    .sort((a, b) => b.size - a.size)
    .slice(0, MOST_SIZES - 1)
    .concat(over[0]!);
}

function gauged(hole: Hole): boolean {
  return hole.make.kind === 'ream' || hole.make.kind === 'bore';
}

function gaugeLine(job: Job, hole: Hole): string {
  const { least, most } = hole.limits!;
  return `Hole ${hole.index + 1}: a plug of ${say(job, least)} goes in, one of ${say(job, most)} does not`;
}

function inUnits(job: Job, length: Mm): string {
  return job.units === 'mm' ? short(length) : short(length / MM_PER_INCH, 4);
}
