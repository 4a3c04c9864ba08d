/**
 * CONTRACT of the page: everything it shows, as plain JSON. Millimetres, program coordinates, seconds; block = line number from 1.
 * Long lists are packed: columns of integers, deflated, base64 (see pack.ts).
 */
import type { Mm, MmPerMin } from '../../../base/units.ts';
import type { Clamp } from '../../../part/part.ts';

export type XYZ = readonly [Mm, Mm, Mm];
export type XY = readonly [Mm, Mm];

/** Line: ax ay bx by. Arc: ax ay bx by, centre x y, sweep in radians (counter-clockwise positive). */
export type FlatSegment = readonly [Mm, Mm, Mm, Mm] | readonly [Mm, Mm, Mm, Mm, Mm, Mm, number];

/** Base64 of a raw deflate stream. */
export type Base64 = string;

export interface ViewData {
  readonly name: string;
  readonly material: string | null;
  readonly thickness: Mm | null;
  /** Whether a job was given; without it there is no part to compare with. */
  readonly hasJob: boolean;
  readonly parts: readonly ViewPart[];
  readonly clamps: readonly Clamp[];
  readonly tabs: readonly ViewTab[];
  /** Places on the edge that are meant to stay uncut: tabs and stub, as discs. */
  readonly spared: readonly { readonly at: XY; readonly radius: Mm }[];
  /** Floor left under the part; null: cut through. */
  readonly floor: Mm | null;
  /** What holds the part besides tabs and floor. */
  readonly besides: readonly ViewBeside[];
  /** How the part is held, a sentence each. */
  readonly holding: readonly string[];
  readonly cutters: readonly ViewCutter[];
  readonly setups: readonly ViewSetup[];
  readonly programs: readonly ViewProgram[];
  readonly findings: readonly ViewFinding[];
  readonly proven: readonly string[];
  readonly notProven: readonly string[];
  readonly cautions: readonly string[];
}

export interface ViewSetup {
  readonly name: string;
  /** Null: the stock is not stated, nothing can be shown of its removal. */
  readonly stock: { readonly min: XYZ; readonly max: XYZ } | null;
}

export interface ViewPart {
  readonly outline: readonly FlatSegment[];
  readonly holes: readonly ViewHole[];
  readonly pockets: readonly ViewPocket[];
  readonly chamfer: Mm;
}

export interface ViewHole {
  readonly at: XY;
  readonly diameter: Mm;
  /** Null: through. */
  readonly depth: Mm | null;
  /** Widest diameter at the top: countersink or counterbore; equal to `diameter` when plain. */
  readonly mouth: Mm;
  /** Depth of a counterbore. */
  readonly counterbore: Mm | null;
}

export interface ViewPocket {
  readonly outline: readonly FlatSegment[];
  readonly islands: readonly (readonly FlatSegment[])[];
  readonly depth: Mm | null;
}

export interface ViewTab {
  readonly part: number;
  readonly at: XY;
  readonly directionDeg: number;
  readonly width: Mm;
  readonly height: Mm;
  readonly footprint: Mm;
}

export interface ViewBeside {
  /** Said from this program and block on, and what is said before. */
  readonly words: string;
  readonly before: string;
  readonly program: number;
  readonly block: number;
}

export interface ViewCutter {
  readonly number: number;
  readonly kind: string;
  readonly diameter: Mm;
  readonly pointDeg: number;
  /** Diameter of the flat at the end of a cone. */
  readonly tip: Mm;
  readonly cornerRadius: Mm;
  readonly lead: Mm;
  readonly fluteLength: Mm;
  readonly stickOut: Mm;
  readonly shank: Mm;
  readonly holder: { readonly diameter: Mm; readonly length: Mm } | null;
}

export interface ViewProgram {
  readonly file: string;
  readonly setup: number;
  readonly lines: number;
  /** The text; null when it is too long to be carried, then blocks are known by number and by their moves. */
  readonly text: Base64 | null;
  readonly moveCount: number;
  readonly moves: Base64;
  /** Feeds the moves refer to, mm/min. */
  readonly feeds: readonly MmPerMin[];
  /** Cutter in the spindle from this move on. */
  readonly changes: readonly (readonly [move: number, cutter: number])[];
  readonly operations: readonly ViewOperation[];
  readonly rapid: MmPerMin;
  /** Null: holding, force and times along the program were not worked out. */
  readonly course: Base64 | null;
}

export interface ViewOperation {
  readonly title: string;
  readonly from: number;
  readonly to: number;
}

export interface ViewFinding {
  readonly severity: 'fault' | 'caution' | 'note';
  readonly code: string;
  readonly program: number;
  /** 0: the whole program. */
  readonly block: number;
  readonly at: readonly number[] | null;
  readonly size: Mm | null;
  readonly found: string;
  readonly wanted: string;
  readonly remedy: string;
}
