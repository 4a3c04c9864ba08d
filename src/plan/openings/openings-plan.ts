/** Facing, pockets, bores, counterbores and chamfers of a job, as operations. */

import { fault, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { uniteBoxes } from '../../geometry/measure/loop.ts';
import { placePoint } from '../../geometry/measure/transform.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Cutter, Hole, Job, Pocket } from '../../part/part.ts';
import type { PlanContext } from '../context.ts';
import { holeTargets } from '../context.ts';

import { chamferDraft, type OperationDraft, openingDraft } from '../draft.ts';
import { ofKind } from '../drawer.ts';
import { holeDepths, startTip } from '../holes/hole-depths.ts';
import { holeDraft } from '../holes/hole-draft.ts';
import { chamferingSpot, type HoleStep } from '../holes/hole-plan.ts';
import { cutsDown, opensFor, startDrill } from '../milling/entry.ts';
import type { HoleTarget } from '../plan.ts';
import { say } from '../words.ts';
import { roundedCorners } from './corners.ts';
import {
  boreRoom,
  chooseForOpening,
  noRunOut,
  type Opening,
  type OpeningChoice,
  openingBottom,
  pocketRoom,
} from './opening-plan.ts';

export interface Openings {
  readonly face: readonly OperationDraft[];
  readonly inside: readonly OperationDraft[];
  readonly chamfer: readonly OperationDraft[];
  /** All that is cut of pockets with open sides, room beyond the edge included; part axes. */
  readonly open: readonly OpenArea[];
  /** Corners of pockets left round. */
  readonly notes: readonly Problem[];
}

export interface OpenArea {
  /** Of the pocket, in the job. */
  readonly index: number;
  readonly loop: Loop;
}

/** The chamfer cutter's axis runs this far beside the edge, so that its weak point cuts nothing. */
const CHAMFER_REACH: Mm = 0.5;
/** Facing goes this far beyond the parts and their slots. */
const FACE_ROOM: Mm = 1;

export function planOpenings(
  context: PlanContext,
  isMilled: (hole: Hole) => boolean,
): Openings | { readonly problems: readonly Problem[] } {
  const { job } = context;
  const problems: Problem[] = [];
  const keep = (made: OperationDraft | { readonly problems: readonly Problem[] }): OperationDraft[] => {
    if ('problems' in made) problems.push(...made.problems);
    return 'problems' in made ? [] : [made];
  };
  const face = job.stock.above > 0 ? keep(faceDraft(context)) : [];
  const pockets = job.part.pockets.map((_, i) => pocketDrafts(context, i));
  for (const p of pockets) if ('problems' in p) problems.push(...p.problems);
  const planned = pockets.flatMap((p) => ('problems' in p ? [] : [p]));
  const bores = roundOpenings(job, isMilled).map((b) => boreDrafts(context, b));
  for (const b of bores) if ('problems' in b) problems.push(...b.problems);
  const bored = bores.flatMap((b) => ('problems' in b ? [] : [b]));
  // Screw heads will stand in the bores: their edges are broken before the screws are fitted.
  const early = job.part.chamfer > 0 && job.hold.by === 'screws' && chamferedBores(job).length > 0;
  const edged = early ? keep(edgesDraft(context, false, true)) : [];
  const chamfer = job.part.chamfer > 0 ? keep(edgesDraft(context, true, !early)) : [];
  return problems.length > 0
    ? { problems }
    : {
        face,
        // What is left over comes last, so that a cutter is changed once for all of it.
        inside: [
          ...bored.flatMap((b) => b.slice(0, -1)),
          ...planned.map((m) => m[0]!),
          ...bored.map((b) => b.at(-1)!),
          ...planned.flatMap((m) => m.slice(1)),
          ...edged,
        ],
        chamfer,
        open: openAreas(job, planned),
        notes: cornersLeft(job, planned),
      };
}

/** The drafts of each pocket, in the order of the job: the last has the smallest cutter. */
function cornersLeft(job: Job, pockets: readonly (readonly OperationDraft[])[]): Problem[] {
  return pockets.flatMap((drafts, i) => {
    const cutter = job.cutters.find((c) => c.number === drafts[drafts.length - 1]!.operation.cutter)!;
    const { outline, index, open } = job.part.pockets[i]!;
    const mouths = new Set(open.flat());
    return roundedCorners(job, outline.loop, 'inside', cutter.diameter / 2, `of pocket ${index + 1}`, mouths);
  });
}

function openAreas(job: Job, pockets: readonly (readonly OperationDraft[])[]): OpenArea[] {
  return pockets.flatMap((drafts, i) => {
    const pocket = job.part.pockets[i]!;
    const first = job.cutters.find((c) => c.number === drafts[0]!.operation.cutter)!;
    return pocket.open.length === 0
      ? []
      : [{ index: pocket.index, loop: pocketRoom(job, pocket).around(first.diameter).outer }];
  });
}

function pocketDrafts(
  context: PlanContext,
  index: number,
): readonly OperationDraft[] | { readonly problems: readonly Problem[] } {
  const { job } = context;
  const pocket = job.part.pockets[index]!;
  const path = `part.pockets[${pocket.index}]`;
  if (pocket.depth === null && pocket.islands.length > 0) return { problems: [looseIsland(path)] };
  const bottom = openingBottom(job, pocket.depth);
  const name = `pocket ${pocket.index + 1}`;
  const room = pocketRoom(job, pocket);
  const opening = { room, bottom, what: name, path };
  const plain = chooseForOpening(job, opening);
  const started = pocket.open.length === 0 ? startOf(job, opening, plain) : null;
  const choice = started?.choice ?? plain;
  if ('problems' in choice) return choice;
  const shut = room.shut(choice.cutter.diameter);
  if (shut !== null) return { problems: [noRunOut(shut, path)] };
  const title = pocket.depth === null ? `cut ${name} through` : `${name}, ${say(job, pocket.depth)} deep`;
  const parts = job.places.map((_, i) => i);
  const target = {
    kind: 'pocket',
    parts,
    pocket: index,
    after: null,
    out: choice.out,
    start: started?.at ?? null,
  } as const;
  const first = openingDraft(context, choice, 'pocket', title, target);
  if (started !== null) return [startDraft(context, pocket, started, bottom), first];
  if (choice.rest === null) return [first];
  const after = choice.cutter.diameter;
  const what = `${name}, what the ${say(job, after)} cutter left`;
  return [first, openingDraft(context, choice.rest, 'pocket', what, { ...target, after })];
}

interface Started {
  readonly drill: Cutter;
  readonly choice: OpeningChoice;
  /** Part axes. */
  readonly at: Point;
}

/** A start hole in the widest place, where no cutter gets down by itself but straight; null: none is needed, or no drill fits. */
function startOf(job: Job, opening: Opening, plain: ReturnType<typeof chooseForOpening>): Started | null {
  const { room, bottom } = opening;
  if (!('problems' in plain) && plain.entry !== 'plunge') return null;
  const widest = largestInscribed(room.floor, START_WITHIN);
  if (widest.kind !== 'circle') return null;
  const drill = startDrill(ofKind(job, 'drill'), 2 * widest.radius, -bottom);
  if (drill === null) return null;
  const choice = chooseForOpening(job, opening, drill);
  if ('problems' in choice || choice.entry !== 'plunge' || !freesDown(drill, choice.cutter, bottom, job)) return null;
  return { drill, choice, at: widest.centre };
}

/** Over a floor the drill leaves its cone standing, which asks for a cutter that cuts at its centre all the same. */
function freesDown(drill: Cutter | null, cutter: Cutter, bottom: Mm, job: Job): boolean {
  return opensFor(drill, cutter) && (cutsDown(cutter) || bottom <= -job.part.thickness);
}

/** Accuracy of the place, far below the room that a start hole is given. */
const START_WITHIN: Mm = 1e-3;

function startDraft(context: PlanContext, pocket: Pocket, { drill, choice, at }: Started, bottom: Mm): OperationDraft {
  const { job } = context;
  const step: HoleStep = {
    what: 'drill',
    cutter: drill,
    cutting: drill.diameter,
    open: 0,
    note: '',
    bottom: startTip(job, pocket.depth === null, drill, bottom),
    why: [`cutter ${choice.cutter.number} has no room for a helix or a ramp there`],
  };
  const targets = context.parts.map((p): HoleTarget => ({ part: p.index, hole: null, at: placePoint(p.place, at) }));
  const made = holeDraft(context, step, [], targets);
  const title = `drill ${say(job, drill.diameter)} to start pocket ${pocket.index + 1}`;
  return { ...made, operation: { ...made.operation, title } };
}

interface RoundOpening {
  readonly hole: Hole;
  readonly diameter: Mm;
  readonly depth: Mm | null;
  readonly title: string;
}

/** Bored holes, and counterbores round drilled ones. */
function roundOpenings(job: Job, isMilled: (hole: Hole) => boolean): readonly RoundOpening[] {
  return job.part.holes.flatMap((hole): RoundOpening[] => {
    const n = hole.index + 1;
    const own = isMilled(hole)
      ? [{ hole, diameter: hole.diameter, depth: hole.depth, title: `bore ${say(job, hole.diameter)}, hole ${n}` }]
      : [];
    const sunk = hole.counterbore;
    const wide = sunk
      ? [
          {
            hole,
            diameter: sunk.diameter,
            depth: sunk.depth,
            title: `counterbore ${say(job, sunk.diameter)}, hole ${n}`,
          },
        ]
      : [];
    return [...own, ...wide];
  });
}

/** The bore, and before it a start hole where no cutter gets down by itself. */
function boreDrafts(
  context: PlanContext,
  b: RoundOpening,
): readonly OperationDraft[] | { readonly problems: readonly Problem[] } {
  const { job } = context;
  const path = `part.holes[${b.hole.index}]`;
  const bottom = openingBottom(job, b.depth);
  const opening = { room: boreRoom(b.diameter), bottom, what: `hole ${b.hole.index + 1}`, path };
  const plain = chooseForOpening(job, opening);
  const stuck = 'problems' in plain || plain.entry === 'plunge';
  const drill = stuck ? startDrill(ofKind(job, 'drill'), b.diameter, -bottom) : null;
  const started = drill ? chooseForOpening(job, opening, drill) : plain;
  // A drill too thin for the cutter is no help.
  const start = 'problems' in started || !freesDown(drill, started.cutter, bottom, job) ? null : drill;
  const choice = start ? started : plain;
  if ('problems' in choice) return choice;
  const holes = holeTargets(context, [b.hole]);
  const bore = openingDraft(context, choice, 'bore', b.title, { kind: 'bore', holes, diameter: b.diameter });
  if (start === null) return [bore];
  // In a blind bore its point stays above the floor; through, it passes like any drill.
  const tip = b.depth === null ? holeDepths(job, b.hole, start, null, path).drill : bottom;
  const step: HoleStep = {
    what: 'drill',
    cutter: start,
    cutting: start.diameter,
    open: 0,
    bottom: tip,
    note: 'to start the bore',
    why: [`cutter ${choice.cutter.number} has no room for a helix or a ramp there`],
  };
  return [holeDraft(context, step, [b.hole], holes), bore];
}

/** The top of the parts and of the slots round them; the rest of the frame keeps its skin, to touch off on. */
function faceDraft(context: PlanContext) {
  const { job } = context;
  const flat = ofKind(job, 'end mill', 'slot drill').filter((c) => c.cornerRadius === 0);
  const cutter = [...flat].sort((a, b) => b.diameter - a.diameter || a.number - b.number)[0];
  if (!cutter) return { problems: [noFlat()] };
  const box = context.parts.map((p) => p.box).reduce(uniteBoxes);
  const room = 1.5 * widestProfile(job) + FACE_ROOM;
  const min = { x: box.minX - room, y: box.minY - room };
  const max = { x: box.maxX + room, y: box.maxY + room };
  const choice: OpeningChoice = {
    cutter,
    bottom: 0,
    // Under a half: what the last ring leaves in the middle is then always within the cutter's reach.
    step: 0.45 * cutter.diameter,
    allowance: 0,
    entry: 'helix',
    out: 0,
    slots: false,
    left: 0,
    rest: null,
    reasons: ['the widest flat-ended cutter; the frame outside keeps its skin to touch off on', 'goes down on a helix'],
  };
  const draft = openingDraft(context, choice, 'face', `face the top down ${say(job, job.stock.above)}`, {
    kind: 'stock',
    min,
    max,
  });
  return draft;
}

function widestProfile(job: Job): Mm {
  return Math.max(
    ...ofKind(job, 'end mill', 'slot drill').map((c) => Math.min(c.diameter, Math.max(3, job.part.thickness))),
  );
}

function edgesDraft(context: PlanContext, outline: boolean, bores: boolean) {
  const { job } = context;
  const cutter = chamferCutter(job);
  if (!cutter) return { problems: [noChamferCutter()] };
  const target = {
    kind: 'edges',
    parts: job.places.map((_, i) => i),
    outline,
    bores: bores ? chamferedBores(job) : [],
    reach: CHAMFER_REACH,
  } as const;
  return chamferDraft(context, cutter, target, CHAMFER_REACH);
}

/** Holes whose edge is not broken already by a spot drill or a head's seat. */
function chamferedBores(job: Job) {
  return job.part.holes
    .filter((h) => h.countersink === null && h.counterbore === null && !chamferingSpot(job, h))
    .map((h) => ({ hole: h.index, diameter: h.diameter }));
}

function chamferCutter(job: Job): Cutter | undefined {
  const deep = 2 * (job.part.chamfer + CHAMFER_REACH);
  const fits = (c: Cutter) => c.pointDeg === 90 && c.diameter >= deep && c.tip / 2 < CHAMFER_REACH;
  // A chamfer cutter has cutting sides; a spot drill or countersink serves where there is none.
  return (['chamfer cutter', 'spot drill', 'countersink'] as const).flatMap((k) => ofKind(job, k)).find(fits);
}

function noChamferCutter(): Problem {
  return fault({
    code: 'cutter-missing',
    at: { path: 'part.chamfer' },
    found: 'no 90 degree chamfer cutter in the drawer, needed for the chamfer',
    wanted: 'a chamfer cutter of 90 degrees',
    remedy: 'add it to "cutters", or leave "chamfer" out',
  });
}

function noFlat(): Problem {
  return fault({
    code: 'cutter-missing',
    at: { path: 'cutters' },
    found: 'no end mill or slot drill in the drawer, needed to face the stock',
    wanted: 'a flat-ended cutter',
    remedy: 'add it to "cutters"',
  });
}

function looseIsland(path: string): Problem {
  return fault({
    code: 'loose-island',
    at: { path },
    found: 'an island in a pocket that goes through would come loose',
    wanted: 'a pocket with a floor, or no island',
    remedy: 'give the pocket a depth, or leave the island out',
  });
}
