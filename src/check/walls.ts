/** The walls that the job asks for, part by part, with what may stay on them. */
import type { Mm } from '../base/units.ts';
import { loopLength, positionOf } from '../geometry/measure/loop.ts';
import { dist } from '../geometry/measure/point.ts';
import { circle } from '../geometry/measure/segment.ts';
import type { Point } from '../geometry/types.ts';
import type { Job } from '../part/part.ts';
import type { Head } from './head.ts';
import { LIMITS, ROUNDING } from './limits.ts';
import type { Wall } from './reached.ts';
import { withBoxes } from './wanted/edge.ts';
import type { HoleSpace } from './wanted/opening.ts';
import type { Wanted, WantedPart, WantedPocket } from './wanted/wanted.ts';

/** Height to which the profile must go: the lower face, or the top of the floor that the head declares. */
export function profileFoot(job: Job, head: Head | null): Mm {
  const floor = head?.hold?.by === 'floor' ? head.hold.figure : null;
  return -job.part.thickness + (floor ?? 0);
}

export function wallsOf(job: Job, wanted: Wanted, head: Head | null): Wall[] {
  const foot = profileFoot(job, head);
  return wanted.parts.flatMap((part) => {
    const spared = sparedOn(part, head, job);
    const edge: Wall = {
      name: 'the edge',
      code: 'edge-uncut',
      part: part.index,
      edge: part.edge,
      side: 'outside',
      foot,
      short: ROUNDING,
      slack: LIMITS.uncut,
      spared,
    };
    return [edge, ...part.pockets.flatMap(pocketWalls), ...part.holes.map(holeWall)];
  });
}

/** Stretches along the edge that tabs or the stub leave, lengths counted along the edge. */
function sparedOn(part: WantedPart, head: Head | null, job: Job): (p: Point) => boolean {
  const total = loopLength(part.loop);
  const widest = Math.max(0, ...job.cutters.map((c) => c.diameter));
  const stub = head?.hold?.stub;
  const left = (head?.tabs ?? []).filter((t) => t.part === part.index).map((t) => ({ at: t.at, length: t.footprint }));
  if (stub !== undefined && nearestPart(head, stub.at, part))
    left.push({ at: stub.at, length: stub.width + widest + 1 });
  const spans = left.map((t) => ({
    middle: positionOf(part.loop, t.at)?.s ?? 0,
    half: t.length / 2 + FOOTPRINT_SLACK,
  }));
  return (p) => {
    const s = positionOf(part.loop, p)?.s;
    if (s === undefined) return false;
    return spans.some(({ middle, half }) => {
      const d = Math.abs(s - middle);
      return Math.min(d, total - d) <= half;
    });
  };
}

/** Rounding of the head's figures and the few hundredths a lift point moves along a curved edge. */
const FOOTPRINT_SLACK: Mm = 0.05;

function nearestPart(_head: Head | null, at: Point, part: WantedPart): boolean {
  const p = positionOf(part.loop, at);
  return p !== undefined && p.distance < 0.01;
}

function pocketWalls(p: WantedPocket): Wall[] {
  const base = {
    code: 'pocket-uncut',
    part: p.part,
    foot: p.bottom,
    short: p.through ? ROUNDING : LIMITS.depth,
    slack: LIMITS.uncut,
    spared: () => false,
  };
  const name = `the wall of pocket ${p.pocket.index + 1}`;
  return [
    { ...base, name, edge: p.outer, side: 'inside' },
    ...p.islands.map(
      (edge): Wall => ({ ...base, name: `an island in pocket ${p.pocket.index + 1}`, edge, side: 'outside' }),
    ),
  ];
}

export function holeWall(space: HoleSpace): Wall {
  const { hole, at } = space;
  const radius = hole.diameter / 2;
  // A fit or a thread allows the wall to stand as far in as its lower limit.
  const least = hole.limits === null ? radius : Math.min(radius, hole.limits.least / 2);
  return {
    name: `hole ${hole.index + 1}`,
    code: 'hole-uncut',
    part: space.part,
    edge: withBoxes([circle(at, radius)], (p) => dist(p, at) < radius),
    side: 'inside',
    foot: space.bottom,
    short: space.through ? ROUNDING : LIMITS.depth,
    slack: Math.max(LIMITS.boreRadius, radius - least + 1e-4),
    spared: () => false,
  };
}
