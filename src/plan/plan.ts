/**
 * CONTRACT: what will be cut, with which cutter, how fast and in which order. Program coordinates, millimetres.
 * Nothing here says how the part is held or where the cutter's centre runs.
 */
import type { Mm, MmPerMin, Newton, Rad, Rpm, Watt } from '../base/units.ts';
import type { Loop, Point, Region } from '../geometry/types.ts';
import type { Cutter, EdgeHole, Job, NoTab } from '../part/part.ts';

export interface Plan {
  readonly setups: readonly SetupPlan[];
  /** Cutters used, by number. */
  readonly cutters: readonly Cutter[];
  readonly climb: boolean;
  /** How low the profile goes: z of the last pass, below -thickness when cutting into a backing plate. */
  readonly profileBottom: Mm;
  /** Distance from the finished edge to the far wall of the widest slot round a part. */
  readonly slotWidth: Mm;
  /** Greatest radius that is touched off on the frame. */
  readonly touchRadius: Mm;
  /** Slopes of the path over a tab: climbing is free, coming down is limited by what the cutter can bite with its end. */
  readonly tabRamp: { readonly upDeg: number; readonly downDeg: number };
  /** Heads of screws fitted during the program, program coordinates: obstacles from then on. */
  readonly heads: readonly { readonly at: Point; readonly radius: Mm; readonly top: Mm }[];
  /** Stretches of edge, part axes, beside which the frame is cut away: no tab would reach it. */
  readonly bare: readonly NoTab[];
  /** Work left to the bench, a sentence each. */
  readonly bench: readonly string[];
}

export interface SetupPlan {
  readonly name: string;
  readonly operations: readonly Operation[];
  /** A part on edge, each in its turn; null: all parts in their plate. */
  readonly edge: EdgeStand | null;
}

/**
 * A part standing on edge for one hole. X0 on the hole's axis, X to the right as one looks at the upper face; Y0 in the
 * middle of the thickness; Z0 on the crown of the boss, Z up along the hole.
 */
export interface EdgeStand {
  readonly hole: EdgeHole;
  /** The part as it stands: a block with one blind hole, and where it is higher than the crown, clamps. Its places are one, at 0,0. */
  readonly job: Job;
  /** The part's edge as it stands, seen from the front: x is X, y is Z. */
  readonly loop: Loop;
  /** Radius of the hole's boss. */
  readonly radius: Mm;
  /** Where the bosses' centres lie. */
  readonly centres: readonly { readonly x: Mm; readonly z: Mm }[];
  /** Whether each part that is held like this is mirrored; a mirrored part stands with its lower face to the front. */
  readonly parts: readonly boolean[];
  /** Force of the jaws with which drilling has twice the grip it needs. */
  readonly grip: Newton;
}

export const OPERATION_KINDS = [
  'face',
  'spot',
  'drill',
  'ream',
  'tap',
  'countersink',
  'counterbore',
  'bore',
  'pocket',
  'rough',
  'finish',
  'chamfer',
  'lighten',
  'screw holes',
] as const;
export type OperationKind = (typeof OPERATION_KINDS)[number];

/** Least inside radius of roughing paths, as a share of the cutter's: a sharper corner makes the engagement jump. */
export const LEAST_ROUND_SHARE = 0.2;

/**
 * Where there is less room than this beside the cutter, as a share of its radius, the path is a slot first and comes back along
 * the other wall: openings up to 1.6 diameters wide. Coming back bites 102 degrees at most. Loops within the limit of engagement
 * took 13 to 40 times the blocks in slots 1.25 to 1.45 diameters wide and, 20 mm long, 1.5 (aluminium), 1.25 (brass) and 0.9 (C45) times the minutes.
 */
export const SLOT_FIRST_SHARE = 0.6;

/** Greatest radius of the corners of what is cut beyond an open side: no cutter that is used for pockets is wider. */
export const MOUTH_END: Mm = 3;

/** A path round an opening that is shorter than this, in radii of the cutter, is no ramp: the cutter would turn on the spot. */
export const LEAST_RAMP = 4;

export interface Operation {
  /** Position in the plan, from 0, unique over all set-ups. */
  readonly id: number;
  readonly what: OperationKind;
  /** For the program's comment and the sheet: `drill 2.05 for M2.5`. */
  readonly title: string;
  readonly cutter: number;
  readonly speed: Rpm;
  readonly feed: MmPerMin;
  /** Straight down, or the vertical part of a drill cycle. */
  readonly plungeFeed: MmPerMin;
  /** Of a wall's last pass, where the operation has one. */
  readonly finishFeed: MmPerMin;
  /** On a ramp or helix. */
  readonly rampFeed: MmPerMin;
  /** Greatest ramp angle, degrees. */
  readonly rampDeg: number;
  readonly target: Target;
  /** Each pass's z, descending; for holes a single entry: the depth of the point or end. */
  readonly depths: readonly Mm[];
  /** Each pass's z along a wall, where the operation finishes its walls; descending. */
  readonly finishDepths: readonly Mm[];
  /** z of the surface before this operation. */
  readonly from: Mm;
  /** Radial width of cut in the heaviest planned stretch; 0 for holes. */
  readonly widthOfCut: Mm;
  /** Greatest angle of engagement, outside entries and slots that are declared as such; pi: the operation is a slot. 0 for holes. */
  readonly engagement: Rad;
  /** Feed where no path keeps that limit. */
  readonly slotFeed: MmPerMin;
  /** Radial stock left standing for a later operation. */
  readonly allowance: Mm;
  /** Roughing slots: a second round this much further out at each depth; 0: none. */
  readonly widen: Mm;
  /** Finishing: how far beside the path the cutter may come down, in the slot that roughing left. */
  readonly leadAside: Mm;
  /** Finishing: times round; 2 with a spring pass. */
  readonly turns: number;
  /** Greatest factor on `feed` that the machine's fastest feed allows. */
  readonly feedCap: number;
  /** Peck of a drill cycle; null: straight through. */
  readonly peck: Mm | null;
  /** Dwell at the bottom, seconds. */
  readonly dwell: number;
  readonly coolant: 'none' | 'mist' | 'flood';
  /** Power at the spindle nose in the heaviest stretch. */
  readonly power: Watt;
  /** Greatest force on the part in the plane of the table, worst of the published force sets; 0 for holes. */
  readonly force: Newton;
  /** What decided each figure, one line each: `feed held by power: 320 of 350 W`. */
  readonly reasons: readonly string[];
  /**
   * Done by hand with the cutter in the spindle: it stands, off, over each hole at head room, and these lines are shown there. Speed
   * and feeds are 0. null: the program cuts.
   */
  readonly byHand: readonly string[] | null;
  /** A stop before this operation, with what to do. */
  readonly stopBefore: StopReason | null;
}

export type Target =
  | { readonly kind: 'holes'; readonly holes: readonly HoleTarget[] }
  | { readonly kind: 'outline'; readonly parts: readonly number[] }
  | {
      readonly kind: 'pocket';
      readonly parts: readonly number[];
      /** Position in the job's `part.pockets`. */
      readonly pocket: number;
      /** Diameter of a wider cutter that has cleared what it reaches; null: the pocket is whole. */
      readonly after: Mm | null;
      /** How far beyond open sides the cutter may be seen. */
      readonly out: Mm;
      /** Where a drill has made a hole to start in, part axes; null: the cutter gets down by itself. */
      readonly start: Point | null;
    }
  /** Areas beside each part, part axes: what a wider cutter will leave in corners of the outline, and room to come into it. */
  | { readonly kind: 'corners'; readonly parts: readonly number[]; readonly areas: readonly Region[] }
  | { readonly kind: 'bore'; readonly holes: readonly HoleTarget[]; readonly diameter: Mm }
  /** Top edges: the outline of each part and its bores. `reach`: distance from edge to the cutter's axis. */
  | {
      readonly kind: 'edges';
      readonly parts: readonly number[];
      /** False: only the bores. */
      readonly outline: boolean;
      readonly bores: readonly { readonly hole: number; readonly diameter: Mm }[];
      readonly reach: Mm;
    }
  /** A rectangle of stock top, program coordinates. */
  | { readonly kind: 'stock'; readonly min: Point; readonly max: Point }
  | { readonly kind: 'tabs' };

export interface HoleTarget {
  readonly part: number;
  /** Index in the job; null: only the start of a pocket. */
  readonly hole: number | null;
  readonly at: Point;
}

export type StopReason =
  | { readonly kind: 'swarf'; readonly lines: readonly string[] }
  | { readonly kind: 'measure'; readonly lines: readonly string[] }
  | { readonly kind: 'tap'; readonly lines: readonly string[] }
  | { readonly kind: 'screws'; readonly lines: readonly string[] }
  | { readonly kind: 'turn over'; readonly lines: readonly string[] };

/** The plan stage's own changes of a finished plan: what the holding tries for advice and comparison, without knowing how to plan. */
export interface PlanVariants {
  /** Roughing of this share of its depth, finishing of this share of its allowance. */
  readonly lighter: (plan: Plan, depth: number, allowance: number) => Plan;
  /** Flutes straight (0) or turned the other way (-1); null: they are so already. */
  readonly fluted: (plan: Plan, turn: 0 | -1) => Plan | null;
  /** The profile by the next smaller mill; null: there is none to try. */
  readonly smallerCutter: (job: Job, plan: Plan) => SmallerCutter | null;
  /** A last pass over each tab's top down to `z`, where the plan has none. */
  readonly thinning: (plan: Plan, z: Mm) => Plan;
}

export interface SmallerCutter {
  readonly plan: Plan;
  readonly diameter: Mm;
  /** Its number in the drawer; null: it is in none. */
  readonly drawer: number | null;
}

/** Force in the plane of the table that passes beside the part may have, as the holding carries it with its wanted margin; null: no limit known. */
export interface Ease {
  /** Passes with whole metal still below them. */
  readonly solid: Newton | null;
  /** The pass that goes through. */
  readonly through: Newton | null;
  readonly finishing: Newton | null;
  readonly lightening: Newton | null;
}

export const NO_EASE: Ease = { solid: null, through: null, finishing: null, lightening: null };
