/** Clamps where the job says nothing: strips along the short sides, or the jaws of a vice. Counted from the stock's corner. */
import type { Mm } from '../../base/units.ts';
import type { Box } from '../../geometry/types.ts';
import type { Desk } from '../desk.ts';
import { CLAMP_STRIP, LEAST_CLAMP_STRIP } from '../layout.ts';
import type { Clamp, Cutter, Under } from '../part.ts';
import { isProfileCutter } from './cutter.ts';

/** A clamp counted from the stock's corner; `height` above its top. */
export type FromCorner =
  | { readonly kind: 'block'; readonly box: Box; readonly height: Mm }
  | Extract<Clamp, { kind: 'jaws' }>;

/** Beside the clamps the slot, above them the holder. */
export interface ClampRoom {
  readonly slot: Mm;
  /** Of a clamp above the stock. */
  readonly height: Mm;
}

/** Bite of vice jaws when the job says nothing (mm, common practice). */
const USUAL_GRIP: Mm = 3;

/** Widths of strip that are tried when parts do not fit between the usual ones, widest first. */
export const STRIPS: readonly Mm[] = [CLAMP_STRIP.width, 6, 4, LEAST_CLAMP_STRIP];

/** Lower than this a strap is too thin to clamp with (mm, common practice). */
const LOWEST_CLAMP: Mm = 5;
/** The mill goes into the backing by a little, and its holder keeps off the clamp (mm). */
const HOLDER_ROOM: Mm = 1;

/** So high that the holder of every mill long enough for the slot passes over them at the bottom of it. */
export function clampHeight(cutters: readonly Cutter[], depth: Mm): Mm {
  const mills = cutters.filter((c) => isProfileCutter(c.kind) && c.fluteLength > depth);
  const shortest = Math.min(...mills.map((c) => c.stickOut));
  return Math.max(LOWEST_CLAMP, Math.min(CLAMP_STRIP.height, Math.floor(shortest - depth - HOLDER_ROOM)));
}

/** Two strips of the given widths along the short sides; under a vice its jaws. */
export function clampsOf(
  size: readonly [Mm, Mm],
  under: Under,
  [first, second]: readonly [Mm, Mm],
  height: Mm,
): FromCorner[] {
  const [x, y] = size;
  const alongX = x >= y;
  if (under.kind === 'vice') return [{ kind: 'jaws', axis: alongX ? 'y' : 'x', grip: USUAL_GRIP }];
  const boxes: Box[] = alongX
    ? [
        { minX: 0, minY: 0, maxX: first, maxY: y },
        { minX: x - second, minY: 0, maxX: x, maxY: y },
      ]
    : [
        { minX: 0, minY: 0, maxX: x, maxY: first },
        { minX: 0, minY: y - second, maxX: x, maxY: y },
      ];
  return boxes.map((box) => ({ kind: 'block', box, height }));
}

/** The clamps taken, told; no wider than `strip`, and narrower where a part would be in the way. undefined: a fault has been told. */
export function usualClamps(
  size: readonly [Mm, Mm],
  under: Under,
  reach: Box | undefined,
  { slot, height }: ClampRoom,
  desk: Desk,
  strip: Mm = CLAMP_STRIP.width,
): FromCorner[] | undefined {
  const alongX = size[0] >= size[1];
  if (under.kind === 'vice') {
    desk.assume(`Vice jaws close along ${alongX ? 'y' : 'x'} and grip ${desk.say(USUAL_GRIP)} of the stock.`);
    return clampsOf(size, under, [strip, strip], height);
  }
  const before = reach === undefined ? Infinity : alongX ? reach.minX : reach.minY;
  const behind = reach === undefined ? Infinity : alongX ? size[0] - reach.maxX : size[1] - reach.maxY;
  const room = (gap: Mm) => Math.floor(Math.min(strip, gap - slot - 1));
  const widths: readonly [Mm, Mm] = [room(before), room(behind)];
  if (Math.min(before, behind) < 0) {
    desk.fault({
      code: 'part-off-stock',
      at: ['place'],
      found: `the parts reach ${desk.say(-Math.min(before, behind))} over the edge of the stock`,
      wanted: `every part within the stock of ${desk.say(size[0])} by ${desk.say(size[1])}`,
      remedy: 'move them, or take a larger piece',
    });
    return undefined;
  }
  if (widths.some((w) => w < LEAST_CLAMP_STRIP)) {
    desk.fault({
      code: 'no-room-for-clamps',
      at: ['place'],
      found: `${desk.say(Math.min(before, behind))} of stock is left beside the parts`,
      wanted: `room for a slot of ${desk.say(slot)} and a clamp of ${desk.say(LEAST_CLAMP_STRIP)} on both short sides`,
      remedy: 'move the parts, take a longer piece, or say where the clamps are',
    });
    return undefined;
  }
  desk.assume(
    `Clamps lie along the two short sides of the stock, ${widths.map((w) => desk.say(w)).join(' and ')} wide and ${desk.say(height)} high.`,
  );
  return clampsOf(size, under, widths, height);
}
