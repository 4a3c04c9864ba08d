/**
 * A hole as a body of revolution: the radius that may be cut away at each height, from the job's diameter, chamfer,
 * countersink and counterbore.
 */
import { type Mm, toRad } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { Hole } from '../../part/part.ts';
import type { Shape } from '../field/shape.ts';
import { LIMITS, SAME } from '../limits.ts';

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
  /** Radius that may be cut at height h <= 0. */
  allowed(h: Mm): Mm;
  /** Heights where `allowed` changes its law. */
  readonly breaks: readonly Mm[];
}

/** Room under a blind thread, in pitches, and under a blind reamed hole: common practice (3-5 pitches; lead and 1-2 mm). */
const TAP_ROOM_PITCHES = 5;
const REAM_ROOM: Mm = 3;

function roomBelow(hole: Hole): Mm {
  if (hole.make.kind === 'tap') return TAP_ROOM_PITCHES * hole.make.pitch;
  return hole.make.kind === 'ream' ? REAM_ROOM : 0;
}

export function holeSpace(hole: Hole, part: number, at: Point, thickness: Mm, chamfer: Mm): HoleSpace {
  // A fit or a thread may allow more than the size aimed at.
  const radius = Math.max(hole.diameter, hole.limits?.most ?? 0) / 2;
  const through = hole.depth === null;
  const bottom = through ? -thickness : -hole.depth;
  const deepest = through ? -thickness : bottom - roomBelow(hole);
  const sink = hole.countersink;
  const bore = hole.counterbore;
  const slope = sink === null ? 0 : Math.tan(toRad(sink.angle) / 2);
  // A thread's crests are cut by the tap, so its major radius is free to the tap alone (see `excess`).
  const allowed = (h: Mm): Mm => {
    let r = h >= deepest - LIMITS.depth || through ? radius : 0;
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

/**
 * By how much a cutter with its tip at z, its axis on the hole's, would cut more than allowed; negative: room to spare.
 * A point may go deeper than the full diameter.
 */
export function excess(space: HoleSpace, shape: Shape, z: Mm, thickness: Mm): Mm {
  const low = Math.max(z, -thickness);
  let most = -Infinity;
  const look = (h: Mm) => {
    if (h < low || h > 0) return;
    const u = h - z;
    // Below the full depth of a blind hole only a point may be: it tapers from the full radius at the bottom.
    const beyond = h < space.deepest - LIMITS.depth && !space.through;
    const room = beyond ? pointRoom(space, shape, h) : space.allowed(h);
    most = Math.max(most, shape.at(u) - room);
  };
  for (const h of [low, 0, ...space.breaks, ...space.breaks.map((b) => b - 1e-6)]) look(h);
  for (const u of shape.breaks) look(z + u);
  return most;
}

function pointRoom(space: HoleSpace, shape: Shape, h: Mm): Mm {
  const below = space.deepest - h;
  if (!shape.pointed || below > shape.fullAt + LIMITS.depth + SAME) return 0;
  const radius = space.hole.diameter / 2;
  return shape.at(Math.max(0, shape.lift(Math.min(radius, shape.radius)) - below));
}
