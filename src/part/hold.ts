/** The wish how to hold the part, checked against the part: what cannot hold at all is refused here, how well is reckoned later. */

import { SAME_POINT } from '../base/tolerance.ts';
import { loopLength } from '../geometry/measure/loop.ts';
import type { Point } from '../geometry/types.ts';
import { FLOOR_RULES, GLUE_ALLOWABLE } from '../trade/holding-rules.ts';
import type { Material } from '../trade/materials/materials.ts';
import type { Desk } from './desk.ts';
import { threadOf } from './hole.ts';
import { forbidding, isWithin, onEdge } from './on-edge.ts';
import type { HoldRequest, Job, Part, Stock, TabRequest, Under } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawHold } from './schema/schema.ts';
import { readStub } from './stub.ts';

type RawTabs = NonNullable<Extract<RawHold, { by: 'tabs' }>['tabs']>;

/** undefined: a fault has been told. */
export function readHold(
  raw: RawHold | undefined,
  part: Part,
  material: Material | undefined,
  { under, stock }: Pick<Job, 'under' | 'stock'>,
  desk: Desk,
): HoldRequest | undefined {
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
      return readStub(raw, part, desk);
  }
}

function readTabs(raw: RawTabs | undefined, part: Part, desk: Desk): TabRequest {
  const path: KeyPath = ['hold', 'tabs'];
  const given: RawTabs = raw ?? {};
  const { thickness } = part;
  for (const key of ['height', 'lightenTo'] as const) {
    const value = given[key];
    if (value === undefined || value < thickness) continue;
    desk.fault({
      code: 'tab-too-tall',
      at: [...path, key],
      found: `tabs ${desk.say(value)} high in a part ${desk.say(thickness)} thick`,
      wanted: 'tabs lower than the part',
      remedy: 'give a lesser height',
    });
  }
  if (given.height !== undefined && given.lightenTo !== undefined && given.lightenTo >= given.height) {
    desk.fault({
      code: 'tab-lighten',
      at: [...path, 'lightenTo'],
      found: `tabs ${desk.say(given.height)} high are to be lightened to ${desk.say(given.lightenTo)}`,
      wanted: 'a lesser height after lightening',
      remedy: 'give a lesser lightenTo, or leave it out',
    });
  }
  const at = given.at?.flatMap((p, i) => {
    const here: KeyPath = [...path, 'at', i];
    const spot = onEdge(part.outline.loop, p, here, desk);
    if (spot !== undefined) checkAllowed(spot, part, here, desk);
    return spot === undefined ? [] : [spot];
  });
  if (given.at !== undefined && given.count !== undefined && given.at.length !== given.count) {
    desk.fault({
      code: 'tab-count',
      at: [...path, 'count'],
      found: `${given.count} tabs, but ${given.at.length} places`,
      wanted: 'as many places as tabs',
      remedy: 'take one of the two away',
    });
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
  desk.fault({
    code: 'tab-too-wide',
    at: [...path, 'width'],
    found: `${count} tabs of ${desk.say(given.width)} on an edge ${desk.say(edge)} long`,
    wanted: 'tabs that together take less than half of the edge',
    remedy: 'give fewer or narrower tabs',
  });
}

function checkAllowed(at: Point, part: Part, path: KeyPath, desk: Desk): void {
  const why = forbidding(part, (n) => isWithin(at, n, part));
  if (why === null) return;
  desk.fault({
    code: 'tab-on-no-tab',
    at: path,
    point: at,
    found: `a tab is asked for at ${desk.sayPoint(at)}, ${why.where}`,
    wanted: 'tabs where they may stand',
    remedy: `move the tab${why.remedy}`,
  });
}

/** Sizes of sheet are written to two decimals at most. */
const SAME_FLOOR = 0.005;

/** A stock that reaches below the part has its floor already: another within the part would leave the two one upon the other. */
function floor(raw: Extract<RawHold, { by: 'floor' }>, part: Part, { below }: Stock, desk: Desk): HoldRequest {
  const thickness = raw.thickness ?? (below > 0 ? below : FLOOR_RULES.usual.value);
  if (below > 0 && Math.abs(thickness - below) > SAME_FLOOR) {
    desk.fault({
      code: 'floor-twice',
      at: ['hold', 'thickness'],
      found: `a floor of ${desk.say(thickness)}, and the stock reaches ${desk.say(below)} below the part`,
      wanted: 'one floor: the stock below the part is the floor',
      remedy: `leave "thickness" out, or say a stock as thick as the part, ${desk.say(part.thickness)}, in which the floor is left`,
    });
  }
  if (raw.thickness === undefined) desk.assume(`The floor left is ${desk.say(thickness)} thick.`);
  if (thickness >= part.thickness) {
    desk.fault({
      code: 'floor-too-thick',
      at: ['hold', 'thickness'],
      found: `a floor of ${desk.say(thickness)} in a part ${desk.say(part.thickness)} thick`,
      wanted: 'a floor thinner than the part',
      remedy: 'give a lesser thickness; 0.1 to 0.3 mm is usual',
    });
  }
  return { by: 'floor', thickness };
}

function screws(
  raw: Extract<RawHold, { by: 'screws' }>,
  part: Part,
  under: Under,
  desk: Desk,
): HoldRequest | undefined {
  const thread = threadOf(raw.thread, ['hold', 'thread'], desk);
  if (under.kind !== 'plate') {
    desk.fault({
      code: 'screws-without-plate',
      at: ['hold'],
      found: `screws go into what lies under the stock, and that is a ${under.kind}`,
      wanted: 'a plate to screw into',
      remedy: 'write "under": { "kind": "plate" }',
    });
  }
  raw.through.forEach((index, i) => {
    const path: KeyPath = ['hold', 'through', i];
    const hole = part.holes.find((h) => h.index === index);
    if (hole === undefined) {
      desk.fault({
        code: 'screw-hole-missing',
        at: path,
        found: `no hole has the index ${index}`,
        wanted: `an index from 0 to ${part.holes.length - 1}`,
        remedy: 'name a hole of part.holes, counted from 0',
      });
    } else if (hole.depth !== null) {
      desk.fault({
        code: 'screw-hole-blind',
        at: path,
        point: hole.at,
        found: `hole ${index + 1} (index ${index}) is blind`,
        wanted: 'a hole right through',
        remedy: 'name another hole',
      });
    } else if (thread !== undefined && hole.diameter < thread.major - SAME_POINT) {
      desk.fault({
        code: 'screw-hole-small',
        at: path,
        point: hole.at,
        found: `hole ${index + 1} (index ${index}) is ${desk.say(hole.diameter)} wide, the screw ${thread.name} ${desk.say(thread.major)}`,
        wanted: 'a hole that the screw goes through',
        remedy: 'choose a smaller thread or another hole',
      });
    }
    if (raw.through.indexOf(index) !== i)
      desk.fault({
        code: 'screw-hole-twice',
        at: path,
        found: `hole ${index + 1} (index ${index}) is named twice`,
        wanted: 'each hole once',
        remedy: 'take one away',
      });
  });
  if (thread === undefined) return undefined;
  return {
    by: 'screws',
    through: raw.through,
    thread: thread.name,
    tabs: raw.tabs === undefined ? null : readTabs(raw.tabs, part, desk),
  };
}

/** Times what is allowed of a bond from which on the job's own figure is questioned. */
const GLUE_BOLD = 2;

function glue(
  raw: Extract<RawHold, { by: 'glue' }>,
  material: Material | undefined,
  under: Under,
  desk: Desk,
): HoldRequest {
  if (material !== undefined && !material.glueing.glueable) {
    desk.fault({
      code: 'glue-material',
      at: ['hold'],
      found: `${material.name} is not held by glue: ${material.glueing.reason}`,
      wanted: 'a material that glue wets',
      remedy: 'hold it by tabs, screws or a floor',
    });
  }
  if (under.kind !== 'plate') {
    desk.fault({
      code: 'glue-without-plate',
      at: ['hold'],
      found: `what lies under the stock is a ${under.kind}`,
      wanted: 'a plate to glue to',
      remedy: 'write "under": { "kind": "plate" }',
    });
  }
  const wetted = (GLUE_ALLOWABLE.wetted.low + GLUE_ALLOWABLE.wetted.high) / 2;
  const wish = {
    by: 'glue',
    shear: raw.shear ?? GLUE_ALLOWABLE.shear.value,
    tension: raw.tension ?? GLUE_ALLOWABLE.tension.value,
    wetted: raw.wetted ?? wetted,
  } as const;
  for (const key of ['shear', 'tension'] as const) {
    const allowed = GLUE_ALLOWABLE[key].value;
    if (wish[key] <= GLUE_BOLD * allowed) continue;
    desk.caution({
      code: 'glue-bold',
      at: ['hold', key],
      found: `${wish[key]} N/mm2 in ${key}: catalogues give strengths of small, perfect, new joints`,
      wanted: `about ${allowed} N/mm2, which keeps five to ten times in hand`,
      remedy: 'try a piece of the same metal, glued as this one will be, before you trust it',
    });
  }
  if (raw.shear === undefined || raw.tension === undefined || raw.wetted === undefined) {
    desk.assume(
      `The glue may bear ${wish.shear} N/mm2 in shear and ${wish.tension} N/mm2 in tension, on ${Math.round(wish.wetted * 100)} % of the face.`,
    );
  }
  return wish;
}
