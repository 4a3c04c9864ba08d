/**
 * The job file as a schema (design 4.2): every key, its meaning, its limits. From this one definition come the reading
 * of a job, the nearest known key for a misspelt one, and the JSON Schema an editor uses for completion.
 */
import * as z from 'zod';
import { choice, extent, flag, number, point, positive, type Scale, size, text, whole } from './leaves.ts';
import { type outlineSchema, partSchema } from './schema-part.ts';
import {
  clampSchema,
  cutterSchema,
  machineSchema,
  placeSchema,
  stockSchema,
  UNITS,
  underSchema,
} from './schema-shop.ts';

export type RawJob = z.output<ReturnType<typeof jobSchema>>;
export type RawOutline = z.output<ReturnType<typeof outlineSchema>>;
export type RawHole = NonNullable<RawJob['part']['holes']>[number];
export type RawPocket = NonNullable<RawJob['part']['pockets']>[number];
export type RawEdgeHole = NonNullable<RawJob['part']['edgeHoles']>[number];
export type RawCutter = z.output<ReturnType<typeof cutterSchema>>;
export type RawMachine = z.output<ReturnType<typeof machineSchema>>;
export type RawHold = NonNullable<RawJob['hold']>;

/** The schema of a whole job whose lengths are in units of `s` millimetres; its output is in millimetres. */
export function jobSchema(s: Scale): ReturnType<typeof buildJobSchema> {
  const known = BUILT.get(s) ?? buildJobSchema(s);
  BUILT.set(s, known);
  return known;
}

/** Building takes ten times as long as reading a job; a schema never changes, so one of each kind of units is kept. */
const BUILT = new Map<Scale, ReturnType<typeof buildJobSchema>>();

function buildJobSchema(s: Scale) {
  return z.strictObject({
    $schema: text('Schema for an editor', 500).optional(),
    name: text('Name of the job; the files made are called after it', 100).optional(),
    units: UNITS.optional(),
    material: text('Standard designation of the material: CuZn39Pb3, S275JR, EN-AW-6082-T6', 60),
    part: partSchema(s),
    stock: stockSchema(s).meta({ description: 'The piece of plate; left out: just big enough' }).optional(),
    under: underSchema(s).meta({ description: 'What lies under the stock' }).optional(),
    zero: choice(['stock', 'part'], "Program X0 Y0: the stock's corner of least x and y, or part 1's 0,0").optional(),
    place: z
      .array(placeSchema(s))
      .min(1)
      .max(200)
      .meta({ description: 'Where each part lies in the stock' })
      .optional(),
    copies: z
      .strictObject({
        count: whole(1, 'Parts altogether', 200),
        mirrored: whole(0, 'How many of them are mirrored', 200).optional(),
      })
      .meta({ description: 'How many; laid out in rows unless place says where' })
      .optional(),
    clamps: z.array(clampSchema(s)).max(50).meta({ description: 'Clamps on the stock' }).optional(),
    machine: z
      .union([machineSchema(s), text('Machine file, relative to the job file')])
      .meta({ description: 'The mill, or the name of a file that describes it' })
      .optional(),
    cutters: z
      .union([z.array(cutterSchema(s)).min(1).max(500), text('Cutter file, relative to the job file')])
      .meta({ description: 'The cutters to hand, or the name of a file that lists them' })
      .optional(),
    hold: holdSchema(s).optional(),
    finish: finishSchema(s).optional(),
    post: text('Dialect of the program: the name of a file in posts/', 60).optional(),
  });
}

function holdSchema(s: Scale) {
  const tabs = z.strictObject({
    count: whole(1, 'How many tabs on each part', 50).optional(),
    width: size(s, 'Waist along the edge').optional(),
    height: size(s, "Height from the part's lower face").optional(),
    lightenTo: size(s, 'Height after a light last pass').optional(),
    at: z
      .array(point(s, 'On the edge'))
      .min(1)
      .max(50)
      .meta({ description: 'Places on the edge, part axes' })
      .optional(),
  });
  return z
    .union([
      z.literal('auto'),
      z.discriminatedUnion('by', [
        z.strictObject({ by: z.literal('tabs'), tabs: tabs.optional() }),
        z.strictObject({ by: z.literal('floor'), thickness: size(s, 'Floor left under the slot').optional() }),
        z.strictObject({
          by: z.literal('screws'),
          through: z
            .array(whole(0, 'Index of a hole, from 0'))
            .min(1)
            .max(50)
            .meta({ description: 'Holes that carry screws' }),
          thread: text('Thread of the screws', 40),
          tabs: tabs.optional(),
        }),
        z.strictObject({
          by: z.literal('glue'),
          shear: positive(100, 'Allowable shear stress, already derated, N/mm2').optional(),
          tension: positive(100, 'Allowable tension, already derated, N/mm2').optional(),
          wetted: positive(1, 'Part of the area that is wetted').optional(),
        }),
        z.strictObject({
          by: z.literal('stub'),
          at: z.union([whole(0, 'Index of a boss, from 0'), point(s, 'A place on the edge')]),
          direction: number(-360, 360, 'Outward, degrees counter-clockwise from X'),
          width: size(s, 'Width of the stub'),
        }),
      ]),
    ])
    .meta({ description: 'How the part is held while it is cut' });
}

const MEASURED_FEATURES = ['outside', 'inside', 'bore', 'pocket', 'slot'] as const;

function finishSchema(s: Scale) {
  return z.strictObject({
    allowance: extent(s, 'Left on the edge by roughing').optional(),
    springPass: flag('Run the finishing pass twice').optional(),
    stopToMeasure: flag('Stop before finishing, to measure').optional(),
    direction: choice(['climb', 'conventional', 'auto'], 'Way round; auto by the backlash').optional(),
    measured: z
      .strictObject({
        feature: choice(MEASURED_FEATURES, 'What was measured on the part last cut'),
        nominal: size(s, 'What it should have been'),
        actual: size(s, 'What it was'),
      })
      .meta({
        description:
          'Measured on a part that was cut with the diameters as marked: corrects the effective diameter of the mills',
      })
      .optional(),
  });
}
