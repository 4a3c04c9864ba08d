/** A hole as the job asks for it to a hole with a diameter, limits and a way of making it. Lengths in millimetres. */
import type { Mm } from '../base/units.ts';
import { holeLimits } from '../trade/iso286.ts';
import { CLEARANCE_TOLERANCE, clearanceOf } from '../trade/threads/clearance.ts';
import { METRIC_DRILLS } from '../trade/threads/drills.ts';
import { countersinkDepth, countersinkFor } from '../trade/threads/heads.ts';
import { drillForEngagement, findThread, type Thread, tappingHoleRange } from '../trade/threads/threads.ts';
import type { Desk } from './desk.ts';
import type { EdgeHole, Hole, HoleMake } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawEdgeHole, RawHole } from './schema/schema.ts';

const RECIPES = ['drill', 'ream', 'tap', 'clear', 'bore'] as const;
type Recipe = (typeof RECIPES)[number];

/** ISO 286 class of a reamed hole unless the job says otherwise (design 4.2). */
const DEFAULT_FIT = 'H7';

interface SizedHole {
  readonly make: HoleMake;
  readonly diameter: Mm;
  readonly limits: Hole['limits'];
}

/** undefined: a fault has been told. */
export function readHole(raw: RawHole, index: number, thickness: Mm, desk: Desk): Hole | undefined {
  const path: KeyPath = ['part', 'holes', index];
  const recipe = recipeOf(raw, path, desk);
  if (recipe === undefined) return undefined;
  const made = makeOf(raw, recipe, path, desk);
  if (made === undefined) return undefined;
  if (raw.depth !== undefined && raw.depth >= thickness) {
    const found = `depth is ${desk.say(raw.depth)}, the part is ${desk.say(thickness)} thick`;
    desk.fault({
      code: 'hole-too-deep',
      at: [...path, 'depth'],
      point: raw.at,
      found,
      wanted: 'a blind hole less deep than the part',
      remedy: 'leave depth out for a through hole',
    });
  }
  return {
    index,
    at: raw.at,
    ...made,
    depth: raw.depth ?? null,
    countersink: countersinkOf(raw, made, thickness, path, desk),
    counterbore: counterboreOf(raw, made, thickness, path, desk),
  };
}

export function readEdgeHole(raw: RawEdgeHole, index: number, thickness: Mm, desk: Desk): EdgeHole | undefined {
  const path: KeyPath = ['part', 'edgeHoles', index];
  const recipe = recipeOf(raw, path, desk);
  const made = recipe === undefined ? undefined : makeOf(raw, recipe, path, desk);
  if (made === undefined) return undefined;
  if (made.diameter >= thickness) {
    const found = `the hole is ${desk.say(made.diameter)} wide, the edge is ${desk.say(thickness)} high`;
    desk.fault({
      code: 'edge-hole-too-wide',
      at: path,
      found,
      wanted: 'an edge hole smaller than the thickness',
      remedy: 'choose a smaller size',
    });
  }
  return {
    index,
    boss: raw.boss,
    directionDeg: raw.direction,
    make: made.make,
    diameter: made.diameter,
    depth: raw.depth,
  };
}

/** The thread of a name, or a fault with the nearest known one. */
export function threadOf(name: string, path: KeyPath, desk: Desk): Thread | undefined {
  const thread = findThread(name);
  if (thread.kind === 'found') return thread.value;
  const near = thread.nearest;
  const remedy = near === undefined ? 'write a thread of the tables' : `did you mean ${near}?`;
  desk.fault({
    code: 'unknown-thread',
    at: path,
    found: `thread "${name}" is not in the tables`,
    wanted: 'M1 to M12, 0BA to 16BA, ME or UNC and UNF sizes',
    remedy,
  });
  return undefined;
}

function recipeOf(raw: Partial<RawHole>, path: KeyPath, desk: Desk): Recipe | undefined {
  const given = RECIPES.filter((r) => raw[r] !== undefined);
  const one = 'exactly one of drill, ream, tap, clear, bore';
  if (given.length !== 1) {
    const found =
      given.length === 0 ? 'the hole says nothing about how it is made' : `the hole has ${given.join(' and ')}`;
    desk.fault({
      code: 'hole-recipe',
      at: path,
      point: raw.at,
      found,
      wanted: one,
      remedy: given.length === 0 ? 'add one, such as "drill": 3' : 'keep one of them',
    });
    return undefined;
  }
  const recipe = given[0]!;
  const only: readonly (readonly [keyof RawHole, readonly Recipe[]])[] = [
    ['fit', ['ream', 'bore']],
    ['series', ['clear']],
    ['engagement', ['tap']],
  ];
  for (const [key, recipes] of only) {
    if (raw[key] === undefined || recipes.includes(recipe)) continue;
    desk.fault({
      code: 'key-not-for-hole',
      at: [...path, key],
      found: `\`${key}\` stands on a hole made by ${recipe}`,
      wanted: `\`${key}\` only with ${recipes.join(' or ')}`,
      remedy: 'take it away',
    });
  }
  return recipe;
}

function makeOf(raw: Partial<RawHole>, recipe: Recipe, path: KeyPath, desk: Desk): SizedHole | undefined {
  switch (recipe) {
    case 'drill':
      return { make: { kind: 'drill' }, diameter: raw.drill!, limits: null };
    case 'ream':
      return reamed(raw.ream!, raw.fit, path, desk);
    case 'bore':
      return bored(raw.bore!, raw.fit, path, desk);
    case 'tap':
      return tapped(raw.tap!, raw.engagement, path, desk);
    case 'clear':
      return cleared(raw.clear!, raw.series, path, desk);
  }
}

function reamed(nominal: Mm, fit: string | undefined, path: KeyPath, desk: Desk): SizedHole | undefined {
  if (fit === undefined) desk.assume(`The hole reamed ${desk.say(nominal)} is to ISO 286 ${DEFAULT_FIT}.`);
  const limits = limitsOf(nominal, fit ?? DEFAULT_FIT, path, desk);
  if (limits === undefined) return undefined;
  const make: HoleMake = { kind: 'ream', nominal, fit: fit ?? DEFAULT_FIT };
  return { make, diameter: (limits.least + limits.most) / 2, limits };
}

function bored(nominal: Mm, fit: string | undefined, path: KeyPath, desk: Desk): SizedHole | undefined {
  if (fit === undefined) return { make: { kind: 'bore', nominal, fit: null }, diameter: nominal, limits: null };
  const limits = limitsOf(nominal, fit, path, desk);
  if (limits === undefined) return undefined;
  return { make: { kind: 'bore', nominal, fit }, diameter: (limits.least + limits.most) / 2, limits };
}

function limitsOf(nominal: Mm, fit: string, path: KeyPath, desk: Desk): { least: Mm; most: Mm } | undefined {
  const found = holeLimits(nominal, fit);
  if (found.kind === 'limits') return { least: nominal + found.lower / 1000, most: nominal + found.upper / 1000 };
  const text =
    found.reason === 'size' ? `${desk.say(nominal)} is outside the tables of ISO 286` : `fit "${fit}" is unknown`;
  const shaft = found.reason === 'class' && /^[a-z]/.test(fit) ? 'a hole takes a capital letter: ' : '';
  desk.fault({
    code: 'unknown-fit',
    at: found.reason === 'class' ? [...path, 'fit'] : path,
    found: text,
    wanted: found.wanted,
    remedy: `${shaft}write a class such as H7`,
  });
  return undefined;
}

function tapped(name: string, engagement: number | undefined, path: KeyPath, desk: Desk): SizedHole | undefined {
  const thread = threadOf(name, [...path, 'tap'], desk);
  if (thread === undefined) return undefined;
  const drill =
    engagement === undefined ? thread.tapDrill : drillForEngagement(thread, engagement * 100, 'overlap', METRIC_DRILLS);
  if (drill === undefined) {
    desk.fault({
      code: 'unknown-thread',
      at: path,
      found: `no stock drill leaves ${engagement! * 100} % of ${thread.name}`,
      wanted: 'an engagement that a drill can leave',
      remedy: 'leave engagement out',
    });
    return undefined;
  }
  const range = tappingHoleRange(thread);
  if (drill.diameter > range.most) {
    const found = `the hole for ${thread.name} is ${desk.say(drill.diameter)}, over the standard's greatest minor diameter ${desk.say(range.most)}`;
    desk.caution({
      code: 'thread-shallow',
      at: path,
      found,
      wanted: 'a hole within the standard',
      remedy: 'raise the engagement unless the thread only locates',
    });
  }
  return {
    make: {
      kind: 'tap',
      thread: thread.name,
      major: thread.major,
      pitch: thread.pitch,
      engagement: engagement ?? null,
    },
    diameter: drill.diameter,
    limits: drill.diameter > range.most ? null : range,
  };
}

function cleared(name: string, series: RawHole['series'], path: KeyPath, desk: Desk): SizedHole | undefined {
  const thread = threadOf(name, [...path, 'clear'], desk);
  if (thread === undefined) return undefined;
  if (series === undefined) desk.assume(`The clearance hole for ${thread.name} is of the medium series.`);
  const chosen = series ?? 'medium';
  const hole = clearanceOf(thread, chosen);
  if (hole === undefined) {
    desk.fault({
      code: 'unknown-clearance',
      at: path,
      found: `no ${chosen} clearance hole is listed for ${thread.name}`,
      wanted: 'a screw and series of the tables',
      remedy: 'give the size: "drill": ...',
    });
    return undefined;
  }
  const limits = holeLimits(hole.diameter, CLEARANCE_TOLERANCE[chosen]);
  return {
    make: { kind: 'clear', screw: thread.name, series: chosen },
    diameter: hole.diameter,
    limits:
      limits.kind === 'limits'
        ? { least: hole.diameter + limits.lower / 1000, most: hole.diameter + limits.upper / 1000 }
        : null,
  };
}

function countersinkOf(raw: RawHole, made: SizedHole, thickness: Mm, path: KeyPath, desk: Desk): Hole['countersink'] {
  if (raw.countersink === undefined || raw.countersink === false) return null;
  const here: KeyPath = [...path, 'countersink'];
  const cone =
    raw.countersink === true
      ? screwCone(made, here, desk)
      : { diameter: raw.countersink.diameter, angle: raw.countersink.angle ?? 90 };
  if (cone === null) return null;
  if (raw.countersink !== true && raw.countersink.angle === undefined)
    desk.assume(`The countersink of ${desk.say(cone.diameter)} is of 90 degrees.`);
  if (cone.diameter <= made.diameter) {
    desk.fault({
      code: 'countersink-small',
      at: here,
      point: raw.at,
      found: `the countersink is ${desk.say(cone.diameter)} wide, the hole ${desk.say(made.diameter)}`,
      wanted: 'a countersink wider than its hole',
      remedy: 'give a larger diameter',
    });
  }
  const depth = countersinkDepth(cone.diameter, made.diameter, cone.angle);
  if (depth >= thickness) {
    desk.fault({
      code: 'countersink-deep',
      at: here,
      point: raw.at,
      found: `the countersink is ${desk.say(depth)} deep, the part ${desk.say(thickness)} thick`,
      wanted: 'a cone that ends inside the part',
      remedy: 'choose a smaller screw or a thicker part',
    });
  }
  return cone;
}

function screwCone(made: SizedHole, path: KeyPath, desk: Desk): Hole['countersink'] {
  if (made.make.kind !== 'clear') {
    desk.fault({
      code: 'countersink-size',
      at: path,
      found: '`true` on a hole that is not a clearance hole',
      wanted: 'the diameter',
      remedy: 'write "countersink": { "diameter": ... }',
    });
    return null;
  }
  const cone = countersinkFor(made.make.screw);
  if (cone === undefined) {
    desk.fault({
      code: 'countersink-size',
      at: path,
      found: `no countersink is listed for ${made.make.screw}`,
      wanted: 'the diameter',
      remedy: 'write "countersink": { "diameter": ... }',
    });
    return null;
  }
  // ISO 15065: the least diameter, the figure that is published; at it the sharp head of the screw is just flush.
  return { diameter: cone.least, angle: cone.angle };
}

function counterboreOf(raw: RawHole, made: SizedHole, thickness: Mm, path: KeyPath, desk: Desk): Hole['counterbore'] {
  if (raw.counterbore === undefined) return null;
  const here: KeyPath = [...path, 'counterbore'];
  const { diameter, depth } = raw.counterbore;
  if (diameter <= made.diameter) {
    desk.fault({
      code: 'counterbore-small',
      at: here,
      point: raw.at,
      found: `the counterbore is ${desk.say(diameter)} wide, the hole ${desk.say(made.diameter)}`,
      wanted: 'a counterbore wider than its hole',
      remedy: 'give a larger diameter',
    });
  }
  if (depth >= thickness) {
    desk.fault({
      code: 'counterbore-deep',
      at: here,
      point: raw.at,
      found: `the counterbore is ${desk.say(depth)} deep, the part ${desk.say(thickness)} thick`,
      wanted: 'a counterbore that ends inside the part',
      remedy: 'give a lesser depth',
    });
  }
  return raw.counterbore;
}
