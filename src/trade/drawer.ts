/**
 * The stated drawer: the cutters taken to be at hand when a job names none. Each says why it is there.
 * A person whose drawer differs states their own; every default taken is listed on the sheet.
 */
import type { Deg, Mm } from '../base/units.ts';
import type { CutterMaterialName } from './materials/material-rows.ts';
import type { Sourced, SourceMark } from './source.ts';
import { type DrillSize, drillNamed, FRACTION_DRILLS, SET_1_TO_13 } from './threads/drills.ts';
import { THREADS, type Thread } from './threads/threads.ts';

export type DrawerKind =
  | 'end mill'
  | 'slot drill'
  | 'spot drill'
  | 'drill'
  | 'reamer'
  | 'tap'
  | 'countersink'
  | 'chamfer cutter';

/** One cutter. `source` and `mark` are of its lengths; `reason` says why the drawer has it. */
export interface DrawerCutter extends Sourced {
  readonly kind: DrawerKind;
  readonly diameter: Mm;
  readonly flutes: number;
  readonly fluteLength: Mm;
  readonly stickOut: Mm;
  readonly shank: Mm;
  readonly material: CutterMaterialName;
  readonly helix: Deg;
  readonly centreCutting: boolean;
  readonly cornerRadius: Mm;
  /** Included angle of the point; 180 for flat ends. */
  readonly point: Deg;
  /** Diameter of the flat at the tip of a cone. */
  readonly tip: Mm;
  readonly lead: Mm;
  readonly thread: string | null;
  readonly reason: string;
}

export interface Holder extends Sourced {
  readonly diameter: Mm;
  readonly length: Mm;
}

/** Nut and nose of a small collet chuck. */
export const DRAWER_HOLDER: Holder = {
  diameter: 30,
  length: 40,
  source: 'small collet chuck (ISO 15488 size 16-20)',
  mark: 'common practice',
};

/** A tap of the thread: the job names the thread, so its tap is taken to be there. Plug tap with a lead of four pitches. */
export function drawerTap(thread: Thread): DrawerCutter {
  const fluteLength = TAP_LENGTHS.find(([upTo]) => thread.major <= upTo)![1];
  return {
    ...PLAIN,
    kind: 'tap',
    diameter: thread.major,
    thread: thread.name,
    lead: 4 * thread.pitch,
    ...{
      flutes: thread.major <= 2 ? 2 : 3,
      fluteLength,
      stickOut: fluteLength + 10,
      shank: Math.max(2.8, thread.major),
    },
    reason: 'the tap of every thread that a job names, turned by hand unless the machine taps',
    source: 'ISO 529 thread lengths',
    mark: 'from memory',
  };
}

/** Twist drill of jobber length. */
export function drawerDrill(size: DrillSize, reason: string): DrawerCutter {
  const fluteLength = JOBBER_FLUTES.find(([upTo]) => size.diameter <= upTo)![1];
  return {
    ...PLAIN,
    kind: 'drill',
    diameter: size.diameter,
    shank: size.diameter,
    point: 118,
    centreCutting: true,
    fluteLength,
    stickOut: fluteLength + 8,
    reason,
    source: 'ISO 235 / DIN 338 flute lengths',
    mark: 'from memory',
  };
}

/** Everything but taps, in a fixed order: mills, spot drill, countersinks, chamfer cutter, reamers, drills by size. */
export function defaultDrawer(): readonly DrawerCutter[] {
  return [...MILLS, ...CONES, ...REAMERS, ...drawerDrills()];
}

/** Drills 1-13 by 0.1, the tapping sizes, 1/64 in steps to 1/2 in; one of each diameter, by size. */
export function drawerDrills(): readonly DrawerCutter[] {
  const tapping = THREADS.map((t) => drawerDrill(tapDrillSize(t), `tapping drill of ${t.name}`));
  const all = [
    ...SET_1_TO_13.map((d) => drawerDrill(d, 'the set nearly every workshop owns')),
    ...tapping,
    ...FRACTION_DRILLS.map((d) => drawerDrill(d, 'inch set, 1/64 steps to 1/2')),
  ].toSorted((a, b) => a.diameter - b.diameter);
  return all.filter((d, i) => all.findIndex((e) => Math.abs(e.diameter - d.diameter) < SAME_DRILL) === i);
}

/** Drills nearer than this are one drill. */
const SAME_DRILL: Mm = 0.001;

const PLAIN: Omit<DrawerCutter, 'kind' | 'diameter' | 'fluteLength' | 'stickOut' | 'shank' | 'reason' | keyof Sourced> =
  {
    flutes: 2,
    material: 'HSS',
    helix: 30,
    centreCutting: false,
    cornerRadius: 0,
    point: 180,
    tip: 0,
    lead: 0,
    thread: null,
  };

function tapDrillSize(t: Thread): DrillSize {
  const { diameter, name, source, mark } = t.tapDrill;
  return { diameter, name, source, mark, series: drillNamed(name)?.series ?? 'metric' };
}

function mill(
  kind: 'end mill' | 'slot drill',
  material: CutterMaterialName,
  diameter: Mm,
  lengths: readonly [flute: Mm, stickOut: Mm, shank: Mm],
  reason: string,
): DrawerCutter {
  const [fluteLength, stickOut, shank] = lengths;
  const source = material === 'carbide' ? 'DIN 6527 long series' : 'DIN 327 / DIN 844 short series';
  return {
    ...PLAIN,
    kind,
    material,
    diameter,
    fluteLength,
    stickOut,
    shank,
    centreCutting: true,
    reason,
    source,
    mark: 'from memory',
  };
}

/** Two flutes, centre cutting: chips get out of slots, the cutter can go straight down, and one drawer does for all metals. */
const MILLS: readonly DrawerCutter[] = [
  mill('end mill', 'carbide', 2, [6, 18, 6], 'inside corners of 1 mm; carbide, because it is three times as stiff'),
  mill('end mill', 'carbide', 3, [9, 18, 6], 'the working size for plate up to 4 mm; carbide for stiffness'),
  mill('end mill', 'carbide', 4, [11, 18, 6], 'plate up to 8 mm with a slot of 4 mm; carbide for stiffness'),
  mill('end mill', 'carbide', 6, [13, 20, 6], 'roughing and finishing of plate to 10 mm'),
  mill('slot drill', 'HSS', 4, [7, 18, 6], 'HSS stands backlash and interrupted cuts that chip carbide'),
  mill('slot drill', 'HSS', 6, [13, 20, 6], 'HSS stands backlash and interrupted cuts that chip carbide'),
  mill('slot drill', 'HSS', 10, [16, 28, 10], 'facing and clearing wide stock'),
];

function cone(
  kind: 'spot drill' | 'countersink' | 'chamfer cutter',
  material: CutterMaterialName,
  diameter: Mm,
  [flutes, tip, shank]: readonly [number, Mm, Mm],
  reason: string,
  [source, mark]: readonly [string, SourceMark],
): DrawerCutter {
  // A 90 degree cone is half as long as its diameter; the flutes behind it are not used.
  const fluteLength = (diameter - tip) / 2;
  return {
    ...PLAIN,
    kind,
    material,
    diameter,
    flutes,
    tip,
    shank,
    fluteLength,
    stickOut: 25,
    helix: 0,
    point: 90,
    reason,
    source,
    mark,
  };
}

const DIN_335 = ['DIN 335 form C', 'from memory'] as const;
const SHOP = ['trade practice', 'common practice'] as const;
const CONES: readonly DrawerCutter[] = [
  cone('spot drill', 'HSS', 6, [2, 0, 6], 'starts every drill and chamfers small holes in one go', SHOP),
  cone('countersink', 'HSS', 6.3, [3, 1.5, 5], 'screw heads to M3 and deburring', DIN_335),
  cone('countersink', 'HSS', 12.4, [3, 2.8, 8], 'screw heads to M5', DIN_335),
  cone('countersink', 'HSS', 20.5, [3, 3.5, 10], 'screw heads to M8', DIN_335),
  cone('chamfer cutter', 'carbide', 6, [2, 0, 6], 'chamfers the top edge with its point in the open slot', SHOP),
];

/** [diameter, cutting length] of machine reamers. */
const REAMER_ROWS: readonly (readonly [Mm, Mm])[] = [
  [2, 11],
  [2.5, 14],
  [3, 15],
  [4, 19],
  [5, 23],
  [6, 26],
  [7, 31],
  [8, 33],
  [9, 36],
  [10, 38],
  [12, 44],
];

/** The usual fractions from 1/8 to 1/2 in, with the cutting lengths of the metric range they fall into. */
const INCH_REAMER_ROWS: readonly (readonly [Mm, Mm])[] = [
  [25.4 / 8, 16],
  [(25.4 * 5) / 32, 19],
  [(25.4 * 3) / 16, 23],
  [25.4 / 4, 28],
  [(25.4 * 5) / 16, 33],
  [(25.4 * 3) / 8, 38],
  [25.4 / 2, 44],
];

/** A lead of 1.5 mm is that of machine reamers, hand reamers have a quarter of their length. */
function reamerRow([diameter, fluteLength]: readonly [Mm, Mm], reason: string): DrawerCutter {
  return {
    ...PLAIN,
    kind: 'reamer',
    diameter,
    fluteLength,
    stickOut: fluteLength + 12,
    shank: diameter,
    lead: 1.5,
    helix: 0,
    flutes: diameter <= 3 ? 4 : 6,
    reason,
    source: 'DIN 212 cutting lengths',
    mark: 'from memory',
  };
}

const REAMERS: readonly DrawerCutter[] = [
  ...REAMER_ROWS.map((row) => reamerRow(row, 'common whole sizes of arbors and pins')),
  ...INCH_REAMER_ROWS.map((row) => reamerRow(row, 'common fractions of an inch')),
].toSorted((a, b) => a.diameter - b.diameter);

/** [up to diameter, flute length]: jobber drills. */
const JOBBER_FLUTES: readonly (readonly [Mm, Mm])[] = [
  [0.48, 5],
  [0.53, 6],
  [0.6, 7],
  [0.67, 8],
  [0.75, 9],
  [0.85, 10],
  [0.95, 11],
  [1.06, 12],
  [1.18, 14],
  [1.32, 16],
  [1.5, 18],
  [1.7, 20],
  [1.9, 22],
  [2.12, 24],
  [2.36, 27],
  [2.65, 30],
  [3, 33],
  [3.35, 36],
  [3.75, 39],
  [4.25, 43],
  [4.75, 47],
  [5.3, 52],
  [6, 57],
  [6.7, 63],
  [7.5, 69],
  [8.5, 75],
  [9.5, 81],
  [10.6, 87],
  [11.8, 94],
  [13.2, 101],
];

/** [up to major diameter, thread length]. */
const TAP_LENGTHS: readonly (readonly [Mm, Mm])[] = [
  [1.2, 5.5],
  [1.4, 7],
  [2, 8],
  [2.5, 9.5],
  [3, 11],
  [4, 13],
  [5, 16],
  [6.35, 19],
  [8, 22],
  [10, 24],
  [12.7, 29],
];
