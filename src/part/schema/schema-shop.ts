/** Stock, clamps, machine and cutters of a job file (design 4.2). */
import * as z from 'zod';
import { CUTTER_KINDS } from '../part.ts';
import {
  choice,
  coordinate,
  extent,
  flag,
  number,
  point,
  positive,
  rate,
  type Scale,
  size,
  sizes,
  text,
  whole,
} from './leaves.ts';

export const UNITS = choice(['mm', 'inch'], 'Units of every length in this file; mm unless said');

export function stockSchema(s: Scale) {
  return z.strictObject({
    size: sizes(s, 'Length, width and thickness of the piece of stock'),
    above: extent(s, 'Part of the thickness that stands over the finished top face').optional(),
    measured: size(s, 'Thickness of the plate as measured').optional(),
    flatness: extent(s, 'Greatest departure from flat').optional(),
  });
}

export function underSchema(s: Scale) {
  return z.strictObject({
    kind: choice(['plate', 'parallels', 'vice', 'table'], 'What lies beneath; plate unless said').optional(),
    thickness: size(s, 'Its thickness').optional(),
    material: text('Its material').optional(),
  });
}

export function placeSchema(s: Scale) {
  return z.strictObject({
    at: point(s, "Place of the part's 0,0, from the stock's corner of least x and y"),
    turn: number(-360, 360, 'Turn about 0,0, degrees counter-clockwise').optional(),
    mirror: flag("Turn x to -x in the part's own axes first").optional(),
  });
}

export function clampSchema(s: Scale) {
  const corner = (description: string) => z.tuple([coordinate(s, 'x'), coordinate(s, 'y')]).meta({ description });
  return z.union([
    z.strictObject({
      kind: z.literal('block').meta({ description: 'A clamp standing on the stock' }).optional(),
      from: corner("Corner of least x and y, from the stock's corner"),
      to: corner('Opposite corner'),
      height: size(s, "Height above the stock's top"),
    }),
    z.strictObject({
      kind: z.literal('jaws').meta({ description: 'Vice jaws; nothing stands above the stock' }),
      axis: choice(['x', 'y'], 'Axis along which the jaws close'),
      grip: size(s, 'Length of stock in each jaw along that axis'),
    }),
  ]);
}

export function machineSchema(s: Scale) {
  return z.strictObject({
    maxSpeed: positive(100_000, 'Highest spindle speed, rev/min').optional(),
    minSpeed: positive(100_000, 'Lowest spindle speed, rev/min').optional(),
    baseSpeed: positive(100_000, 'Full power from this speed up, rev/min').optional(),
    power: positive(20_000, 'Power of the motor, W').optional(),
    efficiency: positive(1, 'Part of it that reaches the spindle').optional(),
    travel: sizes(s, 'Travel of the axes').optional(),
    rapid: rate(s, 'Rapid, a minute').optional(),
    maxFeed: rate(s, 'Fastest feed, a minute').optional(),
    acceleration: rate(s, 'Acceleration, a second squared').optional(),
    backlash: extent(s, 'Backlash').optional(),
    runout: extent(s, 'Runout at the cutter, full indicator reading').optional(),
    coolant: choice(['none', 'mist', 'flood'], 'Coolant').optional(),
    tapping: choice(['hand', 'machine'], 'Who turns the tap').optional(),
  });
}

export function cutterSchema(s: Scale) {
  return z.strictObject({
    number: whole(1, 'Number in the program (T word)', 9999),
    kind: choice(CUTTER_KINDS, 'Kind of cutter'),
    diameter: size(s, 'Diameter as marked; of a tap it may be left out').optional(),
    measured: size(s, 'Diameter as measured; replaces the marked one').optional(),
    flutes: whole(1, 'Teeth', 20).optional(),
    fluteLength: size(s, 'Length that cuts').optional(),
    stickOut: size(s, 'From the holder to the end').optional(),
    shank: size(s, 'Diameter of the shank').optional(),
    material: choice(['HSS', 'carbide'], 'Material of the cutter').optional(),
    helix: number(-60, 60, 'Helix angle, degrees; negative: left-hand').optional(),
    centreCutting: flag('May go straight down').optional(),
    cornerRadius: extent(s, 'Radius of the corners of an end mill').optional(),
    point: positive(180, 'Included angle of a drill point, degrees').optional(),
    angle: positive(180, 'Included angle of a spot drill, countersink or chamfer cutter, degrees').optional(),
    tip: extent(s, 'Width of the flat at the end of a countersink or chamfer cutter; 0: sharp').optional(),
    lead: extent(s, 'Length of lead of a reamer or tap').optional(),
    thread: text('Thread of a tap', 40).optional(),
    holder: z
      .strictObject({ diameter: size(s, 'Diameter'), length: size(s, 'Length') })
      .meta({ description: 'Chuck or collet holder above the stick-out' })
      .optional(),
  });
}

/** A separate file of cutters: the bare list, or the list with its units. */
export function drawerFileSchema(s: Scale) {
  return z.strictObject({
    $schema: text('Schema for an editor', 500).optional(),
    units: UNITS.optional(),
    cutters: z.array(cutterSchema(s)).min(1).max(500),
  });
}

/** A separate machine file: its units beside the figures. */
export function machineFileSchema(s: Scale) {
  return machineSchema(s).extend({ $schema: text('Schema for an editor', 500).optional(), units: UNITS.optional() });
}
