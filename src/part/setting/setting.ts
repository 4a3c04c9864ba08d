/** Stock, places, clamps and what lies beneath: read, defaults filled in, moved to program coordinates, checked. */

import { SAME_POINT } from '../../base/tolerance.ts';
import type { Mm } from '../../base/units.ts';
import { toRad } from '../../base/units.ts';
import { loopBox, uniteBoxes } from '../../geometry/measure/loop.ts';
import { type Placement, placeLoop } from '../../geometry/measure/transform.ts';
import type { Box, Loop, Point } from '../../geometry/types.ts';
import { DEFAULT_UNDER } from '../../trade/machine.ts';
import type { Desk } from '../desk.ts';
import {
  CLAMP_STRIP,
  fittingGrid,
  gridPlaces,
  LEAST_CLAMP_STRIP,
  leastSize,
  slotWidth,
  smallestGrid,
  stockFor,
} from '../layout.ts';
import type { Clamp, Job, Stock, Under } from '../part.ts';
import type { RawJob } from '../schema/schema.ts';
import { materialOf } from './material.ts';
import { checkSetting, checkTravel, type JobSetting } from './setting-checks.ts';
import { type ClampRoom, clampHeight, clampsOf, type FromCorner, STRIPS, usualClamps } from './usual-clamps.ts';

/** From the stock's corner: size of the piece, places and clamps. */
interface OnStock {
  readonly size: readonly [Mm, Mm];
  readonly places: readonly Placement[];
  readonly clamps: readonly FromCorner[];
}

/** Flatness of an unmeasured strip over the length of a small part (mm, common practice). */
const USUAL_FLATNESS: Mm = 0.1;
/** undefined: a fault has been told. */
export function readSetting(
  raw: RawJob,
  loop: Loop,
  shop: Pick<Job, 'cutters' | 'machine'>,
  desk: Desk,
): JobSetting | undefined {
  const under = readUnder(raw.under, desk);
  const on = layOut(raw, loop, shop, under, desk);
  if (on === undefined) return undefined;
  const zero: Point = raw.zero === 'part' ? on.places[0]!.at : { x: 0, y: 0 };
  if (raw.zero === undefined) desk.assume("Program X0 Y0 is the stock's corner of least x and y.");
  const stock = stockOf(raw, on.size, zero, desk);
  const places = on.places.map((p) => ({ ...p, at: { x: p.at.x - zero.x, y: p.at.y - zero.y } }));
  const clamps = on.clamps.map((c) => toProgram(c, zero, stock.above));
  const setting: JobSetting = { stock, under, places, clamps };
  checkSetting(setting, loop, raw.part.thickness, desk);
  return setting;
}

function layOut(
  raw: RawJob,
  loop: Loop,
  { cutters, machine }: Pick<Job, 'cutters' | 'machine'>,
  under: Under,
  desk: Desk,
): OnStock | undefined {
  const mirrored = copiesOf(raw, desk);
  if (mirrored === undefined) return undefined;
  const slot = slotWidth(cutters, raw.part.thickness);
  const height = clampHeight(cutters, raw.part.thickness + (raw.stock?.above ?? 0));
  const room = { slot, height };
  const box = loopBox(loop);
  const given = raw.clamps?.map(fromCorner);
  if (raw.place !== undefined) {
    const places = raw.place.map((p) => ({ at: p.at, turn: toRad(p.turn ?? 0), mirror: p.mirror ?? false }));
    const reach = places.map((p) => loopBox(placeLoop(p, loop))).reduce(uniteBoxes);
    const size = raw.stock === undefined ? sizeRound(reach, slot, desk) : planSize(raw.stock.size);
    const clamps = given ?? usualClamps(size, under, reach, room, desk);
    return clamps === undefined ? undefined : { size, places, clamps };
  }
  if (raw.stock === undefined) {
    const grid = smallestGrid(box, mirrored.length, slot, [machine.travel[0], machine.travel[1]]);
    const size = stockFor(grid);
    if (!checkTravel(grid, mirrored.length, { box, slot, machine }, desk)) return undefined;
    const clamps = given ?? usualClamps(size, under, undefined, room, desk)!;
    desk.assume(
      `The stock is ${desk.say(size[0])} by ${desk.say(size[1])}: the parts, a slot of ${desk.say(slot)} round each, rails of ${desk.say(grid.room.rail)}, clamps.`,
    );
    const places = gridPlaces(loop, grid, mirrored, freeBox(size, clamps));
    tellPlaces(places, desk);
    return { size, places, clamps };
  }
  return fitInStock(raw.stock.size, given, mirrored, { loop, room, under }, desk);
}

interface LayoutRequest {
  readonly loop: Loop;
  readonly room: ClampRoom;
  readonly under: Under;
}

function fitInStock(
  stock: readonly [Mm, Mm, Mm],
  given: FromCorner[] | undefined,
  mirrored: readonly boolean[],
  asked: LayoutRequest,
  desk: Desk,
): OnStock | undefined {
  const size = planSize(stock);
  const box = loopBox(asked.loop);
  const fits = (strip: Mm) =>
    fittingGrid(
      box,
      mirrored.length,
      asked.room.slot,
      freeBox(size, given ?? clampsOf(size, asked.under, [strip, strip], asked.room.height)),
    );
  // A short piece is held by narrower strips before it is refused.
  const strip = STRIPS.find((s) => fits(s) !== undefined) ?? CLAMP_STRIP.width;
  const clamps = given ?? usualClamps(size, asked.under, undefined, asked.room, desk, strip)!;
  const free = freeBox(size, clamps);
  const grid = fits(strip);
  if (grid === undefined) {
    const need = leastSize(box, mirrored.length, asked.room.slot);
    const found = `between the clamps ${desk.say(Math.max(0, free.maxX - free.minX))} by ${desk.say(Math.max(0, free.maxY - free.minY))} is free`;
    const wanted = `for ${mirrored.length} in a column ${desk.say(need[0])} by ${desk.say(need[1])}, slots and least rails included`;
    desk.fault({
      code: 'stock-too-small',
      at: ['stock', 'size'],
      found,
      wanted,
      remedy: 'take a larger piece, fewer copies, a smaller cutter, or say where with "place"',
    });
    return undefined;
  }
  const places = gridPlaces(asked.loop, grid, mirrored, free);
  tellPlaces(places, desk);
  return { size, places, clamps };
}

function tellPlaces(places: readonly Placement[], desk: Desk): void {
  const words = places.map((p) => `${desk.sayPoint(p.at)}${p.mirror ? ' mirrored' : ''}`).join('; ');
  desk.assume(`The places of the parts' 0,0 from the stock's corner are ${words}.`);
}

/** One entry a part: whether it is mirrored. Mirrored ones come last. */
function copiesOf(raw: RawJob, desk: Desk): readonly boolean[] | undefined {
  const placed = raw.place?.map((p) => p.mirror ?? false);
  if (raw.copies === undefined) return placed ?? [false];
  const { count } = raw.copies;
  const mirrored = raw.copies.mirrored ?? placed?.filter(Boolean).length ?? 0;
  if (mirrored > count) {
    desk.fault({
      code: 'copies-mirrored',
      at: ['copies', 'mirrored'],
      found: `${mirrored} of ${count} parts are to be mirrored`,
      wanted: 'at most as many as there are parts',
      remedy: 'mend count or mirrored',
    });
    return undefined;
  }
  if (placed === undefined) return Array.from({ length: count }, (_, i) => i >= count - mirrored);
  const found = `copies: ${count} parts, ${mirrored} mirrored; place: ${placed.length} parts, ${placed.filter(Boolean).length} mirrored`;
  if (placed.length !== count || placed.filter(Boolean).length !== mirrored) {
    desk.fault({
      code: 'copies-disagree',
      at: ['copies'],
      found,
      wanted: 'the same in both',
      remedy: 'take one of the two away',
    });
    return undefined;
  }
  return placed;
}

/** Stock for places that are given: their own margin at the corner, the same beyond. */
function sizeRound(reach: Box, slot: Mm, desk: Desk): readonly [Mm, Mm] {
  const margin = slot + CLAMP_STRIP.width + LEAST_CLAMP_STRIP;
  const size: readonly [Mm, Mm] = [
    Math.ceil(reach.maxX + Math.max(reach.minX, margin)),
    Math.ceil(reach.maxY + Math.max(reach.minY, slot)),
  ];
  desk.assume(
    `The stock is ${desk.say(size[0])} by ${desk.say(size[1])}: the places given, with the same margin on the far sides.`,
  );
  return size;
}

/** What is left of the stock when every clamp has pushed the nearest side inwards, on the axis where that costs least. */
function freeBox(size: readonly [Mm, Mm], clamps: readonly FromCorner[]): Box {
  let free: Box = { minX: 0, minY: 0, maxX: size[0], maxY: size[1] };
  for (const c of clamps) {
    if (c.kind === 'jaws') {
      free =
        c.axis === 'x'
          ? { ...free, minX: free.minX + c.grip, maxX: free.maxX - c.grip }
          : { ...free, minY: free.minY + c.grip, maxY: free.maxY - c.grip };
      continue;
    }
    const { box } = c;
    const choices: Box[] = [
      { ...free, minX: Math.max(free.minX, box.maxX) },
      { ...free, maxX: Math.min(free.maxX, box.minX) },
      { ...free, minY: Math.max(free.minY, box.maxY) },
      { ...free, maxY: Math.min(free.maxY, box.minY) },
    ];
    free = choices.reduce((best, b) => (areaOf(b) > areaOf(best) ? b : best));
  }
  return free;
}

function areaOf(b: Box): number {
  return Math.max(0, b.maxX - b.minX) * Math.max(0, b.maxY - b.minY);
}

function planSize(size: readonly [Mm, Mm, Mm]): readonly [Mm, Mm] {
  return [size[0], size[1]];
}

function fromCorner(c: NonNullable<RawJob['clamps']>[number]): FromCorner {
  if (c.kind === 'jaws') return { kind: 'jaws', axis: c.axis, grip: c.grip };
  const [[x0, y0], [x1, y1]] = [c.from, c.to];
  return {
    kind: 'block',
    height: c.height,
    box: { minX: Math.min(x0, x1), minY: Math.min(y0, y1), maxX: Math.max(x0, x1), maxY: Math.max(y0, y1) },
  };
}

function toProgram(c: FromCorner, zero: Point, above: Mm): Clamp {
  if (c.kind === 'jaws') return c;
  const { box } = c;
  return {
    kind: 'block',
    min: [box.minX - zero.x, box.minY - zero.y],
    max: [box.maxX - zero.x, box.maxY - zero.y],
    top: above + c.height,
  };
}

function stockOf(raw: RawJob, size: readonly [Mm, Mm], zero: Point, desk: Desk): Stock {
  const { thickness } = raw.part;
  const above = raw.stock?.above ?? 0;
  const high = raw.stock?.size[2] ?? thickness;
  // Sizes that differ only by rounding of the unit conversion are the same plate.
  const left = high - thickness - above;
  const below = Math.abs(left) < SAME_POINT ? 0 : left;
  if (raw.stock?.flatness === undefined)
    desk.assume(`The plate is taken to be flat within ${desk.say(USUAL_FLATNESS)}.`);
  if (raw.stock === undefined) desk.assume(`The stock is ${desk.say(thickness)} thick, as the part.`);
  return {
    min: [0 - zero.x, 0 - zero.y, -thickness - below],
    max: [size[0] - zero.x, size[1] - zero.y, above],
    above,
    below,
    measured: raw.stock?.measured ?? null,
    flatness: raw.stock?.flatness ?? USUAL_FLATNESS,
  };
}

function readUnder(raw: RawJob['under'], desk: Desk): Under {
  const usual = DEFAULT_UNDER.value;
  const kind = raw?.kind ?? usual.kind;
  const thickness = raw?.thickness ?? usual.thickness;
  const material =
    raw?.material === undefined
      ? UNDER_MATERIAL[kind]
      : (materialOf(raw.material, ['under', 'material'], desk)?.name ?? raw.material);
  if (raw === undefined)
    desk.assume(`Under the stock lies a sacrificial plate of ${material}, ${desk.say(thickness)} thick.`);
  else if (raw.material === undefined || raw.thickness === undefined)
    desk.assume(`The ${kind} under the stock is taken as ${material}, ${desk.say(thickness)} thick.`);
  return { kind, thickness, material };
}

/** What such things are usually made of (common practice): a sacrificial plate is soft, tables are grey iron, parallels hard. */
const UNDER_MATERIAL: Readonly<Record<Under['kind'], string>> = {
  plate: DEFAULT_UNDER.value.material,
  parallels: 'O1',
  vice: 'EN-GJL-250',
  table: 'EN-GJL-250',
};
