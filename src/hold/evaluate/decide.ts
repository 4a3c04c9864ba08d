/** A way with its places, reckoned and judged: what both the choice and the comparison work with. */
import { fault, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import type { Reckoning } from '../holding.ts';
import { layOn } from '../scene/candidates.ts';
import { allPlaces, type EdgePlace, edgePlace } from '../scene/edge.ts';
import { type NetOutcome, type StockNet, stockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { Way } from '../way.ts';
import { type Judged, judge, judgeResting } from './judge.ts';
import { type Reckoned, type ReckonWish, reckon, WHOLE } from './reckon.ts';
import { pairsOf } from './states.ts';

export interface Decided {
  readonly way: Way;
  readonly reckoning: Reckoning;
  /** Worked out when it is first asked for: a draft is asked pass by pass instead. */
  readonly judged: Judged;
  /** Of each tab, ramps included; 0 without tabs. */
  readonly footprint: Mm;
  readonly reasons: readonly string[];
}

export type Decision =
  | { readonly kind: 'decided'; readonly decided: Decided }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

/** The plate of this job, with every place of the edge of every part as a possible root. */
export function netOf(scene: HoldScene): NetOutcome {
  const ofJob = nets.get(scene.job) ?? new Map<string, NetOutcome>();
  nets.set(scene.job, ofJob);
  const key = [scene.slotWidth, ...scene.mouths.flatMap((m) => [...Object.values(m.box), m.depth])].join(' ');
  let net = ofJob.get(key);
  if (net === undefined) {
    net = newNet(scene);
    ofJob.set(key, net);
  }
  return net;
}

/** A draft, an eased plan, the final choice and the comparison solve the same plate: only slot and mouths are the plan's. */
const nets = new WeakMap<HoldScene['job'], Map<string, NetOutcome>>();

function newNet(scene: HoldScene): NetOutcome {
  const roots: Point[] = [];
  for (const [part, { loop, spots }] of scene.parts.entries()) {
    for (const p of [...allPlaces(scene.job), ...placesAsked(scene.job)]) roots.push(layOn(scene, part, p).root);
    for (const s of [...spots, ...pairsOf(spots).map((p) => p.s)])
      roots.push({ x: s.x + s.nx * scene.slotWidth, y: s.y + s.ny * scene.slotWidth });
    if (loopLength(loop) === 0 || pointAlong(loop, 0) === undefined) return { kind: 'unclamped' };
  }
  return stockNet(scene, roots);
}

/** Places that the job itself names lie between those of the search. */
function placesAsked(job: Job): readonly EdgePlace[] {
  const { hold } = job;
  const tabs = hold.by === 'tabs' ? hold.tabs : hold.by === 'screws' ? hold.tabs : null;
  const at = hold.by === 'stub' ? [hold.at] : (tabs?.at ?? []);
  return at.map((p) => edgePlace(job, positionOf(job.part.outline.loop, p)?.s ?? 0));
}

export function decide(
  scene: HoldScene,
  net: StockNet,
  way: Way,
  footprint: Mm,
  reasons: readonly string[],
  wish: ReckonWish = WHOLE,
): Decision {
  const answer = answered(scene, net, way, wish);
  if (answer.kind === 'loose') return { kind: 'refused', problems: [loose(answer.part, answer.state)] };
  const decided: Decided = {
    way,
    reckoning: answer.reckoning,
    get judged() {
      return answer.judged();
    },
    footprint,
    reasons,
  };
  return { kind: 'decided', decided };
}

type Answered =
  | { readonly kind: 'answered'; readonly reckoning: Reckoning; readonly judged: () => Judged }
  | Extract<Reckoned, { kind: 'loose' }>;

/** What the choice has reckoned, the comparison need not reckon again. */
function answered(scene: HoldScene, net: StockNet, way: Way, wish: ReckonWish): Answered {
  const known = answersOf.get(scene) ?? new Map<string, Answered>();
  answersOf.set(scene, known);
  const key = `${wish.modes} ${JSON.stringify(way)}`;
  const kept = wish.only === undefined ? known.get(key) : undefined;
  if (kept !== undefined) return kept;
  const answer = newAnswer(scene, net, way, wish);
  if (wish.only === undefined) known.set(key, answer);
  return answer;
}

const answersOf = new WeakMap<HoldScene, Map<string, Answered>>();

function newAnswer(scene: HoldScene, net: StockNet, way: Way, wish: ReckonWish): Answered {
  const reckoned = reckon(scene, net, way, wish);
  if (reckoned.kind === 'loose') return reckoned;
  const { reckoning } = reckoned;
  let known: Judged | null = null;
  // A draft and the ways only compared are judged without the contact below: it moved none of the samples' margins.
  const judgedOnce = () => {
    known ??= judged(reckoning, scene, wish);
    return known;
  };
  return { kind: 'answered', reckoning, judged: judgedOnce };
}

function judged(reckoning: Reckoning, scene: HoldScene, wish: ReckonWish): Judged {
  return wish.modes ? judgeResting(reckoning, scene.bottom) : judge(reckoning);
}

function loose(part: number, state: string): Problem {
  return fault({
    code: 'hold-loose',
    at: { path: 'hold' },
    found: `part ${part + 1} is free to move, ${state}`,
    wanted: 'supports that hold it in every direction',
    remedy: 'add a tab off the line of the others, a screw, or a clamp on the frame',
  });
}
