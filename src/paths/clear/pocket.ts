/** Clearing areas: from a helix outwards at every depth, then the walls in one pass at full depth. */

import { fault, type Problem } from '../../base/problem.ts';
import { table } from '../../base/tables.ts';
import { short } from '../../base/text.ts';
import type { Mm, MmPerMin } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { loopLength, positionOf } from '../../geometry/measure/loop.ts';
import { dist } from '../../geometry/measure/point.ts';
import { arc } from '../../geometry/measure/segment.ts';
import {
  NO_PLACEMENT,
  type Placement,
  placePoint,
  placeRegion,
  placeSegment,
} from '../../geometry/measure/transform.ts';
import type { Loop, Point, Region, Segment } from '../../geometry/types.ts';
import type { Operation } from '../../plan/plan.ts';
import { comeDown } from '../along/come-down.ts';
import { type Feeds, followLoop, placeOn } from '../along/follow.ts';
import type { Emitter } from '../emitter.ts';
import { arcFeedFactor } from '../feed.ts';
import { cutterOf, type Scene, slopeOf } from '../scene.ts';
import type { Enter } from './grow.ts';
import type { LevelLeg } from './walk.ts';
import { type PocketWay, pocketWay } from './way.ts';

/** An area in axes of its own, and where those lie. Copies of one pocket share the area and so its way. */
export interface PlacedArea {
  /** Tells areas apart within an operation. */
  readonly key: string;
  readonly area: Region;
  readonly place: Placement;
  /** Where the cutter goes down for preference; null: in the widest place. */
  readonly enter: Enter | null;
  /** Where a drill has made room to go straight down; null: nowhere. */
  readonly start: Point | null;
}

/** Links run this much faster: in the open, and were they to graze, their chips would be the thinnest (common practice, chip thinning at most 2.5). */
const OPEN_FEED = 2.5;

/** Rounding of a place. */
const STANDS: Mm = 1e-3;

export function clearPocket(em: Emitter, scene: Scene, op: Operation, pocket: PlacedArea): readonly Problem[] {
  const frame = frameOf(pocket, scene.plan.climb);
  const way = wayOf(scene, op, pocket, frame);
  if (way === null) return [noEntry(placeRegion(pocket.place, pocket.area), cutterOf(scene, op).diameter)];
  em.bite(op.id, way.bite.peak, way.bite.slots);
  const run = new PocketRun(em, scene, op, frame);
  let top = op.from;
  for (const depth of op.depths) {
    run.level(way, top, depth);
    top = depth;
  }
  run.walls(way);
  return [];
}

/** The way has its inside on the left: that is climb milling, and a mirror turns it into the other. */
interface PocketFrame {
  readonly mirrored: boolean;
  point(p: Point): Point;
  path(s: Segment): Segment;
}

const MIRROR: Placement = { ...NO_PLACEMENT, mirror: true };

function frameOf({ place }: PlacedArea, climb: boolean): PocketFrame {
  if (climb !== place.mirror)
    return { mirrored: false, point: (p) => placePoint(place, p), path: (s) => placeSegment(place, s) };
  return {
    mirrored: true,
    point: (p) => placePoint(place, placePoint(MIRROR, p)),
    path: (s) => placeSegment(place, placeSegment(MIRROR, s)),
  };
}

const WAYS = table<[scene: Scene, operation: number, pocket: string, mirrored: boolean], PocketWay | null>(
  'ways through pockets',
);

/** One pocket is met once a copy; its way is worked out once for those of each hand. */
function wayOf(scene: Scene, op: Operation, pocket: PlacedArea, frame: PocketFrame): PocketWay | null {
  return scene.tables.once(WAYS, [scene, op.id, pocket.key, frame.mirrored], () => {
    const area = frame.mirrored ? placeRegion(MIRROR, pocket.area) : pocket.area;
    const enter = pocket.enter && frame.mirrored ? mirrored(pocket.enter) : pocket.enter;
    return pocketWay(area, {
      radius: cutterOf(scene, op).diameter / 2,
      allowance: op.allowance,
      step: op.widthOfCut,
      limit: op.engagement,
      free: op.what === 'face',
      enter,
      start: pocket.start && frame.mirrored ? placePoint(MIRROR, pocket.start) : pocket.start,
      after: op.target.kind === 'pocket' && op.target.after !== null ? op.target.after / 2 : null,
    });
  });
}

function mirrored(enter: Enter): Enter {
  return { ...enter, at: placePoint(MIRROR, enter.at), way: placePoint(MIRROR, enter.way) };
}

class PocketRun {
  private readonly em: Emitter;
  private readonly scene: Scene;
  private readonly op: Operation;
  private readonly frame: PocketFrame;
  private readonly radius: Mm;

  constructor(em: Emitter, scene: Scene, op: Operation, frame: PocketFrame) {
    this.em = em;
    this.scene = scene;
    this.op = op;
    this.frame = frame;
    this.radius = cutterOf(scene, op).diameter / 2;
  }

  level(way: PocketWay, top: Mm, depth: Mm): void {
    for (const leg of way.legs) {
      if (leg.kind === 'level') this.along(leg, depth, this.roughFeed(leg));
      else if (leg.kind === 'hop') this.comeTo(leg.to, depth);
      else if (leg.kind === 'ramp') this.rampRound(leg.loop, top, depth);
      else if (leg.kind === 'plunge') this.plungeRound(leg.loop, leg.at, top, depth);
      else this.helix(leg.centre, leg.start, top, depth);
    }
  }

  walls(way: PocketWay): void {
    for (const wall of way.walls) {
      let top = this.op.from;
      for (const depth of this.op.finishDepths) {
        if (wall.kind === 'ramp') this.rampRound(wall.loop, top, depth);
        else {
          this.comeTo(wall.start, depth);
          for (const leg of wall.legs) this.along(leg, depth, this.wallFeed(leg));
        }
        this.em.rapidZ(this.scene.heights.retract);
        top = depth;
      }
    }
  }

  private along({ path, as }: LevelLeg, depth: Mm, feed: MmPerMin): void {
    this.em.as(as === 'slot' ? 'slot' : undefined, () => this.em.along(this.frame.path(path), depth, feed));
  }

  /** A disc bites by its engagement, whatever the curve it runs on, and for the widest the feed is planned. */
  private roughFeed({ as }: LevelLeg): MmPerMin {
    const { feed, feedCap, slotFeed } = this.op;
    return as === 'slot' ? slotFeed : feed * (as === 'open' ? Math.min(OPEN_FEED, feedCap) : 1);
  }

  /** The last pass is planned for a straight wall: in a curve the teeth run faster along it than the centre. */
  private wallFeed({ path, as }: LevelLeg): MmPerMin {
    const feed = as === 'slot' ? Math.min(this.op.finishFeed, this.op.slotFeed) : this.op.finishFeed;
    return feed * this.factor(path);
  }

  private factor(path: Segment): number {
    return arcFeedFactor(path, this.radius, this.op.feedCap, 'right');
  }

  private comeTo(to: Point, depth: Mm): void {
    this.over(this.frame.point(to), depth, this.op.rampFeed);
  }

  /** Where the cutter stands there already it stays. */
  private over(at: Point, z: Mm, feed: MmPerMin): void {
    const here = this.em.here;
    const { x, y } = here;
    const there = x !== undefined && y !== undefined && here.z === this.em.round(z) && dist(at, { x, y }) < STANDS;
    if (!there) comeDown(this.em, this.scene, at, z, feed);
  }

  /** Down in whole turns and once round level: the last turn takes what the slope left. */
  private helix(centre: Point, start: Point, top: Mm, depth: Mm): void {
    const { em, op } = this;
    const radius = dist(centre, start);
    const turns = Math.max(1, Math.ceil((top - depth) / (2 * Math.PI * radius * slopeOf(op.rampDeg))));
    this.over(this.frame.point(start), top, op.rampFeed);
    const halves = [0, Math.PI].map((from) => this.frame.path(arc(centre, radius, from, Math.PI)));
    em.as('entry', () => {
      for (let i = 1; i <= 2 * turns; i++)
        em.along(halves[(i + 1) % 2]!, top + ((depth - top) * i) / (2 * turns), op.rampFeed);
      for (const half of halves) em.along(half, depth, op.feed);
    });
  }

  /** Round and round the loop, going down all the way, then once round level. */
  private rampRound(loop: Loop, top: Mm, depth: Mm): void {
    const { em, op } = this;
    const placed = loop.map((s) => this.frame.path(s));
    const length = (top - depth) / slopeOf(op.rampDeg);
    const feeds = this.slotFeeds();
    const start = this.standingOn(placed, top);
    this.over(placeOn(placed, start).point, top, op.rampFeed);
    const slope = [
      { s: 0, z: top },
      { s: length, z: depth },
    ];
    em.as('entry', () => followLoop(em, placed, start, length, slope, feeds));
    const { s } = positionOf(placed, { x: em.here.x!, y: em.here.y! })!;
    em.as('slot', () => followLoop(em, placed, s, loopLength(placed), [{ s: 0, z: depth }], feeds));
  }

  /** Where on a loop the cutter stands after the level above; else its start. */
  private standingOn(loop: Loop, z: Mm): Mm {
    const { x, y, z: here } = this.em.here;
    if (x === undefined || y === undefined || here !== this.em.round(z)) return 0;
    const near = positionOf(loop, { x, y });
    return near !== undefined && near.distance < STANDS ? near.s : 0;
  }

  private plungeRound(loop: Loop, at: Point, top: Mm, depth: Mm): void {
    const { em, op } = this;
    const placed = loop.map((s) => this.frame.path(s));
    this.over(this.frame.point(at), top, op.plungeFeed);
    em.as('entry', () => em.feedZ(depth, op.plungeFeed));
    em.as('slot', () => em.feedTo(placed[0]!.a, depth, this.slotFeeds().cut));
    em.as('slot', () => followLoop(em, placed, 0, loopLength(placed), [{ s: 0, z: depth }], this.slotFeeds()));
    // The next level goes down where this one did.
    em.feedTo(this.frame.point(at), depth, op.feed);
  }

  private slotFeeds(): Feeds {
    const { op } = this;
    const workOn = this.scene.plan.climb ? 'right' : 'left';
    return {
      cut: Math.min(op.feed, op.slotFeed),
      ramp: op.rampFeed,
      factor: (p) => arcFeedFactor(p, this.radius, op.feedCap, workOn),
    };
  }
}

function noEntry(pocket: Region, diameter: Mm): Problem {
  const circle = largestInscribed(pocket, 0.01);
  const room = circle.kind === 'circle' ? 2 * circle.radius : 0;
  const at = circle.kind === 'circle' ? ([circle.centre.x, circle.centre.y] as const) : undefined;
  return fault({
    code: 'cutter-too-wide',
    at: at ? { at } : {},
    found: `a ${short(diameter)} mm cutter does not enter an opening at most ${short(room)} mm wide`,
    wanted: `a flat-ended cutter of at most ${short(room)} mm`,
    remedy: 'add a smaller cutter to the drawer, or widen the opening',
  });
}
