/**
 * Random whole jobs for laws: levers and plates with holes of every kind, pockets with and without islands, slots, bores,
 * chamfers, copies and mirrored pairs, in every material, on every way of holding and for every post. A seed gives one job.
 */
import { MATERIAL_NAMES } from '../../src/trade/materials/materials.ts';
import { Draw, round } from './draw.ts';
import { shapePart } from './random-shapes.ts';

export interface RandomJob {
  readonly seed: number;
  readonly text: string;
  readonly post: 'standard' | 'plain' | 'lines' | 'inch';
  /** What the job has, for counting: `pocket`, `island`, `bore`, `copies`, `floor` ... */
  readonly has: readonly string[];
}

const POSTS = ['standard', 'plain', 'lines', 'inch'] as const;

type Hold = 'auto' | 'tabs' | 'lightened' | 'floor' | 'screws' | 'glue' | 'stub';
const HOLDS: readonly Hold[] = ['auto', 'tabs', 'lightened', 'floor', 'screws', 'glue', 'stub'];

export function randomJob(seed: number): RandomJob {
  const draw = new Draw(seed);
  const has = new Set<string>();
  const kind = draw.one(['plate', 'plate', 'lever', 'lever', 'shape', 'shape'] as const);
  const thickness = draw.chance(0.8) ? draw.between(1, 6, 0.5) : draw.one([8, 10]);
  const make = { plate: platePart, lever: leverPart, shape: shapePart }[kind];
  const part = make(draw, thickness, has);
  // On thinner plates the point reaches down to the tabs; that has tests of its own.
  const chamfer = draw.chance(0.4) && thickness >= 2.5 ? draw.between(0.1, 0.4, 0.1) : 0;
  if (chamfer > 0) has.add('chamfer');
  const count = draw.chance(0.3) ? draw.whole(2, 3) : 1;
  const mirrored = count > 1 && draw.chance(0.5) ? 1 : 0;
  if (count > 1) has.add(mirrored ? 'mirrored' : 'copies');
  const above = draw.chance(0.15) ? 0.5 : 0;
  if (above > 0) has.add('face');
  const hold = holdOf(draw, part, thickness, has);
  const { long, wide } = part;
  const size = [long + 60, count * (wide + 26) + 14, thickness + above];
  const job = {
    name: `random ${seed}`,
    material: draw.one(MATERIAL_NAMES),
    part: {
      thickness,
      outline: part.outline,
      holes: part.holes,
      ...(part.pockets.length > 0 ? { pockets: part.pockets } : {}),
      ...(chamfer > 0 ? { chamfer } : {}),
    },
    stock: { size, above, measured: thickness + above },
    ...(count > 1 ? { copies: { count, mirrored } } : { place: [{ at: [30 + part.left, 20 + part.low] }] }),
    clamps: [
      { from: [0, 0], to: [10, size[1]], height: 12 },
      { from: [size[0]! - 10, 0], to: [size[0], size[1]], height: 12 },
    ],
    ...(draw.chance(0.1) ? { under: { kind: draw.one(['vice', 'parallels', 'table']) } } : {}),
    machine: { travel: [400, 400, 250], backlash: draw.chance(0.2) ? 0.1 : 0.02 },
    hold,
    ...(draw.chance(0.2) ? { finish: { allowance: draw.between(0.1, 0.3, 0.05), springPass: draw.chance(0.3) } } : {}),
  };
  return { seed, text: JSON.stringify(job, null, 1), post: draw.one(POSTS), has: [...has].sort() };
}

export interface Drawn {
  readonly outline: object;
  readonly holes: object[];
  readonly pockets: object[];
  readonly long: number;
  readonly wide: number;
  /** From the part's 0,0 to its least x and y. */
  readonly left: number;
  readonly low: number;
  /** Radius of the first boss, where a stub can stand. */
  readonly boss?: number;
}

/** A plate with rounded or cut corners, a feature in each of a row of fields. */
function platePart(draw: Draw, thickness: number, has: Set<string>): Drawn {
  const fields = draw.whole(1, 3);
  const field = draw.between(17, 21, 1);
  const wide = draw.between(18, 24, 1);
  const long = fields * field + 6;
  const r = draw.between(2, 6, 1);
  // A quarter turn has a bulge of tan(22.5 degrees); 0 cuts the corner straight.
  const bulge = draw.chance(0.7) ? 0.414213562 : 0;
  const corner = (x: number, y: number, dx: number, dy: number, first: boolean) =>
    first ? [x + dx * r, y, bulge] : [x, y + dy * r];
  const vertices = [
    corner(0, 0, 1, 1, false),
    [r, 0],
    [long - r, 0, bulge],
    [long, r],
    [long, wide - r, bulge],
    [long - r, wide],
    [r, wide, bulge],
    [0, wide - r, bulge === 0 ? 0 : 0],
  ];
  const outline = { vertices: closed(vertices, bulge, r) };
  const holes: object[] = [];
  const pockets: object[] = [];
  for (let i = 0; i < fields; i++) {
    const at: [number, number] = [round(3 + field * (i + 0.5)), wide / 2];
    const feature = draw.one(['pocket', 'slot', 'bore', 'hole', 'island', 'polygon', 'through'] as const);
    has.add(feature);
    addFeature(feature, at, field - 5, wide - 5, thickness, draw, holes, pockets);
  }
  if (holes.length < 2) {
    holes.push({ at: [3.2, wide / 2], drill: 2.5 }, { at: [long - 3.2, wide / 2], clear: 'M2' });
    return { outline, holes, pockets, long, wide, left: 0, low: 0 };
  }
  return { outline, holes, pockets, long, wide, left: 0, low: 0 };
}

/** The last corner, from the left side down to the start, carries its bulge on the last vertex. */
function closed(vertices: number[][], bulge: number, r: number): number[][] {
  const out = vertices.slice(1);
  out[out.length - 1] = [0, vertices[vertices.length - 1]![1]!];
  out.push([0, r, bulge]);
  return out;
}

function addFeature(
  feature: 'pocket' | 'slot' | 'bore' | 'hole' | 'island' | 'polygon' | 'through',
  at: readonly [number, number],
  roomX: number,
  roomY: number,
  thickness: number,
  draw: Draw,
  holes: object[],
  pockets: object[],
): void {
  const [x, y] = at;
  const depth = round(Math.max(0.3, Math.min(thickness - 0.4, draw.between(0.3, 0.7, 0.1) * thickness)));
  const half = roomX / 2;
  switch (feature) {
    case 'pocket':
      pockets.push({
        outline: {
          bosses: [
            { at: [round(x - half + 3.5), y], radius: 3.5 },
            { at: [round(x + half - 2.5), y + draw.between(-2, 2, 0.5)], radius: 2.5 },
          ],
        },
        depth,
      });
      return;
    case 'through':
      pockets.push({ outline: { circle: { at, diameter: draw.between(7, 11, 0.5) } }, through: true });
      return;
    case 'slot':
      pockets.push({
        outline: { slot: { from: [x - 4, y], to: [x + 4, y], width: draw.one([3, 3.2, 4, 5]) } },
        ...(draw.chance(0.5) ? { depth } : { through: true }),
      });
      return;
    case 'island':
      pockets.push({
        outline: { circle: { at, diameter: Math.min(roomX, roomY) } },
        islands: [{ circle: { at: [x + draw.between(-0.5, 0.5, 0.25), y], diameter: draw.between(2, 3, 0.5) } }],
        depth,
      });
      return;
    case 'polygon':
      pockets.push({ outline: { vertices: starShape(x, y, Math.min(half, roomY / 2), draw) }, depth });
      return;
    case 'bore':
      holes.push({ at, bore: draw.between(4.2, 11, 0.1) });
      return;
    case 'hole':
      holes.push({ at, ...draw.one(holeKinds(thickness)) });
      return;
  }
}

/** A polygon seen whole from its middle, with sharp and blunt inside corners. */
function starShape(x: number, y: number, most: number, draw: Draw): number[][] {
  const n = draw.whole(4, 7);
  return Array.from({ length: n }, (_, i) => {
    const a = (2 * Math.PI * (i + 0.6 * (draw.unit() - 0.5))) / n;
    const r = most * (0.6 + 0.4 * draw.unit());
    return [round(x + r * Math.cos(a)), round(y + r * Math.sin(a))];
  });
}

function holeKinds(thickness: number): readonly object[] {
  return [
    { ream: 5, fit: 'H7' },
    { tap: 'M3' },
    { clear: 'M3' },
    { drill: 3.3 },
    { clear: 'M4', series: 'fine' },
    { tap: '4BA' },
    { tap: '6-32 UNC' },
    { ream: 3 },
    ...(thickness >= 4
      ? [
          { drill: 2.5, depth: 2 },
          { clear: 'M3', countersink: true },
        ]
      : []),
  ];
}

/** Two or three bosses in a chain. */
function leverPart(draw: Draw, thickness: number, has: Set<string>): Drawn {
  const count = draw.chance(0.5) ? 2 : 3;
  const bosses = [{ at: [0, 0], radius: draw.between(5, 8, 0.5) }];
  let x = 0;
  for (let i = 1; i < count; i++) {
    x += draw.between(18, 28, 1);
    bosses.push({ at: [x, draw.between(-6, 6, 0.5)], radius: draw.between(4, 6, 0.5) });
  }
  const kinds = holeKinds(thickness).filter((k) => !('depth' in k));
  const holes: object[] = bosses.map((b) => ({ at: b.at, ...draw.one(kinds) }));
  if (draw.chance(0.4)) {
    has.add('bore');
    holes[0] = { at: [0, 0], bore: draw.between(4.2, 6.4, 0.1) };
  }
  const low = Math.min(...bosses.map((b) => b.at[1]! - b.radius));
  const high = Math.max(...bosses.map((b) => b.at[1]! + b.radius));
  const right = Math.max(...bosses.map((b) => b.at[0]! + b.radius));
  const left = bosses[0]!.radius;
  has.add('lever');
  return {
    outline: { bosses, ...(count === 3 ? { fillet: draw.one([2, 3]) } : {}) },
    holes,
    pockets: [],
    long: right + left,
    wide: high - low,
    left,
    low: -low,
    boss: left,
  };
}

function holdOf(draw: Draw, part: Drawn, thickness: number, has: Set<string>): unknown {
  const by = draw.one(HOLDS);
  has.add(by);
  const height = Math.max(0.3, Math.min(1, round(thickness * 0.3)));
  switch (by) {
    case 'auto':
      return 'auto';
    case 'tabs':
      return { by: 'tabs', tabs: { count: draw.whole(2, 4), width: 1.5, height } };
    case 'lightened':
      return { by: 'tabs', tabs: { count: 3, width: 2, height, lightenTo: round(height / 2) } };
    case 'floor':
      return { by: 'floor', thickness: 0.2 };
    case 'screws': {
      const index = part.holes.findIndex((h) => 'bore' in h && (h as { bore: number }).bore > 4.2);
      return index < 0
        ? 'auto'
        : { by: 'screws', through: [index], thread: 'M4', tabs: { count: 2, width: 1.5, height } };
    }
    case 'stub':
      return part.boss === undefined
        ? 'auto'
        : { by: 'stub', at: 0, direction: 180, width: round(Math.min(8, 1.2 * part.boss)) };
    case 'glue':
      return { by: 'glue', shear: 8, tension: 4, wetted: 0.7 };
  }
}
