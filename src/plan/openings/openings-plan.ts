/** Facing, pockets, bores, counterbores and chamfers of a job, as operations. */
import { fault, type Problem } from '../../base/problem.ts';
import type { Mm } from '../../base/units.ts';
import { largestInscribed } from '../../geometry/inscribed.ts';
import { loopBox, uniteBoxes } from '../../geometry/measure/loop.ts';
import { placeLoop, placePoint } from '../../geometry/measure/transform.ts';
import type { Loop, Point } from '../../geometry/types.ts';
import type { Cutter, Hole, Job, Pocket } from '../../part/part.ts';
import type { Material } from '../../trade/materials/materials.ts';
import { chamferDraft, type Draft, openingDraft } from '../draft.ts';
import { ofKind } from '../drawer.ts';
import { holeDepths, startTip } from '../holes/hole-depths.ts';
import { holeDraft } from '../holes/hole-draft.ts';
import { chamferingSpot, type HoleStep } from '../holes/hole-plan.ts';
import { cutsDown, opensFor, startDrill } from '../milling/entry.ts';
import type { HoleTarget } from '../plan.ts';
import { say } from '../words.ts';
import { roundedCorners } from './corners.ts';
import {
  boreGround,
  chooseForOpening,
  type Ground,
  noRunOut,
  type OpeningChoice,
  openingBottom,
  pocketGround,
} from './opening-plan.ts';

export interface Openings {
  readonly face: readonly Draft[];
  readonly inside: readonly Draft[];
  readonly chamfer: readonly Draft[];
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
  job: Job,
  material: Material,
  climb: boolean,
  isMilled: (hole: Hole) => boolean,
): Openings | { readonly problems: readonly Problem[] } {
  const problems: Problem[] = [];
  const keep = (made: Draft | { readonly problems: readonly Problem[] }): Draft[] => {
    if ('problems' in made) problems.push(...made.problems);
    return 'problems' in made ? [] : [made];
  };
  const face = job.stock.above > 0 ? keep(faceDraft(job, material, climb)) : [];
  const pockets = job.part.pockets.map((_, i) => pocketDrafts(job, material, i, climb));
  for (const p of pockets) if ('problems' in p) problems.push(...p.problems);
  const planned = pockets.flatMap((p) => ('problems' in p ? [] : [p]));
  const bores = roundOpenings(job, isMilled).map((b) => boreDrafts(job, material, b, climb));
  for (const b of bores) if ('problems' in b) problems.push(...b.problems);
  const bored = bores.flatMap((b) => ('problems' in b ? [] : [b]));
  // Screw heads will stand in the bores: their edges are broken before the screws are fitted.
  const early = job.part.chamfer > 0 && job.hold.by === 'screws' && chamferedBores(job).length > 0;
  const edged = early ? keep(edgesDraft(job, material, false, true)) : [];
  const chamfer = job.part.chamfer > 0 ? keep(edgesDraft(job, material, true, !early)) : [];
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
function cornersLeft(job: Job, pockets: readonly (readonly Draft[])[]): Problem[] {
  return pockets.flatMap((drafts, i) => {
    const cutter = job.cutters.find((c) => c.number === drafts[drafts.length - 1]!.operation.cutter)!;
    const { outline, index, open } = job.part.pockets[i]!;
    const mouths = new Set(open.flat());
    return roundedCorners(job, outline.loop, 'inside', cutter.diameter / 2, `of pocket ${index + 1}`, mouths);
  });
}

function openAreas(job: Job, pockets: readonly (readonly Draft[])[]): OpenArea[] {
  return pockets.flatMap((drafts, i) => {
    const pocket = job.part.pockets[i]!;
    const first = job.cutters.find((c) => c.number === drafts[0]!.operation.cutter)!;
    return pocket.open.length === 0
      ? []
      : [{ index: pocket.index, loop: pocketGround(job, pocket).around(first.diameter).outer }];
  });
}

function pocketDrafts(
  job: Job,
  material: Material,
  index: number,
  climb: boolean,
): readonly Draft[] | { readonly problems: readonly Problem[] } {
  const pocket = job.part.pockets[index]!;
  const path = `part.pockets[${pocket.index}]`;
  if (pocket.depth === null && pocket.islands.length > 0) return { problems: [looseIsland(path)] };
  const bottom = openingBottom(job, pocket.depth);
  const name = `pocket ${pocket.index + 1}`;
  const ground = pocketGround(job, pocket);
  const plain = chooseForOpening(job, ground, bottom, name, path);
  const started = pocket.open.length === 0 ? startOf(job, ground, bottom, name, path, plain) : null;
  const choice = started?.choice ?? plain;
  if ('problems' in choice) return choice;
  const shut = ground.shut(choice.cutter.diameter);
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
  const first = openingDraft(job, material, choice, 'pocket', title, target, climb);
  if (started !== null) return [startDraft(job, material, pocket, started, bottom), first];
  if (choice.rest === null) return [first];
  const after = choice.cutter.diameter;
  const what = `${name}, what the ${say(job, after)} cutter left`;
  return [first, openingDraft(job, material, choice.rest, 'pocket', what, { ...target, after }, climb)];
}

interface Started {
  readonly drill: Cutter;
  readonly choice: OpeningChoice;
  /** Part axes. */
  readonly at: Point;
}

/** A start hole in the widest place, where no cutter gets down by itself but straight; null: none is needed, or no drill fits. */
function startOf(
  job: Job,
  ground: Ground,
  bottom: Mm,
  name: string,
  path: string,
  plain: ReturnType<typeof chooseForOpening>,
): Started | null {
  if (!('problems' in plain) && plain.entry !== 'plunge') return null;
  const widest = largestInscribed(ground.floor, START_WITHIN);
  if (widest.kind !== 'circle') return null;
  const drill = startDrill(ofKind(job, 'drill'), 2 * widest.radius, -bottom);
  if (drill === null) return null;
  const choice = chooseForOpening(job, ground, bottom, name, path, drill);
  if ('problems' in choice || choice.entry !== 'plunge' || !freesDown(drill, choice.cutter, bottom, job)) return null;
  return { drill, choice, at: widest.centre };
}

/** Over a floor the drill leaves its cone standing, which asks for a cutter that cuts at its centre all the same. */
function freesDown(drill: Cutter | null, cutter: Cutter, bottom: Mm, job: Job): boolean {
  return opensFor(drill, cutter) && (cutsDown(cutter) || bottom <= -job.part.thickness);
}

/** Accuracy of the place, far below the room that a start hole is given. */
const START_WITHIN: Mm = 1e-3;

function startDraft(job: Job, material: Material, pocket: Pocket, { drill, choice, at }: Started, bottom: Mm): Draft {
  const step: HoleStep = {
    ...{ what: 'drill', cutter: drill, cutting: drill.diameter, open: 0, note: '' },
    bottom: startTip(job, pocket.depth === null, drill, bottom),
    why: [`cutter ${choice.cutter.number} has no room for a helix or a ramp there`],
  };
  const targets = job.places.map((place, part): HoleTarget => ({ part, hole: null, at: placePoint(place, at) }));
  const made = holeDraft(job, material, step, [], targets);
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
  job: Job,
  material: Material,
  b: RoundOpening,
  climb: boolean,
): readonly Draft[] | { readonly problems: readonly Problem[] } {
  const path = `part.holes[${b.hole.index}]`;
  const bottom = openingBottom(job, b.depth);
  const what = `hole ${b.hole.index + 1}`;
  const plain = chooseForOpening(job, boreGround(b.diameter), bottom, what, path);
  const stuck = 'problems' in plain || plain.entry === 'plunge';
  const drill = stuck ? startDrill(ofKind(job, 'drill'), b.diameter, -bottom) : null;
  const started = drill ? chooseForOpening(job, boreGround(b.diameter), bottom, what, path, drill) : plain;
  // A drill too thin for the cutter is no help.
  const start = 'problems' in started || !freesDown(drill, started.cutter, bottom, job) ? null : drill;
  const choice = start ? started : plain;
  if ('problems' in choice) return choice;
  const holes: HoleTarget[] = job.places.map((place, part) => ({
    part,
    hole: b.hole.index,
    at: placePoint(place, b.hole.at),
  }));
  const bore = openingDraft(
    job,
    material,
    choice,
    'bore',
    b.title,
    { kind: 'bore', holes, diameter: b.diameter },
    climb,
  );
  if (start === null) return [bore];
  // In a blind bore its point stays above the floor; through, it passes like any drill.
  const tip = b.depth === null ? holeDepths(job, b.hole, start, null, path).drill : bottom;
  const step: HoleStep = {
    ...{ what: 'drill', cutter: start, cutting: start.diameter, open: 0, bottom: tip, note: 'to start the bore' },
    why: [`cutter ${choice.cutter.number} has no room for a helix or a ramp there`],
  };
  return [holeDraft(job, material, step, [b.hole], holes), bore];
}

/** The top of the parts and of the slots round them; the rest of the frame keeps its skin, to touch off on. */
function faceDraft(job: Job, material: Material, climb: boolean) {
  const flat = ofKind(job, 'end mill', 'slot drill').filter((c) => c.cornerRadius === 0);
  const cutter = [...flat].sort((a, b) => b.diameter - a.diameter || a.number - b.number)[0];
  if (!cutter) return { problems: [noFlat()] };
  const box = job.places.map((p) => loopBox(placeLoop(p, job.part.outline.loop))).reduce(uniteBoxes);
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
  const draft = openingDraft(
    job,
    material,
    choice,
    'face',
    `face the top down ${say(job, job.stock.above)}`,
    { kind: 'stock', min, max },
    climb,
  );
  return draft;
}

function widestProfile(job: Job): Mm {
  return Math.max(
    ...ofKind(job, 'end mill', 'slot drill').map((c) => Math.min(c.diameter, Math.max(3, job.part.thickness))),
  );
}

function edgesDraft(job: Job, material: Material, outline: boolean, bores: boolean) {
  const cutter = chamferCutter(job);
  if (!cutter) return { problems: [noChamferCutter()] };
  const target = {
    kind: 'edges',
    parts: job.places.map((_, i) => i),
    outline,
    bores: bores ? chamferedBores(job) : [],
    reach: CHAMFER_REACH,
  } as const;
  return chamferDraft(job, material, cutter, target, CHAMFER_REACH);
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
