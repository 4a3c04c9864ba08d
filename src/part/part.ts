/**
 * CONTRACT: the whole validated job. Every length in millimetres whatever the job file's units, every default filled in.
 *
 * Axes: X right, Y away, Z up. Z0 is the finished top face; the part fills z = 0 to -thickness.
 * The part (outline, holes, pockets) is in the part's own axes. Everything else that has a place
 * (stock, places, clamps) is in *program coordinates*: already shifted to the job's `zero`.
 */

import type { Deg, Mm, MmPerMin, Rpm, Stress, Watt } from '../base/units.ts';
import type { Placement } from '../geometry/measure/transform.ts';
import type { Chain, Loop, Point } from '../geometry/types.ts';

export interface Job {
  readonly name: string;
  /** Units the job file was written in; inputs are converted, nothing later depends on it but what is told to the person. */
  readonly units: 'mm' | 'inch';
  /** Standard designation, a key of `trade/materials`. */
  readonly material: string;
  readonly part: Part;
  readonly stock: Stock;
  readonly under: Under;
  readonly zero: 'stock' | 'part';
  /** One entry a part, program coordinates. */
  readonly places: readonly Placement[];
  readonly clamps: readonly Clamp[];
  readonly machine: Machine;
  readonly cutters: readonly Cutter[];
  readonly hold: HoldRequest;
  readonly finish: Finish;
  /** Name of a file in `posts/`. */
  readonly post: string;
  /** Every default taken, a sentence each, for the sheet. */
  readonly defaults: readonly string[];
}

export interface Part {
  readonly thickness: Mm;
  readonly outline: Outline;
  readonly holes: readonly Hole[];
  readonly pockets: readonly Pocket[];
  readonly edgeHoles: readonly EdgeHole[];
  /** Leg at 45 degrees on the top edges of outline and holes; 0: none. */
  readonly chamfer: Mm;
  readonly noTabs: readonly NoTab[];
}

/** A closed edge as one counter-clockwise loop, with what it was made from (the check measures to the source). */
export interface Outline {
  readonly loop: Loop;
  readonly source: OutlineSource;
  /** Inner loops found in a drawing: listed, never cut. */
  readonly inner: readonly Loop[];
  /** How the loop came from what the source gives; absent: it is that. */
  readonly cut?: CutOutline;
}

export interface CutOutline {
  /** What the source gives. */
  readonly drawn: Loop;
  /** Of a part: through pockets that cross its edge, which are taken away. */
  readonly less: readonly Outline[];
  /** Of an open pocket: the part's outline, beyond which nothing of it counts; else null. */
  readonly within: Outline | null;
}

export type OutlineSource =
  | {
      readonly kind: 'bosses';
      readonly bosses: readonly { readonly at: Point; readonly radius: Mm }[];
      /** Pairs of boss indexes; each web is the hull of its two bosses. */
      readonly webs: readonly (readonly [number, number])[];
      /** Radius rounding the inside corners where webs meet; 0: none. */
      readonly fillet: Mm;
    }
  | { readonly kind: 'vertices' }
  | { readonly kind: 'circle'; readonly at: Point; readonly diameter: Mm }
  | { readonly kind: 'slot'; readonly from: Point; readonly to: Point; readonly width: Mm }
  | { readonly kind: 'drawing'; readonly file: string };

export interface Hole {
  /** Index in the job file's `holes`; in its `edgeHoles` where `fromEdge`. */
  readonly index: number;
  /** A hole from the edge, as the plan of its own set-up sees it. */
  readonly fromEdge?: true;
  readonly at: Point;
  readonly make: HoleMake;
  /** Depth of full diameter or full thread; null: through. */
  readonly depth: Mm | null;
  /**
   * Diameter of the hole as the program leaves it (a tapped hole: its tapping drill; a reamed or bored hole with a fit:
   * the mean of its limits).
   */
  readonly diameter: Mm;
  /** Limits of the finished diameter when a fit or a thread gives them. */
  readonly limits: { readonly least: Mm; readonly most: Mm } | null;
  readonly countersink: { readonly diameter: Mm; readonly angle: Deg } | null;
  readonly counterbore: { readonly diameter: Mm; readonly depth: Mm } | null;
}

export type HoleMake =
  | { readonly kind: 'drill' }
  | { readonly kind: 'ream'; readonly nominal: Mm; readonly fit: string }
  | {
      readonly kind: 'tap';
      /** Designation as the trade writes it, e.g. `M2.5`, `6 BA`. */
      readonly thread: string;
      /** Major diameter and pitch. */
      readonly major: Mm;
      readonly pitch: Mm;
      /** Wanted engagement as a fraction of the ISO overlap, when the job gives it. */
      readonly engagement: number | null;
    }
  | { readonly kind: 'clear'; readonly screw: string; readonly series: 'fine' | 'medium' | 'coarse' }
  | { readonly kind: 'bore'; readonly nominal: Mm; readonly fit: string | null };

export interface Pocket {
  readonly index: number;
  readonly outline: Outline;
  /** Left standing inside the pocket. */
  readonly islands: readonly Outline[];
  /** null: through. */
  readonly depth: Mm | null;
  /** Open sides: stretches of the loop that run along the part's edge, in the loop's order. Empty: closed all round. */
  readonly open: readonly Chain[];
}

/** A hole drilled from the edge in the second set-up, at mid-thickness, aimed at the centre of a boss. */
export interface EdgeHole {
  readonly index: number;
  readonly boss: number;
  /** Direction from the boss's centre to the mouth of the hole, part axes, counter-clockwise from X. */
  readonly directionDeg: Deg;
  readonly make: HoleMake;
  readonly diameter: Mm;
  readonly depth: Mm;
}

/** Stretches of edge where no tab may stand; `from` to `to` runs counter-clockwise along the edge. Part axes. */
export type NoTab =
  | { readonly kind: 'boss'; readonly boss: number }
  | {
      readonly kind: 'stretch';
      readonly from: Point;
      readonly to: Point;
      /** What is cut away beside it; not given: the job itself forbids tabs there. */
      readonly cutBy?: 'pocket' | 'corners';
    };

export interface Stock {
  /** Program coordinates; z from -thickness - floorBelow to above. */
  readonly min: readonly [Mm, Mm, Mm];
  readonly max: readonly [Mm, Mm, Mm];
  /** Stock standing over Z0. */
  readonly above: Mm;
  /** Stock below the part (z under -thickness); part of the stock, cut through or left as a floor. */
  readonly below: Mm;
  /** Measured thickness of the plate; null: not measured. */
  readonly measured: Mm | null;
  /** Greatest departure from flat, as stated or assumed. */
  readonly flatness: Mm;
}

export interface Under {
  readonly kind: 'plate' | 'parallels' | 'vice' | 'table';
  readonly thickness: Mm;
  readonly material: string;
}

export type Clamp =
  | {
      readonly kind: 'block';
      /** Program coordinates. */
      readonly min: readonly [Mm, Mm];
      readonly max: readonly [Mm, Mm];
      /** Top of the clamp as z in program coordinates. */
      readonly top: Mm;
    }
  /** Jaws holding the stock over `grip` at both ends of an axis; nothing stands above the stock. */
  | { readonly kind: 'jaws'; readonly axis: 'x' | 'y'; readonly grip: Mm };

export interface Machine {
  readonly maxSpeed: Rpm;
  readonly minSpeed: Rpm;
  /** Full power from this speed up; below it, power falls in proportion. */
  readonly baseSpeed: Rpm;
  readonly power: Watt;
  readonly efficiency: number;
  readonly travel: readonly [Mm, Mm, Mm];
  readonly rapid: MmPerMin;
  readonly maxFeed: MmPerMin;
  /** mm/s2 */
  readonly acceleration: number;
  readonly backlash: Mm;
  readonly runout: Mm;
  readonly coolant: 'none' | 'mist' | 'flood';
  readonly tapping: 'hand' | 'machine';
}

export const CUTTER_KINDS = [
  'end mill',
  'ball-nosed end mill',
  'slot drill',
  'spot drill',
  'centre drill',
  'drill',
  'reamer',
  'countersink',
  'counterbore',
  'tap',
  'chamfer cutter',
] as const;
export type CutterKind = (typeof CUTTER_KINDS)[number];

export interface Cutter {
  readonly number: number;
  readonly kind: CutterKind;
  /** As marked on the shank. */
  readonly nominal: Mm;
  /** Effective cutting diameter: nominal, or measured, or corrected from a measured part; the only one later stages use. */
  readonly diameter: Mm;
  readonly flutes: number;
  readonly fluteLength: Mm;
  readonly stickOut: Mm;
  readonly shank: Mm;
  readonly material: 'HSS' | 'carbide';
  /** Negative: left-hand helix, presses down. */
  readonly helixDeg: Deg;
  readonly centreCutting: boolean;
  readonly cornerRadius: Mm;
  /** Included point angle of drills, spot drills, countersinks, chamfer cutters; 180 for flat-ended cutters. */
  readonly pointDeg: Deg;
  /**
   * Diameter of the flat at the end of a countersink or chamfer cutter; 0: a sharp point. The cutter's end, and so every depth, is this flat.
   */
  readonly tip: Mm;
  /** Length of lead of a reamer or tap. */
  readonly lead: Mm;
  /** Taps: the thread's designation. */
  readonly thread: string | null;
  readonly holder: { readonly diameter: Mm; readonly length: Mm };
  /** True when the cutter comes from the stated default drawer, not from the job. */
  readonly fromDrawer: boolean;
}

export type HoldRequest =
  | { readonly by: 'auto' }
  | { readonly by: 'tabs'; readonly tabs: TabRequest }
  | { readonly by: 'floor'; readonly thickness: Mm }
  | {
      readonly by: 'screws';
      /** Indexes into the part's holes. */
      readonly through: readonly number[];
      readonly thread: string;
      readonly tabs: TabRequest | null;
    }
  | { readonly by: 'glue'; readonly shear: Stress; readonly tension: Stress; readonly wetted: number }
  | { readonly by: 'stub'; readonly at: Point; readonly directionDeg: Deg; readonly width: Mm };

export interface TabRequest {
  readonly count: number | null;
  readonly width: Mm | null;
  readonly height: Mm | null;
  /** Height after the last light pass; null: left as cut. */
  readonly lightenTo: Mm | null;
  /** Places on the edge, part axes; null: chosen. */
  readonly at: readonly Point[] | null;
}

export interface Finish {
  /** Radial stock left by roughing. */
  readonly allowance: Mm;
  readonly springPass: boolean;
  readonly stopToMeasure: boolean;
  readonly direction: 'climb' | 'conventional' | 'auto';
  readonly measured: { readonly feature: string; readonly nominal: Mm; readonly actual: Mm } | null;
}
