/**
 * Triangles of second order over the regions of a plan: three corners and the middles of three sides. Nothing here throws: what
 * cannot be meshed comes back as a reason with its place.
 */
import { arctangent2 } from '../../../base/angles.ts';
import type { Mm } from '../../../base/units.ts';
import { distance, divide, type MeshLine, type PlanPoint, SAME_PLACE, type Segments, type SizeField } from './lines.ts';
import { refine } from './refine.ts';

export interface MeshRequest {
  /** Closed outlines and open lines that edges must follow; they may meet end to end or share lengths, never cross. */
  readonly lines: readonly MeshLine[];
  /** Region of a place: below 0 outside. */
  readonly regionAt: (x: Mm, y: Mm) => number;
  readonly size: SizeField;
  /** Narrowest neck between lines that is meshed. */
  readonly narrowest?: Mm;
  readonly mostVertices?: number;
}

export interface PlanMesh {
  readonly kind: 'mesh';
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Six nodes an element: corners 0 1 2 counter-clockwise, middles of 01, 12, 20. */
  readonly elements: Int32Array;
  /** Region of each element. */
  readonly region: Int32Array;
  /** Smallest angle of all, radians. */
  readonly leastAngle: number;
}

export interface NoMesh {
  readonly kind: 'no-mesh';
  readonly reason: 'crossing' | 'neck' | 'too-many' | 'not-finite' | 'empty';
  readonly at?: PlanPoint;
}

/** Thinner necks break under the cutter, and a mesh of them has no end of triangles. */
const NARROWEST: Mm = 0.05;
const MOST_VERTICES = 40_000;

export function planMesh(request: MeshRequest): PlanMesh | NoMesh {
  const points = request.lines.flatMap((l) => l.points);
  const odd = points.find(([x, y]) => !Number.isFinite(x) || !Number.isFinite(y));
  if (odd !== undefined) return { kind: 'no-mesh', reason: 'not-finite' };
  if (points.length < 3) return { kind: 'no-mesh', reason: 'empty' };
  const narrowest = request.narrowest ?? NARROWEST;
  const meeting = faultBetween(request.lines, narrowest);
  if (meeting !== null) return meeting;
  const segments = divide(request.lines, request.size);
  const fault = faultOf(segments, narrowest);
  if (fault !== null) return fault;
  const refined = refine({
    segments,
    size: request.size,
    regionAt: request.regionAt,
    most: request.mostVertices ?? MOST_VERTICES,
  });
  if (refined.kind === 'too-many') return { kind: 'no-mesh', reason: 'too-many' };
  return secondOrder(refined.t, request.regionAt);
}

/** Lines as given that cross, or that come too near without meeting. */
function faultBetween(lines: readonly MeshLine[], narrowest: Mm): NoMesh | null {
  for (let i = 0; i < lines.length; i++) {
    for (let j = i + 1; j < lines.length; j++) {
      let least = Number.POSITIVE_INFINITY;
      let at: PlanPoint = [0, 0];
      for (const [a, b] of piecesOf(lines[i]!)) {
        for (const [c, d] of piecesOf(lines[j]!)) {
          const reach = narrowest;
          if (
            Math.max(c[0], d[0]) < Math.min(a[0], b[0]) - reach ||
            Math.min(c[0], d[0]) > Math.max(a[0], b[0]) + reach
          )
            continue;
          if (
            Math.max(c[1], d[1]) < Math.min(a[1], b[1]) - reach ||
            Math.min(c[1], d[1]) > Math.max(a[1], b[1]) + reach
          )
            continue;
          const gap = between(a, b, c, d);
          if (
            gap === 0 &&
            [a, b].every((p) => toPiece(p, c, d) > SAME_PLACE) &&
            [c, d].every((p) => toPiece(p, a, b) > SAME_PLACE)
          )
            return { kind: 'no-mesh', reason: 'crossing', at: a };
          if (gap < least) [least, at] = [gap, a];
        }
      }
      if (least > SAME_PLACE && least < narrowest) return { kind: 'no-mesh', reason: 'neck', at };
    }
  }
  return null;
}

function piecesOf({ points, closed }: MeshLine): (readonly [PlanPoint, PlanPoint])[] {
  return points
    .slice(closed ? 0 : 1)
    .map((p, i) => [points[closed ? (i + points.length - 1) % points.length : i]!, p] as const);
}

/** Pieces that cross, touch, or leave a neck too thin. Pieces that share an end are neighbours. */
function faultOf({ x, y, ends }: Segments, narrowest: Mm): NoMesh | null {
  const joined = clusters({ x, y, ends }, narrowest);
  for (let i = 0; i < ends.length; i++) {
    const [a, b] = ends[i]!;
    const [ax, ay, bx, by] = [x[a]!, y[a]!, x[b]!, y[b]!];
    const left = Math.min(ax, bx) - narrowest;
    const right = Math.max(ax, bx) + narrowest;
    const low = Math.min(ay, by) - narrowest;
    const high = Math.max(ay, by) + narrowest;
    for (let j = i + 1; j < ends.length; j++) {
      const [c, d] = ends[j]!;
      if ([joined[a], joined[b]].some((v) => v === joined[c] || v === joined[d])) continue;
      const [cx, cy, dx, dy] = [x[c]!, y[c]!, x[d]!, y[d]!];
      if (Math.max(cx, dx) < left || Math.min(cx, dx) > right || Math.max(cy, dy) < low || Math.min(cy, dy) > high)
        continue;
      const gap = between([ax, ay], [bx, by], [cx, cy], [dx, dy]);
      if (gap < narrowest)
        return { kind: 'no-mesh', reason: gap === 0 ? 'crossing' : 'neck', at: [(ax + bx) / 2, (ay + by) / 2] };
    }
  }
  return null;
}

/** Vertices that a short piece joins count as one: their other pieces are neighbours. */
function clusters({ x, y, ends }: Segments, short: Mm): Int32Array {
  const out = Int32Array.from(x, (_, i) => i);
  for (const [a, b] of ends) {
    if (Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!) >= 2 * short || out[a] === out[b]) continue;
    const [from, to] = [out[b]!, out[a]!];
    for (let i = 0; i < out.length; i++) if (out[i] === from) out[i] = to;
  }
  return out;
}

/** 0: they cross. */
function between(a: PlanPoint, b: PlanPoint, c: PlanPoint, d: PlanPoint): number {
  const turn = (p: PlanPoint, q: PlanPoint, r: PlanPoint) =>
    (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  if (turn(a, b, c) * turn(a, b, d) < 0 && turn(c, d, a) * turn(c, d, b) < 0) return 0;
  return Math.min(toPiece(a, c, d), toPiece(b, c, d), toPiece(c, a, b), toPiece(d, a, b));
}

function toPiece(p: PlanPoint, a: PlanPoint, b: PlanPoint): number {
  const [ux, uy] = [b[0] - a[0], b[1] - a[1]];
  const share = Math.max(0, Math.min(1, ((p[0] - a[0]) * ux + (p[1] - a[1]) * uy) / (ux * ux + uy * uy || 1)));
  return distance(p, [a[0] + share * ux, a[1] + share * uy]);
}

interface Triangles {
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly corners: readonly number[];
}

function secondOrder(t: Triangles, regionAt: MeshRequest['regionAt']): PlanMesh | NoMesh {
  const xs: number[] = [];
  const ys: number[] = [];
  const numbers = new Map<string, number>();
  const node = (key: string, x: number, y: number) => {
    let n = numbers.get(key);
    if (n === undefined) {
      n = xs.length;
      numbers.set(key, n);
      xs.push(x);
      ys.push(y);
    }
    return n;
  };
  const corner = (v: number) => node(`${v}`, t.x[v]!, t.y[v]!);
  const middle = (a: number, b: number) =>
    node(a < b ? `${a} ${b}` : `${b} ${a}`, (t.x[a]! + t.x[b]!) / 2, (t.y[a]! + t.y[b]!) / 2);
  const elements: number[] = [];
  const region: number[] = [];
  let leastAngle = Math.PI;
  for (let i = 0; i < t.corners.length; i += 3) {
    const [a, b, c] = [t.corners[i]!, t.corners[i + 1]!, t.corners[i + 2]!];
    if (a < 4 || b < 4 || c < 4) continue;
    const at = regionAt((t.x[a]! + t.x[b]! + t.x[c]!) / 3, (t.y[a]! + t.y[b]! + t.y[c]!) / 3);
    if (at < 0) continue;
    elements.push(corner(a), corner(b), corner(c), middle(a, b), middle(b, c), middle(c, a));
    region.push(at);
    leastAngle = Math.min(leastAngle, angle(t, a, b, c), angle(t, b, c, a), angle(t, c, a, b));
  }
  if (region.length === 0) return { kind: 'no-mesh', reason: 'empty' };
  return {
    kind: 'mesh',
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    elements: Int32Array.from(elements),
    region: Int32Array.from(region),
    leastAngle,
  };
}

/** At the first corner. */
function angle({ x, y }: Triangles, a: number, b: number, c: number): number {
  const [ux, uy, vx, vy] = [x[b]! - x[a]!, y[b]! - y[a]!, x[c]! - x[a]!, y[c]! - y[a]!];
  return arctangent2(ux * vy - uy * vx, ux * vx + uy * vy);
}
