/**
 * What the check measures: one straight or circular stroke of one cutter, with a height that changes evenly along it.
 * The reader's moves are brought to this form here and nowhere else.
 */
import { arccosine, arctangent2 } from '../../base/angles.ts';
import type { Mm, MmPerMin, Rpm } from '../../base/units.ts';
import { arc, line, pointAt, segmentBox, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Arc, Box, Point, Segment } from '../../geometry/types.ts';
import type { Cutter } from '../../part/part.ts';
import { type CutterShape, shapeOf } from '../../stock/shape.ts';
import type { AxisPosition, CanonicalArc, CanonicalMove, CycleStep } from '../language/canonical.ts';
import { ROUNDING } from '../limits.ts';
import type { FindingPlace } from '../report/findings.ts';

export interface Tool {
  readonly number: number;
  readonly cutter: Cutter;
  readonly shape: CutterShape;
  /** The cutter itself, its shank and its holder. */
  readonly bodies: readonly ToolBody[];
  /** Shank and holder as far as they are wider than the cutter; the lower first. */
  readonly wide: readonly ToolBody[];
  /** The outline with shank and holder in it, for strokes that bring either below the top face; null: neither is wider. */
  readonly whole: CutterShape | null;
}

/** What turns with a cutter. */
export interface ToolBody {
  readonly name: 'cutter' | 'shank' | 'holder';
  readonly radius: Mm;
  /** Height of its lower end above the tip. */
  readonly from: Mm;
}

export interface Stroke {
  /** Its place among the strokes of its set-up. */
  readonly index: number;
  readonly program: number;
  readonly block: number;
  readonly rapid: boolean;
  /** Path of the axis in XY; a line of no length for a move straight up or down. */
  readonly path: Segment;
  readonly box: Box;
  readonly za: Mm;
  readonly zb: Mm;
  readonly low: Mm;
  readonly tool: Tool;
  /** 0 for a rapid. */
  readonly feed: MmPerMin;
  readonly speed: Rpm;
  readonly turning: boolean;
  readonly cycle: number | null;
  readonly step: CycleStep | null;
}

export function toolOf(cutter: Cutter): Tool {
  const shape = shapeOf(cutter);
  const bodies: readonly ToolBody[] = [
    { name: 'cutter', radius: shape.radius, from: 0 },
    { name: 'shank', radius: cutter.shank / 2, from: cutter.fluteLength },
    { name: 'holder', radius: cutter.holder.diameter / 2, from: cutter.stickOut },
  ];
  const wide = bodies.filter((b) => b.radius > shape.radius + ROUNDING).sort((a, b) => a.from - b.from);
  const whole = wide.length === 0 ? null : wholeOutline(shape, wide);
  return { number: cutter.number, cutter, shape, bodies, wide, whole };
}

/** Heights from the tip are sums: one that is rounded must not fall just short of a shoulder. */
const SHOULDER: Mm = 1e-9;

function wholeOutline(shape: CutterShape, wide: readonly ToolBody[]): CutterShape {
  const at = (u: Mm) => wide.reduce((r, b) => (u >= b.from - SHOULDER ? Math.max(r, b.radius) : r), shape.at(u));
  const radius = Math.max(shape.radius, ...wide.map((b) => b.radius));
  return { ...shape, radius, at, breaks: [...shape.breaks, ...wide.map((b) => b.from)] };
}

/** Strokes of a move whose ends are both known, counted on from `first`; none for a move that is not motion. */
export function strokesOf(move: CanonicalMove, program: number, tool: Tool, first: number): Stroke[] {
  const feed = move.kind === 'feed' || move.kind === 'arc' || move.kind === 'probe' ? (move.feed ?? 0) : 0;
  return pathsOf(move).map(({ path, za, zb }, i) =>
    madeStroke(path, za, zb, {
      index: first + i,
      program,
      block: move.block,
      rapid: move.kind === 'rapid',
      tool,
      feed,
      speed: move.spindle.speed,
      turning: move.spindle.on,
      cycle: move.cycle?.code ?? null,
      step: move.step,
    }),
  );
}

export function madeStroke(
  path: Segment,
  za: Mm,
  zb: Mm,
  rest: Omit<Stroke, 'path' | 'box' | 'za' | 'zb' | 'low'>,
): Stroke {
  const { index, program, block, rapid, tool, feed, speed, turning, cycle, step } = rest;
  const box = segmentBox(path);
  // Written out: spreading takes several times as long.
  return {
    index,
    program,
    block,
    rapid,
    path,
    box,
    za,
    zb,
    low: Math.min(za, zb),
    tool,
    feed,
    speed,
    turning,
    cycle,
    step,
  };
}

/** The path in XY of a move whose ends are both known, with its heights; none for a move that is not motion. */
export function pathsOf(move: CanonicalMove): PathPiece[] {
  if (move.kind !== 'rapid' && move.kind !== 'feed' && move.kind !== 'probe' && move.kind !== 'arc') return [];
  const from = known(move.from);
  const to = known(move.to);
  if (from === null || to === null) return [];
  if (move.kind === 'arc') return arcPieces(move, from, to);
  return [{ path: line({ x: from.x, y: from.y }, { x: to.x, y: to.y }), za: from.z, zb: to.z }];
}

interface Known extends Point {
  readonly z: Mm;
}

export function known(p: AxisPosition): Known | null {
  return p.x === null || p.y === null || p.z === null ? null : { x: p.x, y: p.y, z: p.z };
}

export interface PathPiece {
  readonly path: Segment;
  readonly za: Mm;
  readonly zb: Mm;
}

function arcPieces(move: CanonicalArc, from: Known, to: Known): PathPiece[] {
  if (move.plane === 'XY') {
    const path: Arc = {
      kind: 'arc',
      a: { x: from.x, y: from.y },
      b: { x: to.x, y: to.y },
      centre: { x: move.centre.x, y: move.centre.y },
      radius: move.radius,
      sweep: move.sweep,
    };
    return [{ path, za: from.z, zb: to.z }];
  }
  return uprightArc(move, from, to);
}

/** Enough for a turn of 5 m radius; beyond the travel of any machine here, where other rules have refused the program. */
const MOST_CHORDS = 5000;

/** Arcs in XZ and YZ become chords within a micrometre: no program of this project writes them, others may. */
function uprightArc(move: CanonicalArc, from: Known, to: Known): PathPiece[] {
  const xz = move.plane === 'XZ';
  // The plane's axes in the order that makes a positive sweep turn from the first to the second: Z then X, Y then Z.
  const flat = xz
    ? arc(
        { x: move.centre.z, y: move.centre.x },
        move.radius,
        arctangent2(from.x - move.centre.x, from.z - move.centre.z),
        move.sweep,
      )
    : arc(
        { x: move.centre.y, y: move.centre.z },
        move.radius,
        arctangent2(from.z - move.centre.z, from.y - move.centre.y),
        move.sweep,
      );
  const wanted = Math.ceil(Math.abs(move.sweep) / (2 * arccosine(Math.max(0, 1 - 0.001 / move.radius))));
  const count = Math.max(1, Math.min(MOST_CHORDS, wanted));
  const place = (t: number): Known => {
    if (t === 0) return from;
    if (t === 1) return to;
    const p = pointAt(flat, t);
    return xz
      ? { z: p.x, x: p.y, y: from.y + (to.y - from.y) * t }
      : { y: p.x, z: p.y, x: from.x + (to.x - from.x) * t };
  };
  return Array.from({ length: count }, (_, i) => {
    const a = place(i / count);
    const b = place((i + 1) / count);
    return { path: line(a, b), za: a.z, zb: b.z };
  });
}

/** The part of a stroke at or below a height, as fractions of its length; undefined when it never gets so low. */
export function spanBelow(s: Stroke, height: Mm): readonly [number, number] | undefined {
  if (s.low > height) return undefined;
  if (Math.max(s.za, s.zb) <= height) return [0, 1];
  const t = (height - s.za) / (s.zb - s.za);
  return s.za > height ? [t, 1] : [0, t];
}

export function pathBelow(s: Stroke, height: Mm): Segment | undefined {
  const span = spanBelow(s, height);
  return span === undefined ? undefined : subSegment(s.path, span[0], span[1]);
}

export function isVertical(s: Stroke): boolean {
  return s.path.kind === 'line' && s.path.a.x === s.path.b.x && s.path.a.y === s.path.b.y;
}

/** The end of a stroke, at its lowest, as the place of a finding. */
export function spotOf(s: Stroke): FindingPlace {
  return { program: s.program, block: s.block, at: [s.path.b.x, s.path.b.y, s.low] };
}

export function strokeLength(s: Stroke): Mm {
  return Math.hypot(segmentLength(s.path), s.zb - s.za);
}
