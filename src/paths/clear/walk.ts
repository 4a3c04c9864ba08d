/** One level of a pocket in running order: holes, cuts, links between them, and which of it is wider than the limit. */
import type { Mm, Rad } from '../../base/units.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { loopLength, pointAlong, positionOf, startAt } from '../../geometry/measure/loop.ts';
import { dist, step } from '../../geometry/measure/point.ts';
import { directionAt, pointAt, segmentLength, subSegment } from '../../geometry/measure/segment.ts';
import type { Chain, Loop, Point, Region, Segment } from '../../geometry/types.ts';
import { LEAST_RAMP } from '../../plan/plan.ts';
import { type GrowthRequest, type Item, openedBefore } from './grow.ts';
import { type Pose, straight, waysBetween } from './link.ts';
import { needs } from './needs.ts';
import { SweptArea } from './swept.ts';

export type Leg =
  /** Down a helix, then once round; starts and ends at `start`, turning left about `centre`. */
  | { readonly kind: 'helix'; readonly centre: Point; readonly start: Point }
  | LevelLeg
  /** Up, over, and straight down where it is open. */
  | { readonly kind: 'hop'; readonly to: Point }
  /** Down along a loop from its first point, round and round, and once round at depth: there is no room beside it. */
  | { readonly kind: 'ramp'; readonly loop: Loop }
  /** Straight down at a place, over to a loop's first point, and once round it: it is too short for a ramp. */
  | { readonly kind: 'plunge'; readonly loop: Loop; readonly at: Point };

/** `slot`: bites wider than the limit. `open`: cuts nothing. */
export interface LevelLeg {
  readonly kind: 'level';
  readonly path: Segment;
  readonly as: 'cut' | 'slot' | 'open';
}

/** Radii of links as shares of the cutter's radius. */
const LINK_SHARES = [1, 0.7, 0.5, 0.25, 0.1] as const;
/** Where a ring may be begun, in radii on from the nearest place. */
const STARTS = [0.5, 1, 1.5, 2.5, 4] as const;
/** A link may touch a wall's clearance by rounding. */
const CLEAR: Mm = 1e-4;
/** Places at which the engagement is looked at, as a share of the radius. */
const SPACING = 0.2;
/** A bite this small is the measure's own. */
const NO_BITE: Rad = 0.1;
/** Places on a loop that are tried to come down at. */
const PLACES = 24;

type CutItem = Extract<Item, { kind: 'cut' }>;

export class ClearingWalk {
  readonly legs: Leg[] = [];
  swept: SweptArea;
  private kept: SweptArea;
  /** Greatest engagement outside slots. */
  peak: Rad = 0;
  private readonly edge: RegionEdge;
  private readonly wish: GrowthRequest;
  private pose: Pose | null = null;
  /** What links keep off the wall. */
  private inset: Mm;

  constructor(pocket: Region, wish: GrowthRequest) {
    this.edge = new RegionEdge(pocket);
    this.wish = wish;
    this.swept = new SweptArea(wish.radius);
    this.kept = this.swept;
    this.inset = wish.inset;
    if (wish.before) for (const s of openedBefore(wish.before, wish.radius)) this.swept.add(s);
  }

  through(items: readonly Item[]): void {
    const waits = needs(items, 1.05 * this.wish.step);
    const left = new Set(items.keys());
    while (left.size > 0) {
      const ready = [...left].filter((i) => waits[i]!.every((k) => !left.has(k)));
      const next = this.nearest(ready, items);
      left.delete(next);
      this.take(items[next]!);
    }
  }

  /** Once round a loop, begun where it is open; down along it where it is open nowhere. */
  round(loop: Loop): void {
    const s = this.openPlace(loop);
    if (s === null) {
      const short = loopLength(loop) < LEAST_RAMP * this.wish.radius;
      const { enter } = this.wish;
      // Down beyond an open side, if there is one.
      const from = enter === null ? loop : startAt(loop, positionOf(loop, step(enter.at, enter.way, enter.most))!.s);
      this.legs.push(
        short ? { kind: 'plunge', loop: from, at: this.wish.start ?? from[0]!.a } : { kind: 'ramp', loop: from },
      );
      for (const piece of from) this.swept.add(piece);
      const end = from[from.length - 1]!;
      this.pose = { at: end.b, way: directionAt(end, 1) };
      return;
    }
    this.take({ kind: 'cut', chain: startAt(loop, s), closed: false });
  }

  /** Takes back the legs from one on; what they opened is forgotten too. */
  forget(from: number, peak: Rad): void {
    this.legs.length = from;
    this.peak = peak;
    this.pose = null;
    this.swept = this.kept;
  }

  /** From here on legs may be taken back. */
  keep(): void {
    this.kept = this.swept;
    this.swept = this.swept.branch();
  }

  /** Along a path that begins where it is open. */
  follow(chain: Chain): void {
    this.take({ kind: 'cut', chain, closed: false });
  }

  /** More cuts, at least `inset` from the wall. */
  closer(items: readonly Item[], inset: Mm): void {
    this.inset = inset;
    this.through(items);
  }

  /** Cuts that can be reached from here come before further holes. */
  private nearest(ready: readonly number[], items: readonly Item[]): number {
    const here = this.pose?.at;
    if (here === undefined) return ready[0]!;
    let best = ready[0]!;
    let least = Number.POSITIVE_INFINITY;
    for (const i of ready) {
      const d = distanceTo(items[i]!, here);
      if (d < least - 1e-9) [best, least] = [i, d];
    }
    return best;
  }

  private take(item: Item): void {
    if (item.kind === 'hole') return this.hole(item.centre, item.radius);
    const { link, chain } = this.linked(item);
    for (const s of [...link, ...chain]) this.cut(s);
    const last = chain[chain.length - 1]!;
    this.pose = { at: last.b, way: directionAt(last, 1) };
  }

  private hole(centre: Point, radius: Mm): void {
    const start = { x: centre.x + radius, y: centre.y };
    const far = { x: centre.x - radius, y: centre.y };
    this.legs.push({ kind: 'helix', centre, start });
    this.pose = { at: start, way: { x: 0, y: 1 } };
    this.swept.add({ kind: 'arc', a: start, b: far, centre, radius, sweep: Math.PI });
    this.swept.add({ kind: 'arc', a: far, b: start, centre, radius, sweep: Math.PI });
  }

  private cut(path: Segment): void {
    const { legs, peak } = bitten(this.swept, path, this.wish.limit);
    this.peak = Math.max(this.peak, peak);
    this.legs.push(...legs);
    this.swept.add(path);
  }

  private linked(item: CutItem): { link: Chain; chain: Chain } {
    const from = this.pose;
    if (from === null) return this.hopped(item.chain);
    let least: { link: Chain; chain: Chain; angle: Rad } | null = null;
    const begun = starts(item, from.at, this.wish.radius);
    for (const chain of begun) {
      for (const link of this.linksTo(from, chain)) {
        // What an open cut begins with is open; a ring begins where the link brings it.
        const angle = this.engagement(link, item.closed ? [chain[0]!] : []);
        if (angle <= this.wish.limit) return { link, chain };
        if (least === null || angle < least.angle) least = { link, chain, angle };
      }
    }
    // An open start can be come down on; a ring in metal must be reached in the plane, as a slot if need be.
    if (!item.closed) return this.hopped(item.chain);
    return least ?? { link: straight(from.at, begun[0]![0]!.a), chain: begun[0]! };
  }

  private hopped(chain: Chain): { link: Chain; chain: Chain } {
    this.legs.push({ kind: 'hop', to: chain[0]!.a });
    return { link: [], chain };
  }

  /** Those that keep off the walls, the easiest first. */
  private linksTo(from: Pose, chain: Chain): Chain[] {
    const to = { at: chain[0]!.a, way: directionAt(chain[0]!, 0) };
    const curved = LINK_SHARES.flatMap((share) => waysBetween(from, to, share * this.wish.radius));
    const effort = (c: Chain) => effortOf(c, this.wish.radius);
    return [...curved.sort((a, b) => effort(a) - effort(b)), straight(from.at, to.at)].filter((c) => this.isInside(c));
  }

  /** Greatest on a link and on the first of what follows. */
  private engagement(link: Chain, first: Chain): Rad {
    const trial = this.swept.branch();
    let peak = 0;
    for (const s of [...link, ...first]) {
      peak = Math.max(peak, trial.greatest(s, SPACING * this.wish.radius));
      if (peak > this.wish.limit) return peak;
      trial.add(s);
    }
    return peak;
  }

  private isInside(chain: Chain): boolean {
    const clear = this.inset - CLEAR;
    return chain.every(
      (s) => segmentLength(s) < 1e-9 || (this.edge.holds(pointAt(s, 0.5)) && this.edge.index.gap(s).distance >= clear),
    );
  }

  /** The nearest place of a loop at which the whole disc is open. */
  private openPlace(loop: Loop): Mm | null {
    const length = loopLength(loop);
    const here = this.pose?.at;
    const open = Array.from({ length: PLACES }, (_, i) => (i * length) / PLACES).filter(
      (s) => this.swept.engaged(pointAlong(loop, s)!.point, null) < NO_BITE,
    );
    const away = (s: Mm) => (here === undefined ? 0 : dist(here, pointAlong(loop, s)!.point));
    return open.reduce<Mm | null>((best, s) => (best === null || away(s) < away(best) ? s : best), null);
  }
}

/** A path parted into what keeps the limit and what does not. `swept` does not hold it yet. */
export function bitten(
  swept: SweptArea,
  path: Segment,
  limit: Rad,
): { readonly legs: readonly LevelLeg[]; readonly peak: Rad } {
  const seen = swept.along(path, SPACING * swept.radius);
  const most = Math.max(...seen.map((e) => e.angle));
  if (most <= limit) return { legs: [{ kind: 'level', path, as: most < NO_BITE ? 'open' : 'cut' }], peak: most };
  const wide = seen.map((e, i) => [seen[i - 1], e, seen[i + 1]].some((x) => x !== undefined && x.angle > limit));
  const legs: LevelLeg[] = [];
  let from = 0;
  let peak = 0;
  for (let i = 0; i < seen.length; i++) {
    if (!wide[i]) peak = Math.max(peak, seen[i]!.angle);
    if (i + 1 < seen.length && wide[i + 1] === wide[i]) continue;
    const to = i + 1 < seen.length ? (seen[i]!.t + seen[i + 1]!.t) / 2 : 1;
    const a = legs[legs.length - 1]?.path.b;
    const piece = subSegment(path, from, to);
    legs.push({ kind: 'level', path: a ? { ...piece, a } : piece, as: wide[i] ? 'slot' : 'cut' });
    from = to;
  }
  return { legs, peak };
}

/** A closed cut begun at places on from the one nearest to `here`. */
function starts(item: CutItem, here: Point, radius: Mm): readonly Chain[] {
  if (!item.closed) return [item.chain];
  const s = positionOf(item.chain, here)!.s;
  const length = loopLength(item.chain);
  return STARTS.map((on) => startAt(item.chain, (s + on * radius) % length));
}

/** Farther than any pocket is wide: holes come last. */
const LAST = 1e6;

function distanceTo(item: Item, p: Point): Mm {
  if (item.kind === 'hole') return LAST + dist(item.centre, p);
  return item.closed ? positionOf(item.chain, p)!.distance : dist(item.chain[0]!.a, p);
}

/** Length, and for every radian of turning as much as the cutter's radius: it slows the machine and reads badly. */
function effortOf(chain: Chain, radius: Mm): Mm {
  return chain.reduce((sum, s) => sum + segmentLength(s) + (s.kind === 'arc' ? Math.abs(s.sweep) * radius : 0), 0);
}
