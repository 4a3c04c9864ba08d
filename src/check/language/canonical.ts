/**
 * What a program does, once every mode, unit, offset, cycle and compensation has been worked out: the list of moves that
 * the rest of the check measures. It follows the split of the RS-274/NGC report (NISTIR 6556, section 4): the reader knows
 * the language, the checker of moves knows only these.
 *
 * All lengths are millimetres, angles radians, whatever the program's own units. Positions are those of the controlled
 * point (the cutter's tip on its axis) in the axes of the coordinate system in force when the program starts.
 */
import type { Mm, MmPerMin, Rad, Rpm, Second } from '../../base/units.ts';
import type { LanguageProblem } from './report.ts';

/** A position; null for an axis that the program has not yet placed. */
export interface AxisPosition {
  readonly x: Mm | null;
  readonly y: Mm | null;
  readonly z: Mm | null;
}

export interface Spindle {
  readonly on: boolean;
  /** Sense of the last start; true while off at the beginning. */
  readonly clockwise: boolean;
  readonly speed: Rpm;
}

export interface Coolant {
  readonly mist: boolean;
  readonly flood: boolean;
}

export type PathControl = 'exact-path' | 'exact-stop' | 'continuous';
export type Plane = 'XY' | 'XZ' | 'YZ';

/** Steps of a canned cycle, in the order in which they can occur. */
export type CycleStep =
  | 'preliminary'
  | 'position'
  | 'approach'
  | 'offset'
  | 'enter'
  | 'centre'
  | 'feed'
  | 'peck-clear'
  | 'peck-return'
  | 'dwell'
  | 'reverse'
  | 'feed-out'
  | 'retract'
  | 'hand-retract';

export interface CycleHole {
  /** 81 ... 89. */
  readonly code: number;
  /** Counts the repeats of one block from 0. */
  readonly hole: number;
  /** Levels on the axis normal to the plane; null when they hang on an unknown position. */
  readonly retract: Mm | null;
  readonly depth: Mm | null;
  readonly clear: Mm | null;
}

interface MoveBase {
  /** Line number in the file, from 1. */
  readonly block: number;
  readonly from: AxisPosition;
  readonly to: AxisPosition;
  readonly spindle: Spindle;
  readonly coolant: Coolant;
  /** Slot of the tool in the spindle, 0 for none, null before the first M6. */
  readonly tool: number | null;
  /** Tool length offset in force (G43). */
  readonly lengthOffset: Mm;
  readonly pathControl: PathControl;
  /** Whether G41/G42 moved this path off the programmed one. */
  readonly compensated: boolean;
  readonly cycle: CycleHole | null;
  readonly step: CycleStep | null;
}

export interface RapidMove extends MoveBase {
  readonly kind: 'rapid';
}

/** `feed`: resolved along the real path, G93 included; null when an inverse time move starts at an unknown position. */
export interface FeedMove extends MoveBase {
  readonly kind: 'feed' | 'probe';
  readonly feed: MmPerMin | null;
}

/** `sweep` is positive counter-clockwise seen from the positive end of the axis normal to the plane, 0 < |sweep| <= 2 pi. */
export interface CanonicalArc extends MoveBase {
  readonly kind: 'arc';
  readonly feed: MmPerMin | null;
  readonly plane: Plane;
  /** The coordinate normal to the plane is that of the start. */
  readonly centre: { readonly x: Mm; readonly y: Mm; readonly z: Mm };
  readonly radius: Mm;
  readonly sweep: Rad;
}

export interface DwellMove extends MoveBase {
  readonly kind: 'dwell';
  readonly seconds: Second;
}

/** `length`: a new tool length offset renames the position without motion. `offset`: so do G92, G10 and G54 ... (`to` = `from`). */
export interface EventMove extends MoveBase {
  readonly kind: 'stop' | 'optional-stop' | 'pallet-stop' | 'change' | 'length' | 'offset' | 'end';
}

export type CanonicalMove = RapidMove | FeedMove | CanonicalArc | DwellMove | EventMove;

export interface ProgramComment {
  readonly block: number;
  readonly column: number;
  /** Between the brackets, as written; for a message, what follows `MSG,`. */
  readonly text: string;
  readonly message: boolean;
}

/** Slot of the tool table. Diameter negative: undersize of a cutter against a nominal path (report, B.4). */
export interface ToolEntry {
  readonly number: number;
  readonly diameter: Mm;
  readonly length: Mm;
}

export interface ReaderOptions {
  /** Name used in the places of problems. */
  readonly file?: string;
  readonly toolTable?: readonly ToolEntry[];
  /** Slots of the carousel: 68 in the report's stand-alone interpreter (B.5.4). */
  readonly slots?: number;
  /** Stored parameters of the control; what is missing counts as 0 (5220: 1). */
  readonly parameters?: ReadonlyMap<number, number>;
  /** Text of a parameter file, checked row by row; overrides `parameters`. */
  readonly parameterFile?: string;
  readonly mist?: boolean;
  readonly flood?: boolean;
  readonly maxSpeed?: Rpm;
  /** Rotary axes of the machine, for instance `A`; none by default. */
  readonly rotaryAxes?: string;
  /** Whether a probe can be in the spindle. */
  readonly probe?: boolean;
  /** The moves returned are those with the block delete switch on; the problems are those of both ways. */
  readonly blockDelete?: boolean;
  /** Position of the controlled point at the start, program axes, millimetres; unknown unless given. */
  readonly start?: AxisPosition;
  /** After M0, M1, M60 and M6 the position counts as unknown (cutters changed and touched off by hand). */
  readonly unknownAfterStop?: boolean;
  /**
   * Where a program is to be proven: refuses what hangs on the control that runs it, its switches, stored numbers and tables, since no
   * reading of the text can tell what it will do.
   */
  readonly proof?: boolean;
  /** Reading ends after this many problems. */
  readonly maxProblems?: number;
}

/** Where moves and comments go, as they are found. */
export interface Sink {
  move(move: CanonicalMove): void;
  comment(comment: ProgramComment): void;
  /** A length is called from the control's table (G43 H, its slot) or none (G49, null), whether or not it differs. */
  length?(slot: number | null, block: number): void;
}

export interface ReadSummary {
  readonly problems: readonly LanguageProblem[];
  /** Whether an end (M2, M30 or a closing `%`) was reached. */
  readonly ended: boolean;
  readonly endedBy: 'M2' | 'M30' | 'percent' | 'none';
  readonly lines: number;
  /** First line with text after the end; it is never run. */
  readonly afterEnd: number | null;
  /** Block of the first fault. Its moves may be incomplete, and none of a later block is handed out: they could not be trusted. */
  readonly trustedUpTo: number | null;
  readonly last: LastState;
}

export interface ReadResult extends ReadSummary {
  readonly moves: readonly CanonicalMove[];
  readonly comments: readonly ProgramComment[];
}

/** Modes at the end of reading, for whoever joins programs or tests the interpreter. */
export interface LastState {
  readonly position: AxisPosition;
  /** Motion code, for instance 1 for G1, 38.2, 80. */
  readonly motion: number;
  readonly plane: Plane;
  readonly units: 'mm' | 'inch';
  readonly absolute: boolean;
  readonly inverseTime: boolean;
  readonly system: number;
  readonly spindle: Spindle;
  readonly coolant: Coolant;
  readonly pathControl: PathControl;
  readonly lengthOffset: Mm;
  readonly tool: number | null;
  /** G92 offsets in force, millimetres. */
  readonly shift: { readonly x: Mm; readonly y: Mm; readonly z: Mm };
  readonly parameter: (index: number) => number;
}
