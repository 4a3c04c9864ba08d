/** The part of a job: outline, holes, pockets, edge holes, edges without tabs; each read, then held against the others. */
import { SAME_POINT } from '../base/tolerance.ts';
import { toRad } from '../base/units.ts';
import { distanceToLoop } from '../geometry/measure/distance.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { add, dist, fromAngle, scale } from '../geometry/measure/point.ts';
import type { Loop } from '../geometry/types.ts';
import type { Desk } from './desk.ts';
import type { DrawingLoops } from './drawings.ts';
import { readEdgeHole, readHole } from './hole.ts';
import { checkUnits } from './likely-units.ts';
import { onEdge } from './on-edge.ts';
import { openPockets } from './open.ts';
import { readOutline } from './outline.ts';
import type { EdgeHole, NoTab, Outline, Part } from './part.ts';
import { readPocket } from './pocket.ts';
import type { KeyPath } from './schema/jsonc.ts';
import type { RawJob } from './schema/schema.ts';
import { checkFits } from './setting/fits.ts';

/** Largest part (mm): a light mill's table ends before, and the offset engine is exact to 474 mm. */
const LARGEST_PART = 400;
/** How far the mouth of an edge hole may lie off the edge before a drill would wander (mm). */
const MOUTH_OFF_EDGE = 0.05;

/** undefined: the outline itself was faulty; other faults are told and leave the part as far as it could be read. */
export function readPart(raw: RawJob['part'], desk: Desk, drawings: DrawingLoops): Part | undefined {
  const drawn = readOutline(raw.outline, ['part', 'outline'], desk, drawings);
  const { thickness } = raw;
  const holes = (raw.holes ?? []).map((h, i) => readHole(h, i, thickness, desk)).filter((h) => h !== undefined);
  const asDrawn = (raw.pockets ?? [])
    .map((p, i) => readPocket(p, i, thickness, desk, drawings))
    .filter((p) => p !== undefined);
  const edgeHoles = (raw.edgeHoles ?? [])
    .map((h, i) => readEdgeHole(h, i, thickness, desk))
    .filter((h) => h !== undefined);
  if (drawn === undefined) return undefined;
  const { outline, pockets, noTabs: mouths } = openPockets(drawn, asDrawn, desk);
  checkUnits(outline.loop, thickness, desk);
  checkSize(outline.loop, desk);
  checkFits(outline.loop, holes, pockets, desk);
  for (const hole of edgeHoles) checkEdgeHole(hole, outline, desk);
  const chamfer = raw.chamfer ?? 0;
  if (chamfer >= thickness) {
    desk.fault({
      code: 'chamfer-too-large',
      at: ['part', 'chamfer'],
      found: `a chamfer of ${desk.say(chamfer)} on a part ${desk.say(thickness)} thick`,
      wanted: 'a chamfer smaller than the thickness',
      remedy: 'give a smaller one; 0.2 mm breaks an edge',
    });
  }
  const noTabs = (raw.noTabs ?? []).map((n, i) => readNoTab(n, i, outline, desk)).filter((n) => n !== undefined);
  if (mouths.length > 0)
    desk.assume(
      `no tabs on the ${mouths.length === 1 ? 'mouth of the pocket that is' : `${mouths.length} mouths of pockets that are`} open at the edge`,
    );
  return { thickness, outline, holes, pockets, edgeHoles, chamfer, noTabs: [...noTabs, ...mouths] };
}

function checkSize(loop: Loop, desk: Desk): void {
  const b = loopBox(loop);
  const largest = Math.max(b.maxX - b.minX, b.maxY - b.minY);
  if (largest <= LARGEST_PART) return;
  const inches = desk.units === 'inch' ? '; are the lengths perhaps in mm?' : '';
  desk.fault({
    code: 'part-too-large',
    at: ['part', 'outline'],
    found: `the part is ${desk.say(largest)} long${inches}`,
    wanted: `at most ${desk.say(LARGEST_PART)}`,
    remedy: 'check units and coordinates',
  });
}

function checkEdgeHole(hole: EdgeHole, outline: Outline, desk: Desk): void {
  const path: KeyPath = ['part', 'edgeHoles', hole.index];
  const boss = outline.source.kind === 'bosses' ? outline.source.bosses[hole.boss] : undefined;
  if (boss === undefined) {
    const found = outline.source.kind === 'bosses' ? `no boss has the index ${hole.boss}` : 'the outline has no bosses';
    desk.fault({
      code: 'edge-hole-boss',
      at: [...path, 'boss'],
      found,
      wanted: 'the index of a boss, counted from 0',
      remedy: 'mend the index',
    });
    return;
  }
  const mouth = add(boss.at, scale(fromAngle(toRad(hole.directionDeg)), boss.radius));
  if (distanceToLoop(outline.loop, mouth) > MOUTH_OFF_EDGE) {
    desk.fault({
      code: 'edge-hole-in-web',
      at: [...path, 'direction'],
      point: mouth,
      found: `at ${hole.directionDeg} degrees boss ${hole.boss + 1} runs into a web`,
      wanted: 'a direction in which the boss has an edge',
      remedy: 'turn the hole',
    });
  }
  if (hole.depth > 2 * boss.radius) {
    desk.fault({
      code: 'edge-hole-too-deep',
      at: [...path, 'depth'],
      found: `${desk.say(hole.depth)} deep in a boss ${desk.say(2 * boss.radius)} across`,
      wanted: 'a depth within the boss',
      remedy: 'give a lesser depth',
    });
  }
}

type RawNoTab = NonNullable<RawJob['part']['noTabs']>[number];

function readNoTab(raw: RawNoTab, index: number, outline: Outline, desk: Desk): NoTab | undefined {
  const path: KeyPath = ['part', 'noTabs', index];
  if ('boss' in raw) {
    const bosses = outline.source.kind === 'bosses' ? outline.source.bosses.length : 0;
    if (raw.boss < bosses) return { kind: 'boss', boss: raw.boss };
    const found = bosses === 0 ? 'the outline has no bosses' : `no boss has the index ${raw.boss}`;
    desk.fault({
      code: 'no-tab-nowhere',
      at: [...path, 'boss'],
      found,
      wanted: 'the index of a boss, counted from 0, or from and to on the edge',
      remedy: 'mend the index',
    });
    return undefined;
  }
  const from = onEdge(outline.loop, raw.from, [...path, 'from'], desk);
  const to = onEdge(outline.loop, raw.to, [...path, 'to'], desk);
  if (from === undefined || to === undefined) return undefined;
  if (dist(from, to) < SAME_POINT) {
    desk.fault({
      code: 'no-tab-nowhere',
      at: path,
      found: 'from and to are the same place',
      wanted: 'two places on the edge',
      remedy: 'mend one of them',
    });
    return undefined;
  }
  return { kind: 'stretch', from, to };
}
