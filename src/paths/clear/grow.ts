/**
 * Clearing an area from a hole outwards so that the cutter never bites wider than a stated angle of engagement.
 *
 * What the cutter's centre has opened so far is kept as a core B: all within `rho` of B is open, so no inside corner of
 * it is sharper than rho. A step lets the core grow by a little inside the core of the area and runs the new part of the
 * edge at rho round it: rings where there is room all round, arcs across arms and into corners. Each leaves the wall on
 * an arc of radius rho, which is what keeps the engagement from jumping there.
 */
import { cosine, sine } from '../../base/angles.ts';
import type { Mm, Rad } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { intersect, unite } from '../../geometry/join.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { regionArea } from '../../geometry/measure/loop.ts';
import { step } from '../../geometry/measure/point.ts';
import { directionAt, line, pointAt } from '../../geometry/measure/segment.ts';
import { farthestFrom } from '../../geometry/narrow.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import { circle } from '../../geometry/shapes.ts';
import type { Chain, Point, Region } from '../../geometry/types.ts';
import { LEAST_ROUND_SHARE } from '../../plan/plan.ts';
import { grownIn, type Lane } from './arms.ts';
import { type CoreStretch, newEdge } from './new-edge.ts';
import { SweptArea } from './swept.ts';

export interface GrowthRequest {
  readonly radius: Mm;
  /** Distance of the outermost path from the wall. */
  readonly inset: Mm;
  /** Greatest distance between neighbouring paths. */
  readonly step: Mm;
  /** Greatest engagement. */
  readonly limit: Rad;
  /** Each step's engagement is measured and the step shortened to keep the limit; else all trust to the step that suits straight walls. */
  readonly careful: boolean;
  /** What a wider cutter has opened; null: nothing is. */
  readonly before: Before | null;
  /** Which areas, and what of them, are cleared so. */
  readonly lanes: readonly Lane[];
  readonly enter: Enter | null;
  /** A drilled hole to go straight down in. */
  readonly start: Point | null;
}

/** Beyond an open side: as far out from `at` along `way`, up to `most`, as there is room to go down. */
export interface Enter {
  readonly at: Point;
  readonly way: Point;
  readonly most: Mm;
}

/** A wider cutter's centre went everywhere in these areas. */
export interface Before {
  readonly areas: readonly Region[];
  /** Its radius less that of the cutter now in use. */
  readonly wider: Mm;
}

export type Item =
  /** A hole opened by a helix: the cutter ends at `centre + radius` on its circle, at depth. */
  | { readonly kind: 'hole'; readonly centre: Point; readonly radius: Mm }
  | { readonly kind: 'cut'; readonly chain: Chain; readonly closed: boolean };

export type Grown =
  | { readonly kind: 'grown'; readonly items: readonly Item[] }
  /** No room for the smallest hole. */
  | { readonly kind: 'slim' }
  | { readonly kind: 'failed'; readonly reason: string };

/** Radius of the paths' inside corners as shares of the cutter's radius, one after the other; the least is what roughing leaves. */
const ROUND_SHARES = [0.8, 0.5, 0.32, LEAST_ROUND_SHARE] as const;
/** A hole is opened by a circle of at most this share of the cutter's diameter, so that no post is left in it (common practice 0.1-0.45). */
const MOST_HOLE_SHARE = 0.4;
/** Of the step that would just reach the limit at a straight wall: curved walls ask for a little less. */
const STEP_SHARE = 0.88;
/** A step is tried shorter where its engagement is over the limit. */
const SHORTER = [1, 0.75, 0.5, 0.33] as const;
/** Inner rings are left with corners up to this many steps deep: the next ring out goes round them in one sweep. Arms are longer. */
const LEFT_FOR_LATER = 2.5;
/** What grows less than this in any direction is no step. */
const NO_GROWTH: Mm = 1e-3;
/** Of the radius: enough of the way before a ring's start to stand for what the link opens. */
const TANGENT_SHARE = 0.1;
const MOST_STEPS = 400;
/** Places beyond an open side are tried this far apart, and have this much room about the least hole, in radii. */
const ENTRY_STEP = 0.1;
const ENTRY_ROOM = 0.01;

/** Tried in turn where the geometry of a step does not close. */
const NUDGED = [1, 0.97, 0.91] as const;

interface GrowthLevel {
  /** Areas the core may fill. */
  readonly cores: readonly Region[];
  readonly rho: Mm;
  /** Inner rings need not be complete: what is left is reached from the next one out. */
  readonly last: boolean;
}

export class Growth {
  private readonly pocket: Region;
  private readonly wish: GrowthRequest;
  private items: Item[] = [];
  private readonly swept: SweptArea;
  private core: Region[] = [];
  private rho = 0;
  private readonly opened: (p: Point) => Mm;

  constructor(pocket: Region, wish: GrowthRequest) {
    this.pocket = pocket;
    this.wish = wish;
    this.swept = new SweptArea(wish.radius);
    this.opened = wish.before === null ? () => Number.POSITIVE_INFINITY : beyond(wish.before);
  }

  run(): Grown {
    if (this.wish.before !== null) return this.rest(this.wish.before);
    const widest = largestInscribed(this.pocket, this.wish.radius * 0.01);
    const room = widest.kind === 'circle' ? widest.radius - this.wish.inset : 0;
    const rhos = roundings(room, this.wish.radius);
    if (rhos.length === 0) return { kind: 'slim' };
    const failed = this.rings(rhos[0]!) ?? this.outermost(rhos);
    if (failed !== null) return { kind: 'failed', reason: failed };
    return this.items.length > 0 ? { kind: 'grown', items: this.items } : { kind: 'slim' };
  }

  /** How far a centre lies outside the places where its disc is open. */
  beyond(): (p: Point) => Mm {
    const edges = this.core.map((b) => new RegionEdge(b));
    const { rho } = this;
    return (p) =>
      Math.min(this.wish.before === null ? Infinity : this.opened(p), ...edges.map((e) => e.signedDistance(p) - rho));
  }

  /** What a wider cutter left: corners, necks, and rooms behind them. */
  private rest({ areas, wider }: Before): Grown {
    const fit = ROUND_SHARES.map((share) => share * this.wish.radius).filter((rho) => rho <= wider);
    const rhos = fit.length > 0 ? fit : [wider];
    this.rho = rhos[0]!;
    for (const area of areas) {
      // As far from the walls as the areas that are to be filled.
      const core = offsetRegion(area, wider - this.rho - (this.wish.inset - this.wish.radius));
      if (core.kind === 'failed') return core;
      if (core.kind === 'regions') this.core.push(...core.regions);
    }
    for (const s of openedBefore({ areas, wider }, this.wish.radius)) this.swept.add(s);
    const failed = this.outermost(rhos);
    return failed === null ? { kind: 'grown', items: this.items } : { kind: 'failed', reason: failed };
  }

  /** On from what `run` has cleared: the cuts that bring the outermost path nearer to the wall. */
  closer(inset: Mm): readonly Item[] {
    this.items = [];
    const made = offsetRegion(this.pocket, -(inset + this.rho));
    if (made.kind === 'regions')
      this.fill({ cores: grownIn(this.wish.lanes, made.regions), rho: this.rho, last: true });
    return this.items;
  }

  /** From the middle of each lobe outwards, a ring every step. */
  private rings(rho: Mm): string | null {
    const outer = this.coresAt(0, rho);
    if (typeof outer === 'string') return outer;
    this.rho = rho;
    this.open(outer, rho);
    const inner: (readonly Region[])[] = [];
    for (let k = 1; ; k++) {
      const cores = this.coresAt(k, rho);
      if (typeof cores === 'string') return cores;
      if (cores.length === 0) break;
      inner.push(cores);
    }
    for (const cores of inner.reverse()) {
      const failed = this.fill({ cores, rho, last: false });
      if (failed !== null) return failed;
    }
    return null;
  }

  private outermost(rhos: readonly Mm[]): string | null {
    for (const rho of rhos) {
      const cores = this.coresAt(0, rho);
      if (typeof cores === 'string') return cores;
      const back = this.widenCore(rho);
      if (back !== null) return back;
      this.open(cores, rho);
      const failed = this.fill({ cores, rho, last: true });
      if (failed !== null) return failed;
    }
    return null;
  }

  /** Areas that a core of paths rounded with rho may fill, k steps inside the outermost path. */
  private coresAt(k: number, rho: Mm): readonly Region[] | string {
    const made = offsetRegion(this.pocket, -(this.wish.inset + k * this.wish.step + rho));
    if (made.kind === 'failed') return made.reason;
    return made.kind === 'vanished' ? [] : grownIn(this.wish.lanes, made.regions);
  }

  /** The same opened area with paths rounded less. */
  private widenCore(rho: Mm): string | null {
    if (rho < this.rho) {
      const made = this.core.map((b) => offsetRegion(b, this.rho - rho));
      const failed = made.find((m) => m.kind === 'failed');
      if (failed?.kind === 'failed') return failed.reason;
      this.core = made.flatMap((m) => (m.kind === 'regions' ? m.regions : []));
    }
    this.rho = rho;
    return null;
  }

  /** A hole in the widest place of every area that nothing reaches yet. */
  private open(cores: readonly Region[], rho: Mm): void {
    for (const area of cores) {
      const edge = new RegionEdge(area);
      if (this.core.some((b) => edge.signedDistance(inner(b)) < ON_EDGE)) continue;
      const widest = this.entryIn(edge) ?? largestInscribed(area, this.wish.radius * 0.01);
      if (widest.kind !== 'circle') continue;
      const radius = Math.min(widest.radius + rho, MOST_HOLE_SHARE * 2 * this.wish.radius);
      const { centre } = widest;
      this.items.push({ kind: 'hole', centre, radius });
      const seed = circle(centre, 2 * Math.max(NO_GROWTH, Math.min(radius - rho, widest.radius - 1e-6)));
      if (!seed.ok) continue;
      this.core.push({ outer: seed.value, holes: [] });
      for (const s of round(centre, radius)) this.swept.add(s);
    }
  }

  /** Beyond an open side, if the area reaches so far. */
  private entryIn(edge: RegionEdge): { kind: 'circle'; centre: Point; radius: Mm } | null {
    const { enter, radius } = this.wish;
    if (enter === null) return null;
    for (let out = enter.most; out > 0; out -= ENTRY_STEP * radius) {
      const centre = step(enter.at, enter.way, out);
      const room = -edge.signedDistance(centre);
      if (room > ENTRY_ROOM * radius) return { kind: 'circle', centre, radius: room };
    }
    return null;
  }

  private fill(level: GrowthLevel): string | null {
    for (const area of level.cores) {
      for (let i = 0; i < MOST_STEPS; i++) {
        const mine = this.inside(area);
        if (mine.length === 0 || this.isFull(area, mine, level)) break;
        const failed = this.step(area, mine, level);
        if (failed === 'no growth') break;
        if (failed !== null) return failed;
      }
    }
    return null;
  }

  /** Parts of the core that lie in an area. */
  private inside(area: Region): readonly Region[] {
    const edge = new RegionEdge(area);
    return this.core.filter((b) => edge.signedDistance(inner(b)) < ON_EDGE);
  }

  private isFull(area: Region, mine: readonly Region[], level: GrowthLevel): boolean {
    const far = farthestFrom(area, mine);
    return far < (level.last ? NO_GROWTH : LEFT_FOR_LATER * this.wish.step);
  }

  private step(area: Region, mine: readonly Region[], level: GrowthLevel): string | null {
    const full = Math.min(this.wish.step, STEP_SHARE * stepAt(level.rho, this.wish));
    let failure: string | null = null;
    for (const share of SHORTER) {
      const next = this.grownBy(area, mine, full * share);
      if (typeof next === 'string') {
        failure = next;
        continue;
      }
      const chains = newEdge(next, mine, level.rho, this.opened);
      const last = share === SHORTER[SHORTER.length - 1];
      if (this.wish.careful && !last && this.peak(chains) > this.wish.limit) continue;
      if (chains.length === 0 && areaOf(next) - areaOf(mine) < 1e-6) return 'no growth';
      for (const c of chains) {
        this.items.push({ kind: 'cut', ...c });
        if (this.wish.careful) for (const s of c.chain) this.swept.add(s);
      }
      this.core = [...this.core.filter((b) => !mine.includes(b)), ...next];
      return null;
    }
    return failure ?? 'no growth';
  }

  private grownBy(area: Region, mine: readonly Region[], by: Mm): Region[] | string {
    let reason = '';
    for (const nudge of NUDGED) {
      const wide = mine.map((b) => offsetRegion(b, by * nudge));
      const failed = wide.find((w) => w.kind !== 'regions');
      if (failed) {
        reason = failed.kind === 'failed' ? failed.reason : 'the core vanished';
        continue;
      }
      const one = unite(wide.flatMap((w) => (w.kind === 'regions' ? w.regions : [])));
      if (one.kind !== 'regions') {
        reason = one.kind === 'failed' ? one.reason : 'the core vanished';
        continue;
      }
      const cut = one.regions.map((w) => intersect(w, area));
      const bad = cut.find((c) => c.kind === 'failed');
      if (bad === undefined) return cut.flatMap((c) => (c.kind === 'regions' ? c.regions : []));
      reason = bad.kind === 'failed' ? bad.reason : '';
    }
    return reason;
  }

  private peak(chains: readonly CoreStretch[]): Rad {
    const spacing = this.wish.radius / 4;
    let peak = 0;
    const trial = this.swept.branch();
    for (const { chain, closed } of chains) {
      // A link comes to a ring along its tangent.
      const first = chain[0]!;
      if (closed) trial.add(line(step(first.a, directionAt(first, 0), -TANGENT_SHARE * this.wish.radius), first.a));
      for (const s of chain) {
        peak = Math.max(peak, trial.greatest(s, spacing));
        trial.add(s);
      }
    }
    return peak;
  }
}

/** How far a centre lies outside the places where its disc is open already. */
export function beyond({ areas, wider }: Before): (p: Point) => Mm {
  const edges = areas.map((a) => new RegionEdge(a));
  return (p) => Math.min(...edges.map((e) => e.signedDistance(p))) - wider;
}

/** Ways of the cutter now in use that open the edge of what a wider one did, as deep as its own reach. */
export function openedBefore({ areas, wider }: Before, radius: Mm): Chain {
  return areas.flatMap((area) =>
    [0, 1, 2].flatMap((k) => {
      const made = offsetRegion(area, wider - k * radius);
      return made.kind === 'regions' ? made.regions.flatMap((r) => [r.outer, ...r.holes].flat()) : [];
    }),
  );
}

/** The growth that brings the engagement at a straight wall to the limit: s^2 + 2 s r sin(limit) = 2 rho r (1 - cos(limit)). */
function stepAt(rho: Mm, { radius, limit }: GrowthRequest): Mm {
  const b = radius * sine(limit);
  return Math.sqrt(b * b + 2 * rho * radius * (1 - cosine(limit))) - b;
}

/** Roundings used, the largest first: those that fit, and one just below the room where that is small. */
function roundings(room: Mm, radius: Mm): readonly Mm[] {
  const fit = ROUND_SHARES.map((share) => share * radius).filter((rho) => rho < room);
  const tight = 0.95 * room;
  return fit.length === 0 || fit.length === ROUND_SHARES.length || tight < fit[0]! * 1.15 ? fit : [tight, ...fit];
}

function areaOf(regions: readonly Region[]): number {
  return regions.reduce((sum, r) => sum + regionArea(r), 0);
}

/** Areas lie much farther apart than this; a core that fills its area has its edge on the area's. */
const ON_EDGE: Mm = 1e-4;

function inner(region: Region): Point {
  return pointAt(region.outer[0]!, 0.5);
}

function round(centre: Point, radius: Mm): Chain {
  const made = circle(centre, 2 * radius);
  return made.ok ? made.value : [];
}
