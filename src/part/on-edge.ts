/** Places on the edge of a part: where a tab or a stub is asked for, and where none may stand. */
import { SAME_POINT } from '../base/tolerance.ts';
import type { Mm } from '../base/units.ts';
import { positionOf } from '../geometry/measure/loop.ts';
import { dist } from '../geometry/measure/point.ts';
import type { Loop, Point } from '../geometry/types.ts';
import type { Desk } from './desk.ts';
import type { NoTab, Part } from './part.ts';
import type { KeyPath } from './schema/jsonc.ts';

/**
 * How far a place may lie off the edge and still be meant to lie on it (mm): places are written from a drawing to a tenth
 * or so; what is further off was meant for somewhere else.
 */
const ON_EDGE: Mm = 1;

/** The place of the edge nearest to `p`; undefined and a fault when p was meant for somewhere else. */
export function onEdge(edge: Loop, p: Point, path: KeyPath, desk: Desk): Point | undefined {
  const position = positionOf(edge, p);
  if (position !== undefined && position.distance <= ON_EDGE) return position.point;
  const far = position === undefined ? '' : `; the edge is ${desk.say(position.distance)} away`;
  desk.fault({
    code: 'not-on-edge',
    at: path,
    point: p,
    found: `${desk.sayPoint(p)} does not lie on the edge of the part${far}`,
    wanted: `a place within ${desk.say(ON_EDGE)} of the edge`,
    remedy: 'write the place from the drawing',
  });
  return undefined;
}

/** Whether a place on the edge lies on a stretch that shall have no tab. */
export function isWithin(at: Point, noTab: NoTab, part: Part): boolean {
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

/** Why no tab may stand on an edge, in words; null: one may. `noTabs` first holds what the job names, in its order. */
export function forbidding(
  part: Part,
  covers: (n: NoTab) => boolean,
): { readonly where: string; readonly remedy: string } | null {
  const index = part.noTabs.findIndex(covers);
  const found = part.noTabs[index];
  if (found === undefined) return null;
  if (found.kind === 'stretch' && found.cutBy !== undefined)
    return { where: 'where a pocket opens the edge', remedy: '' };
  return { where: `where noTabs[${index}] forbids one`, remedy: ', or mend noTabs' };
}
