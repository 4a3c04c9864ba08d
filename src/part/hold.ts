/** The wish how to hold the part, checked against the part: what cannot hold at all is refused here, how well is reckoned later. */

import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { toRad } from '../base/units.ts';
import { distanceToLoop } from '../geometry/measure/distance.ts';
import { loopLength, positionOf } from '../geometry/measure/loop.ts';
import { add, dist, fromAngle, scale } from '../geometry/measure/point.ts';
import type { Loop, Point } from '../geometry/types.ts';
import { FLOOR_RULES, GLUE_ALLOWABLE } from '../trade/holding-rules.ts';
import type { Material } from '../trade/materials.ts';
import type { Desk } from './desk.ts';
import { threadOf } from './hole.ts';
import type { KeyPath } from './jsonc.ts';
import type { HoldWish, Job, NoTab, Part, Stock, TabWish, Under } from './part.ts';
import type { RawHold } from './schema.ts';

/**
 * How far a place may lie off the edge and still be meant to lie on it (mm): places are written from a drawing to a tenth
 * or so; what is further off was meant for somewhere else.
 */
const ON_EDGE: Mm = 1;

type RawTabs = NonNullable<Extract<RawHold, { by: 'tabs' }>['tabs']>;

/** undefined: a fault has been told. */
export function readHold(
  raw: RawHold | undefined,
  part: Part,
  material: Material | undefined,
  { under, stock }: Pick<Job, 'under' | 'stock'>,
  desk: Desk,
): HoldWish | undefined {
  if (raw === undefined || raw === 'auto') {
    if (raw === undefined) desk.assume('How the part is held is left to the program.');
    return { by: 'auto' };
  }
  switch (raw.by) {
    case 'tabs':
      return { by: 'tabs', tabs: readTabs(raw.tabs, part, desk) };
    case 'floor':
      return floor(raw, part, stock, desk);
    case 'screws':
      return screws(raw, part, under, desk);
    case 'glue':
      return glue(raw, material, under, desk);
    case 'stub':
      return stub(raw, part, desk);
  }
}

/** The place of the edge nearest to `p`; undefined and a fault when p was meant for somewhere else. */
export function onEdge(edge: Loop, p: Point, path: KeyPath, desk: Desk): Point | undefined {
  const position = positionOf(edge, p);
  if (position !== undefined && position.distance <= ON_EDGE) return position.point;
  const far = position === undefined ? '' : `; the edge is ${desk.say(position.distance)} away`;
  desk.fault(
    'not-on-edge',
    path,
    `${desk.sayPoint(p)} does not lie on the edge of the part${far}`,
    `a place within ${desk.say(ON_EDGE)} of the edge`,
    'write the place from the drawing',
    p,
  );
  return undefined;
}

function readTabs(raw: RawTabs | undefined, part: Part, desk: Desk): TabWish {
  const path: KeyPath = ['hold', 'tabs'];
  const given: RawTabs = raw ?? {};
  const { thickness } = part;
  for (const key of ['height', 'lightenTo'] as const) {
    const value = given[key];
    if (value === undefined || value < thickness) continue;
    desk.fault(
      'tab-too-tall',
      [...path, key],
      `tabs ${desk.say(value)} high in a part ${desk.say(thickness)} thick`,
      'tabs lower than the part',
      'give a lesser height',
    );
  }
  if (given.height !== undefined && given.lightenTo !== undefined && given.lightenTo >= given.height) {
    desk.fault(
      'tab-lighten',
      [...path, 'lightenTo'],
      `tabs ${desk.say(given.height)} high are to be lightened to ${desk.say(given.lightenTo)}`,
      'a lesser height after lightening',
      'give a lesser lightenTo, or leave it out',
    );
  }
  const at = given.at?.flatMap((p, i) => {
    const here: KeyPath = [...path, 'at', i];
    const spot = onEdge(part.outline.loop, p, here, desk);
    if (spot !== undefined) checkAllowed(spot, part, here, desk);
    return spot === undefined ? [] : [spot];
  });
  if (given.at !== undefined && given.count !== undefined && given.at.length !== given.count) {
    desk.fault(
      'tab-count',
      [...path, 'count'],
      `${given.count} tabs, but ${given.at.length} places`,
      'as many places as tabs',
      'take one of the two away',
    );
  }
  checkTabsFit(given, part, path, desk);
  return {
    count: given.count ?? given.at?.length ?? null,
    width: given.width ?? null,
    height: given.height ?? null,
    lightenTo: given.lightenTo ?? null,
    at: at ?? null,
  };
}

function checkTabsFit(given: RawTabs, part: Part, path: KeyPath, desk: Desk): void {
  const count = given.count ?? given.at?.length ?? 1;
  const edge = loopLength(part.outline.loop);
  if (given.width === undefined || count * given.width < edge / 2) return;
  desk.fault(
    'tab-too-wide',
    [...path, 'width'],
    `${count} tabs of ${desk.say(given.width)} on an edge ${desk.say(edge)} long`,
    'tabs that together take less than half of the edge',
    'give fewer or narrower tabs',
  );
}

function checkAllowed(at: Point, part: Part, path: KeyPath, desk: Desk): void {
  const index = part.noTabs.findIndex((n) => isWithin(at, n, part));
  if (index < 0) return;
  desk.fault(
    'tab-on-no-tab',
    path,
    `a tab is asked for at ${desk.sayPoint(at)}, where noTabs[${index}] forbids one`,
    'tabs where noTabs leaves room',
    'move the tab, or mend noTabs',
    at,
  );
}

function isWithin(at: Point, noTab: NoTab, part: Part): boolean {
  if (noTab.kind === 'boss') {
    const { source } = part.outline;
    const boss = source.kind === 'bosses' ? source.bosses[noTab.boss] : undefined;
    return boss !== undefined && Math.abs(dist(at, boss.at) - boss.radius) < SAME_POINT;
  }
  const [from, to, here] = [noTab.from, noTab.to, at].map((p) => positionOf(part.outline.loop, p)?.s ?? 0) as [
    number,
    number,
    number,
  ];
  return from <= to ? here >= from && here <= to : here >= from || here <= to;
}

/** Sizes of sheet are written to two decimals at most. */
const SAME_FLOOR = 0.005;

/** A stock that reaches below the part has its floor already: another within the part would leave the two one upon the other. */
function floor(raw: Extract<RawHold, { by: 'floor' }>, part: Part, { below }: Stock, desk: Desk): HoldWish {
  const thickness = raw.thickness ?? (below > 0 ? below : FLOOR_RULES.usual.value);
  if (below > 0 && Math.abs(thickness - below) > SAME_FLOOR) {
    desk.fault(
      'floor-twice',
      ['hold', 'thickness'],
      `a floor of ${desk.say(thickness)}, and the stock reaches ${desk.say(below)} below the part`,
      'one floor: the stock below the part is the floor',
      `leave "thickness" out, or say a stock as thick as the part, ${desk.say(part.thickness)}, in which the floor is left`,
    );
  }
  if (raw.thickness === undefined) desk.assume(`The floor left is ${desk.say(thickness)} thick.`);
  if (thickness >= part.thickness) {
    desk.fault(
      'floor-too-thick',
      ['hold', 'thickness'],
      `a floor of ${desk.say(thickness)} in a part ${desk.say(part.thickness)} thick`,
      'a floor thinner than the part',
      'give a lesser thickness; 0.1 to 0.3 mm is usual',
    );
  }
  return { by: 'floor', thickness };
}

function screws(raw: Extract<RawHold, { by: 'screws' }>, part: Part, under: Under, desk: Desk): HoldWish | undefined {
  const thread = threadOf(raw.thread, ['hold', 'thread'], desk);
  if (under.kind !== 'plate') {
    desk.fault(
      'screws-without-plate',
      ['hold'],
      `screws go into what lies under the stock, and that is a ${under.kind}`,
      'a plate to screw into',
      'write "under": { "kind": "plate" }',
    );
  }
  raw.through.forEach((index, i) => {
    const path: KeyPath = ['hold', 'through', i];
    const hole = part.holes.find((h) => h.index === index);
    if (hole === undefined) {
      desk.fault(
        'screw-hole-missing',
        path,
        `there is no hole ${index}`,
        `an index from 0 to ${part.holes.length - 1}`,
        'name a hole of part.holes, counted from 0',
      );
    } else if (hole.depth !== null) {
      desk.fault(
        'screw-hole-blind',
        path,
        `hole ${index} is blind`,
        'a hole right through',
        'name another hole',
        hole.at,
      );
    } else if (thread !== undefined && hole.diameter < thread.major - SAME_POINT) {
      desk.fault(
        'screw-hole-small',
        path,
        `hole ${index} is ${desk.say(hole.diameter)} wide, the screw ${thread.name} ${desk.say(thread.major)}`,
        'a hole that the screw goes through',
        'choose a smaller thread or another hole',
        hole.at,
      );
    }
    if (raw.through.indexOf(index) !== i)
      desk.fault('screw-hole-twice', path, `hole ${index} is named twice`, 'each hole once', 'take one away');
  });
  if (thread === undefined) return undefined;
  return {
    by: 'screws',
    through: raw.through,
    thread: thread.name,
    tabs: raw.tabs === undefined ? null : readTabs(raw.tabs, part, desk),
  };
}

function glue(
  raw: Extract<RawHold, { by: 'glue' }>,
  material: Material | undefined,
  under: Under,
  desk: Desk,
): HoldWish {
  if (material !== undefined && !material.glueing.glueable) {
    desk.fault(
      'glue-material',
      ['hold'],
      `${material.name} is not held by glue: ${material.glueing.reason}`,
      'a material that glue wets',
      'hold it by tabs, screws or a floor',
    );
  }
  if (under.kind !== 'plate') {
    desk.fault(
      'glue-without-plate',
      ['hold'],
      `what lies under the stock is a ${under.kind}`,
      'a plate to glue to',
      'write "under": { "kind": "plate" }',
    );
  }
  const wetted = (GLUE_ALLOWABLE.wetted.low + GLUE_ALLOWABLE.wetted.high) / 2;
  const wish = {
    by: 'glue',
    shear: raw.shear ?? GLUE_ALLOWABLE.shear.value,
    tension: raw.tension ?? GLUE_ALLOWABLE.tension.value,
    wetted: raw.wetted ?? wetted,
  } as const;
  if (raw.shear === undefined || raw.tension === undefined || raw.wetted === undefined) {
    desk.assume(
      `The glue may bear ${wish.shear} N/mm2 in shear and ${wish.tension} N/mm2 in tension, on ${Math.round(wish.wetted * 100)} % of the face.`,
    );
  }
  return wish;
}

/** On a boss the stub stands where the ray from its centre leaves it; that place must be edge, not web. */
function stub(raw: Extract<RawHold, { by: 'stub' }>, part: Part, desk: Desk): HoldWish | undefined {
  const path: KeyPath = ['hold', 'at'];
  const edge = part.outline.loop;
  const at =
    typeof raw.at === 'number' ? stubOnBoss(raw.at, raw.direction, part, path, desk) : onEdge(edge, raw.at, path, desk);
  if (at === undefined) return undefined;
  const out = add(at, scale(fromAngle(toRad(raw.direction)), LITTLE));
  if (distanceToLoop(edge, out) < LITTLE / 4) {
    desk.fault(
      'stub-direction',
      ['hold', 'direction'],
      `the stub at ${desk.sayPoint(at)} runs along the edge`,
      'a direction away from the part',
      'turn it outward',
      at,
    );
  }
  return { by: 'stub', at, directionDeg: raw.direction, width: raw.width };
}

const LITTLE: Mm = 0.01;

function stubOnBoss(index: number, direction: number, part: Part, path: KeyPath, desk: Desk): Point | undefined {
  const { source } = part.outline;
  const boss = source.kind === 'bosses' ? source.bosses[index] : undefined;
  if (boss === undefined) {
    const found = source.kind === 'bosses' ? `there is no boss ${index}` : 'the outline has no bosses';
    desk.fault(
      'stub-on-nothing',
      path,
      found,
      'an index into bosses, or [x, y] on the edge',
      'write a place on the edge',
    );
    return undefined;
  }
  const at = add(boss.at, scale(fromAngle(toRad(direction)), boss.radius));
  if (distanceToLoop(part.outline.loop, at) < LITTLE) return at;
  desk.fault(
    'stub-on-nothing',
    ['hold', 'direction'],
    `at ${direction} degrees boss ${index} runs into a web`,
    'a direction in which the boss has an edge',
    'turn the stub',
    at,
  );
  return undefined;
}
