/**
 * Where a part of a job is solid, by brute force: edges as pieces to measure to, and as polygons to tell inside from outside. Boxes
 * leave out what is too far off to matter; what is near is measured plainly.
 */
import type { Segment } from '../../src/geometry/types.ts';
import type { Job } from '../../src/part/part.ts';
import { arcOf, type Box, boxOf, type Curve, distanceTo, isBeyond, lineOf, type P } from './distance.ts';

/** Polygons lie within 0.01 mm of their arcs: twice that. */
const OFF_ARC = 0.02;

/**
 * By how much more than the way between two points `Part.lack` may differ there: by polygons, and by the walls of open pockets, which
 * are points a tenth of a millimetre apart.
 */
export const SLACK = 0.15;

/** Where each of the job's parts lies. */
export function partsOf(job: Job): readonly Part[] {
  const known = cache.get(job);
  if (known !== undefined) return known;
  const parts = job.places.map((place) => {
    const move = (p: P): P => {
      const x = place.mirror ? -p.x : p.x;
      const [c, s] = [Math.cos(place.turn), Math.sin(place.turn)];
      return { x: place.at.x + x * c - p.y * s, y: place.at.y + x * s + p.y * c };
    };
    return new Part(job, move);
  });
  cache.set(job, parts);
  return parts;
}

const cache = new WeakMap<Job, readonly Part[]>();

export class Part {
  readonly edgePoints: readonly P[];
  private readonly edge: Ring;
  private readonly holes: readonly { at: P; radius: number; depth: number }[];
  private readonly pockets: readonly { ring: Ring; islands: readonly Ring[]; depth: number; open: Open | null }[];
  private readonly box: Box;

  constructor(job: Job, move: (p: P) => P) {
    this.edge = new Ring(job.part.outline.loop, move);
    this.edgePoints = this.edge.polygon;
    this.box = boxOf(this.edge.polygon);
    this.holes = job.part.holes.map((h) => ({
      at: move(h.at),
      radius: Math.max(h.diameter, h.limits?.most ?? 0) / 2,
      depth: h.depth ?? Infinity,
    }));
    this.pockets = job.part.pockets.map((p) => ({
      ring: new Ring(p.outline.loop, move),
      islands: p.islands.map((i) => new Ring(i.loop, move)),
      depth: p.depth ?? Infinity,
      open: p.open.length === 0 ? null : new Open(this.edge, new Ring(p.outline.loop, move)),
    }));
  }

  /**
   * How far a flat disc at height z cuts sideways into solid part, negative where it stands clear. What is no more than `enough` is not
   * looked into further: then it is no less than the true one.
   */
  lack(p: P, r: number, z: number, enough: number): number {
    const { x0, y0, x1, y1 } = this.box;
    const off = Math.max(x0 - r - p.x, p.x - x1 - r, y0 - r - p.y, p.y - y1 - r);
    if (off > 0) return -off;
    let lack = r + this.edge.depth(p);
    for (const h of this.holes) {
      if (z >= -h.depth - 0.01) lack = Math.min(lack, Math.hypot(p.x - h.at.x, p.y - h.at.y) + r - h.radius);
    }
    for (const q of this.pockets) {
      if (lack <= enough) return lack;
      if (z < -q.depth - 0.01) continue;
      const inside = Math.max(
        q.open === null ? r - q.ring.depth(p) : r - q.open.distance(p),
        ...q.islands.map((i) => r + i.depth(p)),
      );
      lack = Math.min(lack, inside);
    }
    return lack;
  }
}

/** A closed edge as pieces and as a polygon fine enough to tell inside from outside. */
class Ring {
  readonly pieces: readonly Segment[];
  readonly polygon: readonly P[];
  private readonly curves: readonly Curve[];
  private readonly runs: readonly Run[];
  /** A point whose side is known, and how far round it no edge comes. */
  private known = { x: NaN, y: NaN, inside: false, clear: 0 };
  private nearest = 0;

  constructor(loop: readonly Segment[], move: (p: P) => P) {
    this.pieces = loop.map((s) => {
      const [a, b] = [move(s.a), move(s.b)];
      if (s.kind === 'line') return { ...s, a, b };
      // A mirror turns the sense of an arc; told by where its middle goes.
      const mid = move(middleOf(s));
      const c = move(s.centre);
      const cross = (a.x - c.x) * (mid.y - c.y) - (a.y - c.y) * (mid.x - c.x);
      const long = Math.abs(s.sweep) > Math.PI * 1.999;
      const sense = long || Math.abs(s.sweep) < 1e-9 ? Math.sign(s.sweep) : Math.sign(cross);
      return { ...s, a, b, centre: c, sweep: sense * Math.abs(s.sweep) };
    });
    this.polygon = this.pieces.flatMap(pointsOf);
    this.curves = this.pieces.map((s) =>
      s.kind === 'line'
        ? lineOf(s.a, s.b)
        : arcOf(s.centre, s.radius, s.sweep > 0 ? s.a : s.b, s.sweep > 0 ? s.b : s.a),
    );
    this.runs = runsOf(this.polygon);
  }

  distance(p: P): number {
    let least = distanceTo(this.curves[this.nearest]!, p);
    for (let i = 0; i < this.curves.length; i++) {
      const c = this.curves[i]!;
      if (isBeyond(c.box, p, least)) continue;
      const d = distanceTo(c, p);
      if (d < least) [least, this.nearest] = [d, i];
    }
    return least;
  }

  inside(p: P): boolean {
    const { known } = this;
    if (Math.hypot(p.x - known.x, p.y - known.y) < known.clear) return known.inside;
    let inside = false;
    for (const run of this.runs) {
      if (p.y < run.box.y0 || p.y > run.box.y1 || p.x > run.box.x1 + 1e-6) continue;
      for (let i = 1; i < run.points.length; i++) {
        const a = run.points[i]!;
        const b = run.points[i - 1]!;
        if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
      }
    }
    return inside;
  }

  /** Positive inside. */
  depth(p: P): number {
    const d = this.distance(p);
    const inside = this.inside(p);
    if (d > OFF_ARC) this.known = { x: p.x, y: p.y, inside, clear: d - OFF_ARC };
    return inside ? d : -d;
  }
}

function middleOf(s: Segment): P {
  return at(s, 0.5);
}

function at(s: Segment, f: number): P {
  if (s.kind === 'line') return { x: s.a.x + (s.b.x - s.a.x) * f, y: s.a.y + (s.b.y - s.a.y) * f };
  const a = Math.atan2(s.a.y - s.centre.y, s.a.x - s.centre.x) + s.sweep * f;
  return { x: s.centre.x + s.radius * Math.cos(a), y: s.centre.y + s.radius * Math.sin(a) };
}

function pointsOf(s: Segment): P[] {
  const length = s.kind === 'line' ? Math.hypot(s.b.x - s.a.x, s.b.y - s.a.y) : Math.abs(s.sweep) * s.radius;
  const count = s.kind === 'line' ? Math.max(1, Math.ceil(length / 0.1)) : Math.max(8, Math.ceil(length / 0.1));
  return Array.from({ length: count }, (_, i) => at(s, i / count));
}

/** Points one after the other, with a box round them. */
interface Run {
  readonly points: readonly P[];
  readonly box: Box;
}

const RUN = 24;

/** Each begins with the last point of the one before, the first with the last of all. */
function runsOf(points: readonly P[]): Run[] {
  return Array.from({ length: Math.ceil(points.length / RUN) }, (_, i) => {
    const run = [points.at(i * RUN - 1)!, ...points.slice(i * RUN, (i + 1) * RUN)];
    return { points: run, box: boxOf(run) };
  });
}

/** What stays beside a pocket that is open at the edge. */
class Open {
  private readonly edge: Ring;
  private readonly ring: Ring;
  private readonly walls: readonly Run[];

  constructor(edge: Ring, ring: Ring) {
    this.edge = edge;
    this.ring = ring;
    const wall = ring.pieces.filter((s) => edge.distance(middleOf(s)) > 1e-4).flatMap(pointsOf);
    this.walls = runsOf([...wall, ...edge.polygon.filter((p) => !ring.inside(p) && ring.distance(p) > 1e-4)]);
  }

  /** To the nearest of it, by points a tenth apart; negative inside. */
  distance(p: P): number {
    let least = Infinity;
    for (const { points, box } of this.walls) {
      if (isBeyond(box, p, least)) continue;
      for (const q of points) least = Math.min(least, Math.hypot(p.x - q.x, p.y - q.y));
    }
    return this.edge.inside(p) && !this.ring.inside(p) ? -least : least;
  }
}
