/** The walls that the job asks for, part by part, with what may stay on them. */
import type { Mm } from '../base/units.ts';
import { loopLength, positionOf } from '../geometry/measure/loop.ts';
import { dist } from '../geometry/measure/point.ts';
import { circle } from '../geometry/measure/segment.ts';
import type { Point } from '../geometry/types.ts';
import type { CutterKind, Job } from '../part/part.ts';
import type { Cut } from './coverage.ts';
import type { Shape } from './field/shape.ts';
import type { Head } from './head.ts';
import { LIMITS, ROUNDING } from './limits.ts';
import type { Wall } from './reached.ts';
import { isVertical, pathBelow, type Stroke } from './stroke.ts';
import { withBoxes } from './wanted/edge.ts';
import type { HoleSpace } from './wanted/opening.ts';
import type { Wanted, WantedPart, WantedPocket } from './wanted/wanted.ts';

/** Height to which the profile must go: the lower face, or the top of the floor that the head declares. */
export function profileFoot(job: Job, head: Head | null): Mm {
  const floor = head?.hold?.by === 'floor' ? head.hold.figure : null;
  const lower = -job.part.thickness;
  // Stock below the part's lower face is part of the floor.
  return floor === null ? lower : Math.max(lower, job.stock.min[2] + floor);
}

export function wallsOf(job: Job, wanted: Wanted, head: Head | null): Wall[] {
  const foot = profileFoot(job, head);
  return wanted.parts.flatMap((part) => {
    const left = sparedOn(part, head, job);
    const edge: Wall = {
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
function aboveTabs(edge: Wall, part: number, head: Head | null, job: Job): Wall[] {
  const tabs = (head?.tabs ?? []).filter((t) => t.part === part);
  if (tabs.length === 0) return [];
  const foot = -job.part.thickness + Math.max(...tabs.map((t) => t.height)) + LIMITS.tabHeight;
  if (foot >= 0) return [];
  const name = 'the edge above its tabs';
  return [{ ...edge, name, foot, reach: downTo(foot), spared: () => false, overrun: () => undefined }];
}

/**
 * Stretches along the edge that tabs or the stub leave, lengths counted along the edge. A footprint need not be centred on its tab:
 * the ramp down may be longer than the ramp up. So a point may be as far from the tab as the footprint less half the waist, and what
 * is found uncut at each tab, end to end, must not be longer than declared, nor shorter by more than the cutter's own reach.
 */
function sparedOn(part: WantedPart, head: Head | null, job: Job): Pick<Wall, 'spared' | 'overrun'> {
  const total = loopLength(part.loop);
  // A disc that stops beside a tab reaches on along the edge within what may be left on it, in an inside curve by up to its own width.
  const widestMill = Math.max(0, ...job.cutters.filter((c) => MILLS.includes(c.kind)).map((c) => c.diameter));
  const spans = keptOn(part, head).map((t) => {
    const middle = positionOf(part.loop, t.at)?.s ?? 0;
    return { ...t, middle, from: 0, to: 0, least: 0, most: 0, beside: false };
  });
  const spared = (p: Point, enters: boolean) => {
    const s = positionOf(part.loop, p)?.s;
    if (s === undefined) return false;
    const apart = (span: (typeof spans)[number]) =>
      ((((s - span.middle + total / 2) % total) + total) % total) - total / 2;
    // Neighbouring tabs may stand within each other's reach: a point belongs to the nearest.
    const own = spans.reduce<(typeof spans)[number] | undefined>(
      (a, b) => (a === undefined || Math.abs(apart(b)) < Math.abs(apart(a)) ? b : a),
      undefined,
    );
    if (own === undefined) return false;
    const d = apart(own);
    if (Math.abs(d) > own.length - own.width / 2 + FOOTPRINT_SLACK) return false;
    own.least = Math.min(own.least, d);
    own.most = Math.max(own.most, d);
    // Where two tabs leave one stretch between them, each is given what is nearer, and neither can be called too long.
    own.beside ||= spans.some((s) => s !== own && Math.abs(apart(s)) < Math.abs(d) + FOOTPRINT_SLACK);
    // An inside corner that stays round is left whether a tab stands beside it or not.
    if (!enters) return true;
    own.from = Math.min(own.from, d);
    own.to = Math.max(own.to, d);
    return true;
  };
  const overrun = () => {
    const over = spans.find((s) => s.to - s.from > s.length + 2 * FOOTPRINT_SLACK);
    if (over !== undefined) return { at: over.at, found: over.to - over.from, declared: over.length };
    const short = spans.find(
      (s) => s.tab && !s.beside && s.length - (s.most - s.least) > 2 * widestMill + FOOTPRINT_SLACK,
    );
    return short === undefined ? undefined : { at: short.at, found: short.most - short.least, declared: short.length };
  };
  return { spared, overrun };
}

/** What cuts an edge. */
const MILLS: readonly CutterKind[] = ['end mill', 'slot drill', 'ball-nosed end mill'];

/** Rounding of the head's figures and the few hundredths a lift point moves along a curved edge. */
const FOOTPRINT_SLACK: Mm = 0.05;

function keptOn(part: WantedPart, head: Head | null) {
  const kept = [
    ...(head?.tabs ?? []).map((t) => ({ ...t, tab: true })),
    ...(head?.stubs ?? []).map((s) => ({ ...s, tab: false })),
  ];
  return kept
    .filter((t) => t.part === part.index)
    .map(({ at, footprint, width, tab }) => ({ at, length: footprint, width, tab }));
}

function pocketWalls(p: WantedPocket): Wall[] {
  const base = {
    code: 'pocket-uncut',
    part: p.part,
    foot: p.bottom,
    slack: LIMITS.uncut,
    reach: downTo(p.bottom + (p.through ? ROUNDING : LIMITS.depth)),
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

/** Walls of a hole: the bore itself, and what its head sits in. */
function holeWalls(space: HoleSpace): Wall[] {
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

function roundWall(space: HoleSpace, radius: Mm, name: string, foot: Mm): Wall {
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
function downTo(height: Mm): Wall['reach'] {
  return (s) => {
    const path = pathBelow(s, height - s.tool.shape.fullAt);
    return path === undefined ? undefined : { path, radius: s.tool.shape.radius };
  };
}

/** The radius with which a cone cuts the top face. */
function atTheTop(s: Stroke): Cut | undefined {
  return levelCut(s, (z) => s.tool.shape.at(-z));
}

/**
 * A chamfer is cut where a cone reaches both its ends: the edge itself, `chamfer` down, and as far inside it on the top face. Between
 * the ends a cone is straight, so it reaches what lies between.
 */
function chamferWalls(part: WantedPart, wanted: Wanted, spared: Wall['spared']): Wall[] {
  const { chamfer } = wanted;
  const reach = (s: Stroke) => (s.tool.shape.pointed ? levelCut(s, (z) => bothEnds(s.tool.shape, z)) : undefined);
  const bothEnds = (shape: Shape, z: Mm) =>
    z > -chamfer ? 0 : Math.min(shape.at(-chamfer - z), shape.at(-z) - chamfer);
  const base = { code: 'chamfer-uncut', part: part.index, foot: -chamfer, slack: LIMITS.uncut, reach, spared };
  const holes = part.holes.filter((h) => h.hole.countersink === null && h.hole.counterbore === null);
  return [
    { ...base, name: 'the chamfer of the edge', edge: part.edge, side: 'outside' },
    ...holes.map((h): Wall => {
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
function levelCut(s: Stroke, radiusAt: (z: Mm) => Mm): Cut | undefined {
  if (s.low >= 0 || (s.za !== s.zb && !isVertical(s))) return undefined;
  const radius = radiusAt(s.low);
  return radius > 0 ? { path: s.path, radius } : undefined;
}
