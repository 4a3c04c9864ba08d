/** Whether parts, stock and clamps lie as they can in the workshop. Program coordinates. */
import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { loopGap } from '../../geometry/measure/distance.ts';
import { whereIs } from '../../geometry/measure/inside.ts';
import { loopBox } from '../../geometry/measure/loop.ts';
import { line } from '../../geometry/measure/segment.ts';
import { type Placement, placeLoop } from '../../geometry/measure/transform.ts';
import type { Box, Loop } from '../../geometry/types.ts';
import type { Desk } from '../desk.ts';
import { type CopyGrid, smallestGrid, withinTravel } from '../layout.ts';
import type { Clamp, Job, Stock, Under } from '../part.ts';

export interface JobSetting {
  readonly stock: Stock;
  readonly under: Under;
  readonly places: readonly Placement[];
  readonly clamps: readonly Clamp[];
}

/** Plates are off their nominal size by up to half a millimetre hot rolled (EN 10058); more is another plate, or a slip. */
const MOST_OFF_SIZE: Mm = 0.6;
export function checkSetting(setting: JobSetting, outline: Loop, thickness: Mm, desk: Desk): void {
  const loops = setting.places.map((p) => placeLoop(p, outline));
  checkStock(setting.stock, thickness, desk);
  loops.forEach((loop, i) => checkOnStock(loop, i, setting.stock, desk));
  for (const [i, loop] of loops.entries()) {
    for (const [k, other] of loops.slice(i + 1).entries()) checkApart(loop, other, i, i + 1 + k, desk);
  }
  for (const [i, clamp] of setting.clamps.entries()) checkClamp(clamp, i, loops, setting.stock, desk);
  if (setting.clamps.length === 0) {
    desk.caution({
      code: 'no-clamps',
      at: ['clamps'],
      found: 'nothing clamps the stock',
      wanted: 'at least two clamps, or jaws',
      remedy: 'say how the stock is held',
    });
  }
}

function checkStock(stock: Stock, thickness: Mm, desk: Desk): void {
  const high = stock.max[2] - stock.min[2];
  if (stock.below < 0) {
    const wanted =
      stock.above > 0
        ? `${desk.say(thickness + stock.above)}: the part and ${desk.say(stock.above)} above it`
        : `at least ${desk.say(thickness)}`;
    desk.fault({
      code: 'stock-too-thin',
      at: ['stock', 'size'],
      found: `the stock is ${desk.say(high)} thick`,
      wanted,
      remedy: 'take a thicker plate, or make the part thinner',
    });
    return;
  }
  if (stock.measured === null) return;
  const off = stock.measured - high;
  if (Math.abs(off) > MOST_OFF_SIZE) {
    desk.fault({
      code: 'stock-measured',
      at: ['stock', 'measured'],
      found: `measured ${desk.say(stock.measured)}, stated ${desk.say(high)} thick`,
      wanted: `a plate within ${desk.say(MOST_OFF_SIZE)} of its size`,
      remedy: 'measure again, or state the right size',
    });
  } else if (stock.measured < thickness + stock.above - MOST_UNDER_SIZE) {
    desk.fault({
      code: 'stock-under-size',
      at: ['stock', 'measured'],
      found: `the plate measures ${desk.say(stock.measured)}, ${desk.say(thickness + stock.above - stock.measured)} less than the part needs`,
      wanted: `at least ${desk.say(thickness + stock.above - MOST_UNDER_SIZE)}`,
      remedy: 'take a thicker plate, or state the thickness the part can have',
    });
  } else if (stock.measured < thickness + stock.above - SAME_POINT) {
    desk.caution({
      code: 'stock-under-size',
      at: ['stock', 'measured'],
      found: `the plate measures ${desk.say(stock.measured)}`,
      wanted: `${desk.say(thickness + stock.above)}`,
      remedy:
        'the part comes out thinner by the difference, and so do its tabs: the program is reckoned from the top face',
    });
  }
}

/** Bright drawn flat is at most 0.13 mm under its size up to 30 mm (EN 10278, h11); a plate further under is another plate. */
const MOST_UNDER_SIZE: Mm = 0.15;

function checkOnStock(loop: Loop, part: number, stock: Stock, desk: Desk): void {
  const b = loopBox(loop);
  const over = Math.max(stock.min[0] - b.minX, stock.min[1] - b.minY, b.maxX - stock.max[0], b.maxY - stock.max[1]);
  if (over <= SAME_POINT) return;
  const size = `${desk.say(stock.max[0] - stock.min[0])} by ${desk.say(stock.max[1] - stock.min[1])}`;
  desk.fault({
    code: 'part-off-stock',
    at: ['place', part, 'at'],
    point: { x: b.minX, y: b.minY },
    found: `part ${part + 1} reaches ${desk.say(over)} over the edge of the stock`,
    wanted: `every part within the stock of ${size}`,
    remedy: 'move it, or take a larger piece',
  });
}

function checkApart(a: Loop, b: Loop, i: number, k: number, desk: Desk): void {
  const gap = loopGap(a, b);
  const within = whereIs(a, b[0]!.a) === 'inside' || whereIs(b, a[0]!.a) === 'inside';
  if (gap.distance > SAME_POINT && !within) return;
  desk.fault({
    code: 'parts-overlap',
    at: ['place', k],
    point: gap.p,
    found: `parts ${i + 1} and ${k + 1} overlap`,
    wanted: 'parts apart by at least the width of a cutter',
    remedy: 'move one of them',
  });
}

function checkClamp(clamp: Clamp, index: number, parts: readonly Loop[], stock: Stock, desk: Desk): void {
  const path = ['clamps', index] as const;
  if (clamp.kind === 'jaws') {
    const side = clamp.axis === 'x' ? 0 : 1;
    const width = stock.max[side] - stock.min[side];
    if (2 * clamp.grip >= width)
      desk.fault({
        code: 'jaws-too-deep',
        at: [...path, 'grip'],
        found: `two jaws grip ${desk.say(clamp.grip)} each of ${desk.say(width)}`,
        wanted: 'jaws that leave stock between them',
        remedy: 'give less grip',
      });
    return;
  }
  const [x0, y0] = clamp.min;
  const [x1, y1] = clamp.max;
  if (x1 - x0 < SAME_POINT || y1 - y0 < SAME_POINT) {
    desk.fault({
      code: 'clamp-empty',
      at: path,
      found: 'the clamp has no area',
      wanted: 'two opposite corners',
      remedy: 'mend from or to',
    });
    return;
  }
  if (x1 <= stock.min[0] || y1 <= stock.min[1] || x0 >= stock.max[0] || y0 >= stock.max[1]) {
    desk.fault({
      code: 'clamp-off-stock',
      at: path,
      point: { x: x0, y: y0 },
      found: 'the clamp does not stand on the stock',
      wanted: "a clamp over the stock, counted from the stock's corner",
      remedy: 'move it',
    });
    return;
  }
  const rectangle = rectangleOf({ minX: x0, minY: y0, maxX: x1, maxY: y1 });
  for (const [part, loop] of parts.entries()) {
    const gap = loopGap(rectangle, loop);
    if (gap.distance > 0 && whereIs(rectangle, loop[0]!.a) !== 'inside' && whereIs(loop, { x: x0, y: y0 }) !== 'inside')
      continue;
    desk.fault({
      code: 'clamp-on-part',
      at: path,
      point: gap.distance > 0 ? { x: x0, y: y0 } : gap.p,
      found: `the clamp stands on part ${part + 1}`,
      wanted: 'clamps clear of the parts',
      remedy: 'move the clamp or the part',
    });
  }
}

function rectangleOf(b: Box): Loop {
  const p = [
    { x: b.minX, y: b.minY },
    { x: b.maxX, y: b.minY },
    { x: b.maxX, y: b.maxY },
    { x: b.minX, y: b.maxY },
  ] as const;
  return [line(p[0], p[1]), line(p[1], p[2]), line(p[2], p[3]), line(p[3], p[0])];
}

/** false: told that so many copies are more than the machine reaches. One that is too long is told by the paths, with the block. */
export function checkTravel(
  grid: CopyGrid,
  count: number,
  { box, slot, machine }: { readonly box: Box; readonly slot: Mm; readonly machine: Job['machine'] },
  desk: Desk,
): boolean {
  const travel: readonly [Mm, Mm] = [machine.travel[0], machine.travel[1]];
  if (count === 1 || withinTravel(grid, travel)) return true;
  let most = count - 1;
  while (most > 1 && !withinTravel(smallestGrid(box, most, slot, travel), travel)) most--;
  desk.fault({
    code: 'copies-off-travel',
    at: ['copies', 'count'],
    found: `${count} copies side by side take ${desk.say(grid.size[0])} by ${desk.say(grid.size[1])}`,
    wanted: `no more than the travel of the machine, ${desk.say(travel[0])} by ${desk.say(travel[1])}`,
    remedy: `make at most ${most} at a time, or turn them with "place" so that they lie closer`,
  });
  return false;
}
