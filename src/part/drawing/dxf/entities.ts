/** One entity to curves, in world coordinates of its drawing or block, in drawing units. */
import type { Point } from '../../../geometry/types.ts';
import {
  bulgeCurve,
  circularArc,
  type DrawnCurve,
  type DrawnShape,
  ellipticArc,
  mapCurve,
  straight,
} from '../curve/curve.ts';
import { splineSpans } from '../curve/spline.ts';
import { entityAxes, facesDown } from './extrusion.ts';
import type { Fields } from './fields.ts';
import { readSpline } from './spline.ts';

export interface PolylineVertex {
  readonly at: Point;
  readonly bulge: number;
}

/** Null for a broken entity (told already) and for one of no extent (told as `too-small`). */
export type EntityReader = (fields: Fields) => DrawnShape | null;

export const ENTITY_READERS: Readonly<Record<string, EntityReader>> = {
  LINE: readLine,
  ARC: readArc,
  CIRCLE: readCircle,
  ELLIPSE: readEllipse,
  LWPOLYLINE: readLightPolyline,
  SPLINE: (fields) => {
    const spline = readSpline(fields);
    return spline === null ? null : { curves: splineSpans(spline), closed: false };
  },
};

function readLine(f: Fields): DrawnShape {
  const a = { x: f.number(10), y: f.number(20) };
  const b = { x: f.number(11), y: f.number(21) };
  level(f, f.number(30, 0), f.number(31, 0));
  return { curves: [straight(a, b)], closed: false };
}

function readArc(f: Fields): DrawnShape {
  const centre = { x: f.number(10), y: f.number(20) };
  const [from, to] = [f.number(50), f.number(51)];
  // Arcs run counter-clockwise from 50 to 51; equal angles are a whole circle.
  const turn = (((to - from) % 360) + 360) % 360;
  const sweep = turn === 0 ? 2 * Math.PI : (turn * Math.PI) / 180;
  const arc = circularArc(centre, radius(f), (from * Math.PI) / 180, sweep);
  return { curves: [mapCurve(entityAxes(f), arc)], closed: turn === 0 };
}

function readCircle(f: Fields): DrawnShape {
  const centre = { x: f.number(10), y: f.number(20) };
  return { curves: [mapCurve(entityAxes(f), circularArc(centre, radius(f), 0, 2 * Math.PI))], closed: true };
}

function radius(f: Fields): number {
  const r = f.number(40);
  if (!f.broken && !(r > 0)) f.fail('bad-radius', `${f.span.type} has radius ${r}`, 'a radius above zero');
  return r;
}

/** The centre and the major half-axis are in world coordinates; the minor one is extrusion x major x ratio. */
function readEllipse(f: Fields): DrawnShape {
  const centre = { x: f.number(10), y: f.number(20) };
  const u = { x: f.number(11), y: f.number(21) };
  const ratio = f.number(40);
  const [from, to] = [f.number(41, 0), f.number(42, 2 * Math.PI)];
  if (!f.broken && (!(ratio !== 0 && Math.abs(ratio) <= 1 + 1e-9) || (u.x === 0 && u.y === 0))) {
    f.fail(
      'bad-ellipse',
      `ELLIPSE with major half-axis ${u.x}, ${u.y} and ratio ${ratio}`,
      'a major half-axis of some length and a ratio above 0, at most 1',
    );
  }
  const side = facesDown(f) ? -ratio : ratio;
  const v = { x: -u.y * side, y: u.x * side };
  const turn = 2 * Math.PI;
  const part = (((to - from) % turn) + turn) % turn;
  const whole = part < 1e-9 || turn - part < 1e-9;
  return { curves: [ellipticArc(centre, u, v, from, whole ? turn : part)], closed: whole };
}

function readLightPolyline(f: Fields): DrawnShape | null {
  const { tags, span } = f;
  const vertices: { x: number; y: number; bulge: number; line: number; hasY: boolean }[] = [];
  for (let i = span.start + 1; i < span.end; i++) {
    const code = tags.code(i);
    const last = vertices.at(-1);
    if (code === 10) vertices.push({ x: f.at(i), y: 0, bulge: 0, line: tags.line(i), hasY: false });
    else if (code === 20 && last !== undefined) Object.assign(last, { y: f.at(i), hasY: true });
    else if (code === 42 && last !== undefined) last.bulge = f.at(i);
  }
  const bare = vertices.find((v) => !v.hasY);
  if (bare !== undefined)
    f.fail(
      'missing-value',
      'a vertex of the LWPOLYLINE has x but no y',
      'groups 10 and 20 for every vertex',
      bare.line,
    );
  const told = f.integer(90, vertices.length);
  if (told !== vertices.length)
    f.fail(
      'vertex-count',
      `LWPOLYLINE says ${told} vertices and has ${vertices.length}`,
      'as many vertices as group 90 says',
    );
  const corners = vertices.map((v) => ({ at: { x: v.x, y: v.y }, bulge: v.bulge }));
  return polyline(f, corners, (f.integer(70, 0) & 1) === 1);
}

/** Curves of a polyline; shared by LWPOLYLINE and POLYLINE. */
export function polyline(f: Fields, vertices: readonly PolylineVertex[], closed: boolean): DrawnShape | null {
  if (f.broken) return null;
  if (vertices.length < 2) {
    f.fail(
      'short-polyline',
      `${f.span.type} has ${vertices.length} ${vertices.length === 1 ? 'vertex' : 'vertices'}`,
      'two vertices or more',
    );
    return null;
  }
  const axes = entityAxes(f);
  const curves: DrawnCurve[] = [];
  for (const [i, v] of vertices.entries()) {
    const next = vertices[i + 1] ?? (closed ? vertices[0] : undefined);
    if (next === undefined) break;
    // A repeated vertex is no segment.
    if (v.at.x === next.at.x && v.at.y === next.at.y) continue;
    curves.push(mapCurve(axes, bulgeCurve(v.at, next.at, v.bulge)));
  }
  return { curves, closed };
}

/** A line that climbs is not part of a flat outline. */
function level(f: Fields, z0: number, z1: number): void {
  if (!f.broken && Math.abs(z0 - z1) > 1e-6) {
    f.fail('not-flat', `LINE climbs from z ${z0} to z ${z1}`, 'a flat drawing: both ends at one height');
  }
}
