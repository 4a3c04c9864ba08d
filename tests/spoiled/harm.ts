/**
 * What a program does to the part, by brute force: points of the path close together against points of the edge, with
 * distances worked out here. Slow and plain on purpose; it says whether a planted fault is one (design 4.5), and knows nothing of the check.
 * Flat-ended cutters against edge, pockets and holes; every cutter's rapids; what it cannot judge it does not claim.
 */
import type { Segment } from '../../src/geometry/types.ts';
import type { Job } from '../../src/part/part.ts';
import { courseOf, lengthOf, type Move, pointOf } from './course.ts';
import type { Good, Text } from './jobs.ts';

interface P {
  readonly x: number;
  readonly y: number;
}

/** Deepest cut into a part, widest stock left on an edge away from tabs, lowest rapid sideways. */
export interface Judged {
  readonly gouge: number;
  readonly uncut: number;
  readonly lowRapid: number;
}

/** Limits of the design with a little on top, so that nothing hangs on the last digit of the text. */
const GOUGE = 0.0065;
const UNCUT = 0.0125;
const STEP = 0.02;

/** Words for the harm that a changed program does beyond what the good one did; null: none that this judge sees. */
export function harmOf(good: Good, programs: readonly Text[]): string | null {
  const before = beforeOf(good);
  const after = movesOf(programs);
  const kept = new Set(after.map(keyOf));
  const added = after.filter((m) => !before.has(keyOf(m)));
  const gone = [...before].flatMap(([k, m]) => (kept.has(k) ? [] : [m]));
  const parts = partsOf(good.job);
  const found = judgeMoves(added, after, gone, good.job, parts, programs);
  if (found.gouge > GOUGE) return `gouge of ${found.gouge.toFixed(4)} mm`;
  if (found.uncut > UNCUT) {
    const was = judgeMoves([], [...before.values()], gone, good.job, parts, good.programs).uncut;
    if (found.uncut > was + 0.002) return `${found.uncut.toFixed(4)} mm left on the edge`;
  }
  return found.lowRapid > 0.01 ? `rapid ${found.lowRapid.toFixed(3)} below the top` : null;
}

const befores = new WeakMap<Good, Map<string, Move>>();

function beforeOf(good: Good): Map<string, Move> {
  const known = befores.get(good) ?? new Map(movesOf(good.programs).map((m) => [keyOf(m), m]));
  befores.set(good, known);
  return known;
}

/** The whole of a program. */
export function judge(programs: readonly Text[], job: Job): Judged {
  const moves = movesOf(programs);
  return judgeMoves(moves, moves, null, job, partsOf(job), programs);
}

function movesOf(programs: readonly Text[]): Move[] {
  return courseOf(programs).filter((m) => Number.isFinite(m.to.x + m.to.y + m.to.z + m.from.x + m.from.y + m.from.z));
}

function keyOf(m: Move): string {
  const { from: a, to: b, centre: c } = m;
  return `${m.kind} ${m.tool} ${m.clockwise} ${a.x} ${a.y} ${a.z} ${b.x} ${b.y} ${b.z} ${c.x} ${c.y}`;
}

const cache = new WeakMap<Job, Part[]>();

function partsOf(job: Job): Part[] {
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

/** `added`: moves to look at for gouges and rapids. `gone`: only the edge near these is looked at; null: all of it. */
function judgeMoves(
  added: readonly Move[],
  all: readonly Move[],
  gone: readonly Move[] | null,
  job: Job,
  parts: readonly Part[],
  programs: readonly Text[],
): Judged {
  const flat = (m: Move) => ['end mill', 'slot drill'].includes(cutterOf(job, m.tool)?.kind ?? '');
  const cuts = all.filter(flat);
  const lost = gone?.filter(flat) ?? null;
  return {
    gouge: Math.max(0, ...added.filter(flat).map((m) => deepest(m, job, parts))),
    uncut: Math.max(0, ...parts.map((p) => left(p, cuts, lost, job, programs))),
    lowRapid: Math.max(0, ...added.map((m) => lowRapid(m, job))),
  };
}

const cutterOf = (job: Job, n: number) => job.cutters.find((c) => c.number === n);

function lowRapid(m: Move, job: Job): number {
  if (m.kind !== 'rapid' || Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) < 1e-6) return 0;
  return job.stock.max[2] - Math.min(m.from.z, m.to.z);
}

function deepest(m: Move, job: Job, parts: readonly Part[]): number {
  const r = cutterOf(job, m.tool)!.diameter / 2;
  if (!(Math.min(m.from.z, m.to.z) < -0.005)) return 0;
  const count = Math.max(1, Math.ceil(lengthOf(m) / STEP));
  let most = 0;
  for (let i = 0; i <= count; i++) {
    const p = pointOf(m, i / count);
    if (p.z >= -0.005) continue;
    for (const part of parts) most = Math.max(most, part.cutInto(p, r, p.z));
  }
  return most;
}

/** Widest stock left on the edge at the foot of the profile. */
function left(
  part: Part,
  flat: readonly Move[],
  lost: readonly Move[] | null,
  job: Job,
  programs: readonly Text[],
): number {
  if (lost?.length === 0) return 0;
  const tabs = tabsOf(programs);
  const floor = programs[0]!.text.match(/\(HOLD floor ([\d.]+)\)/);
  const unit = /\bG20\b/.test(programs[0]!.text) ? 25.4 : 1;
  const foot =
    floor === null ? -job.part.thickness : Math.max(-job.part.thickness, job.stock.min[2] + Number(floor[1]) * unit);
  const low = flat.filter((m) => Math.max(m.from.z, m.to.z) <= foot + 2e-4);
  const cuts = low.map((m) => ({ m, r: cutterOf(job, m.tool)!.diameter / 2 }));
  let most = 0;
  for (const p of part.edgePoints) {
    if (lost !== null && !lost.some((m) => distanceToMove(m, p) < cutterOf(job, m.tool)!.diameter / 2 + 0.02)) continue;
    if (tabs.some((t) => Math.hypot(p.x - t.x, p.y - t.y) < t.footprint / 2 + 0.3)) continue;
    let least = Infinity;
    for (const { m, r } of cuts) {
      if (least <= 0) break;
      least = Math.min(least, distanceToMove(m, p) - r);
    }
    most = Math.max(most, Math.min(least, 99));
  }
  return most;
}

interface Tab extends P {
  readonly footprint: number;
}

function tabsOf(programs: readonly Text[]): Tab[] {
  const text = programs[0]!.text;
  const unit = /\bG20\b/.test(text) ? 25.4 : 1;
  return [...text.matchAll(/\((?:TAB \d+|HOLD stub) PART \d+ AT X(\S+) Y(\S+) .*FOOTPRINT ([\d.]+)\)/g)].map((m) => ({
    x: Number(m[1]) * unit,
    y: Number(m[2]) * unit,
    footprint: Number(m[3]) * unit,
  }));
}

function distanceToMove(m: Move, p: P): number {
  if (m.kind !== 'arc') return toLine(m.from, m.to, p);
  const r = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y);
  return toArc(m.centre, r, m.clockwise ? m.to : m.from, m.clockwise ? m.from : m.to, p);
}

function toLine(a: P, b: P, p: P): number {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const l2 = dx * dx + dy * dy;
  const t = l2 === 0 ? 0 : Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / l2));
  return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

/** Counter-clockwise from `a` to `b`; the whole circle where they are the same. */
function toArc(c: P, r: number, a: P, b: P, p: P): number {
  const turn = 2 * Math.PI;
  const from = Math.atan2(a.y - c.y, a.x - c.x);
  const whole = Math.hypot(a.x - b.x, a.y - b.y) < 1e-9;
  const sweep = whole ? turn : (((Math.atan2(b.y - c.y, b.x - c.x) - from) % turn) + turn) % turn;
  const at = (((Math.atan2(p.y - c.y, p.x - c.x) - from) % turn) + turn) % turn;
  if (at <= sweep) return Math.abs(Math.hypot(p.x - c.x, p.y - c.y) - r);
  return Math.min(Math.hypot(p.x - a.x, p.y - a.y), Math.hypot(p.x - b.x, p.y - b.y));
}

/** A closed edge as pieces and as a polygon fine enough to tell inside from outside. */
class Ring {
  readonly pieces: readonly Segment[];
  readonly polygon: readonly P[];

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
  }

  distance(p: P): number {
    let least = Infinity;
    for (const s of this.pieces) {
      const d =
        s.kind === 'line'
          ? toLine(s.a, s.b, p)
          : toArc(s.centre, s.radius, s.sweep > 0 ? s.a : s.b, s.sweep > 0 ? s.b : s.a, p);
      if (d < least) least = d;
    }
    return least;
  }

  inside(p: P): boolean {
    let inside = false;
    const q = this.polygon;
    for (let i = 0, j = q.length - 1; i < q.length; j = i++) {
      const [a, b] = [q[i]!, q[j]!];
      if (a.y > p.y !== b.y > p.y && p.x < ((b.x - a.x) * (p.y - a.y)) / (b.y - a.y) + a.x) inside = !inside;
    }
    return inside;
  }

  /** Positive inside. */
  depth(p: P): number {
    const d = this.distance(p);
    return this.inside(p) ? d : -d;
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

/** What stays beside a pocket that is open at the edge. */
class Open {
  private readonly edge: Ring;
  private readonly ring: Ring;
  private readonly walls: readonly P[];

  constructor(edge: Ring, ring: Ring) {
    this.edge = edge;
    this.ring = ring;
    const wall = ring.pieces.filter((s) => edge.distance(middleOf(s)) > 1e-4).flatMap(pointsOf);
    this.walls = [...wall, ...edge.polygon.filter((p) => !ring.inside(p) && ring.distance(p) > 1e-4)];
  }

  /** To the nearest of it, by points a tenth apart; negative inside. */
  distance(p: P): number {
    const least = this.walls.reduce((d, q) => Math.min(d, Math.hypot(p.x - q.x, p.y - q.y)), Infinity);
    return this.edge.inside(p) && !this.ring.inside(p) ? -least : least;
  }
}

class Part {
  readonly edgePoints: readonly P[];
  private readonly edge: Ring;
  private readonly holes: readonly { at: P; radius: number; depth: number }[];
  private readonly pockets: readonly { ring: Ring; islands: readonly Ring[]; depth: number; open: Open | null }[];
  private readonly box: { x0: number; y0: number; x1: number; y1: number };

  constructor(job: Job, move: (p: P) => P) {
    this.edge = new Ring(job.part.outline.loop, move);
    this.edgePoints = this.edge.polygon;
    const xs = this.edge.polygon.map((p) => p.x);
    const ys = this.edge.polygon.map((p) => p.y);
    this.box = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
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

  /** How far a flat disc at height z cuts into solid part. */
  cutInto(p: P, r: number, z: number): number {
    const { x0, y0, x1, y1 } = this.box;
    if (p.x < x0 - r || p.x > x1 + r || p.y < y0 - r || p.y > y1 + r) return 0;
    let lack = r + this.edge.depth(p);
    for (const h of this.holes) {
      if (z >= -h.depth - 0.01) lack = Math.min(lack, Math.hypot(p.x - h.at.x, p.y - h.at.y) + r - h.radius);
    }
    for (const q of this.pockets) {
      if (z < -q.depth - 0.01) continue;
      const inside = Math.max(
        q.open === null ? r - q.ring.depth(p) : r - q.open.distance(p),
        ...q.islands.map((i) => r + i.depth(p)),
      );
      lack = Math.min(lack, inside);
    }
    // However far sideways: no deeper than the disc is below the top.
    return Math.max(0, Math.min(lack, -z));
  }
}
