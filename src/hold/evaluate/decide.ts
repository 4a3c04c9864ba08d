/** A way with its places, evaluated and judged: what both the choice and the comparison work with. */
import { fault, type Problem } from '../../base/problem.ts';
import { table } from '../../base/tables.ts';
import type { Mm } from '../../base/units.ts';
import { loopLength, pointAlong, positionOf } from '../../geometry/measure/loop.ts';
import type { Point } from '../../geometry/types.ts';
import type { Job } from '../../part/part.ts';
import type { Evaluation } from '../holding.ts';
import { layOn } from '../scene/candidates.ts';
import { allPlaces, type EdgePlace, edgePlace } from '../scene/edge.ts';
import { type NetOutcome, type StockNet, stockNet } from '../scene/net.ts';
import type { HoldScene } from '../scene/scene.ts';
import type { HoldWay } from '../way.ts';
import { type Evaluated, evaluate } from './evaluate.ts';
import { type Judged, judge, judgeResting } from './judge.ts';
import { skinPlaces } from './states.ts';

export interface Decided extends Proposal {
  readonly evaluation: Evaluation;
  readonly judged: Judged;
}

export type Decision =
  | { readonly kind: 'decided'; readonly decided: Decided }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

/**
 * The plate of this job, with every place of the edge of every part as a possible root. A draft, an eased plan, the final choice and
 * the comparison solve the same plate: only slot and mouths are the plan's.
 */
export function netOf(scene: HoldScene): NetOutcome {
  const key = [scene.slotWidth, ...scene.mouths.flatMap((m) => [...Object.values(m.box), m.depth])].join(' ');
  return scene.tables.once(NETS, [scene.job, key], () => newNet(scene));
}

const NETS = table<[job: Job, slots: string], NetOutcome>('the plate with every slot cut');

function newNet(scene: HoldScene): NetOutcome {
  const roots: Point[] = [];
  for (const [part, { loop, spots }] of scene.parts.entries()) {
    for (const p of [...allPlaces(scene.job), ...placesAsked(scene.job)]) roots.push(layOn(scene, part, p).root);
    for (const s of [...spots, ...skinPlaces(spots).map((p) => p.s)])
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

/** A way with what it takes and why. */
export interface Proposal {
  readonly way: HoldWay;
  /** Of each tab, ramps included; 0 without tabs. */
  readonly footprint: Mm;
  readonly reasons: readonly string[];
}

/**
 * What the choice has worked out, the comparison need not work out again. `resting`: judged with the contact below as well; a draft and
 * the ways only compared are not: it moved none of the samples' margins.
 */
export function decide(scene: HoldScene, net: StockNet, proposal: Proposal, resting: boolean): Decision {
  const { way } = proposal;
  const answer = scene.tables.once(ANSWERS, [scene, net, resting, JSON.stringify(way)], (): WayAnswer => {
    const evaluated = evaluate(scene, net, way);
    if (evaluated.kind === 'loose') return evaluated;
    const { evaluation } = evaluated;
    const judged = resting ? judgeResting(evaluation, scene.bottom) : judge(evaluation);
    return { kind: 'answered', evaluation, judged };
  });
  if (answer.kind === 'loose') return { kind: 'refused', problems: [loose(answer.part, answer.state)] };
  return { kind: 'decided', decided: { ...proposal, evaluation: answer.evaluation, judged: answer.judged } };
}

type WayAnswer =
  | { readonly kind: 'answered'; readonly evaluation: Evaluation; readonly judged: Judged }
  | Extract<Evaluated, { kind: 'loose' }>;

const ANSWERS = table<[scene: HoldScene, net: StockNet, resting: boolean, way: string], WayAnswer>('ways judged');

function loose(part: number, state: string): Problem {
  return fault({
    code: 'hold-loose',
    at: { path: 'hold' },
    found: `part ${part + 1} is free to move, ${state}`,
    wanted: 'supports that hold it in every direction',
    remedy: 'add a tab off the line of the others, a screw, or a clamp on the frame',
  });
}
