/** Pockets, bores, faces and chamfers: the cutter for each, and the area or edges it works on. */
import { fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { intersect } from '../../geometry/join.ts';
import { orient, regionArea } from '../../geometry/measure/loop.ts';
import { type RunOutOutcome, runOut } from '../../geometry/mouth.ts';
import { ARM_REACH, farthestFrom, hasNarrow } from '../../geometry/narrow.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import { circle } from '../../geometry/shapes.ts';
import type { Region } from '../../geometry/types.ts';
import type { Cutter, Job, Pocket } from '../../part/part.ts';
import { ofKind, tooShort } from '../drawer.ts';
import { cutsDown, entryInto, entryReason, NO_WIDTH, opensFor, type WayDown } from '../milling/entry.ts';
import { LEAST_ROUND_SHARE, MOUTH_END, SLOT_FIRST_SHARE } from '../plan.ts';
import { INTO_BACKING } from '../profile/profile-plan.ts';

export interface OpeningChoice {
  readonly cutter: Cutter;
  readonly bottom: Mm;
  /** Width of cut of the rings. */
  readonly step: Mm;
  readonly allowance: Mm;
  readonly entry: WayDown['kind'] | 'open';
  /** How far the cutter may be seen beyond open sides; 0: there are none. */
  readonly out: Mm;
  /** Somewhere there is no room beside the cutter: it cuts full width there. */
  readonly slots: boolean;
  /** Area the cutter cannot reach, mm2: inside corners left round. */
  readonly left: number;
  readonly reasons: readonly string[];
  /** What a smaller cutter does afterwards where this one does not reach; null: nothing worth it. */
  readonly rest: OpeningChoice | null;
}

/** Rings lie this share of the diameter apart: under a half, so that no sliver is left between them (common practice 0.4). */
const RING_SHARE = 0.4;
/** A larger cutter is taken when it leaves at most this share of the opening more than the smallest would. */
const MORE_LEFT = 0.03;
/** With a smaller cutter to follow, the first may leave this share of the opening. */
const MOST_FOR_REST = 0.25;
/** The smaller one is the largest that takes all but this share of what could be taken, so that a sharp corner does not ask for a needle. */
export const REST_LEFT = 0.25;
/** Less than this to gain, mm2, is not worth a change of cutter. */
export const LEAST_REST = 0.1;
/** The smaller one leaves the wider one's walls on an arc that fits between both. */
export const REST_NARROWER = 1 / (1 + LEAST_ROUND_SHARE);
/** Cutters wider than this are not used on a light machine for inside work. */
const WIDEST: Mm = 2 * MOUTH_END;

/** What is to be cleared, and where a cutter may run for it: beyond open sides as well. */
export interface OpeningRoom {
  readonly floor: Region;
  /** Of a cutter's diameter; the same area for every cutter where there are no open sides. */
  readonly around: (diameter: Mm) => Region;
  readonly out: (diameter: Mm) => Mm;
  /** Why there is no room beyond an open side; null: there is. */
  readonly shut: (diameter: Mm) => string | null;
}

/** How far beyond an open side a cutter may be seen: its axis goes out by its radius and this. */
export const OUT_ROOM: Mm = 0.5;

export function pocketRoom(job: Job, pocket: Pocket): OpeningRoom {
  const holes = pocket.islands.map((i) => orient(i.loop, 'cw'));
  const floor = { outer: pocket.outline.loop, holes };
  if (pocket.open.length === 0) return closedRoom(floor);
  const made = new Map<Mm, RunOutOutcome>();
  const out = (diameter: Mm) => diameter + job.finish.allowance + OUT_ROOM;
  const room = (diameter: Mm): RunOutOutcome => {
    const known = made.get(diameter);
    if (known) return known;
    const now = runOut(floor.outer, pocket.open, job.part.outline.loop, out(diameter), MOUTH_END);
    made.set(diameter, now);
    return now;
  };
  const around = (diameter: Mm): Region => {
    const here = room(diameter);
    return here.kind === 'region' ? { outer: here.region.outer, holes: [...here.region.holes, ...holes] } : floor;
  };
  const shut = (diameter: Mm) => {
    const here = room(diameter);
    return here.kind === 'failed' ? here.reason : null;
  };
  return { floor, around, out, shut };
}

function closedRoom(floor: Region): OpeningRoom {
  return { floor, around: () => floor, out: () => 0, shut: () => null };
}

export function noRunOut(reason: string, path: string): Problem {
  return fault({
    code: 'open-side',
    at: { path },
    found: `a cutter finds no plain way out over an open side: ${reason}`,
    wanted: 'an open side that the walls of the pocket lead straight out of',
    remedy: 'draw the walls straight across the edge, or in other places',
  });
}

export function boreRoom(diameter: Mm): OpeningRoom {
  const made = circle({ x: 0, y: 0 }, diameter);
  if (!made.ok) throw new Error(`a bore of ${diameter} mm passed the door: a bug in the part stage`);
  return closedRoom({ outer: made.value, holes: [] });
}

/** Depth of an opening's floor, or into the backing when it goes through. */
export function openingBottom(job: Job, depth: Mm | null): Mm {
  if (depth !== null) return -depth;
  const lower = -job.part.thickness;
  return job.under.kind === 'plate' ? lower - Math.min(INTO_BACKING, job.under.thickness / 2) : lower;
}

/** One opening to be cut: its room, its depth, its name in words and its key in the job file. */
export interface Opening {
  readonly room: OpeningRoom;
  readonly bottom: Mm;
  readonly what: string;
  readonly path: string;
}

/** `start`: a drill that opens the way down first. */
export function chooseForOpening(
  job: Job,
  opening: Opening,
  start: Cutter | null = null,
): OpeningChoice | { readonly problems: readonly Problem[] } {
  const { room, bottom, what, path } = opening;
  const depth = job.stock.above - bottom;
  const flat = ofKind(job, 'end mill', 'slot drill').filter((c) => c.cornerRadius === 0 && c.diameter <= WIDEST);
  const entering = flat.filter((c) => enters(room, c.diameter));
  if (entering.length === 0) return { problems: [tooWide(room.floor, flat, what, path)] };
  const long = entering.filter((c) => c.fluteLength >= depth - 1e-9);
  if (long.length === 0) return { problems: [tooShort(job, entering[entering.length - 1]!, depth, what)] };
  const whole = regionArea(room.floor);
  const down = long.filter(
    (c) => cutsDown(c) || entryInto(room.around(c.diameter), c, 0).kind !== 'plunge' || opensFor(start, c),
  );
  if (down.length === 0) return { problems: [noWayDown(long[0]!, what, path)] };
  const ranked = down
    .map((cutter) => ({ cutter, left: whole - reachedArea(room, cutter.diameter) }))
    .sort((a, b) => b.cutter.diameter - a.cutter.diameter || a.cutter.number - b.cutter.number);
  const least = Math.min(...ranked.map((x) => x.left));
  const turning = ranked.filter((x) => loopRoom(room.around(x.cutter.diameter), x.cutter) > 0);
  const wide = turning.find((x) => x.left <= MOST_FOR_REST * whole);
  const rest = wide === undefined ? undefined : smallerFor(wide, ranked, least);
  if (wide !== undefined && rest !== undefined) {
    return { ...choiceOf(job, opening, wide, start), rest: restOf(job, opening, rest, wide.cutter) };
  }
  const chosen = turning.find((x) => x.left <= least + MORE_LEFT * whole) ?? ranked[ranked.length - 1]!;
  return choiceOf(job, opening, chosen, start);
}

interface Ranked {
  readonly cutter: Cutter;
  /** Area not reached, mm2. */
  readonly left: number;
}

function smallerFor(wide: Ranked, ranked: readonly Ranked[], least: number): Ranked | undefined {
  const most = Math.min(wide.left - LEAST_REST, least + REST_LEFT * (wide.left - least));
  return ranked.find((x) => x.cutter.diameter <= REST_NARROWER * wide.cutter.diameter && x.left <= most);
}

function restOf(job: Job, { room, bottom }: Opening, { cutter, left }: Ranked, wide: Cutter): OpeningChoice {
  const area = room.around(wide.diameter);
  const allowance = Math.min(job.finish.allowance, WALL_SHARE * cutter.diameter);
  return {
    cutter,
    bottom,
    step: RING_SHARE * cutter.diameter,
    allowance,
    entry: 'open',
    out: room.out(wide.diameter),
    slots: hasSlots(area, cutter.diameter / 2 + allowance, cutter.diameter / 2),
    left,
    rest: null,
    reasons: [
      `only where the ${short(wide.diameter)} mm cutter does not reach${leaving(left)}`,
      'comes down where that one has been',
    ],
  };
}

/** For what a wider cutter leaves round a part: in all of `areas`. */
export function restChoice(
  job: Job,
  areas: readonly Region[],
  cutter: Cutter,
  bottom: Mm,
  wide: Cutter,
): OpeningChoice {
  const allowance = Math.min(...areas.map((a) => allowanceFor(job, a, cutter)));
  return {
    cutter,
    bottom,
    step: RING_SHARE * cutter.diameter,
    allowance,
    entry: entryInto(areas[0]!, cutter, allowance).kind,
    out: 0,
    slots: areas.some((a) => hasSlots(a, cutter.diameter / 2 + allowance, cutter.diameter / 2)),
    left: 0,
    rest: null,
    reasons: [
      `only where the ${short(wide.diameter)} mm cutter does not reach, while the plate is whole`,
      entryReason(areas[0]!, cutter, allowance, null),
    ],
  };
}

function leaving(left: number): string {
  return left > 1e-3 ? `, leaving ${short(left, 2)} mm2 in the corners` : '';
}

function choiceOf(job: Job, opening: Opening, { cutter, left }: Ranked, start: Cutter | null): OpeningChoice {
  const { room, bottom, what } = opening;
  const area = room.around(cutter.diameter);
  const out = room.out(cutter.diameter);
  const allowance = allowanceFor(job, area, cutter);
  return {
    cutter,
    bottom,
    step: RING_SHARE * cutter.diameter,
    allowance,
    entry: entryInto(area, cutter, allowance).kind,
    out,
    slots: hasSlots(area, cutter.diameter / 2 + allowance, cutter.diameter / 2),
    left,
    rest: null,
    reasons: [
      `the largest cutter that enters and turns in ${what}${leaving(left)}`,
      entryReason(area, cutter, allowance, start),
      ...(out > 0 ? [`runs out over the open side, up to ${short(out)} mm from the edge`] : []),
    ],
  };
}

/** Into the pocket itself, not only into the room before it. */
function enters(room: OpeningRoom, diameter: Mm): boolean {
  return reachedArea(room, diameter) > 0;
}

/** Area of the floor swept by a cutter whose centre goes everywhere it can. */
function reachedArea({ floor, around }: OpeningRoom, diameter: Mm): number {
  const area = around(diameter);
  const inner = offsetRegion(area, -(diameter / 2 - NO_WIDTH));
  if (inner.kind !== 'regions') return 0;
  return inner.regions.reduce((sum, r) => {
    const back = offsetRegion(r, diameter / 2 - NO_WIDTH);
    const swept = back.kind === 'regions' ? back.regions : [];
    return sum + areaOf(area === floor ? swept : swept.flatMap((b) => within(b, floor)));
  }, 0);
}

function within(swept: Region, floor: Region): readonly Region[] {
  const both = intersect(swept, floor);
  return both.kind === 'regions' ? both.regions : [];
}

function areaOf(regions: readonly Region[]): number {
  return regions.reduce((sum, r) => sum + regionArea(r), 0);
}

function allowanceFor(job: Job, area: Region, cutter: Cutter): Mm {
  const wanted = wantedFor(job, area, cutter);
  if (wanted === 0) return 0;
  const walls = offsetRegion(area, -cutter.diameter / 2);
  const inner = offsetRegion(area, -(cutter.diameter / 2 + wanted + WALL_ROOM));
  if (walls.kind !== 'regions' || inner.kind !== 'regions') return 0;
  // An arm that only the last pass would enter would be a slot at full depth.
  const lost = walls.regions.some((w) => farthestFrom(w, inner.regions) > ARM_REACH * (wanted + WALL_ROOM));
  return lost ? 0 : wanted;
}

/** No more than leaves roughing a path with some width to it. */
function wantedFor(job: Job, area: Region, cutter: Cutter): Mm {
  const usual = Math.min(job.finish.allowance, WALL_SHARE * cutter.diameter);
  const widest = largestInscribed(area, 0.01);
  const room = widest.kind === 'circle' ? widest.radius - cutter.diameter / 2 : 0;
  const most = Math.min(usual, ROOM_SHARE * room - WALL_ROOM);
  // Better less on the wall than no way down but straight.
  const wanted =
    entryInto(area, cutter, Math.max(0, most)).kind === 'plunge' ? Math.min(most, loopRoom(area, cutter)) : most;
  return wanted < LEAST_ALLOWANCE ? 0 : wanted;
}

/** Room beside the smallest loops. */
function loopRoom(area: Region, cutter: Cutter): Mm {
  const widest = largestInscribed(area, 0.01);
  return widest.kind === 'circle' ? widest.radius - ((1 + LEAST_ROUND_SHARE) / 2) * cutter.diameter - LOOP_ROOM : 0;
}

/** Of the room beside the cutter: as much is left for roughing to come back in. */
const ROOM_SHARE = 0.5;
/** Less than this on the wall would be rubbed, not cut. */
const LEAST_ALLOWANCE: Mm = 0.03;
/** The last pass goes into a corner of 90 degrees with 90 degrees of its rim and what this adds: so it stays within the limit of pockets. */
const WALL_SHARE = 0.06;
/** Rounding must not decide whether a cutter fits. */
const LOOP_ROOM: Mm = 0.01;
/** Room that must be left beside roughing's outermost path. */
const WALL_ROOM: Mm = 0.05;

function hasSlots(area: Region, inset: Mm, radius: Mm): boolean {
  const path = offsetRegion(area, -inset);
  return path.kind !== 'regions' || path.regions.some((r) => hasNarrow(r, SLOT_FIRST_SHARE * radius));
}

function noWayDown(cutter: Cutter, what: string, path: string): Problem {
  return fault({
    code: 'no-way-down',
    at: { path },
    found: `${what} is hardly wider than cutter ${cutter.number} (${short(cutter.diameter)} mm), which does not cut at its centre: it can go down neither on a helix, nor on a ramp, nor straight`,
    wanted: 'a smaller cutter, or one that cuts at its centre',
    remedy: 'add one to "cutters", or drill the hole instead of boring it',
  });
}

function tooWide(area: Region, flat: readonly Cutter[], what: string, path: string): Problem {
  const circleIn = largestInscribed(area, 0.01);
  const room = circleIn.kind === 'circle' ? 2 * circleIn.radius : 0;
  const have = flat.map((c) => short(c.diameter)).join(', ') || 'none';
  return fault({
    code: 'cutter-too-wide',
    at: { path },
    found: `no flat-ended cutter enters ${what}, which is ${short(room, 2)} mm wide (the drawer has ${have})`,
    wanted: `an end mill or slot drill of at most ${short(Math.floor(room * 100) / 100, 2)} mm`,
    remedy: 'add one to "cutters", or widen the opening',
  });
}
