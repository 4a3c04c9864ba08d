/** The ways of holding this part, side by side: each evaluated on the same plan, with what it costs and why it will not do. */
import { bad, good, type Outcome, type Problem } from '../../base/problem.ts';
import { short } from '../../base/text.ts';
import type { HoldRequest, Job, TabRequest } from '../../part/part.ts';
import { TAB_RULES } from '../../trade/holding-rules.ts';
import { type Decision, netOf } from '../evaluate/decide.ts';
import { type Judged, meets, ratioOf } from '../evaluate/judge.ts';
import { floorWay, glueWay, screwsWay, type WayOutcome } from '../evaluate/other-ways.ts';
import type { Holding, HoldKind, HoldScore } from '../holding.ts';
import type { StockNet } from '../scene/net.ts';
import { railWidth } from '../scene/rail.ts';
import { type HoldInput, type HoldScene, holdScene } from '../scene/scene.ts';
import type { HoldWay } from '../way.ts';
import { whatWouldDo } from '../words/advice.ts';
import { bendsWords, limitWords } from '../words/words.ts';
import { fromWay, holdingOf, tabs, unclamped } from './choose.ts';
import { effortOf } from './effort.ts';
import { stubWay } from './stub-way.ts';
import { NO_TAB_REQUEST, TABS_ALONE } from './tabs-way.ts';
import { requestFor } from './way-request.ts';

export interface ComparedWay extends HoldScore {
  /** null: it cannot be used. */
  readonly inJob: {
    /** What a job asks to be held so. */
    readonly wish: HoldRequest;
    /** As evaluated on the plan that all ways are compared by. */
    readonly holding: Holding;
  } | null;
}

export interface OtherWay extends HoldScore {
  /** What a job asks to be held so; null: it cannot be used. */
  readonly wish: HoldRequest | null;
}

/** Best first: those that meet what is wanted by least clean-up, then the rest by how near they come, then the impossible. */
export function compareHoldings(input: HoldInput): Outcome<readonly ComparedWay[]> {
  const scene = holdScene(input);
  const found = netOf(scene);
  if (found.kind === 'unclamped') return bad(unclamped());
  const { job, plan } = input;
  const rail = railWidth(job, plan);
  const scores = ways(scene, found.net).map((way): ComparedWay => {
    const decision = way.decide();
    // What would do is sought for tabs and for what the job asks: the others have one size, named by their bores.
    const advise = way.by === 'tabs' || way.by === job.hold.by;
    const score = scored(scene, found.net, way, decision, advise);
    if (decision.kind === 'refused') return { ...score, inJob: null };
    const { decided } = decision;
    return { ...score, inJob: { wish: requestFor(job, decided.way), holding: holdingOf(scene, rail, decided) } };
  });
  return good([...scores].sort(inOrder));
}

/** As `compareHoldings` for the ways that need no search, but the one taken: quick enough for every `make`. */
export function otherWays(input: HoldInput, but: HoldKind): readonly OtherWay[] {
  const scene = holdScene(input);
  const found = netOf(scene);
  if (found.kind === 'unclamped') return [];
  return ways(scene, found.net)
    .filter(({ name, by }) => by !== but && !name.includes('tab'))
    .map((way) => {
      const decision = way.decide();
      const request = decision.kind === 'refused' ? null : requestFor(input.job, decision.decided.way);
      return { ...scored(scene, found.net, way, decision, false), wish: request };
    });
}

/** Name of the way that the job itself comes to. */
export function ownWay({ hold, stock }: Job): string {
  switch (hold.by) {
    case 'auto':
      return stock.below > 0 ? 'floor' : 'tabs';
    case 'tabs':
      return hold.tabs.lightenTo === null ? 'tabs' : 'tabs, thinned';
    case 'screws':
      return hold.tabs === null ? 'screws' : 'screws and tabs';
    default:
      return hold.by;
  }
}

interface NamedWay {
  readonly name: string;
  readonly by: HoldKind;
  readonly decide: () => Decision;
}

function ways(scene: HoldScene, net: StockNet): readonly NamedWay[] {
  const { hold } = scene.job;
  const request = hold.by === 'tabs' ? hold.tabs : NO_TAB_REQUEST;
  const plain = () => tabs(scene, net, { ...TABS_ALONE, request: { ...request, lightenTo: null } });
  const screws = screwsWay(scene, hold.by === 'screws' ? hold : null);
  const way = (outcome: WayOutcome) => fromWay(scene, net, outcome, false);
  const floor = hold.by === 'floor' ? hold.thickness : undefined;
  return [
    { name: 'tabs', by: 'tabs', decide: plain },
    { name: 'tabs, thinned', by: 'tabs', decide: () => tabsThinned(scene, net, thinned(scene, request, plain())) },
    { name: 'floor', by: 'floor', decide: () => way(floorWay(scene, floor)) },
    { name: 'screws', by: 'screws', decide: () => way(screws) },
    { name: 'screws and tabs', by: 'screws', decide: () => screwsAndTabs(scene, net, screws) },
    { name: 'glue', by: 'glue', decide: () => way(glueWay(scene, hold.by === 'glue' ? hold : null)) },
    { name: 'stub', by: 'stub', decide: () => way(stubWay(scene, hold.by === 'stub' ? hold : null)) },
  ];
}

/** A plan that thins no tabs is given the pass that would. */
function tabsThinned(scene: HoldScene, net: StockNet, request: TabRequest): Decision {
  const plan = scene.variants.thinning(scene.plan, scene.bottom + request.lightenTo!);
  return tabs(plan === scene.plan ? scene : { ...scene, plan }, net, { ...TABS_ALONE, request });
}

/** The same tabs at the same places, thinned at the end. */
function thinned(scene: HoldScene, asked: TabRequest, plain: Decision): TabRequest {
  const found = plain.kind === 'decided' ? plain.decided.way.tabs : null;
  const height = found?.cutHeight ?? asked.height ?? TAB_RULES.heightOfThickness.high * scene.thickness;
  const lightenTo = asked.lightenTo ?? Math.min(THIN, height / 2);
  if (!found) return { ...asked, lightenTo };
  return { count: null, width: found.width, height, lightenTo, at: found.places.map((p) => p.at) };
}

/** A tab this high snaps off (common practice). */
const THIN = 0.4;

function screwsAndTabs(scene: HoldScene, net: StockNet, screws: WayOutcome): Decision {
  if (screws.kind === 'unusable') return fromWay(scene, net, screws);
  const { hold } = scene.job;
  const request = (hold.by === 'screws' && hold.tabs) || { ...NO_TAB_REQUEST, count: 2, width: 2 };
  return tabs(scene, net, { request, others: screws.way, reasons: screws.reasons }, 'quick');
}

function scored(
  scene: HoldScene,
  net: StockNet,
  { name, by }: NamedWay,
  decision: Decision,
  advise: boolean,
): HoldScore {
  if (decision.kind === 'refused') return impossible(name, by, decision.problems);
  const { decided } = decision;
  const effort = effortOf(scene, decided.way);
  const j = decided.judged;
  const bends = bendsWords(j);
  return {
    name,
    by,
    margin: { least: j.margin.least, wanted: j.margin.wanted },
    movement: { most: j.movement.most, wanted: j.movement.wanted },
    cutterDeflection: j.cutterDeflection,
    effortMinutes: effort.bench,
    stopMinutes: effort.stops,
    verdict: verdict(j),
    reasons: [
      ...decided.reasons,
      ...costs(decided.way, effort),
      ...(bends === null ? [] : [`${bends}; one more support near it would help`]),
      ...(meets(j) || !advise ? [] : whatWouldDo(scene, net, decided)),
    ],
    possible: true,
  };
}

function impossible(name: string, by: HoldKind, problems: readonly Problem[]): HoldScore {
  return {
    name,
    by,
    margin: { least: 0, wanted: 1 },
    movement: { most: 0, wanted: 0 },
    cutterDeflection: 0,
    effortMinutes: 0,
    stopMinutes: 0,
    verdict: `cannot be used: ${problems[0]?.found ?? 'no reason found'}`,
    reasons: problems.map((p) => `${p.found}; ${p.remedy}`),
    possible: false,
  };
}

function verdict(j: Judged): string {
  if (meets(j)) return 'holds';
  const weak = j.margin.least < j.margin.wanted;
  const soft = j.movement.most > j.movement.wanted;
  const ratio = ratioOf(j);
  const how = ratio > 0.8 ? 'nearly holds' : ratio > 0.4 ? 'weak' : 'does not hold';
  const why = [...(weak ? [`too weak${limitWords(j.margin.limit)}`] : []), ...(soft ? ['too soft'] : [])].join(' and ');
  return `${how}: ${why}`;
}

function costs(way: HoldWay, effort: ReturnType<typeof effortOf>): string[] {
  const plates = [
    ...(effort.plates > 0 ? ['uses up the face of a backing plate'] : []),
    ...(effort.stops > 0
      ? [`the machine stands about ${short(effort.stops, 0)} min while the backing is tapped and screws are fitted`]
      : []),
  ];
  if (effort.length === 0) return plates;
  return [
    ...plates,
    `clean-up: ${short(effort.length, 1)} mm of edge, ${short(effort.area, 1)} mm2 to ${way.stub ? 'saw and shape' : 'saw or file'}`,
  ];
}

function inOrder(a: HoldScore, b: HoldScore): number {
  const rank = (s: HoldScore) => (!s.possible ? 2 : ratio(s) >= 1 ? 0 : 1);
  const byRank = rank(a) - rank(b);
  if (byRank !== 0) return byRank;
  return rank(a) === 0 ? a.effortMinutes - b.effortMinutes : ratio(b) - ratio(a);
}

function ratio(s: HoldScore): number {
  const moves = s.movement.most > 0 ? s.movement.wanted / s.movement.most : Number.POSITIVE_INFINITY;
  return Math.min(s.margin.least / s.margin.wanted, moves);
}
