/** How deep each cutter goes in a hole: points, leads, run-outs, and the room that backing or part leaves for them. */
import { caution, fault, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { Mm } from '../../base/units.ts';
import type { Cutter, Hole, Job } from '../../part/part.ts';
import { BREAKTHROUGH, REAM_OVERRUN } from '../../trade/hole-rules.ts';
import { pointLength } from '../../trade/threads/drills.ts';
import { findThread, runOutOf } from '../../trade/threads/threads.ts';
import { holeName, say } from '../words.ts';

export interface HoleDepths {
  /** z of the drill's tip. */
  readonly drill: Mm;
  /** z of the end of the reamer, or of a tap under power. */
  readonly follower: Mm;
  readonly problems: readonly Problem[];
}

/** Material left under a blind hole's point at the least, so that it does not break through. */
const BLIND_FLOOR: Mm = 0.2;
/** Room between the end of a reamer or tap and the cone that the drill left, for swarf. */
const END_ROOM: Mm = 0.5;
/** Backing left under a drill's point, so that the table is not marked. */
const BACKING_LEFT: Mm = 0.5;
/** Under a blind thread the part has room for no more than this many pitches (3-5 pitches, common practice). */
const MOST_TAP_ROOM = 5;
/** A bottoming tap has a lead of at most this many pitches (ISO 8830 form E: 1.5 to 2). */
const BOTTOMING_LEAD = 2.5;

/** `follower`: the reamer or tap that comes after the drill; null: none. */
export function holeDepths(job: Job, hole: Hole, drill: Cutter, follower: Cutter | null, path: string): HoleDepths {
  return hole.depth === null
    ? throughDepths(job, hole, drill, follower, path)
    : blindDepths(job, hole, hole.depth, drill, follower, path);
}

/** Lowest z that a cutter may reach: into a backing plate, between parallels, else not below the stock. */
function lowestReach(job: Job): Mm {
  const under = job.stock.min[2];
  if (job.under.kind === 'plate') return under - Math.max(0, job.under.thickness - BACKING_LEFT);
  return job.under.kind === 'parallels' ? under - job.under.thickness : under;
}

/**
 * The drill passes with its full diameter; where a reamer or tap follows, so far that neither meets the cone the drill left in
 * the backing.
 */
function throughDepths(job: Job, hole: Hole, drill: Cutter, follower: Cutter | null, path: string): HoleDepths {
  const { thickness } = job.part;
  const point = pointLength(drill.diameter, drill.pointDeg);
  const fullest = -lowestReach(job) - point;
  const least = thickness + BREAKTHROUGH.low;
  if (fullest < thickness + LEAST_PASS) return refused(noRoomBelow(job, hole, thickness + point + LEAST_PASS, path));
  const over = overrunOf(hole, follower);
  const wanted = follower === null ? least : Math.max(least, thickness + follower.lead + over + END_ROOM);
  const full = Math.min(wanted, fullest);
  const end = follower === null ? full : Math.min(thickness + follower.lead + over, full - END_ROOM);
  if (follower !== null && end < thickness + follower.lead - 1e-9) {
    const told = leadTooLong(job, hole, follower, full - END_ROOM - thickness, path);
    return { drill: -(full + point), follower: -end, problems: [told] };
  }
  return { drill: -(full + point), follower: -end, problems: [] };
}

/** z of the tip of a drill that only makes room: through with its full diameter where what lies beneath allows, else down to `bottom`. */
export function startTip(job: Job, through: boolean, drill: Cutter, bottom: Mm): Mm {
  const point = pointLength(drill.diameter, drill.pointDeg);
  const full = Math.min(job.part.thickness + BREAKTHROUGH.low, -lowestReach(job) - point);
  return through && full >= job.part.thickness + LEAST_PASS ? -(full + point) : bottom;
}

/** A full diameter passes at least this far, mm. */
const LEAST_PASS: Mm = 0.05;

function overrunOf(hole: Hole, follower: Cutter | null): Mm {
  return follower?.kind === 'tap' && hole.make.kind === 'tap' ? hole.make.pitch : REAM_OVERRUN.low;
}

function blindDepths(
  job: Job,
  hole: Hole,
  depth: Mm,
  drill: Cutter,
  follower: Cutter | null,
  path: string,
): HoleDepths {
  const point = pointLength(drill.diameter, drill.pointDeg);
  const room = job.part.thickness - BLIND_FLOOR - depth - point;
  const extra = extraDepth(hole, follower, room);
  const tip = depth + extra + point;
  const end = follower === null ? depth : depth + Math.min(follower.lead, extra);
  const problems: Problem[] = [];
  if (extra > room + 1e-9) problems.push(breaksThrough(job, hole, follower, tip, path));
  else if (follower !== null && follower.lead > extra + 1e-9)
    problems.push(leadTooLong(job, hole, follower, extra, path));
  return { drill: -tip, follower: -end, problems };
}

/**
 * Full diameter below the full depth of a blind hole. Tapped: the run-out of DIN 76-2, the short one where the tap is a bottoming
 * tap or the part leaves no room for more. Reamed: the reamer's lead and room for swarf.
 */
function extraDepth(hole: Hole, follower: Cutter | null, room: Mm): Mm {
  if (hole.make.kind === 'tap') {
    const { pitch } = hole.make;
    const thread = findThread(hole.make.thread);
    const row = thread.kind === 'found' ? runOutOf(thread.value) : { normal: 5 * pitch, short: 3 * pitch };
    const normal = Math.min(row.normal, MOST_TAP_ROOM * pitch);
    const bottoming = follower !== null && follower.lead <= BOTTOMING_LEAD * pitch;
    return bottoming || room < normal ? row.short : normal;
  }
  return follower === null ? 0 : Math.min(follower.lead + END_ROOM, MOST_REAM_ROOM);
}

/** Under a blind reamed hole (lead and 1-2 mm, common practice). */
const MOST_REAM_ROOM: Mm = 3;

/** Tapping by hand can be finished with another tap, so there it is only said. */
function leadTooLong(job: Job, hole: Hole, follower: Cutter, room: Mm, path: string): Problem {
  const found = `${follower.kind} ${follower.number} has a lead of ${say(job, follower.lead)}; below the full depth of ${holeName(hole)} there is room for ${say(job, Math.max(0, room))}`;
  const byHand = follower.kind === 'tap' && job.machine.tapping === 'hand';
  if (byHand)
    return caution({
      code: 'tap-lead-long',
      at: { path },
      found,
      wanted: 'a lead that fits',
      remedy: 'finish the thread with a bottoming tap',
    });
  const remedy =
    hole.depth === null ? 'use a thicker backing plate, or a shorter lead' : 'make it less deep, or through';
  return fault({
    code: `${follower.kind}-too-deep`,
    at: { path },
    found: `${found}: the ${follower.kind} would go deeper than the hole allows`,
    wanted: `a lead of at most ${say(job, Math.max(0, room))}`,
    remedy,
  });
}

function breaksThrough(job: Job, hole: Hole, follower: Cutter | null, tip: Mm, path: string): Problem {
  const because =
    follower?.kind === 'reamer' ? `, because reamer ${follower.number} needs room for its lead and swarf below` : '';
  return fault({
    code: follower?.kind === 'reamer' ? 'reamer-too-deep' : 'blind-too-deep',
    at: { path },
    found: `${holeName(hole)}: the drill's point reaches ${say(job, tip)} in a part ${say(job, job.part.thickness)} thick${because}`,
    wanted: `a point that ends at least ${short(BLIND_FLOOR)} mm above the lower face`,
    remedy: 'make the hole shallower, or through (leave out "depth")',
  });
}

function noRoomBelow(job: Job, hole: Hole, needs: Mm, path: string): Problem {
  const has = job.under.kind === 'plate' ? `${say(job, job.under.thickness)} of backing` : `the ${job.under.kind}`;
  return fault({
    code: 'no-room-below',
    at: { path },
    found: `${holeName(hole)} goes through: its drill needs ${say(job, needs + job.stock.min[2])} below the stock, where ${has} lies`,
    wanted: 'room for the point of the drill',
    remedy:
      job.under.kind === 'plate'
        ? 'use a thicker backing plate'
        : 'lay a backing plate under the stock ("under": { "kind": "plate" })',
  });
}

function refused(problem: Problem): HoleDepths {
  return { drill: 0, follower: 0, problems: [problem] };
}
