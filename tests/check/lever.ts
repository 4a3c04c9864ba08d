/**
 * A small lever and hand-made programs for it, written here without any of the product's path code: the edge of two bosses and
 * a web, offset by a radius, is again the edge of two bosses (a fact of convex figures), so its path is four pieces.
 */

import { arc, line } from '../../src/geometry/measure/segment.ts';
import type { Loop, Point } from '../../src/geometry/types.ts';
import type { Cutter, Job } from '../../src/part/part.ts';

export const AT: Point = { x: 22, y: 15 };
export const LENGTH = 32;
export const BIG = 6;
export const SMALL = 4;
export const T = 4;

export function cutter(number: number, kind: Cutter['kind'], diameter: number, more: Partial<Cutter> = {}): Cutter {
  const pointed =
    kind === 'drill' ? 118 : kind === 'spot drill' || kind === 'countersink' || kind === 'chamfer cutter' ? 90 : 180;
  return {
    number,
    kind,
    nominal: diameter,
    diameter,
    flutes: 2,
    fluteLength: 12,
    stickOut: 25,
    shank: 6,
    material: 'carbide',
    helixDeg: 30,
    centreCutting: kind === 'slot drill',
    cornerRadius: 0,
    pointDeg: pointed,
    tip: 0,
    lead: kind === 'reamer' ? 1.5 : 0,
    thread: null,
    holder: { diameter: 30, length: 40 },
    fromDrawer: false,
    ...more,
  };
}

/** Edge of the hull of two discs on the X axis, centres 0 and LENGTH, moved out by `by`: counter-clockwise loop. */
export function hullLoop(by: number, r1 = BIG, r2 = SMALL, length = LENGTH): Loop {
  const beta = Math.acos((r1 - r2) / length);
  const on = (x: number, r: number, angle: number): Point => ({ x: x + r * Math.cos(angle), y: r * Math.sin(angle) });
  const a = r1 + by;
  const b = r2 + by;
  return [
    line(on(0, a, -beta), on(length, b, -beta)),
    arc({ x: length, y: 0 }, b, -beta, 2 * beta),
    line(on(length, b, beta), on(0, a, beta)),
    arc({ x: 0, y: 0 }, a, beta, 2 * Math.PI - 2 * beta),
  ];
}

export function leverJob(change: Partial<Job> = {}, part: Partial<Job['part']> = {}): Job {
  return {
    name: 'test lever',
    units: 'mm',
    material: 'CuZn39Pb3',
    part: {
      thickness: T,
      outline: {
        loop: hullLoop(0),
        source: {
          kind: 'bosses',
          bosses: [
            { at: { x: 0, y: 0 }, radius: BIG },
            { at: { x: LENGTH, y: 0 }, radius: SMALL },
          ],
          webs: [[0, 1]],
          fillet: 0,
        },
        inner: [],
      },
      holes: [
        {
          index: 0,
          at: { x: 0, y: 0 },
          make: { kind: 'drill' },
          depth: null,
          diameter: 5,
          limits: null,
          countersink: null,
          counterbore: null,
        },
      ],
      pockets: [],
      edgeHoles: [],
      chamfer: 0,
      noTabs: [{ kind: 'boss', boss: 1 }],
      ...part,
    },
    stock: { min: [0, 0, -T], max: [75, 30, 0], above: 0, below: 0, measured: 4, flatness: 0.05 },
    under: { kind: 'plate', thickness: 6, material: 'EN-AW-6082-T6' },
    zero: 'stock',
    places: [{ at: AT, turn: 0, mirror: false }],
    clamps: [
      { kind: 'block', min: [0, 0], max: [8, 30], top: 12 },
      { kind: 'block', min: [67, 0], max: [75, 30], top: 12 },
    ],
    machine: {
      maxSpeed: 5000,
      minSpeed: 100,
      baseSpeed: 2500,
      power: 350,
      efficiency: 0.7,
      travel: [200, 150, 150],
      rapid: 1500,
      maxFeed: 800,
      acceleration: 200,
      backlash: 0.02,
      runout: 0.02,
      coolant: 'none',
      tapping: 'hand',
    },
    cutters: [
      cutter(1, 'end mill', 3, { shank: 3, centreCutting: true }),
      cutter(2, 'drill', 5, { fluteLength: 40, stickOut: 60, shank: 5 }),
      cutter(3, 'spot drill', 6, { fluteLength: 15 }),
      cutter(4, 'end mill', 2, { shank: 3 }),
    ],
    hold: { by: 'tabs', tabs: { count: 2, width: 2, height: 0.8, lightenTo: null, at: null } },
    finish: { allowance: 0.2, springPass: false, stopToMeasure: false, direction: 'climb', measured: null },
    post: 'standard',
    defaults: [],
    ...change,
  };
}

export interface Knobs {
  /** Extra distance of the profile from the edge; negative gouges. */
  readonly offset?: number;
  readonly bottom?: number;
  readonly tabHeight?: number;
  readonly tabWidth?: number;
  /** Width cut, when it shall differ from the width declared. */
  readonly cutWidth?: number;
  readonly drillDepth?: number;
  readonly drillAt?: Point;
  readonly withDrill?: boolean;
  readonly withProfile?: boolean;
  readonly passes?: readonly number[];
  readonly feed?: number;
  readonly speed?: number;
}

const n = (v: number) => Number(v.toFixed(4)).toString();

/** Program: drill the big boss, then run round the edge in passes, lifted over two tabs on the straight sides. */
export function leverProgram(k: Knobs = {}): string {
  const head = headLines(k);
  const body = [...(k.withDrill === false ? [] : drillLines(k)), ...(k.withProfile === false ? [] : profileLines(k))];
  return ['%', ...head, 'G17 G21 G40 G49 G54 G61 G80 G90 G94', ...body, 'M2', '%', ''].join('\n');
}

/** Middle of the two straight sides, with their outward normals in degrees: where the tabs stand. */
export function tabPlaces(): { at: Point; deg: number }[] {
  const loop = hullLoop(0);
  return [0, 2].map((i) => {
    const s = loop[i]!;
    const d = { x: s.b.x - s.a.x, y: s.b.y - s.a.y };
    const at = { x: AT.x + (s.a.x + s.b.x) / 2, y: AT.y + (s.a.y + s.b.y) / 2 };
    return { at, deg: (Math.atan2(-d.x, d.y) * 180) / Math.PI };
  });
}

export function headLines(k: Knobs = {}): string[] {
  const width = k.tabWidth ?? 2;
  const height = k.tabHeight ?? 0.8;
  const tabs = tabPlaces().map(
    ({ at, deg }, i) =>
      `(TAB ${i + 1} PART 1 AT X${n(at.x)} Y${n(at.y)} DIRECTION ${n(deg)} WIDTH ${n(width)} HEIGHT ${n(height)} FOOTPRINT ${n(width + 3)})`,
  );
  return [
    '(ZERO stock)',
    '(STOCK X0 Y0 Z-4 TO X75 Y30 Z0)',
    '(PART 1 AT X22 Y15 TURN 0 MIRROR no)',
    '(CUTTER 1 end mill D3)',
    '(CUTTER 2 drill D5)',
    '(HOLD tabs)',
    ...tabs,
  ];
}

function drillLines(k: Knobs): string[] {
  const at = k.drillAt ?? AT;
  return [
    'T2 M6',
    'M0',
    'G0 Z20',
    `G0 X${n(at.x)} Y${n(at.y)}`,
    'M3 S2000',
    `G98 G83 X${n(at.x)} Y${n(at.y)} Z${n(k.drillDepth ?? -6)} R1 Q2.5 F60`,
    'G80',
    'G0 Z20',
    'M5',
  ];
}

function profileLines(k: Knobs): string[] {
  const r = 1.5 + (k.offset ?? 0);
  const [south, east, north, west] = hullLoop(r) as unknown as [Loop[0], Loop[0], Loop[0], Loop[0]];
  const bottom = k.bottom ?? -4.1;
  const passes = k.passes ?? [-1.5, -3, bottom];
  const f = `F${k.feed ?? 120}`;
  const xy = (p: Point) => `X${n(AT.x + p.x)} Y${n(AT.y + p.y)}`;
  const lines = ['T1 M6', 'M0', 'G0 Z20', `G0 ${xy(south!.a)}`, `M3 S${k.speed ?? 4800}`, 'G0 Z1'];
  let z = 0;
  lines.push(`G1 Z0 ${f}`);
  for (const depth of passes) {
    // Ramp down along the first 8 mm of the south side, then run the loop to there again.
    const entry = mix(south!, 8 / 32);
    lines.push(`G1 ${xy(entry)} Z${n(depth)} ${f}`);
    lines.push(...side(south!, 8 / 32, depth, k), turn(east!, depth), ...side(north!, 0, depth, k), turn(west!, depth));
    lines.push(`G1 ${xy(entry)} Z${n(depth)}`, `G1 ${xy(south!.a)}`);
    z = depth;
  }
  void z;
  return [...lines, 'G0 Z20', 'M5'];

  function turn(s: Loop[0] | undefined, _z: number): string {
    const a = s as Extract<Loop[0], { kind: 'arc' }>;
    return `G3 ${xy(a.b)} I${n(a.centre.x - a.a.x)} J${n(a.centre.y - a.a.y)}`;
  }

  /** A straight side, lifted over the tab at its middle; the part from fraction `from`. */
  function side(s: Loop[0], _from: number, depth: number, knobs: Knobs): string[] {
    const lift = -T + (knobs.tabHeight ?? 0.8);
    if (depth >= lift) return [`G1 ${xy(s.b)} Z${n(depth)}`];
    const length = Math.hypot(s.b.x - s.a.x, s.b.y - s.a.y);
    const half = ((knobs.cutWidth ?? knobs.tabWidth ?? 2) / 2 + 1.5) / length;
    return [
      `G1 ${xy(mix(s, 0.5 - half))}`,
      `G1 Z${n(lift)}`,
      `G1 ${xy(mix(s, 0.5 + half))}`,
      `G1 Z${n(depth)}`,
      `G1 ${xy(s.b)}`,
    ];
  }
}

function mix(s: Loop[0], t: number): Point {
  return { x: s.a.x + (s.b.x - s.a.x) * t, y: s.a.y + (s.b.y - s.a.y) * t };
}
