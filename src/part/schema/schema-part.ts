/** The `part` of a job file: outline, holes, pockets, edge holes (design 4.2). */
import * as z from 'zod';
import { choice, coordinate, extent, flag, number, point, positive, type Scale, size, text, whole } from './leaves.ts';

/** Most of anything in a list: more than a small part can hold, few enough to answer at once. */
const MOST_ENTRIES = 500;
const MOST_VERTICES = 20_000;

export function outlineSchema(s: Scale) {
  return z
    .union([bosses(s), vertices(s), circle(s), slot(s), dxf(), svg()])
    .meta({ description: 'A closed edge: bosses and webs, vertices, a circle, a slot, or a loop out of a drawing' });
}

export function partSchema(s: Scale) {
  return z.strictObject({
    thickness: size(s, 'Thickness of the finished part'),
    outline: outlineSchema(s),
    holes: z.array(hole(s)).max(MOST_ENTRIES).meta({ description: 'Holes from the top face' }).optional(),
    pockets: z.array(pocket(s)).max(MOST_ENTRIES).meta({ description: 'Recesses and openings' }).optional(),
    edgeHoles: z
      .array(edgeHole(s))
      .max(MOST_ENTRIES)
      .meta({ description: 'Holes from the edge, at mid-thickness, made in the second set-up' })
      .optional(),
    chamfer: extent(s, 'Leg of the 45 degree chamfer on the top edges of outline and holes; 0: none').optional(),
    noTabs: z.array(noTab(s)).max(MOST_ENTRIES).meta({ description: 'Edges on which no tab may stand' }).optional(),
  });
}

function bosses(s: Scale) {
  const boss = z.strictObject({ at: point(s, 'Centre of the boss'), radius: size(s, 'Radius of the boss') });
  return z
    .strictObject({
      bosses: z.array(boss).min(1).max(100).meta({ description: 'Round ends and hubs' }),
      webs: z
        .array(z.tuple([whole(0, 'Index of a boss, from 0'), whole(0, 'Index of a boss, from 0')]))
        .max(300)
        .meta({ description: 'Pairs of bosses that are joined; left out: each boss to the next' })
        .optional(),
      fillet: extent(s, 'Radius rounding the inside corners where webs meet').optional(),
    })
    .meta({ description: 'Bosses joined by webs; each web is the hull of its two bosses' });
}

function vertices(s: Scale) {
  const x = coordinate(s, 'x');
  const y = coordinate(s, 'y');
  const bulge = number(-1000, 1000, 'Bulge: tan of a quarter of the included angle, counter-clockwise positive');
  const vertex = z.union([
    z.tuple([x, y]).transform(([x, y]) => ({ x, y, bulge: 0 })),
    z.tuple([x, y, bulge]).transform(([x, y, bulge]) => ({ x, y, bulge })),
  ]);
  return z
    .strictObject({
      vertices: z.array(vertex).min(2).max(MOST_VERTICES).meta({ description: 'Corners of a closed edge, in order' }),
    })
    .meta({ description: 'A closed edge by its corners' });
}

function circle(s: Scale) {
  const inner = z.strictObject({ at: point(s, 'Centre'), diameter: size(s, 'Diameter') });
  return z.strictObject({ circle: inner }).meta({ description: 'A round edge' });
}

function slot(s: Scale) {
  const inner = z.strictObject({
    from: point(s, 'Centre of one end'),
    to: point(s, 'Centre of the other end'),
    width: size(s, 'Width across'),
  });
  return z.strictObject({ slot: inner }).meta({ description: 'A slot with round ends' });
}

function dxf() {
  return z
    .strictObject({
      dxf: text('DXF file, relative to the job file'),
      layer: text('Layer that holds the loop').optional(),
    })
    .meta({ description: 'The outer loop of a DXF drawing' });
}

function svg() {
  return z
    .strictObject({ svg: text('SVG file, relative to the job file'), id: text('Id of the element').optional() })
    .meta({ description: 'The outer loop of an SVG drawing' });
}

function hole(s: Scale) {
  return z
    .strictObject({
      at: point(s, 'Centre of the hole'),
      drill: size(s, 'Drill of this very diameter').optional(),
      ream: size(s, 'Ream to this nominal diameter').optional(),
      tap: text('Thread: M3, M3x0.35, 6BA, ME 1/4x40, 2-56 UNC', 40).optional(),
      clear: text('Clearance hole for this screw: M3, 6BA', 40).optional(),
      bore: size(s, 'Bore out with a milling cutter to this diameter').optional(),
      fit: text('Hole class of ISO 286 for a reamed or bored hole: H7', 8).optional(),
      series: choice(['fine', 'medium', 'coarse'], 'Clearance by ISO 273; medium unless said').optional(),
      engagement: number(
        0.3,
        1,
        'Depth of thread as a fraction of the ISO overlap; left out: the standard tapping drill',
      ).optional(),
      depth: size(s, 'Depth of full diameter or full thread, point excluded; left out: through').optional(),
      countersink: z
        .union([
          z.boolean(),
          z.strictObject({
            diameter: size(s, 'Diameter at the top face'),
            angle: positive(170, 'Included angle, degrees; 90 unless said').optional(),
          }),
        ])
        .meta({ description: 'true: for the screw of a clearance hole, by ISO 15065' })
        .optional(),
      counterbore: z
        .strictObject({ diameter: size(s, 'Diameter'), depth: size(s, 'Depth') })
        .meta({ description: 'Flat-bottomed recess for a screw head' })
        .optional(),
    })
    .meta({ description: 'One hole: exactly one of drill, ream, tap, clear, bore' });
}

function pocket(s: Scale) {
  return z.strictObject({
    outline: outlineSchema(s),
    depth: size(s, 'Depth below the top face').optional(),
    through: flag('Right through').optional(),
    islands: z.array(outlineSchema(s)).max(100).meta({ description: 'Left standing inside the pocket' }).optional(),
  });
}

function edgeHole(s: Scale) {
  return z.strictObject({
    boss: whole(0, 'Index, from 0, of the boss whose centre the hole is aimed at'),
    direction: number(-360, 360, 'From the centre of the boss to the mouth of the hole, degrees from X'),
    drill: size(s, 'Drill of this very diameter').optional(),
    tap: text('Thread', 40).optional(),
    clear: text('Clearance hole for this screw', 40).optional(),
    series: choice(['fine', 'medium', 'coarse'], 'Clearance by ISO 273; medium unless said').optional(),
    engagement: number(0.3, 1, 'Depth of thread as a fraction of the ISO overlap').optional(),
    depth: size(s, 'Depth of full diameter or full thread'),
  });
}

function noTab(s: Scale) {
  return z.union([
    z.strictObject({ boss: whole(0, 'Index, from 0, of a boss whose edge is kept free') }),
    z.strictObject({
      from: point(s, 'Start of a stretch of edge'),
      to: point(s, 'End of it, counter-clockwise from the start'),
    }),
  ]);
}
