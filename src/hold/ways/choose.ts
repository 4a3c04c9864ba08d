/** From plan and job to the holding: as the job asks, or the tabs found best; refused where it cannot hold. */
import { bad, fault, good, type Outcome, type Problem } from '../../base/problem.ts';
import { table } from '../../base/tables.ts';
import { short } from '../../base/text.ts';
import { type Mm, toDeg } from '../../base/units.ts';
import { closestApproach } from '../../geometry/measure/approach.ts';
import { line } from '../../geometry/measure/segment.ts';
import type { Segment } from '../../geometry/types.ts';
import type { Job, TabRequest } from '../../part/part.ts';
import { type Decided, type Decision, decide, netOf, type Proposal } from '../evaluate/decide.ts';
import { modesOf } from '../evaluate/evaluate.ts';
import { groundedOf } from '../evaluate/grounded.ts';
import { holesFirstWords } from '../evaluate/holes-first.ts';
import { type Judged, meets, ratioOf } from '../evaluate/judge.ts';
import { floorWay, glueWay, screwsWay, type WayOutcome } from '../evaluate/other-ways.ts';
import { OWN_SHARE_REPORTED } from '../evaluate/own-compliance.ts';
import type { Holding, Tab } from '../holding.ts';
import { besideCutCorner } from '../scene/beside-corner.ts';
import { layOn } from '../scene/candidates.ts';
import type { StockNet } from '../scene/net.ts';
import { railWidth } from '../scene/rail.ts';
import { clampRects, type HoldInput, type HoldScene, holdScene } from '../scene/scene.ts';
import { MOVEMENT_STEP } from '../search/score.ts';
import type { SearchEffort } from '../search/search.ts';
import { whatWouldDo } from '../words/advice.ts';
import { cautionsFor } from '../words/cautions.ts';
import { rimWords } from '../words/rim-words.ts';

import { stubsOf, stubWay } from './stub-way.ts';
import { chooseTabs, NO_TAB_REQUEST, TABS_ALONE, type TabsChoice, type TabsRequest } from './tabs-way.ts';

/**
 * Cautions: `hold-weak` (wanted margin or movement not reached, with what would), `hold-part-bends`, `clamps-assumed`,
 * `cut-through`. Faults: `hold-fails`, no frame, clamps over the cut, tabs without room, a way that cannot be used, a loose part.
 */
export function chooseHolding(input: HoldInput, previous: HoldDraft | null = null): Outcome<Holding> {
  const ground = siteFor(input);
  if (!ground.ok) return ground;
  const { scene, net, rail } = ground.value;
  const decision = notWorse(scene, net, requested(scene, net), previous);
  if (decision.kind === 'refused') return bad(...decision.problems);
  const { decided } = decision;
  if (fails(decided)) return bad(comesLoose(scene, net, decided));
  const evaluation = { ...decided.evaluation, modes: modesOf(scene, net, decided.way) };
  return good(holdingOf(scene, rail, { ...decided, evaluation }), cautionsFor(scene, net, decided));
}

/** A way of holding for a plan that will be made again, with what it carries; no cautions. */
export interface HoldDraft {
  readonly holding: Holding;
  /** Places and sizes as found for the first plan: an eased plan that meets the same needs no search to say so. */
  readonly decided: Decided;
}

/** `previous`: a draft for the same job with another plan, whose places and sizes are kept. */
export function draftHolding(input: HoldInput, previous: HoldDraft | null = null): Outcome<HoldDraft> {
  const ground = siteFor(input);
  if (!ground.ok) return ground;
  const { scene, net, rail } = ground.value;
  const again = previous && decide(scene, net, proposalOf(previous), false);
  const decision = again?.kind === 'decided' ? again : requested(scene, net, 'quick');
  if (decision.kind === 'refused') return bad(...decision.problems);
  return good({ holding: holdingOf(scene, rail, decision.decided), decided: decision.decided });
}

function proposalOf({ decided: { way, footprint, reasons } }: HoldDraft): Proposal {
  return { way, footprint, reasons };
}

/** The search looks at fewer spots and forces: where what it finds falls short, the draft that the plan was eased for may not. */
function notWorse(scene: HoldScene, net: StockNet, found: Decision, previous: HoldDraft | null): Decision {
  if (previous === null || (found.kind === 'decided' && meets(found.decided.judged))) return found;
  const kept = decide(scene, net, proposalOf(previous), true);
  if (found.kind === 'refused' || kept.kind === 'refused') return found.kind === 'refused' ? kept : found;
  return ratioOf(kept.decided.judged) > ratioOf(found.decided.judged) ? kept : found;
}

interface HoldSite {
  readonly scene: HoldScene;
  readonly net: StockNet;
  readonly rail: Mm;
}

function siteFor(input: HoldInput): Outcome<HoldSite> {
  const rail = railWidth(input.job, input.plan);
  if (rail < LEAST_RAIL) return bad(noFrame(rail));
  const scene = holdScene(input);
  const over = clampsOverCut(scene);
  if (over.length > 0) return bad(...over);
  const found = netOf(scene);
  return found.kind === 'unclamped' ? bad(unclamped()) : good({ scene, net: found.net, rail });
}

/** A weak holding that the job asks for is told; one that cannot hold at all is no holding. */
const NO_MARGIN = 0.05;
/** An edge that gives way so far is not cut but pushed: the model of small movements has no meaning there. */
const NO_HOLD_MOVEMENT: Mm = 3;

function fails({ judged }: Decided): boolean {
  return judged.margin.least < NO_MARGIN || judged.movement.most > NO_HOLD_MOVEMENT;
}

function comesLoose(scene: HoldScene, net: StockNet, decided: Decided): Problem {
  const { margin, movement } = decided.judged;
  return fault({
    code: 'hold-fails',
    at: { path: 'hold' },
    found: `the part would come loose: margin ${short(margin.least)} of ${short(margin.wanted)} wanted, its edge moving ${movement.most > NO_HOLD_MOVEMENT ? 'over three millimetres' : `${short(movement.most)} mm`}`,
    wanted: 'a holding that carries the cut',
    remedy: whatWouldDo(scene, net, decided).join('; ') || 'hold it another way',
  });
}

/** What the job asks for; left to the program: a floor where the stock has one, else tabs. */
export function requested(scene: HoldScene, net: StockNet, effort: SearchEffort = 'thorough'): Decision {
  const { hold, stock } = scene.job;
  switch (hold.by) {
    case 'auto':
      if (stock.below > 0) return fromWay(scene, net, floorWay(scene, stock.below));
      return tabs(scene, net, { ...TABS_ALONE, request: NO_TAB_REQUEST }, effort);
    case 'tabs':
      return tabs(scene, net, { ...TABS_ALONE, request: hold.tabs }, effort);
    case 'floor':
      return fromWay(scene, net, floorWay(scene, hold.thickness));
    case 'glue':
      return fromWay(scene, net, glueWay(scene, hold));
    case 'stub':
      return fromWay(scene, net, stubWay(scene, hold));
    case 'screws': {
      const screws = screwsWay(scene, hold);
      if (screws.kind === 'unusable' || hold.tabs === null) return fromWay(scene, net, screws);
      return tabs(scene, net, { request: hold.tabs, others: screws.way, reasons: screws.reasons }, effort);
    }
  }
}

export function tabs(scene: HoldScene, net: StockNet, asked: TabsRequest, effort: SearchEffort = 'thorough'): Decision {
  const { request, others, reasons } = asked;
  const beside = scene.parts.map((_, part) => groundedOf(scene, part, { ...others, tabs: null }));
  const grounded = beside.some((g) => g.supports.length > 0) ? beside : [];
  const thorough = effort === 'thorough';
  const settle = (c: TabsChoice): Decision => {
    if (c.kind === 'refused') return c;
    const proposal = { way: { ...others, tabs: c.tabs }, footprint: c.footprint, reasons: [...reasons, ...c.reasons] };
    return decide(scene, net, proposal, thorough);
  };
  const choice = chooseTabs(scene, net, asked, grounded, effort);
  const first = settle(choice);
  if (choice.kind === 'refused' || first.kind === 'refused') return first;
  if (!thorough || request.count !== null || request.at !== null || first.decided.judged.ownShare <= OWN_SHARE_REPORTED)
    return first;
  // Where the part itself bends, a larger tab is of no use: one more of the same size is tried.
  const { width, cutHeight, height, places } = choice.tabs;
  const more: TabRequest = {
    count: places.length + 1,
    width,
    height: cutHeight,
    lightenTo: height < cutHeight ? height : null,
    at: null,
  };
  const again = (by: SearchEffort) => settle(chooseTabs(scene, net, { ...asked, request: more }, grounded, by));
  const tried = again('quick');
  if (tried.kind === 'refused' || !straighter(tried.decided.judged, first.decided.judged)) return first;
  const second = again('thorough');
  return second.kind === 'decided' && straighter(second.decided.judged, first.decided.judged)
    ? { ...second, decided: { ...second.decided, reasons: [...second.decided.reasons, ADDED] } }
    : first;
}

const ADDED = 'one tab more than the strength asks for, since the part itself bends between fewer';

/** Worth one more tab to saw off: what was wanted is still met, and it moves less by a step that a bench can tell. */
function straighter(more: Judged, fewer: Judged): boolean {
  const gain = (fewer.movement.most - more.movement.most) / fewer.movement.wanted;
  return (meets(more) || !meets(fewer)) && gain >= MOVEMENT_STEP;
}

export function fromWay(scene: HoldScene, net: StockNet, outcome: WayOutcome, resting = true): Decision {
  if (outcome.kind === 'way') {
    const { way, reasons } = outcome;
    return decide(scene, net, { way, footprint: 0, reasons }, resting);
  }
  const { code, why } = outcome;
  if (code === 'beside-cut-corner') return { kind: 'refused', problems: [besideCutCorner(scene.plan, 'stub', 'hold')] };
  const remedy = REMEDIES[code] ?? 'hold it another way';
  return {
    kind: 'refused',
    problems: [fault({ code, at: { path: 'hold' }, found: why, wanted: 'a way of holding that can be used', remedy })],
  };
}

const REMEDIES: Readonly<Record<string, string>> = {
  'floor-unmeasured': 'measure it and write "stock.measured"',
  'stub-on-bore': 'move the stub along the edge, or hold the part another way',
  'stub-no-frame': 'turn or move the stub, move the part, or use larger stock',
  'stub-under-clamp': 'move the clamp, or turn the stub',
  'stub-in-hollow': 'let the stub stand where the edge is straight or bulges',
  'stub-on-no-tab': 'move the stub, or mend noTabs',
};

export function holdingOf(scene: HoldScene, rail: Mm, decided: Decided): Holding {
  const { way, evaluation, footprint, reasons } = decided;
  const placed: Tab[] = scene.job.places.flatMap((_, part) =>
    (way.tabs?.places ?? []).map((p): Tab => {
      const laid = layOn(scene, part, p);
      const { width, height, cutHeight } = way.tabs!;
      return { part, at: laid.at, directionDeg: toDeg(laid.angle), width, height, cutHeight, footprint };
    }),
  );
  return {
    by: way.by,
    tabs: placed,
    floor: way.floor > 0 ? way.floor : null,
    screws: way.screws?.holes ?? [],
    screwThread: way.screws?.thread ?? null,
    glue: way.glue,
    stubs: stubsOf(scene, way),
    rail,
    reasons: [...reasons, ...rimWords(decided.judged), ...holesFirstWords(scene, way.glue !== null)],
    evaluation,
  };
}

/** Under this the frame bends away under the cutter or a saw; the evaluation judges wider ones. */
const LEAST_RAIL: Mm = 2;

function noFrame(rail: Mm): Problem {
  return fault({
    code: 'frame-too-narrow',
    at: { path: 'stock.size' },
    found:
      rail < 0
        ? `the slot runs ${short(-rail)} mm out of the stock`
        : `only ${short(rail)} mm of stock is left between the slot and the stock's edge`,
    wanted: `a frame at least ${short(LEAST_RAIL)} mm wide all round`,
    remedy: 'use larger stock, move the part, or use a smaller cutter',
  });
}

export function unclamped(): Problem {
  return fault({
    code: 'frame-unclamped',
    at: { path: 'clamps' },
    found: 'no clamp touches the frame that is left round the parts',
    wanted: 'a clamp on the frame',
    remedy: 'move a clamp onto the stock outside the slots',
  });
}

/** A clamp within the slot would be cut: parts are kept clear of clamps at the door, slots here. The same for every plan of a job. */
function clampsOverCut(scene: HoldScene): readonly Problem[] {
  return scene.tables.once(OVER_CUT, [scene.job, scene.slotWidth], () => findClampsOverCut(scene));
}

const OVER_CUT = table<[job: Job, slotWidth: Mm], readonly Problem[]>('clamps over the cut');

function findClampsOverCut(scene: HoldScene): Problem[] {
  return scene.job.clamps.flatMap((c, i) => {
    const sides = clampRects(c, scene.job.stock).flatMap(sidesOf);
    const near = scene.parts.findIndex(({ loop }) => {
      const area = { outer: loop, holes: [] };
      return sides.some((s) => closestApproach(s, area).distance < scene.slotWidth - 1e-9);
    });
    if (near < 0) return [];
    return [
      fault({
        code: 'clamp-over-cut',
        at: { path: `clamps[${i}]` },
        found: `${c.kind === 'jaws' ? `the grip of jaws, clamp ${i + 1},` : `clamp ${i + 1}`} reaches over the slot of part ${near + 1}, which is ${short(scene.slotWidth)} mm wide`,
        wanted: 'clamps clear of every cut',
        remedy: 'move the clamp or the part',
      }),
    ];
  });
}

function sidesOf({ minX, minY, maxX, maxY }: ReturnType<typeof clampRects>[number]): Segment[] {
  const corners = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  return corners.map((a, k) => line(a, corners[(k + 1) % 4]!));
}
