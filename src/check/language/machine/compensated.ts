/**
 * The true path of the cutter's centre under G41/G42 (report, 3.5.10 and B.6): entry on a line or an arc, then always
 * tangent to the programmed path, with an arc about every convex corner.
 */
import { arccosine, arctangent2, cosine, sine } from '../../../base/angles.ts';
import { MM_PER_INCH } from '../../../base/units.ts';
import type { BlockCodes } from '../plan.ts';
import { F, type ProgramBlock } from '../text/block.ts';
import { emitArc, emitStraight, type Interpreter, refuse, startUnknown } from './machine.ts';
import { ARC_TOLERANCE_INCH, ARC_TOLERANCE_MM, PLANE_AXES, radiiAgree, sweepOf } from './planes.ts';
import type { Compensation } from './state.ts';

/** A corner turning by less than this counts as straight on (reference interpreter, radians). */
const CORNER_ANGLE = 0.01;
const SAME_POINT_MM = 1e-9;

export function compensatedLine(m: Interpreter, b: ProgramBlock, kind: 'rapid' | 'feed', t: Float64Array): boolean {
  const c = m.state.compensation!;
  const [x, y, z] = [t[0]!, t[1]!, t[2]!];
  return c.first ? firstLine(m, b, c, kind, x, y, z) : nextLine(m, b, c, kind, x, y, z);
}

/** The end centre Q lies a radius off the programmed point P, with a right angle at Q and C P as hypotenuse. */
function firstLine(
  m: Interpreter,
  b: ProgramBlock,
  c: Compensation,
  kind: 'rapid' | 'feed',
  x: number,
  y: number,
  z: number,
): boolean {
  const s = m.state;
  const d = Math.hypot(s.at[0]! - x, s.at[1]! - y);
  if (Number.isNaN(d)) return unknownPlace(m);
  if (c.radius > 0 && d <= c.radius)
    return refuse(m, 79, m.plan.motionColumn, `${d.toFixed(4)} mm, radius ${c.radius.toFixed(4)} mm`);
  const lean = d > 0 ? arccosine(c.radius / d) : 0;
  const angle = arctangent2(s.at[1]! - y, s.at[0]! - x) + (c.side === 'left' ? -lean : lean);
  c.first = false;
  c.x = x;
  c.y = y;
  straightTo(m, b, kind, x + c.radius * cosine(angle), y + c.radius * sine(angle), z);
  return true;
}

function nextLine(
  m: Interpreter,
  b: ProgramBlock,
  c: Compensation,
  kind: 'rapid' | 'feed',
  x: number,
  y: number,
  z: number,
): boolean {
  const s = m.state;
  if (Math.hypot(x - c.x, y - c.y) < SAME_POINT_MM) {
    straightTo(m, b, kind, s.at[0]!, s.at[1]!, z);
    return true;
  }
  const along = arctangent2(y - c.y, x - c.x);
  const corner = cornerTurn(m, c, along);
  if (corner === null) return false;
  const normal = along + (c.side === 'left' ? 1 : -1) * (Math.PI / 2);
  const [nx, ny] = [c.radius * cosine(normal), c.radius * sine(normal)];
  const round = kind === 'feed' && corner > CORNER_ANGLE;
  const length = Math.hypot(x - c.x, y - c.y, z - s.at[2]!) + (round ? corner * c.radius : 0);
  const feed = rate(m, b, length);
  if (round) cornerArc(m, c, nx, ny, corner, feed);
  c.x = x;
  c.y = y;
  emitStraight(m, kind, x + nx, y + ny, z, feed, null);
  return true;
}

/** How far the path turns away from the cutter at the programmed corner; null after a refusal. */
function cornerTurn(m: Interpreter, c: Compensation, along: number): number | null {
  const s = m.state;
  if (c.radius === 0) return 0;
  const out = arctangent2(s.at[1]! - c.y, s.at[0]! - c.x);
  let between = c.side === 'left' ? out - along : along - out;
  while (between < 0) between += 2 * Math.PI;
  while (between >= 2 * Math.PI) between -= 2 * Math.PI;
  const turn = between - Math.PI / 2;
  if (turn >= -CORNER_ANGLE && turn <= Math.PI + CORNER_ANGLE) return Math.max(0, turn);
  refuse(m, 81, m.plan.motionColumn);
  return null;
}

function cornerArc(m: Interpreter, c: Compensation, nx: number, ny: number, turn: number, feed: number): void {
  const sweep = c.side === 'left' ? -turn : turn;
  emitArc(m, { x: c.x + nx, y: c.y + ny, z: m.state.at[2]!, centre: [c.x, c.y, 0], radius: c.radius, sweep }, feed);
}

export function compensatedArc(
  m: Interpreter,
  b: ProgramBlock,
  p: BlockCodes,
  t: Float64Array,
  centre: readonly [number, number],
  way: 1 | -1,
): boolean {
  const c = m.state.compensation!;
  const size = Math.hypot(t[0]! - centre[0], t[1]! - centre[1]);
  const inside = (c.side === 'left') === (way === 1);
  if (c.first) return firstArc(m, b, p, c, t, centre, way, inside, size);
  if (!radiiAgree(m, b, p, PLANE_AXES.XY, [c.x, c.y], [t[0]!, t[1]!], centre)) return false;
  if (inside && size <= c.radius)
    return refuse(m, 82, p.motionColumn, `radius ${size.toFixed(4)} mm, cutter ${c.radius.toFixed(4)} mm`);
  const toCentre = arctangent2(centre[1] - c.y, centre[0] - c.x);
  const corner = cornerTurn(m, c, toCentre - way * (Math.PI / 2));
  if (corner === null) return false;
  const off = inside ? c.radius : -c.radius;
  const radius = size - off;
  const whole = Math.hypot(t[0]! - c.x, t[1]! - c.y) < SAME_POINT_MM;
  const sweep = sweepOf(c.x - centre[0], c.y - centre[1], t[0]! - centre[0], t[1]! - centre[1], way, whole);
  const round = corner > CORNER_ANGLE;
  const feed = rate(m, b, Math.hypot(radius * sweep, t[2]! - m.state.at[2]!) + (round ? corner * c.radius : 0));
  if (round) cornerArc(m, c, off * cosine(toCentre), off * sine(toCentre), corner, feed);
  finishArc(m, c, t, centre, radius, off, size, sweep, feed);
  return true;
}

/** An auxiliary arc about the programmed centre must touch the cutter where it stands. */
function firstArc(
  m: Interpreter,
  b: ProgramBlock,
  p: BlockCodes,
  c: Compensation,
  t: Float64Array,
  centre: readonly [number, number],
  way: 1 | -1,
  inside: boolean,
  size: number,
): boolean {
  const s = m.state;
  const off = inside ? c.radius : -c.radius;
  const radius = Math.hypot(s.at[0]! - centre[0], s.at[1]! - centre[1]);
  const allowed = s.unit === MM_PER_INCH ? ARC_TOLERANCE_INCH * MM_PER_INCH : ARC_TOLERANCE_MM;
  if (Number.isNaN(radius)) return unknownPlace(m);
  if (size - off <= 0 || Math.abs(radius - (size - off)) > allowed + SAME_POINT_MM)
    return refuse(m, 80, p.motionColumn);
  c.first = false;
  const [u0, v0] = [s.at[0]! - centre[0], s.at[1]! - centre[1]];
  const sweep = sweepOf(u0, v0, t[0]! - centre[0], t[1]! - centre[1], way, false);
  finishArc(m, c, t, centre, size - off, off, size, sweep, rate(m, b, Math.hypot(radius * sweep, t[2]! - s.at[2]!)));
  return true;
}

function finishArc(
  m: Interpreter,
  c: Compensation,
  t: Float64Array,
  centre: readonly [number, number],
  radius: number,
  off: number,
  size: number,
  sweep: number,
  feed: number,
): void {
  c.x = t[0]!;
  c.y = t[1]!;
  const x = t[0]! + (off * (centre[0] - t[0]!)) / size;
  const y = t[1]! + (off * (centre[1] - t[1]!)) / size;
  emitArc(m, { x, y, z: t[2]!, centre: [centre[0], centre[1], 0], radius, sweep }, feed);
}

function straightTo(m: Interpreter, b: ProgramBlock, kind: 'rapid' | 'feed', x: number, y: number, z: number): void {
  const at = m.state.at;
  const length = Math.hypot(x - at[0]!, y - at[1]!, z - at[2]!);
  emitStraight(m, kind, x, y, z, rate(m, b, length), null);
}

/** mm/min over the real path. */
function rate(m: Interpreter, b: ProgramBlock, length: number): number {
  const s = m.state;
  return s.inverse ? length * b.value[F]! : s.feed * s.unit;
}

function unknownPlace(m: Interpreter): false {
  return startUnknown(m, 'compensation begins at a place that the program has not stated', 'move X and Y there first');
}
