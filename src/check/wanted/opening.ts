/**
 * A hole as a body of revolution: the radius that may be cut away at each height, from the job's diameter, chamfer,
 * countersink and counterbore.
 */
import { tangent } from '../../base/angles.ts';
import { type Mm, toRad } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import type { CutterShape } from '../../stock/shape.ts';
import { findThread, runOutOf } from '../../trade/threads/threads.ts';
import { LIMITS, SAME } from '../limits.ts';
import type { Tool } from '../strokes/stroke.ts';

export interface HoleSpace {
  readonly part: number;
  readonly hole: Hole;
  /** Program coordinates. */
  readonly at: Point;
  /** Full radius goes down to here; -thickness for a through hole. */
  readonly bottom: Mm;
  /** Full radius may go down to here: room for the lead of a tap or reamer. */
  readonly deepest: Mm;
  readonly through: boolean;
  /** Radius that may be cut at height h <= 0, by a cutter whose full diameter may go down to `lowest`, else to `deepest`. */
  allowed(h: Mm, lowest?: Mm): Mm;
  /** Heights where `allowed` changes its law. */
  readonly breaks: readonly Mm[];
}

/** Room under a blind thread: its run-out, and no more than so many pitches (common practice, 3-5). */
const TAP_ROOM_PITCHES = 5;
/** Under a blind reamed hole: the reamer's lead and this for swarf, no more than 3 mm in all (common practice, lead and 1-2 mm). */
const SWARF_ROOM: Mm = 0.5;
const REAM_ROOM: Mm = 3;
/** Left under a blind hole at the least: the lower face must not bulge or open under a point (half of what a plan leaves). */
const BLIND_FLOOR: Mm = 0.1;

function roomBelow(hole: Hole, cutters: readonly Cutter[]): Mm {
  if (hole.make.kind === 'tap') {
    const found = findThread(hole.make.thread);
    const most = TAP_ROOM_PITCHES * hole.make.pitch;
    return found.kind === 'found' ? Math.min(runOutOf(found.value).normal, most) : most;
  }
  if (hole.make.kind !== 'ream') return 0;
  const fits = (c: Cutter) => c.kind === 'reamer' && Math.abs(c.diameter - hole.diameter) < REAMED_ALIKE;
  const leads = cutters.filter(fits).map((c) => c.lead);
  return leads.length === 0 ? REAM_ROOM : Math.min(REAM_ROOM, Math.max(...leads) + SWARF_ROOM);
}

type Plate = Pick<Job['part'], 'thickness' | 'chamfer'>;

/** A reamer of a hole's size, whatever its fit. */
const REAMED_ALIKE: Mm = 0.05;

/** `cutters`: those of the job, for the lead of the reamer. */
export function holeSpace(hole: Hole, part: number, at: Point, plate: Plate, cutters: readonly Cutter[]): HoleSpace {
  const { thickness, chamfer } = plate;
  // A fit or a thread may allow more than the size aimed at.
  const radius = Math.max(hole.diameter, hole.limits?.most ?? 0) / 2;
  const through = hole.depth === null;
  const bottom = through ? -thickness : -hole.depth;
  const deepest = through ? -thickness : bottom - roomBelow(hole, cutters);
  const sink = hole.countersink;
  const bore = hole.counterbore;
  const slope = sink === null ? 0 : tangent(toRad(sink.angle) / 2);
  // A thread's crests are cut by the tap, so its major radius is free to the tap alone (see `excess`).
  const allowed = (h: Mm, lowest = deepest): Mm => {
    let r = h >= lowest - LIMITS.depth || through ? radius : 0;
    if (h > -chamfer && chamfer > 0 && sink === null) r = Math.max(r, radius + chamfer + h);
    if (sink !== null) r = Math.max(r, Math.min(sink.diameter / 2, sink.diameter / 2 + h * slope));
    if (bore !== null && h >= -bore.depth - LIMITS.depth) r = Math.max(r, bore.diameter / 2);
    return r;
  };
  const breaks = [-chamfer, deepest - LIMITS.depth];
  if (sink !== null) breaks.push((radius - sink.diameter / 2) / slope);
  if (bore !== null) breaks.push(-bore.depth - LIMITS.depth);
  return { part, hole, at, bottom, deepest, through, allowed, breaks };
}

/** How deep the full diameter of a cutter may go: a drill makes the room that tap and reamer use with their leads alone. */
function lowestFor({ bottom, deepest, through }: HoleSpace, { kind, lead }: Cutter): Mm {
  if (through || kind === 'drill' || kind === 'spot drill' || kind === 'centre drill') return deepest;
  return kind === 'tap' || kind === 'reamer' ? Math.max(deepest, bottom - lead) : bottom;
}

/**
 * By how much a cutter with its tip at z, its axis on the hole's, would cut more than allowed; negative: room to spare.
 * A point may go deeper than the full diameter, and stays above the lower face.
 */
export function excess(space: HoleSpace, { cutter, shape }: Tool, z: Mm, thickness: Mm): Mm {
  if (!space.through && z < Math.min(BLIND_FLOOR - thickness, space.bottom) - LIMITS.depth) return Infinity;
  const low = Math.max(z, -thickness);
  const lowest = lowestFor(space, cutter);
  let most = -Infinity;
  const look = (h: Mm) => {
    if (h < low || h > 0) return;
    const u = h - z;
    // Below the full depth of a blind hole only a point may be: it tapers from the full radius at the bottom.
    const beyond = h < lowest - LIMITS.depth && !space.through;
    const room = beyond ? pointRoom(space, shape, lowest - h) : space.allowed(h, lowest);
    most = Math.max(most, shape.at(u) - room);
  };
  const end = lowest - LIMITS.depth;
  for (const h of [low, 0, ...space.breaks, ...space.breaks.map((b) => b - 1e-6), end, end - 1e-6]) look(h);
  for (const u of shape.breaks) look(z + u);
  return most;
}

/** `below`: the lowest that the full diameter may go. A tap's and a reamer's lead count as full. */
function pointRoom(space: HoleSpace, shape: CutterShape, below: Mm): Mm {
  if (!shape.pointed || shape.flat || below > shape.fullAt + LIMITS.depth + SAME) return 0;
  const radius = space.hole.diameter / 2;
  return shape.at(Math.max(0, shape.lift(Math.min(radius, shape.radius)) - below));
}
