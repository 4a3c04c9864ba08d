/** The walls that the job asks for, part by part, with what may stay on them. */
import type { Mm } from '../../base/units.ts';
import { dist } from '../../geometry/measure/point.ts';
import { circle, pointAt } from '../../geometry/measure/segment.ts';
import type { Job } from '../../part/part.ts';
import type { CutterShape } from '../../stock/shape.ts';
import { LIMITS, ROUNDING } from '../limits.ts';
import type { Head } from '../program/head.ts';
import { isVertical, pathBelow, type Stroke } from '../strokes/stroke.ts';
import type { HoleSpace } from '../wanted/opening.ts';
import { withBoxes } from '../wanted/pieces.ts';
import type { WantedPart, WantedParts, WantedPocket } from '../wanted/wanted.ts';
import type { DiscCut } from './coverage.ts';
import { sparedOn } from './kept-edge.ts';
import type { WallToCut } from './reached.ts';

/** Height to which the profile must go: the lower face, or the top of the floor that the head declares. */
export function profileFoot(job: Job, head: Head | null): Mm {
  const floor = head?.hold?.by === 'floor' ? head.hold.figure : null;
  const lower = -job.part.thickness;
  // Stock below the part's lower face is part of the floor.
  return floor === null ? lower : Math.max(lower, job.stock.min[2] + floor);
}

export function wallsOf(job: Job, wanted: WantedParts, head: Head | null): WallToCut[] {
  const foot = profileFoot(job, head);
  return wanted.parts.flatMap((part) => {
    const left = sparedOn(part, head, job);
    const edge: WallToCut = {
      name: 'the edge',
      code: 'edge-uncut',
      part: part.index,
      edge: part.edge,
      side: 'outside',
      foot,
      slack: LIMITS.uncut,
      reach: downTo(foot + ROUNDING),
      ...left,
    };
    const above = aboveTabs(edge, part.index, head, job);
    const chamfers = wanted.chamfer > 0 ? chamferWalls(part, wanted, left.spared) : [];
    return [edge, ...above, ...part.pockets.flatMap(pocketWalls), ...part.holes.flatMap(holeWalls), ...chamfers];
  });
}

/** A footprint spares the edge only as high as the tabs stand: above them all of it is cut. */
function aboveTabs(edge: WallToCut, part: number, head: Head | null, job: Job): WallToCut[] {
  const tabs = (head?.tabs ?? []).filter((t) => t.part === part);
  if (tabs.length === 0) return [];
  const foot = -job.part.thickness + Math.max(...tabs.map((t) => t.height)) + LIMITS.tabHeight;
  if (foot >= 0) return [];
  const name = 'the edge above its tabs';
  return [{ ...edge, name, foot, reach: downTo(foot), spared: () => false, overrun: () => undefined }];
}

function pocketWalls(p: WantedPocket): WallToCut[] {
  const base = {
    code: 'pocket-uncut' as const,
    part: p.part,
    foot: p.bottom,
    slack: LIMITS.uncut,
    reach: downTo(p.bottom + (p.through ? ROUNDING : LIMITS.depth)),
    spared: () => false,
  };
  const name = `the wall of pocket ${p.pocket.index + 1}`;
  return [
    p.open === null
      ? { ...base, name, edge: p.outer, side: 'inside' }
      : { ...base, name, edge: p.open.wall, bounds: p.open.solid, side: 'outside', entered: comesInto(p) },
    ...p.islands.map(
      (edge): WallToCut => ({ ...base, name: `an island in pocket ${p.pocket.index + 1}`, edge, side: 'outside' }),
    ),
  ];
}

/** What passes outside the part reaches a little of the walls of an open pocket, and none of its corners. */
function comesInto(p: WantedPocket): (s: Stroke) => boolean {
  return ({ path }) => [0, 0.5, 1].some((t) => p.outer.inside(pointAt(path, t)));
}

/** Walls of a hole: the bore itself, and what its head sits in. */
function holeWalls(space: HoleSpace): WallToCut[] {
  const { hole } = space;
  const radius = hole.diameter / 2;
  // A fit or a thread allows the wall to stand as far in as its lower limit.
  const least = hole.limits === null ? radius : Math.min(radius, hole.limits.least / 2);
  const walls = [
    {
      ...roundWall(space, radius, `hole ${hole.index + 1}`, space.bottom),
      slack: Math.max(LIMITS.boreRadius, radius - least + 1e-4),
      reach: downTo(space.bottom + (space.through ? ROUNDING : LIMITS.depth)),
    },
  ];
  if (hole.counterbore !== null) {
    const { diameter, depth } = hole.counterbore;
    const name = `the counterbore of hole ${hole.index + 1}`;
    walls.push({ ...roundWall(space, diameter / 2, name, -depth), reach: downTo(-depth + LIMITS.depth) });
  }
  if (hole.countersink !== null) {
    const name = `the countersink of hole ${hole.index + 1}`;
    walls.push({ ...roundWall(space, hole.countersink.diameter / 2, name, 0), reach: atTheTop });
  }
  return walls;
}

function roundWall(space: HoleSpace, radius: Mm, name: string, foot: Mm): WallToCut {
  const { at } = space;
  return {
    name,
    code: 'hole-uncut',
    part: space.part,
    edge: withBoxes([circle(at, radius)], (p) => dist(p, at) < radius),
    side: 'inside',
    foot,
    slack: LIMITS.uncut,
    reach: downTo(foot),
    spared: () => false,
  };
}

/** The whole radius, where the full diameter comes down to a height. */
function downTo(height: Mm): WallToCut['reach'] {
  return (s) => {
    const path = pathBelow(s, height - s.tool.shape.fullAt);
    return path === undefined ? undefined : { path, radius: s.tool.shape.radius };
  };
}

/** The radius with which a cone cuts the top face. */
function atTheTop(s: Stroke): DiscCut | undefined {
  return levelCut(s, (z) => s.tool.shape.at(-z));
}

/**
 * A chamfer is cut where a cone reaches both its ends: the edge itself, `chamfer` down, and as far inside it on the top face. Between
 * the ends a cone is straight, so it reaches what lies between.
 */
function chamferWalls(part: WantedPart, wanted: WantedParts, spared: WallToCut['spared']): WallToCut[] {
  const { chamfer } = wanted;
  const reach = (s: Stroke) => (s.tool.shape.pointed ? levelCut(s, (z) => bothEnds(s.tool.shape, z)) : undefined);
  const bothEnds = (shape: CutterShape, z: Mm) =>
    z > -chamfer ? 0 : Math.min(shape.at(-chamfer - z), shape.at(-z) - chamfer);
  const base = { code: 'chamfer-uncut' as const, part: part.index, foot: -chamfer, slack: LIMITS.uncut, reach, spared };
  const holes = part.holes.filter((h) => h.hole.countersink === null && h.hole.counterbore === null);
  return [
    { ...base, name: 'the chamfer of the edge', edge: part.edge, side: 'outside' },
    ...holes.map((h): WallToCut => {
      const name = `the chamfer of hole ${h.hole.index + 1}`;
      return {
        ...roundWall(h, h.hole.diameter / 2, name, -chamfer),
        ...base,
        name,
        spared: () => false,
        side: 'inside',
      };
    }),
  ];
}

/** A cut whose radius depends on height, of a level stroke or at the bottom of one straight down. */
function levelCut(s: Stroke, radiusAt: (z: Mm) => Mm): DiscCut | undefined {
  if (s.low >= 0 || (s.za !== s.zb && !isVertical(s))) return undefined;
  const radius = radiusAt(s.low);
  return radius > 0 ? { path: s.path, radius } : undefined;
}
