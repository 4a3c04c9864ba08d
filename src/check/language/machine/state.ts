/** Everything a control remembers from one block to the next. Lengths in millimetres; NaN for what is not known. */
import { MM_PER_INCH } from '../../../base/units.ts';
import type {
  AxisPosition,
  Coolant,
  CycleHole,
  CycleStep,
  LastState,
  PathControl,
  Plane,
  ReaderOptions,
  Spindle,
} from '../canonical.ts';
import { LAST_PARAMETER } from '../text/cursor.ts';

export interface ModalState {
  readonly parameters: Float64Array;
  /** Active coordinate system, 1 to 9. */
  system: number;
  /** Ten times the G number in force in group 1. */
  motion: number;
  plane: Plane;
  absolute: boolean;
  inverse: boolean;
  /** Millimetres a unit. */
  unit: number;
  returnLevel: 'initial' | 'r' | 'unset';
  pathControl: PathControl;
  /** F as it was programmed, in units of the moment a minute; units do not convert it (report, 4.3.3.3). */
  feed: number;
  spindle: Spindle;
  coolant: Coolant;
  selected: number;
  tool: number | null;
  lengthOffset: number;
  compensation: Compensation | null;
  /** Position of the controlled point in absolute machine axes: x y z a b c. */
  readonly at: Float64Array;
  /** `at` as it is handed out. */
  position: AxisPosition;
  /** Origin of the selected system and the G92 shift, x y z a b c. */
  readonly origin: Float64Array;
  readonly shift: Float64Array;
  /** Origin of the system in force at the start: moves are given in its axes. */
  readonly home: Float64Array;
  cycle: Sticky | null;
}

export interface Compensation {
  readonly side: 'left' | 'right';
  readonly radius: number;
  /** Whether no compensated move has been made yet. */
  first: boolean;
  /** The programmed point, absolute; the cutter's centre is `State.at`. */
  x: number;
  y: number;
}

/** Values of a canned cycle that hold while it repeats, as programmed (report, 3.5.16). */
export interface Sticky {
  readonly plane: Plane;
  readonly r: number;
  readonly depth: number;
  readonly p: number;
  readonly q: number;
  readonly i: number;
  readonly j: number;
  readonly k: number;
}

export interface CycleTag {
  readonly hole: CycleHole;
  readonly step: CycleStep;
}

export const UNKNOWN: AxisPosition = { x: null, y: null, z: null };

/** First parameter of coordinate system n, 1 to 9 (report, table 2). */
export function originIndex(system: number): number {
  return 5201 + 20 * system;
}

export function startState(options: ReaderOptions, parameters: Float64Array): ModalState {
  const system = parameters[5220]!;
  const origin = new Float64Array(6);
  for (let i = 0; i < 6; i++) origin[i] = parameters[originIndex(system) + i]!;
  const start = options.start ?? UNKNOWN;
  const at = new Float64Array([start.x ?? Number.NaN, start.y ?? Number.NaN, start.z ?? Number.NaN, 0, 0, 0]);
  for (let i = 0; i < 6; i++) at[i] = at[i]! + origin[i]!;
  return {
    parameters,
    system,
    motion: 800,
    plane: 'XY',
    absolute: true,
    inverse: false,
    unit: 1,
    returnLevel: 'unset',
    pathControl: 'continuous',
    feed: 0,
    spindle: { on: false, clockwise: true, speed: 0 },
    coolant: { mist: false, flood: false },
    selected: 0,
    tool: null,
    lengthOffset: 0,
    compensation: null,
    at,
    position: start,
    origin,
    shift: new Float64Array(6),
    home: Float64Array.from(origin),
    cycle: null,
  };
}

/** A copy that goes its own way (block delete on and off). */
export function forkState(s: ModalState): ModalState {
  return {
    ...s,
    parameters: Float64Array.from(s.parameters),
    at: Float64Array.from(s.at),
    origin: Float64Array.from(s.origin),
    shift: Float64Array.from(s.shift),
    compensation: s.compensation === null ? null : { ...s.compensation },
  };
}

/** The stored parameters as an array; 5220 is 1 unless given. */
export function parameterArray(given: ReadonlyMap<number, number> | undefined): Float64Array {
  const out = new Float64Array(LAST_PARAMETER + 1);
  out[5220] = 1;
  for (const [index, value] of given ?? []) if (index >= 1 && index <= LAST_PARAMETER) out[index] = value;
  return out;
}

/** `at` in the axes moves are given in. */
export function positionOf(s: ModalState): AxisPosition {
  const x = s.at[0]! - s.home[0]!;
  const y = s.at[1]! - s.home[1]!;
  const z = s.at[2]! - s.home[2]!;
  return { x: Number.isNaN(x) ? null : x, y: Number.isNaN(y) ? null : y, z: Number.isNaN(z) ? null : z };
}

export function lastState(s: ModalState): LastState {
  return {
    position: s.position,
    motion: s.motion / 10,
    plane: s.plane,
    units: s.unit === MM_PER_INCH ? 'inch' : 'mm',
    absolute: s.absolute,
    inverseTime: s.inverse,
    system: s.system,
    spindle: s.spindle,
    coolant: s.coolant,
    pathControl: s.pathControl,
    lengthOffset: s.lengthOffset,
    tool: s.tool,
    shift: { x: s.shift[0]!, y: s.shift[1]!, z: s.shift[2]! },
    parameter: (index) => s.parameters[index] ?? 0,
  };
}
