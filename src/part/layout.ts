/**
 * Where parts, stock and clamps lie when the job does not say. All lengths count from the stock's corner of least x and y.
 *
 * The rule: copies lie in rows in the order plain, then mirrored, first from left to right, then away. Between two parts
 * there is a slot, a rail of stock, and a slot; between a part and the edge of the stock or a clamp, a slot and a rail.
 * The columns are the fewest that give the smallest stock within the machine's travel (or, in a stock that is given, the fewest that fit).
 */
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { type Placement, placeLoop } from '../geometry/measure/transform.ts';
import type { Box, Loop } from '../geometry/types.ts';
import { SLOT_WIDENING } from '../trade/holding-rules.ts';
import { PROFILE_WIDTH } from '../trade/milling-rules.ts';
import type { Cutter } from './part.ts';
import { isProfileCutter } from './setting/cutter.ts';

/** Width of a clamp strip along a short side, and its height above the stock: a small strap clamp (common practice). */
export const CLAMP_STRIP = { width: 8, height: 12 };
/** Below this a clamp has no bite (common practice). */
export const LEAST_CLAMP_STRIP: Mm = 3;
/** Wanted width of the stock left between slots, and the least in a stock that is given: a rail is a spring (common practice). */
const RAIL: Mm = 6;
const LEAST_RAIL: Mm = 3;

export interface Room {
  readonly slot: Mm;
  readonly rail: Mm;
}

export interface CopyGrid {
  readonly columns: number;
  readonly rows: number;
  /** Size of the block with its outer slots and rails. */
  readonly size: readonly [Mm, Mm];
  readonly room: Room;
}

/**
 * Width of the slot round a part, its widening when it is deep included: room for the cutter that the plan will take for a plate of this
 * thickness, the widest not wider than it, or than 3 mm.
 */
export function slotWidth(cutters: readonly Cutter[], thickness: Mm): Mm {
  const widths = cutters.filter((c) => isProfileCutter(c.kind)).map((c) => c.diameter);
  const usual = widths.filter(
    (w) => w <= Math.min(PROFILE_WIDTH.high, Math.max(PROFILE_WIDTH.low, thickness)) + SAME_POINT,
  );
  const widest = usual.length > 0 ? Math.max(...usual) : widths.length > 0 ? Math.min(...widths) : PROFILE_WIDTH.high;
  return widest + SLOT_WIDENING.high;
}

/**
 * Grid of `count` parts with the smallest stock, clamp strips along the short sides included. Grids that the machine can reach
 * come before those that it cannot: the cutter goes round the parts, not over the outer rails.
 */
export function smallestGrid(box: Box, count: number, slot: Mm, travel: readonly [Mm, Mm]): CopyGrid {
  let best: CopyGrid | undefined;
  for (let columns = 1; columns <= count; columns++) {
    const grid = gridOf(box, count, columns, { slot, rail: RAIL });
    if (best === undefined || before(grid, best, travel)) best = grid;
  }
  return best!;
}

export function withinTravel(grid: CopyGrid, travel: readonly [Mm, Mm]): boolean {
  return grid.size.every((s, axis) => s - 2 * grid.room.rail <= travel[axis]! + SAME_POINT);
}

function before(a: CopyGrid, b: CopyGrid, travel: readonly [Mm, Mm]): boolean {
  if (withinTravel(a, travel) !== withinTravel(b, travel)) return withinTravel(a, travel);
  return area(a) < area(b) - SAME_POINT;
}

/** Grid that fits in a free rectangle, rails as wide as wanted if possible; undefined: it does not fit. */
export function fittingGrid(box: Box, count: number, slot: Mm, free: Box): CopyGrid | undefined {
  for (const rail of [RAIL, LEAST_RAIL]) {
    for (let columns = 1; columns <= count; columns++) {
      const grid = gridOf(box, count, columns, { slot, rail });
      if (grid.size[0] <= free.maxX - free.minX + SAME_POINT && grid.size[1] <= free.maxY - free.minY + SAME_POINT)
        return grid;
    }
  }
  return undefined;
}

/** Least room the parts need in a stock that is given, in one column. */
export function leastSize(box: Box, count: number, slot: Mm): readonly [Mm, Mm] {
  return gridOf(box, count, 1, { slot, rail: LEAST_RAIL }).size;
}

/** Stock for a grid: clamp strips added on the short sides, both sizes up to whole millimetres. */
export function stockFor(grid: CopyGrid): readonly [Mm, Mm] {
  const [x, y] = grid.size;
  const strips = 2 * CLAMP_STRIP.width;
  const up = (v: Mm): Mm => Math.ceil(v - SAME_POINT);
  return x >= y ? [up(x + strips), up(y)] : [up(x), up(y + strips)];
}

/** Places of the parts of a grid, centred in the free rectangle, to a tenth of a millimetre. */
export function gridPlaces(loop: Loop, grid: CopyGrid, mirrored: readonly boolean[], free: Box): Placement[] {
  const box = loopBox(loop);
  const { slot, rail } = grid.room;
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const left = (free.minX + free.maxX - grid.size[0]) / 2 + rail + slot;
  const near = (free.minY + free.maxY - grid.size[1]) / 2 + rail + slot;
  return mirrored.map((mirror, i) => {
    const own = loopBox(placeLoop({ at: { x: 0, y: 0 }, turn: 0, mirror }, loop));
    const x = left + (i % grid.columns) * (width + 2 * slot + rail) - own.minX;
    const y = near + Math.floor(i / grid.columns) * (height + 2 * slot + rail) - own.minY;
    return { at: { x: tenth(x), y: tenth(y) }, turn: 0, mirror };
  });
}

function gridOf(box: Box, count: number, columns: number, room: Room): CopyGrid {
  const rows = Math.ceil(count / columns);
  const along = (size: Mm, n: number): Mm => n * (size + 2 * room.slot + room.rail) + room.rail;
  return { columns, rows, room, size: [along(box.maxX - box.minX, columns), along(box.maxY - box.minY, rows)] };
}

function area(grid: CopyGrid): number {
  const [x, y] = stockFor(grid);
  return x * y;
}

function tenth(v: Mm): Mm {
  return Math.round(v * 10) / 10;
}
