/**
 * Inside corners of the outline that the profile's cutter leaves, cut by a smaller one. They are cut before the profile, while
 * the plate is whole: what is open there afterwards lies in the slot that the profile cuts anyway.
 */

import type { Problem } from '../../base/problem.ts';
import type { Mm, Mm2 } from '../../base/units.ts';
import { subtract } from '../../geometry/join.ts';
import { RegionEdge } from '../../geometry/measure/approach.ts';
import { loopLength, pointAlong, regionArea } from '../../geometry/measure/loop.ts';
import { pointAt } from '../../geometry/measure/segment.ts';
import { offsetRegion } from '../../geometry/offset/offset.ts';
import type { Loop, Region } from '../../geometry/types.ts';
import type { Cutter, Job, NoTab } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';

import { type OperationDraft, openingDraft } from '../draft.ts';
import { ofKind } from '../drawer.ts';
import { cutsDown, entryInto } from '../milling/entry.ts';
import { chooseProfile, type ProfileChoice } from '../profile/profile-plan.ts';
import { say } from '../words.ts';
import { roundedCorners } from './corners.ts';
import { LEAST_REST, OUT_ROOM, REST_LEFT, REST_NARROWER, restChoice } from './opening-plan.ts';

export interface RestCorners {
  readonly drafts: readonly OperationDraft[];
  /** Radius with which inside corners are left in the end. */
  readonly radius: Mm;
  /** Stretches of edge beside what is opened: no tab would reach the frame there. */
  readonly bare: readonly NoTab[];
}

/** A cutter this much narrower than the one that is wanted round the part is not used all round for the sake of a few inside curves. */
const MOST_NARROWED = 2 / 3;

/** The cutter round the part, and what follows in its corners. */
export function chooseRound(
  context: PlanContext,
): { readonly profile: ProfileChoice; readonly corners: RestCorners } | { readonly problems: readonly Problem[] } {
  const { job } = context;
  const plain = chooseProfile(job);
  if ('problems' in plain) return plain;
  const wide = chooseProfile(job, true);
  if (!('problems' in wide) && plain.cutter.diameter < MOST_NARROWED * wide.cutter.diameter) {
    const corners = restCorners(context, wide);
    if (corners.drafts.length > 0 && corners.radius <= plain.cutter.diameter / 2 + 1e-9)
      return { profile: wide, corners };
  }
  return { profile: plain, corners: restCorners(context, plain) };
}

/** Thinner than this nothing is left over: a fifth of what may stay on an edge. */
const NOTHING: Mm = 0.002;

function restCorners(context: PlanContext, profile: ProfileChoice): RestCorners {
  const { job } = context;
  const main = profile.cutter;
  const none = { drafts: [], radius: main.diameter / 2, bare: [] };
  if (roundedCorners(job, job.part.outline.loop, 'outside', main.diameter / 2, '').length === 0) return none;
  const left = leftBy(job, main);
  if (left.length === 0) return none;
  const cutter = smallerOne(job, profile, areaOf(left));
  if (cutter === null) return none;
  const round = Math.min(cutter.diameter + OUT_ROOM, main.diameter + profile.allowance);
  const areas = left.flatMap((l) => roomRound(job, l, round));
  const usable =
    areas.length === left.length && areas.every((a) => cutsDown(cutter) || entryInto(a, cutter, 0).kind !== 'plunge');
  if (!usable) return none;
  const choice = restChoice(job, areas, cutter, profile.bottom, main);
  const parts = job.places.map((_, i) => i);
  const what = `inside corners of the outline that the ${say(job, main.diameter)} cutter leaves`;
  const { operation, cautions } = openingDraft(context, choice, 'pocket', what, { kind: 'corners', parts, areas });
  // Where the room ends at the part's edge the last pass turns in a corner with its whole rim: no deeper than a slot.
  const draft = { operation: { ...operation, finishDepths: choice.allowance > 0 ? operation.depths : [] }, cautions };
  return { drafts: [draft], radius: cutter.diameter / 2, bare: areas.flatMap((a) => bareIn(job.part.outline.loop, a)) };
}

/** The largest that takes all but a share of what could be taken; null: none is worth a change of cutter. */
function smallerOne(job: Job, { cutter: main, bottom }: ProfileChoice, left: Mm2): Cutter | null {
  const depth = job.stock.above - bottom;
  const smaller = ofKind(job, 'end mill', 'slot drill')
    .filter((c) => c.cornerRadius === 0 && c.diameter <= REST_NARROWER * main.diameter && c.fluteLength >= depth - 1e-9)
    .map((cutter) => ({ cutter, left: areaOf(leftBy(job, cutter)) }))
    .sort((a, b) => b.cutter.diameter - a.cutter.diameter || a.cutter.number - b.cutter.number);
  const least = Math.min(left, ...smaller.map((s) => s.left));
  const most = Math.min(left - LEAST_REST, least + REST_LEFT * (left - least));
  return smaller.find((s) => s.left <= most)?.cutter ?? null;
}

/** What stays beside the part when a cutter has gone round it. */
function leftBy(job: Job, cutter: Cutter): Region[] {
  const part = { outer: job.part.outline.loop, holes: [] };
  const radius = cutter.diameter / 2;
  const path = offsetRegion(part, radius);
  if (path.kind !== 'regions') return [];
  const back = path.regions.map((r) => offsetRegion({ outer: r.outer, holes: [] }, -radius));
  const edge = new RegionEdge(part);
  return back
    .flatMap((b) => (b.kind === 'regions' ? b.regions : []))
    .flatMap((r) => {
      const over = subtract(r, [part]);
      return over.kind === 'regions' ? over.regions : [];
    })
    .filter((r) => r.outer.some((s) => [0, 0.5].some((t) => edge.signedDistance(pointAt(s, t)) > NOTHING)));
}

function areaOf(regions: readonly Region[]): Mm2 {
  return regions.reduce((sum, r) => sum + regionArea(r), 0);
}

/** A corner with as much beside it as a cutter needs to come into it from outside. */
function roomRound(job: Job, corner: Region, by: Mm): Region[] {
  const wide = offsetRegion(corner, by);
  if (wide.kind !== 'regions' || wide.regions.length !== 1) return [];
  const free = subtract(wide.regions[0]!, [{ outer: job.part.outline.loop, holes: [] }]);
  const own = free.kind === 'regions' ? free.regions.filter((r) => holds(r, corner)) : [];
  return own.length === 1 ? own : [];
}

function holds(area: Region, corner: Region): boolean {
  const edge = new RegionEdge(area);
  return corner.outer.every((s) => edge.signedDistance(pointAt(s, 0.5)) < NOTHING);
}

/** Along the part's edge as far as it bounds an area. */
function bareIn(loop: Loop, area: Region): NoTab[] {
  const edge = new RegionEdge(area);
  const length = loopLength(loop);
  const count = Math.ceil(length / STRIDE);
  const spots = Array.from({ length: count }, (_, i) => pointAlong(loop, (i * length) / count)!.point);
  const beside = spots.map((p) => Math.abs(edge.signedDistance(p)) < NOTHING);
  const first = beside.findIndex((is, i) => is && !beside[(i + count - 1) % count]!);
  if (first < 0) return [];
  let n = 1;
  while (n < count && beside[(first + n) % count]) n++;
  const at = (i: number) => spots[(i + count) % count]!;
  return [{ kind: 'stretch', from: at(first - 1), to: at(first + n), cutBy: 'corners' }];
}

/** Places along the edge that are looked at. */
const STRIDE: Mm = 0.25;
