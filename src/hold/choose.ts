/** From plan to holding. */
import { bad, fault, good, type Outcome, type Problem } from '../base/problem.ts';
import { short } from '../base/text.ts';
import { type Mm, toDeg, toRad } from '../base/units.ts';
import { loopLength, positionOf } from '../geometry/measure/loop.ts';
import { angleOf, dist } from '../geometry/measure/point.ts';
import { placePoint, placeVector } from '../geometry/measure/transform.ts';
import type { Job, TabWish } from '../part/part.ts';
import type { Plan } from '../plan/plan.ts';
import { TAB_RULES } from '../trade/holding-rules.ts';
import { allowedPlaces, type EdgePlace, edgePlace, forbidden } from './edge.ts';
import type { Holding, Tab } from './holding.ts';
import { railWidth } from './rail.ts';
import { spreadPlaces } from './tab-places.ts';

const NO_WISH: TabWish = { count: null, width: null, height: null, lightenTo: null, at: null };
/** A place given by the job may lie this far off the edge and still be meant for it. */
const NEAR_EDGE: Mm = 0.5;

export function chooseHolding(job: Job, plan: Plan): Outcome<Holding> {
  const rail = railWidth(job, plan);
  if (rail < LEAST_RAIL) return bad(noFrame(rail));
  if (job.hold.by === 'floor') {
    return good({ ...bare('floor', rail), floor: job.hold.thickness, reasons: ['a floor, as the job asks'] });
  }
  if (job.stock.below > 0 && job.hold.by === 'auto') {
    return good({
      ...bare('floor', rail),
      floor: job.stock.below,
      reasons: ['the stock is thicker than the part: what is left below is a floor'],
    });
  }
  const wish = job.hold.by === 'tabs' ? job.hold.tabs : NO_WISH;
  return tabbed(job, plan, wish, rail);
}

/** Under this the frame bends away under the cutter or a saw; the holding computation judges wider ones. */
const LEAST_RAIL: Mm = 2;

function noFrame(rail: Mm): Problem {
  return fault(
    'frame-too-narrow',
    rail < 0
      ? `the slot runs ${short(-rail)} mm out of the stock`
      : `only ${short(rail)} mm of stock is left between the slot and the stock's edge`,
    `a frame at least ${short(LEAST_RAIL)} mm wide all round`,
    'use larger stock, move the part, or use a smaller cutter',
    { path: 'stock.size' },
  );
}

function bare(by: Holding['by'], rail: Mm): Holding {
  return { by, tabs: [], floor: null, screws: [], screwThread: null, glue: null, stub: null, rail, reasons: [] };
}

function tabbed(job: Job, plan: Plan, wish: TabWish, rail: Mm): Outcome<Holding> {
  const cutter = profileCutter(plan);
  const size = tabSize(job, wish);
  const places = wish.at ? givenPlaces(job, wish.at) : chosenPlaces(job, wish, cutter);
  if (places.problems.length > 0) return bad(...places.problems);
  const ramps = rampLengths(plan, job, size.cutHeight);
  const footprint = size.width + cutter + ramps;
  const length = loopLength(job.part.outline.loop);
  const room = places.places.length * footprint;
  if (room > length * 0.9) return bad(tooMany(places.places.length, footprint, length));
  const tabs: Tab[] = job.places.flatMap((place, part) =>
    places.places.map((p) => ({
      part,
      at: placePoint(place, p.at),
      directionDeg: toDeg(angleOf(placeVector(place, p.normal))),
      ...size,
      footprint,
    })),
  );
  return good({ ...bare('tabs', rail), tabs, reasons: [size.reason, places.reason] });
}

function profileCutter(plan: Plan): Mm {
  const op = plan.setups.flatMap((s) => s.operations).find((o) => o.what === 'finish')!;
  return plan.cutters.find((c) => c.number === op.cutter)!.diameter;
}

function tabSize(job: Job, wish: TabWish) {
  const t = job.part.thickness;
  const usual = Math.min(TAB_RULES.height.high, Math.max(TAB_RULES.height.low, 0.2 * t));
  const cutHeight = Math.min(wish.height ?? Math.round(usual * 10) / 10, t);
  const width = wish.width ?? 2;
  const height = wish.lightenTo ?? cutHeight;
  return {
    width,
    cutHeight,
    height: Math.min(height, cutHeight),
    reason: `tabs ${short(width)} mm wide and ${short(cutHeight)} mm high${height < cutHeight ? `, thinned to ${short(height)} mm at the end` : ''}`,
  };
}

/** Both ramps, each from the tab's top to the bottom of the slot. */
function rampLengths(plan: Plan, job: Job, height: Mm): Mm {
  const rise = Math.max(0, -job.part.thickness + height - plan.profileBottom);
  return rise / Math.tan(toRad(plan.tabRamp.upDeg)) + rise / Math.tan(toRad(plan.tabRamp.downDeg));
}

interface Places {
  readonly places: readonly EdgePlace[];
  readonly problems: readonly Problem[];
  readonly reason: string;
}

function chosenPlaces(job: Job, wish: TabWish, cutter: Mm): Places {
  const count = wish.count ?? TAB_RULES.leastCount.value;
  const places = spreadPlaces(allowedPlaces(job), count, cutter);
  const problems = places.length < count ? [noEdge(count, places.length)] : [];
  return {
    places,
    problems,
    reason: `${count} tabs on flat or gently curved edge, far from corners and from each other`,
  };
}

function givenPlaces(job: Job, at: readonly { x: Mm; y: Mm }[]): Places {
  const problems: Problem[] = [];
  const places = at.flatMap((p, i) => {
    const on = positionOf(job.part.outline.loop, p)!;
    const path = `hold.tabs.at[${i}]`;
    if (dist(on.point, p) > NEAR_EDGE) {
      problems.push(offEdge(p, on.distance, path));
      return [];
    }
    const place = edgePlace(job, on.s);
    if (forbidden(job, place)) problems.push(onForbidden(p, path));
    return [place];
  });
  return { places, problems, reason: 'tabs where the job puts them' };
}

function offEdge(p: { x: Mm; y: Mm }, off: Mm, path: string): Problem {
  return fault(
    'tab-off-edge',
    `a tab at ${short(p.x)}, ${short(p.y)}, ${short(off)} mm from the edge`,
    'a place on the outline',
    'move it to the edge',
    { path },
  );
}

function onForbidden(p: { x: Mm; y: Mm }, path: string): Problem {
  return fault(
    'tab-forbidden',
    `a tab at ${short(p.x)}, ${short(p.y)} on a stretch that "noTabs" names`,
    'a place that "noTabs" leaves free',
    'move the tab, or shorten the stretch',
    { path },
  );
}

function noEdge(count: number, found: number): Problem {
  return fault(
    'tab-no-edge',
    `${count} tabs are wanted and ${found} places are free`,
    'enough free edge',
    'ask for fewer tabs, or name fewer stretches in "noTabs"',
    { path: 'hold' },
  );
}

function tooMany(count: number, footprint: Mm, length: Mm): Problem {
  return fault(
    'tab-too-many',
    `${count} tabs take ${short(count * footprint, 1)} mm of ${short(length, 1)} mm of edge (each ${short(footprint, 1)} mm with its ramps)`,
    'free edge between them where the cutter can go to full depth',
    'ask for fewer, narrower or lower tabs, or use a smaller or centre-cutting cutter, whose ramps are shorter',
    { path: 'hold' },
  );
}
