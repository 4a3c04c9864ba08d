/** Lines that a mesh must follow: cut where they touch, and divided to the size wanted. */
import { arctangent2 } from '../../../base/angles.ts';
import type { Mm } from '../../../base/units.ts';

export type PlanPoint = readonly [x: Mm, y: Mm];

export interface MeshLine {
  readonly points: readonly PlanPoint[];
  readonly closed: boolean;
}

/** Wanted length of an edge of the mesh at a place. */
export type SizeField = (x: Mm, y: Mm) => Mm;

export interface Segments {
  readonly x: Mm[];
  readonly y: Mm[];
  /** Pairs of vertex numbers. */
  readonly ends: [number, number][];
}

/** A round is divided so that a piece turns by no more: chords then lie within 0.9 % of the radius. */
const MOST_TURN = (24 * Math.PI) / 180;
/** A corner turns by more within one vertex and stays where it is. */
const CORNER = (20 * Math.PI) / 180;
/** Nearer points are one: far under every tolerance of cutting, far over rounding. */
export const SAME_PLACE: Mm = 1e-6;

/** Less is no corner even between long sides. */
const STRAIGHT = 1e-6;

export function divide(lines: readonly MeshLine[], size: SizeField): Segments {
  const met = meetings(lines);
  const out: Segments = { x: [], y: [], ends: [] };
  const numbers = new Map<string, number>();
  const seen = new Set<string>();
  const number = ([x, y]: PlanPoint) => {
    const key = `${Math.round(x / (2 * SAME_PLACE))} ${Math.round(y / (2 * SAME_PLACE))}`;
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, out.x.length);
    out.x.push(x);
    out.y.push(y);
    return out.x.length - 1;
  };
  lines.forEach((line, i) => {
    for (const run of runs(line, met[i]!, size)) {
      const at = divided(run, size).map(number);
      for (let k = 1; k < at.length; k++) {
        const [a, b] = [at[k - 1]!, at[k]!];
        const key = a < b ? `${a} ${b}` : `${b} ${a}`;
        if (a === b || seen.has(key)) continue;
        seen.add(key);
        out.ends.push([a, b]);
      }
    }
  });
  return out;
}

interface Run {
  readonly points: PlanPoint[];
  /** Turn at each point, radians; 0 at the ends. */
  readonly turns: number[];
}

/** Vertices of other lines that lie on a piece of this one, by the index of that piece. */
function meetings(lines: readonly MeshLine[]): Map<number, PlanPoint[]>[] {
  return lines.map((line, i) => {
    const found = new Map<number, PlanPoint[]>();
    const others = lines.filter((_, j) => j !== i).flatMap((l) => l.points);
    const n = line.points.length;
    for (let k = 0; k < (line.closed ? n : n - 1); k++) {
      const [a, b] = [line.points[k]!, line.points[(k + 1) % n]!];
      const on = others.filter((p) => within(a, b, p));
      if (on.length > 0)
        found.set(
          k,
          on.sort((p, q) => distance(a, p) - distance(a, q)),
        );
    }
    return found;
  });
}

function within(a: PlanPoint, b: PlanPoint, p: PlanPoint): boolean {
  const length = distance(a, b);
  if (length === 0) return false;
  const along = ((p[0] - a[0]) * (b[0] - a[0]) + (p[1] - a[1]) * (b[1] - a[1])) / length;
  const off = ((p[1] - a[1]) * (b[0] - a[0]) - (p[0] - a[0]) * (b[1] - a[1])) / length;
  return along > -SAME_PLACE && along < length + SAME_PLACE && Math.abs(off) < SAME_PLACE;
}

export function distance(a: PlanPoint, b: PlanPoint): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The line from fixed point to fixed point: corners and meetings. */
function runs(line: MeshLine, met: Map<number, PlanPoint[]>, size: SizeField): Run[] {
  const points: PlanPoint[] = [];
  const fixed: boolean[] = [];
  const n = line.points.length;
  const push = (p: PlanPoint, hold: boolean) => {
    const at = points.at(-1);
    if (at !== undefined && distance(at, p) < SAME_PLACE) fixed[fixed.length - 1] ||= hold;
    else {
      points.push(p);
      fixed.push(hold);
    }
  };
  for (let k = 0; k < n; k++) {
    push(line.points[k]!, !line.closed && (k === 0 || k === n - 1));
    if (line.closed || k < n - 1) for (const p of met.get(k) ?? []) push(p, true);
  }
  if (line.closed && points.length > 1 && distance(points[0]!, points.at(-1)!) < SAME_PLACE) {
    fixed[0] ||= fixed.pop()!;
    points.pop();
  }
  const m = points.length;
  const turns = points.map((p, k) =>
    !line.closed && (k === 0 || k === m - 1) ? 0 : turn(points[(k + m - 1) % m]!, p, points[(k + 1) % m]!),
  );
  turns.forEach((angle, k) => {
    const here = points[k]!;
    const sides = Math.min(distance(points[(k + m - 1) % m]!, here), distance(here, points[(k + 1) % m]!));
    fixed[k] ||= angle > CORNER || (angle > STRAIGHT && sides > size(...here) / 2);
  });
  return cutAtFixed({ points, turns }, fixed, line.closed);
}

function cutAtFixed({ points, turns }: Run, fixed: readonly boolean[], closed: boolean): Run[] {
  const m = points.length;
  const from = Math.max(0, fixed.indexOf(true));
  const out: Run[] = [];
  let run: Run = { points: [points[from]!], turns: [0] };
  for (let step = 1; step <= (closed ? m : m - 1); step++) {
    const k = (from + step) % m;
    const ends = fixed[k]! || step === (closed ? m : m - 1);
    run.points.push(points[k]!);
    run.turns.push(ends ? 0 : turns[k]!);
    if (!ends) continue;
    out.push(run);
    run = { points: [points[k]!], turns: [0] };
  }
  return out;
}

function turn(a: PlanPoint, b: PlanPoint, c: PlanPoint): number {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  const vx = c[0] - b[0];
  const vy = c[1] - b[1];
  return Math.abs(arctangent2(ux * vy - uy * vx, ux * vx + uy * vy));
}

/** How finely the size is read along a line, as a share of itself. */
const FINE = 4;

/** Points of a run at equal shares of the count of pieces wanted: by size, or by turning. */
function divided({ points, turns }: Run, size: SizeField): PlanPoint[] {
  const fine: PlanPoint[] = [points[0]!];
  const count: number[] = [0];
  for (let k = 1; k < points.length; k++) {
    const [a, b] = [points[k - 1]!, points[k]!];
    const length = distance(a, b);
    const pieces = Math.max(1, Math.ceil((FINE * length) / size((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)));
    const turning = (turns[k - 1]! + turns[k]!) / 2 / MOST_TURN / pieces;
    for (let j = 1; j <= pieces; j++) {
      const p: PlanPoint = [a[0] + ((b[0] - a[0]) * j) / pieces, a[1] + ((b[1] - a[1]) * j) / pieces];
      const wanted = length / pieces / size(p[0], p[1]);
      fine.push(p);
      count.push(count.at(-1)! + Math.max(wanted, turning));
    }
  }
  const closedRun = distance(points[0]!, points.at(-1)!) < SAME_PLACE;
  const total = Math.max(closedRun ? 4 : 1, Math.ceil(count.at(-1)! - 1e-6));
  const out: PlanPoint[] = [points[0]!];
  let i = 1;
  for (let k = 1; k < total; k++) {
    const at = (count.at(-1)! * k) / total;
    while (count[i]! < at) i++;
    const share = (at - count[i - 1]!) / (count[i]! - count[i - 1]!);
    const [a, b] = [fine[i - 1]!, fine[i]!];
    out.push([a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])]);
  }
  out.push(points.at(-1)!);
  return out;
}
