/**
 * CONTRACT: the moves of every program, already lowered to what the chosen post can say, with the facts its head states.
 * Program coordinates, millimetres, absolute; feeds in mm/min. The writer turns this into text and decides nothing.
 */
import type { Deg, Mm, MmPerMin, Rad, Rpm, Second } from '../base/units.ts';
import type { Point } from '../geometry/types.ts';

/** What a post can say; the data the path stage lowers to. */
export interface PostAbilities {
  /** Units of the figures in messages to the person. */
  readonly units: 'mm' | 'inch';
  readonly arcs: boolean;
  readonly cycles: boolean;
  readonly tappingCycle: boolean;
  /** 'code': M6 with a stop for touch-off; 'stop': a plain stop; one program for each cutter when `programPerCutter`. */
  readonly cutterChange: 'code' | 'stop';
  readonly programPerCutter: boolean;
  readonly lengths: 'touch' | 'table';
  readonly mist: boolean;
  readonly flood: boolean;
  /** Size of the last written digit, millimetres: moves are rounded to it so that what is planned is what is written. */
  readonly grid: Mm;
  /** Chord error when arcs are not spoken. */
  readonly chord: Mm;
}

export interface Moves {
  readonly programs: readonly ProgramMoves[];
  /** Of milling operations; chamfers have none. */
  readonly bites: readonly Bite[];
}

/** How far round the cutter is engaged in one operation. */
export interface Bite {
  readonly operation: number;
  /** Greatest angle outside declared entries and slots. */
  readonly peak: Rad;
  /** Way in declared slots at one depth, all parts together. */
  readonly slots: Mm;
}

/** Cuts that may be wider than their operation's limit: on the way down, and where there is no other way. */
export type Declared = 'entry' | 'slot';

export interface ProgramMoves {
  /** Index of the set-up this program belongs to. */
  readonly setup: number;
  readonly title: string;
  readonly head: HeadFacts;
  readonly moves: readonly Move[];
}

export type Move =
  /** Only the axes named move. */
  | { readonly kind: 'rapid'; readonly x?: Mm; readonly y?: Mm; readonly z?: Mm }
  | {
      readonly kind: 'feed';
      readonly x?: Mm;
      readonly y?: Mm;
      readonly z?: Mm;
      readonly feed: MmPerMin;
      readonly as?: Declared;
    }
  /** Circular in XY about an absolute centre; a change of z makes a helix. End equal to start: a whole turn. */
  | {
      readonly kind: 'arc';
      readonly x: Mm;
      readonly y: Mm;
      readonly z?: Mm;
      readonly centre: Point;
      readonly counterClockwise: boolean;
      readonly feed: MmPerMin;
      readonly as?: Declared;
    }
  | {
      readonly kind: 'cycle';
      /** plain: G81; dwell: G82; peck: G83; ream (feed out): G85. */
      readonly cycle: 'plain' | 'dwell' | 'peck' | 'ream' | 'tap';
      readonly places: readonly Point[];
      /** The level the cutter stands at before the first hole and returns to after each. */
      readonly retract: Mm;
      /** Rapid down to here, feed from here. */
      readonly from: Mm;
      readonly bottom: Mm;
      readonly peck: Mm;
      readonly dwell: Second;
      readonly feed: MmPerMin;
    }
  | { readonly kind: 'dwell'; readonly seconds: Second }
  | { readonly kind: 'spindle'; readonly on: boolean; readonly speed: Rpm }
  | { readonly kind: 'coolant'; readonly state: 'none' | 'mist' | 'flood' }
  /**
   * The spindle is off and Z is up before either. `lines` are shown to the person. After it the position is unknown: the next moves
   * are Z to clearance alone, then X Y.
   */
  | { readonly kind: 'stop'; readonly why: string; readonly lines: readonly string[] }
  | {
      readonly kind: 'change';
      readonly cutter: number;
      /** Where on the stock it is touched off, and the height there; null where it is not, or not on the stock. */
      readonly touch: { readonly at: Point; readonly z: Mm } | null;
      readonly lines: readonly string[];
    }
  | { readonly kind: 'comment'; readonly text: string }
  /** Starts an operation: everything to the next one belongs to it. */
  | { readonly kind: 'operation'; readonly id: number; readonly title: string }
  /** A fact of the holding that changes here, as a head-style comment: `SCREWS FITTED`, `CLAMP MOVED`. */
  | { readonly kind: 'event'; readonly text: string };

/** What only the plan chose, stated at the head of each program so that the text alone can be proved against the job. */
export interface HeadFacts {
  readonly job: string;
  readonly material: string;
  /** Its number among those of its set-up. */
  readonly program: {
    readonly number: number;
    readonly of: number;
    readonly setup: string;
    readonly setupNumber: number;
  };
  readonly zero: 'stock' | 'part';
  readonly stock: { readonly min: readonly [Mm, Mm, Mm]; readonly max: readonly [Mm, Mm, Mm] };
  readonly parts: readonly { readonly at: Point; readonly turnDeg: Deg; readonly mirror: boolean }[];
  readonly cutters: readonly { readonly number: number; readonly kind: string; readonly diameter: Mm }[];
  readonly hold: HeadHold;
  readonly tabs: readonly {
    readonly part: number;
    readonly at: Point;
    readonly directionDeg: Deg;
    readonly width: Mm;
    readonly height: Mm;
    readonly footprint: Mm;
  }[];
  readonly cautions: readonly string[];
}

export type HeadHold =
  | { readonly by: 'tabs' }
  | { readonly by: 'glue' }
  | { readonly by: 'floor'; readonly thickness: Mm }
  | { readonly by: 'screws'; readonly thread: string }
  /** A part on edge: indexes of hole and boss in the job. */
  | { readonly by: 'jaws'; readonly edgeHole: number; readonly boss: number; readonly directionDeg: Deg }
  /** A line of the head for each. */
  | {
      readonly by: 'stub';
      readonly stubs: readonly {
        readonly part: number;
        readonly at: Point;
        readonly directionDeg: Deg;
        readonly width: Mm;
        readonly footprint: Mm;
      }[];
    };
