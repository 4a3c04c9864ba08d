/** How one pocket is cleared at every depth, worked out once in a frame of its own in which the inside lies left of every cut. */
import type { Mm, Rad } from '../../base/units.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { segmentLength } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Point, Region } from '../../geometry/types.ts';
import { armEdges, type Lane, lanesOf } from './arms.ts';
import { type Before, type Enter, Growth, type GrowthRequest } from './grow.ts';
import { restWalls } from './rest-walls.ts';
import { wallRings } from './rings.ts';
import { ClearingWalk, type Leg } from './walk.ts';
import { type WallPass, wallPass } from './walls.ts';

export interface WayWish {
  readonly radius: Mm;
  /** Stock left on the walls for a last pass; 0: none follows. */
  readonly allowance: Mm;
  readonly step: Mm;
  readonly limit: Rad;
  /** Nothing stands beside the area: its edge needs no pass of its own. */
  readonly free: boolean;
  readonly enter: Enter | null;
  /** Where a drilled hole lets the cutter straight down; null: nowhere. */
  readonly start: Point | null;
  /** Radius of a wider cutter that has cleared what it reaches, walls and all; null: none has. */
  readonly after: Mm | null;
}

export interface PocketWay {
  /** At each depth. */
  readonly legs: readonly Leg[];
  readonly walls: readonly WallPass[];
  readonly bite: PocketBite;
}

export interface PocketBite {
  /** Greatest engagement outside slots and entries. */
  readonly peak: Rad;
  /** Length of slots at one depth. */
  readonly slots: Mm;
}

/** null: the cutter does not enter. */
export function pocketWay(pocket: Region, wish: WayWish): PocketWay | null {
  const way = wayWith(pocket, wish, false);
  // Measuring every step takes as long again, and few shapes need it.
  return way === null || way.spared === 0 ? way : wayWith(pocket, wish, true);
}

interface Tried extends PocketWay {
  /** Length of slots elsewhere than along arms. */
  readonly spared: Mm;
}

function wayWith(pocket: Region, wish: WayWish, careful: boolean): Tried | null {
  const inset = wish.radius + wish.allowance;
  const areas = wallRings(pocket, inset);
  if (areas.length === 0) return null;
  const before = wish.after === null ? null : beforeOf(pocket, wish.after, wish.radius);
  const lanes = lanesOf(areas, wish.radius);
  const inner: GrowthRequest = {
    radius: wish.radius,
    inset,
    step: wish.step,
    limit: wish.limit,
    careful,
    before,
    lanes,
    enter: wish.enter,
    start: wish.start,
  };
  const walk = new ClearingWalk(pocket, inner);
  const growth = new Growth(pocket, inner);
  const grown = growth.run();
  if (grown.kind === 'grown') walk.through(grown.items);
  // Rings alone, each a slot, clear any pocket: for the rare shape whose steps do not close.
  else if (grown.kind === 'failed' && before === null) ringsInside(pocket, inner).forEach((r) => walk.round(r));
  const spared = slotsIn(walk.legs, []);
  const rounds = alongArms(walk, growth, lanes, wish);
  if (before !== null) return { ...restWay(pocket, wish, walk, growth, before), spared };
  for (const [i, area] of areas.entries()) {
    // Without a last pass the walls are made in pieces: once round makes them whole.
    const pieces = wish.allowance === 0 && !wish.free && !rounds.has(i);
    if (grown.kind === 'failed' || pieces) for (const loop of [area.outer, ...area.holes]) walk.round(loop);
  }
  const walls =
    wish.allowance > 0 ? finished(pocket, wish, walk, grown.kind === 'failed' ? null : growth) : { walls: [], peak: 0 };
  return {
    legs: walk.legs,
    walls: walls.walls,
    bite: { peak: Math.max(walk.peak, walls.peak), slots: slotsIn(walk.legs, walls.walls) },
    spared: spared + slotsIn([], walls.walls),
  };
}

/** Slots along arms and back; the areas that have been gone round as a whole. */
function alongArms(walk: ClearingWalk, growth: Growth, lanes: readonly Lane[], wish: WayWish): ReadonlySet<number> {
  const whole = new Set<number>();
  const beyond = growth.beyond();
  for (const [i, lane] of lanes.entries()) {
    const edges = armEdges(lane, wish.radius, beyond, wish.allowance > 0);
    for (const { chain, closed } of edges) {
      if (closed) walk.round(chain);
      else walk.follow(chain);
    }
    if (lane.grown?.length === 0 && edges.every((e) => e.closed)) whole.add(i);
  }
  return whole;
}

function beforeOf(pocket: Region, radius: Mm, now: Mm): Before {
  const made = offsetRegion(pocket, -radius);
  return { areas: made.kind === 'regions' ? made.regions : [], wider: radius - now };
}

/** What the wider cutter left, and the walls of it; both at every depth. */
function restWay(pocket: Region, wish: WayWish, walk: ClearingWalk, growth: Growth, before: Before): PocketWay {
  const legs = walk.legs.length;
  const peak = walk.peak;
  walk.keep();
  for (const chain of restWalls(pocket, wish.radius, before)) walk.follow(chain);
  if (slotsIn(walk.legs.slice(legs), []) > 0) {
    walk.forget(legs, peak);
    walk.closer(growth.closer(wish.radius + LESS_LEFT * wish.allowance), LESS_LEFT * wish.allowance + wish.radius);
    for (const chain of restWalls(pocket, wish.radius, before)) walk.follow(chain);
  }
  return { legs: walk.legs, walls: [], bite: { peak: walk.peak, slots: slotsIn(walk.legs, []) } };
}

/** Of the allowance, where the last pass would bite too wide in tight curves and corners. */
const LESS_LEFT = 0.3;

/** The last pass; where it would be a slot in corners and tight curves, roughing goes once more round to leave less there. */
function finished(
  pocket: Region,
  wish: WayWish,
  walk: ClearingWalk,
  growth: Growth | null,
): { walls: WallPass[]; peak: Rad } {
  const plain = wallsOf(pocket, wish, walk);
  if (growth === null || slotsIn([], plain.walls) === 0) return plain;
  walk.closer(growth.closer(wish.radius + LESS_LEFT * wish.allowance), LESS_LEFT * wish.allowance + wish.radius);
  return wallsOf(pocket, wish, walk);
}

function wallsOf(pocket: Region, wish: WayWish, walk: ClearingWalk): { walls: WallPass[]; peak: Rad } {
  const edge = new RegionEdge(pocket);
  const swept = walk.swept.branch();
  const made = wallRings(pocket, wish.radius)
    .flatMap((area) => [area.outer, ...area.holes])
    .map((loop) => wallPass(edge, loop, wish, swept));
  return { walls: made.map((m) => m.wall), peak: Math.max(0, ...made.map((m) => m.peak)) };
}

function ringsInside(pocket: Region, wish: GrowthRequest) {
  const loops = [];
  for (let k = 1; ; k++) {
    const made = offsetRegion(pocket, -(wish.inset + k * wish.step));
    if (made.kind !== 'regions') return loops.reverse();
    loops.push(...made.regions.flatMap((r) => [r.outer, ...r.holes]));
  }
}

function slotsIn(legs: readonly Leg[], walls: readonly WallPass[]): Mm {
  const all = [...legs, ...walls.flatMap((w): readonly Leg[] => (w.kind === 'led' ? w.legs : [w]))];
  return all.reduce((sum, leg) => {
    if (leg.kind === 'ramp' || leg.kind === 'plunge') return sum + leg.loop.reduce((l, s) => l + segmentLength(s), 0);
    return leg.kind === 'level' && leg.as === 'slot' ? sum + segmentLength(leg.path) : sum;
  }, 0);
}
