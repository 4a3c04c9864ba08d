/** One run of a program: its state, where its moves go, and how a block is refused. */

import type { AxisPosition, CanonicalArc, EventMove, FeedMove, Sink } from '../canonical.ts';
import type { BlockCodes } from '../plan.ts';
import type { LanguageCaution, LanguageFault, Reporter, ToldOf } from '../report.ts';
import { type CycleTag, type ModalState, positionOf } from './state.ts';

export interface Interpreter {
  state: ModalState;
  readonly reporter: Reporter;
  readonly sink: Sink | null;
  readonly plan: BlockCodes;
  line: number;
  /** After a fault: nothing is handed out and nothing is judged that hangs on the state. */
  tainted: boolean;
  endedBy: 'M2' | 'M30' | 'percent' | 'none';
  readonly slots: number;
  readonly diameters: ReadonlyMap<number, number>;
  readonly lengths: ReadonlyMap<number, number>;
  readonly maxSpeed: number;
  readonly mist: boolean;
  readonly flood: boolean;
  readonly probe: boolean;
  readonly rotary: string;
  readonly unknownAfterStop: boolean;
  readonly storedOffsets: boolean;
  readonly proof: boolean;
  /** Steps of drilling cycles so far. */
  pecks: number;
}

/** Always false, so that a step can end with it. */
export function refuse(m: Interpreter, condition: number, column: number, found = ''): false {
  if (!m.tainted || !HANGS_ON_STATE.has(condition)) m.reporter.refuse(condition, m.line, column, found);
  return false;
}

/**
 * Conditions that rest on what earlier blocks did. After a refused block that is no longer known, and a list of
 * consequences would only hide the next real fault; they appear when the first fault has been mended.
 */
const HANGS_ON_STATE: ReadonlySet<number> = new Set([
  41, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 61, 63, 65, 66, 71, 72, 73, 74, 75, 76, 77, 78, 79, 80, 81,
  82, 86, 87, 88, 89, 90, 91, 92, 93, 94, 95, 96, 97, 98, 99, 100, 101, 102, 103, 107, 108, 109, 110, 111, 112, 113,
  114, 116,
]);

/** What is told of a column of the line that runs. */
type ToldHere<Code> = Omit<ToldOf<Code>, 'at'> & { readonly column: number };

/** One that is none of the conditions; always false, as `refuse`. */
export function fault(m: Interpreter, { column, ...told }: ToldHere<LanguageFault>): false {
  m.reporter.add('fault', { ...told, at: { line: m.line, column } });
  return false;
}

/** A move from a place that the program has not stated. */
export function startUnknown(m: Interpreter, found: string, remedy: string): false {
  const column = m.plan.motionColumn;
  return m.tainted ? false : fault(m, { code: 'position-unknown', column, found, wanted: 'a known start', remedy });
}

export function caution(m: Interpreter, { column, ...told }: ToldHere<LanguageCaution>): void {
  if (!m.tainted) m.reporter.add('caution', { ...told, at: { line: m.line, column } });
}

/** What only the control that runs the program can know: a fault where the program is to be proven. */
export function hangsOnControl(m: Interpreter, { column, ...told }: Omit<ToldHere<LanguageFault>, 'wanted'>): void {
  const at = { line: m.line, column };
  if (m.proof) m.reporter.add('fault', { ...told, at, wanted: 'what the text alone settles' });
}

/** Puts the controlled point at absolute x y z and hands out the straight move there. */
export function emitStraight(
  m: Interpreter,
  kind: 'rapid' | 'feed' | 'probe',
  x: number,
  y: number,
  z: number,
  feed: number,
  tag: CycleTag | null,
): void {
  const s = m.state;
  const from = s.position;
  const to = place(s, x, y, z);
  if (m.sink === null || m.tainted) return;
  if (kind === 'rapid') m.sink.move({ kind, ...common(m, from, to, tag) });
  else if (tag !== null) m.sink.move({ kind, ...common(m, from, to, tag), feed: knownFeed(feed) });
  else m.sink.move(feedMove(m, kind, from, to, feed));
}

/** Most moves of a program are these; written out because spreading the common part takes twice the time of the rest. */
function feedMove(
  m: Interpreter,
  kind: 'feed' | 'probe',
  from: AxisPosition,
  to: AxisPosition,
  feed: number,
): FeedMove {
  const s = m.state;
  return {
    kind,
    block: m.line,
    from,
    to,
    spindle: s.spindle,
    coolant: s.coolant,
    tool: s.tool,
    lengthOffset: s.lengthOffset,
    pathControl: s.pathControl,
    compensated: s.compensation !== null && !s.compensation.first,
    cycle: null,
    step: null,
    feed: knownFeed(feed),
  };
}

function knownFeed(feed: number): number | null {
  return Number.isNaN(feed) ? null : feed;
}

export interface Turn {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Absolute centre; the coordinate normal to the plane is not read. */
  readonly centre: readonly [number, number, number];
  readonly radius: number;
  readonly sweep: number;
}

export function emitArc(m: Interpreter, t: Turn, feed: number): void {
  const s = m.state;
  const from = s.position;
  const normal = s.plane === 'XY' ? 2 : s.plane === 'XZ' ? 1 : 0;
  const start = s.at[normal]! - s.home[normal]!;
  const to = place(s, t.x, t.y, t.z);
  if (m.sink === null || m.tainted) return;
  const centre = {
    x: normal === 0 ? start : t.centre[0] - s.home[0]!,
    y: normal === 1 ? start : t.centre[1] - s.home[1]!,
    z: normal === 2 ? start : t.centre[2] - s.home[2]!,
  };
  m.sink.move(arcMove(m, t, from, to, centre, feed));
}

function arcMove(
  m: Interpreter,
  t: Turn,
  from: AxisPosition,
  to: AxisPosition,
  centre: CanonicalArc['centre'],
  feed: number,
): CanonicalArc {
  const s = m.state;
  return {
    kind: 'arc',
    block: m.line,
    from,
    to,
    spindle: s.spindle,
    coolant: s.coolant,
    tool: s.tool,
    lengthOffset: s.lengthOffset,
    pathControl: s.pathControl,
    compensated: s.compensation !== null && !s.compensation.first,
    cycle: null,
    step: null,
    feed: knownFeed(feed),
    plane: s.plane,
    centre,
    radius: t.radius,
    sweep: t.sweep,
  };
}

export function emitDwell(m: Interpreter, seconds: number, tag: CycleTag | null): void {
  if (m.sink === null || m.tainted) return;
  const at = m.state.position;
  m.sink.move({ kind: 'dwell', ...common(m, at, at, tag), seconds });
}

export function emitEvent(m: Interpreter, kind: EventMove['kind'], tag: CycleTag | null = null): void {
  if (m.sink === null || m.tainted) return;
  const at = m.state.position;
  m.sink.move({ kind, ...common(m, at, at, tag) });
}

function place(s: ModalState, x: number, y: number, z: number): AxisPosition {
  s.at[0] = x;
  s.at[1] = y;
  s.at[2] = z;
  s.position = positionOf(s);
  return s.position;
}

type Common = Omit<EventMove, 'kind'>;

function common(m: Interpreter, from: AxisPosition, to: AxisPosition, tag: CycleTag | null): Common {
  const s = m.state;
  return {
    block: m.line,
    from,
    to,
    spindle: s.spindle,
    coolant: s.coolant,
    tool: s.tool,
    lengthOffset: s.lengthOffset,
    pathControl: tag === null ? s.pathControl : 'exact-path',
    compensated: s.compensation !== null && !s.compensation.first,
    cycle: tag === null ? null : tag.hole,
    step: tag === null ? null : tag.step,
  };
}
