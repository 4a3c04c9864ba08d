/**
 * Collects moves, rounding every coordinate to the post's grid as it goes, so that what is planned from here on
 * is what will be written, and each move starts where the written one before it ends.
 */

import { cosine } from '../base/angles.ts';
import type { Mm, MmPerMin, Rad } from '../base/units.ts';
import { sub } from '../geometry/measure/point.ts';
import { line } from '../geometry/measure/segment.ts';
import type { Point, Segment } from '../geometry/types.ts';
import type { Cutter } from '../part/part.ts';
import type { Bite, Declared, Move } from './moves.ts';
import type { Scene } from './scene.ts';
import { Cleared } from './travel/cleared.ts';
import { crossingHeight } from './travel/crossing.ts';

/** A rapid straight down stops this far above what is left (design 4.5). */
const RAPID_AIR: Mm = 0.2;

export class Emitter {
  readonly moves: Move[] = [];
  private readonly grid: Mm;
  /** What is in the spindle: it, its shank and its holder are kept clear of clamps when crossing. */
  cutter: Cutter | null = null;
  /** Radius of the flat end that cuts; null for pointed and rounded cutters, which leave no flat bottom. */
  flat: Mm | null = null;
  private readonly cleared: Cleared;
  private waiting: readonly Move[] = [];
  /** Where the cutter stands; an axis is undefined while not known (program start, after every stop). */
  private x: Mm | undefined;
  private y: Mm | undefined;
  private z: Mm | undefined;
  /** Where the operation before ended, for choosing an order only: after a stop it may stand elsewhere. */
  lastKnown: Point | null = null;
  /** The last move was a rapid straight up. */
  private rising = false;
  private declared: Declared | undefined;
  private readonly bitten = new Map<number, Bite>();

  constructor(grid: Mm, cleared: Cleared) {
    this.grid = grid;
    this.cleared = cleared;
  }

  get here(): { x: Mm | undefined; y: Mm | undefined; z: Mm | undefined } {
    return { x: this.x, y: this.y, z: this.z };
  }

  get bites(): readonly Bite[] {
    return [...this.bitten.values()];
  }

  /** Engagement of one part of an operation; the greatest and the sum over its parts are kept. */
  bite(operation: number, peak: Rad, slots: Mm): void {
    const so = this.bitten.get(operation);
    this.bitten.set(operation, {
      operation,
      peak: Math.max(peak, so?.peak ?? 0),
      slots: slots + (so?.slots ?? 0),
    });
  }

  /** What `cuts` emits is declared so; undefined: it is within the limit. */
  as(declared: Declared | undefined, cuts: () => void): void {
    const before = this.declared;
    this.declared = declared;
    cuts();
    this.declared = before;
  }

  /** Another that stands nowhere yet, to try out moves that are thrown away. */
  trial(): Emitter {
    const other = new Emitter(this.grid, new Cleared(true));
    other.cutter = this.cutter;
    other.lastKnown = this.x === undefined || this.y === undefined ? this.lastKnown : { x: this.x, y: this.y };
    other.flat = this.flat;
    return other;
  }

  round(v: Mm): Mm {
    return Math.round(v / this.grid) * this.grid;
  }

  push(move: Move): void {
    this.moves.push(move);
    this.rising = false;
    if (move.kind === 'stop' || move.kind === 'change') this.forget();
  }

  rapidZ(z: Mm): void {
    const to = this.round(z);
    if (to === this.z) return;
    const up = this.z !== undefined && to > this.z;
    // Up and further up is one move.
    if (up && this.rising) this.moves.pop();
    this.push({ kind: 'rapid', z: to });
    this.z = to;
    this.rising = up;
  }

  /** Straight down in the air towards `z`: to `above` over uncut stock, further where an earlier cut has opened the whole disc. */
  descend(above: Mm, z: Mm): void {
    const open = Math.max(this.openBelow() ?? above, z) + RAPID_AIR;
    this.rapidZ(Math.min(above, Math.ceil(open / this.grid - 1e-6) * this.grid));
  }

  rapidXY(p: Point): void {
    const x = this.round(p.x);
    const y = this.round(p.y);
    if (x !== this.x || y !== this.y) this.push({ kind: 'rapid', x, y });
    this.x = x;
    this.y = y;
  }

  feedZ(z: Mm, feed: MmPerMin): void {
    const to = this.round(z);
    if (to === this.z) return;
    this.push({ kind: 'feed', z: to, feed, ...this.mark() });
    if (this.x !== undefined && this.y !== undefined) {
      const here = { x: this.x, y: this.y };
      this.note(line(here, here), this.z ?? to, to);
    }
    this.z = to;
  }

  feedTo(p: Point, z: Mm, feed: MmPerMin): void {
    const to = { x: this.round(p.x), y: this.round(p.y), z: this.round(z) };
    if (to.x === this.x && to.y === this.y && to.z === this.z) return;
    this.push({ kind: 'feed', ...to, feed, ...this.mark() });
    if (this.x !== undefined && this.y !== undefined)
      this.note(line({ x: this.x, y: this.y }, { x: to.x, y: to.y }), this.z ?? to.z, to.z);
    this.x = to.x;
    this.y = to.y;
    this.z = to.z;
  }

  /**
   * The position is not taken as known (an operation may be restarted here), and `moves` follow the first travel:
   * Z to clearance alone, X Y, then spindle and coolant, then down.
   */
  afterFirstTravel(moves: readonly Move[]): void {
    this.forget();
    this.waiting = moves;
  }

  private forget(): void {
    if (this.x !== undefined && this.y !== undefined) this.lastKnown = { x: this.x, y: this.y };
    this.x = undefined;
    this.y = undefined;
    this.z = undefined;
  }

  /** After a cycle, which ends over its last hole. */
  standAt(p: Point, z: Mm): void {
    this.x = this.round(p.x);
    this.y = this.round(p.y);
    this.z = this.round(z);
  }

  /** Sideways to `to` at the lowest free height; where the position is not known, at the clearance height. */
  travelTo(scene: Scene, to: Point): void {
    if (this.x === undefined || this.y === undefined || this.z === undefined) this.rapidZ(scene.heights.clearance);
    else {
      if (this.round(to.x) === this.x && this.round(to.y) === this.y) return;
      const from = { x: this.x, y: this.y };
      const z = this.cutter ? crossingHeight(scene, from, to, this.cutter) : scene.heights.clearance;
      if (this.z < z) this.rapidZ(z);
    }
    this.rapidXY(to);
    for (const move of this.waiting) this.push(move);
    this.waiting = [];
  }

  /** Along a line or arc to its end, z changing evenly to `z`. */
  along(segment: Segment, z: Mm, feed: MmPerMin): void {
    if (segment.kind === 'line') return this.feedTo(segment.b, z, feed);
    const end = { x: this.round(segment.b.x), y: this.round(segment.b.y) };
    const stay = end.x === this.x && end.y === this.y;
    // A short arc that rounds to nothing would be read as a whole turn; a real whole turn has a sweep near 2 pi.
    if (stay && Math.abs(segment.sweep) < Math.PI) return this.feedTo(segment.b, z, feed);
    if (isNearlyStraight(segment, this.grid)) return this.feedTo(segment.b, z, feed);
    // The centre is rounded as an offset from the written start: the words I and J carry it so.
    const from = { x: this.x ?? segment.a.x, y: this.y ?? segment.a.y };
    const offset = sub(segment.centre, from);
    const centre = { x: from.x + this.round(offset.x), y: from.y + this.round(offset.y) };
    const to = this.round(z);
    const helix = to !== this.z ? { z: to } : {};
    this.push({ kind: 'arc', ...end, ...helix, centre, counterClockwise: segment.sweep > 0, feed, ...this.mark() });
    this.note({ ...segment, a: from, b: end, centre }, this.z ?? to, to);
    this.x = end.x;
    this.y = end.y;
    this.z = to;
  }

  private mark(): { readonly as?: Declared } {
    return this.declared === undefined ? {} : { as: this.declared };
  }

  private note(path: Segment, from: Mm, to: Mm): void {
    if (this.flat !== null) this.cleared.add(this.flat, path, from, to);
  }

  private openBelow(): Mm | undefined {
    const { x, y, flat } = this;
    return x === undefined || y === undefined || flat === null ? undefined : this.cleared.floorAt({ x, y }, flat);
  }

  chain(segments: readonly Segment[], z: Mm, feed: MmPerMin): void {
    for (const s of segments) this.along(s, z, feed);
  }
}

/**
 * An arc whose rise over its chord is under half the grid cannot be told from a line once written, and its centre,
 * far away and rounded, would only add error.
 */
function isNearlyStraight(segment: Extract<Segment, { kind: 'arc' }>, grid: Mm): boolean {
  const rise = segment.radius * (1 - cosine(Math.min(Math.abs(segment.sweep), Math.PI) / 2));
  return rise < grid / 2;
}
