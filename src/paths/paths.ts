/** From plan and holding to the moves of every program. */

import { bad, good, type Outcome, type Problem } from '../base/problem.ts';
import { Tables } from '../base/tables.ts';
import type { Mm, Second } from '../base/units.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import { line } from '../geometry/measure/segment.ts';
import { NO_PLACEMENT, placePoint } from '../geometry/measure/transform.ts';
import type { Point } from '../geometry/types.ts';
import type { CutterKind } from '../part/part.ts';
import type { Operation, SetupPlan } from '../plan/plan.ts';
import { clearPocket, type PlacedArea } from './clear/pocket.ts';
import { crownPlace, edgeScene, onEdge } from './edge.ts';
import { Emitter } from './emitter.ts';
import { headOf, materialText } from './head.ts';
import { drillHoles, stopAtHoles } from './holes.ts';
import { lower } from './lower.ts';
import type { Bite, Move, Moves, PostAbilities, ProgramMoves } from './moves.ts';
import { boreRegion, pocketArea } from './openings.ts';
import { chamferEdges } from './profile/chamfer.ts';
import { tabsAsCut } from './profile/footprint.ts';
import { finish, lighten, rough } from './profile/profile.ts';
import { finishBesideStub, roughBesideStub, stubsAsCut } from './profile/stub.ts';
import type { PathsRequest } from './scene.ts';
import { cutterOf, type Scene, sceneOf, stubOf } from './scene.ts';
import { changeLines, stopLines } from './stops.ts';
import { Cleared } from './travel/cleared.ts';
import { inShortOrder, runInShortOrder } from './travel/in-short-order.ts';
import { clampsClear } from './travel/keep-clear.ts';
import { type TouchOffPlace, touchPlace } from './travel/touch.ts';
import { beyondTravel } from './travel/travel.ts';

export interface MovesRequest extends PathsRequest {
  /** Go into every head. */
  readonly cautions: readonly string[];
  /** In their place where a part stands on edge. */
  readonly edgeCautions?: readonly string[];
}

/**
 * Faults: tabs without room, no entry, no path, clamps in the way, moves beyond the machine's travel.
 * All results are on the post's grid, so that the written text says exactly these numbers.
 */
export function makeMoves(request: MovesRequest, tables: Tables = new Tables()): Outcome<Moves> {
  const { job, plan, post, cautions, edgeCautions = cautions } = request;
  const stages = plan.setups.map((setup) => stageOf(request, setup, tables));
  const problems: Problem[] = [];
  const groups = plan.setups.flatMap((setup, i) => {
    const runs = programsOf(setup, post);
    return runs.map((operations, j) => ({ setup: i, operations, number: j + 1, of: runs.length }));
  });
  const bites: Bite[] = [];
  const programs = groups.map(({ setup, operations, number, of }): ProgramMoves => {
    const { scene, touch, cleared, kept } = stages[setup]!;
    const em = new Emitter(post.grid, cleared);
    problems.push(...runOperations(em, scene, operations, touch));
    bites.push(...em.bites);
    const { name, edge } = plan.setups[setup]!;
    const cutters = [...new Set(operations.map((o) => o.cutter))];
    const head = headOf(
      scene,
      { number, of, setup: name, setupNumber: setup + 1 },
      cutters,
      edge === null ? cautions : edgeCautions,
      kept,
    );
    return {
      setup,
      title: name,
      head: edge === null ? head : onEdge(head, edge, materialText(scene, job)),
      moves: lower(em.moves, post),
    };
  });
  if (problems.length > 0) return bad(...problems);
  for (const [i, { scene }] of stages.entries()) {
    const moves = programs.filter((p) => p.setup === i).map((p) => p.moves);
    problems.push(...beyondTravel(scene, moves), ...clampsClear(scene, moves));
  }
  return problems.length > 0 ? bad(...problems) : good({ programs, bites });
}

/** What is looked at in one set-up: the plate with all its parts, or one part on edge. */
function stageOf(request: PathsRequest, setup: SetupPlan, tables: Tables) {
  const { plan, post } = request;
  const cleared = new Cleared(post.arcs);
  if (setup.edge !== null) {
    const scene = edgeScene(request, setup, setup.edge, tables);
    return { scene, touch: crownPlace(setup.edge), cleared, kept: { tabs: [], stubs: [] } };
  }
  const scene = sceneOf(request, tables);
  const touch = touchPlace(scene, plan.slotWidth, plan.touchRadius);
  return { scene, touch, cleared, kept: { tabs: tabsAsCut(scene), stubs: stubsAsCut(scene) } };
}

/** One program a set-up, or one for each run of operations with the same cutter. */
function programsOf(setup: SetupPlan, post: PostAbilities): readonly (readonly Operation[])[] {
  if (!post.programPerCutter) return [setup.operations];
  const out: Operation[][] = [];
  for (const op of setup.operations) {
    const last = out[out.length - 1];
    if (last && last[0]!.cutter === op.cutter) last.push(op);
    else out.push([op]);
  }
  return out;
}

function runOperations(
  em: Emitter,
  scene: Scene,
  operations: readonly Operation[],
  touch: TouchOffPlace | null,
): readonly Problem[] {
  const problems: Problem[] = [];
  let cutter: number | null = null;
  for (const op of operations) {
    const changes = op.cutter !== cutter;
    // The change is a stop itself, so swarf is brushed out there; other stops come before it, or they would upset what was touched off.
    const swarf = changes && op.stopBefore?.kind === 'swarf' ? stopLines(op.stopBefore) : [];
    if (op.stopBefore && swarf.length === 0) {
      rest(em, scene, cutter === null);
      em.push({ kind: 'stop', why: op.stopBefore.kind, lines: stopLines(op.stopBefore) });
      if (op.stopBefore.kind === 'screws' && scene.job.hold.by === 'screws') {
        em.push({ kind: 'event', text: `SCREWS FITTED ${scene.job.hold.through.join(' ')}` });
      }
    }
    if (changes) {
      rest(em, scene, cutter === null);
      const lines = [...swarf, ...changeLines(scene, op, touch)];
      const on = touch === null || op.byHand || scene.post.lengths === 'table' ? null : { at: touch.at, z: touch.z };
      em.push({ kind: 'change', cutter: op.cutter, touch: on, lines });
    }
    cutter = op.cutter;
    begin(em, scene, op);
    problems.push(...run(em, scene, op));
  }
  rest(em, scene, false);
  return problems;
}

/** Spindle off and Z up before anything a person does by hand. At a program's start Z is not known and is left alone. */
function rest(em: Emitter, scene: Scene, atStart: boolean): void {
  if (!atStart) em.rapidZ(scene.heights.change);
  if (!atStart && scene.job.machine.coolant !== 'none') em.push({ kind: 'coolant', state: 'none' });
  em.push({ kind: 'spindle', on: false, speed: 0 });
}

/** Every operation says its whole state, so that the program can be restarted at its line. */
function begin(em: Emitter, scene: Scene, op: Operation): void {
  const cutter = cutterOf(scene, op);
  em.push({ kind: 'operation', id: op.id, title: op.title });
  em.cutter = cutter;
  em.flat = FLAT_ENDED.includes(cutter.kind) && cutter.cornerRadius === 0 ? cutter.diameter / 2 : null;
  const running: Move[] = [
    { kind: 'spindle', on: true, speed: op.speed },
    { kind: 'dwell', seconds: SPIN_UP },
  ];
  const ready: Move[] = op.byHand ? [] : running;
  if (op.coolant !== 'none') ready.push({ kind: 'coolant', state: op.coolant });
  em.afterFirstTravel(ready);
}

/** For the spindle to come up to speed, wherever the program is begun, before the cutter meets anything (common practice; belts and small drives take one to two). */
const SPIN_UP: Second = 2;

const FLAT_ENDED: readonly CutterKind[] = ['end mill', 'slot drill'];

function run(em: Emitter, scene: Scene, op: Operation): readonly Problem[] {
  if (op.byHand) return stopAtHoles(em, scene, op, op.byHand);
  switch (op.what) {
    case 'rough':
      return eachPart(em, scene, partsOf(op), (e, part) =>
        (stubOf(scene, part) ? roughBesideStub : rough)(e, scene, op, part),
      );
    case 'finish':
      return eachPart(em, scene, partsOf(op), (e, part) =>
        (stubOf(scene, part) ? finishBesideStub : finish)(e, scene, op, part),
      );
    case 'lighten':
      return eachPart(em, scene, [...scene.job.places.keys()], (e, part) => lighten(e, scene, op, part));
    case 'spot':
    case 'drill':
    case 'ream':
    case 'tap':
    case 'countersink':
    case 'counterbore':
    case 'screw holes':
      return drillHoles(em, scene, op);
    case 'pocket':
      return inShortOrder(
        em,
        scene,
        op.target.kind === 'corners' ? cornerAreas(scene, op) : pocketAreas(scene, op),
        middleOf,
      ).flatMap((a) => clearPocket(em, scene, op, a));
    case 'bore':
      return inShortOrder(em, scene, boreHoles(op), (b) => b.at).flatMap(({ at, diameter }) =>
        clearPocket(em, scene, op, boreArea(at, diameter)),
      );
    case 'face':
      return clearPocket(em, scene, op, faceArea(op));
    case 'chamfer':
      return chamferEdges(em, scene, op);
    default:
      throw new Error(`no path for "${op.what}": a bug in the plan stage`);
  }
}

/** Copies in a short order: none waits for another within one operation. */
function eachPart(
  em: Emitter,
  scene: Scene,
  parts: readonly number[],
  run: (em: Emitter, part: number) => readonly Problem[],
): readonly Problem[] {
  return runInShortOrder(
    em,
    scene,
    parts.map((part) => (e: Emitter) => run(e, part)),
  );
}

function partsOf(op: Operation): readonly number[] {
  if (op.target.kind !== 'outline') throw new Error(`${op.what} without an outline: a bug in the plan stage`);
  return op.target.parts;
}

function pocketAreas(scene: Scene, op: Operation): readonly PlacedArea[] {
  if (op.target.kind !== 'pocket') throw new Error(`${op.what} without a pocket: a bug in the plan stage`);
  const { pocket, out, start } = op.target;
  return op.target.parts.map((part) => ({ ...pocketArea(scene, part, pocket, out), start }));
}

function cornerAreas(scene: Scene, op: Operation): readonly PlacedArea[] {
  if (op.target.kind !== 'corners') return [];
  const { areas, parts } = op.target;
  return parts.flatMap((part) =>
    areas.map((area, i) => ({
      key: `corner ${i}`,
      area,
      place: scene.job.places[part]!,
      enter: null,
      start: null,
    })),
  );
}

function middleOf({ area, place }: PlacedArea): Point {
  const b = loopBox(area.outer);
  return placePoint(place, { x: (b.minX + b.maxX) / 2, y: (b.minY + b.maxY) / 2 });
}

function boreHoles(op: Operation) {
  if (op.target.kind !== 'bore') throw new Error(`${op.what} without holes: a bug in the plan stage`);
  const { diameter } = op.target;
  return op.target.holes.map((h) => ({ at: h.at, diameter }));
}

/** Every hole of one size is cut alike, wherever it lies. */
function boreArea(at: Point, diameter: Mm): PlacedArea {
  const area = boreRegion({ x: 0, y: 0 }, diameter);
  return { key: `bore ${diameter}`, area, place: { ...NO_PLACEMENT, at }, enter: null, start: null };
}

function faceArea(op: Operation): PlacedArea {
  if (op.target.kind !== 'stock') throw new Error(`${op.what} without a place: a bug in the plan stage`);
  const { min, max } = op.target;
  const corners = [min, { x: max.x, y: min.y }, max, { x: min.x, y: max.y }];
  const outer = corners.map((a, i) => line(a, corners[(i + 1) % 4]!));
  return { key: 'face', area: { outer, holes: [] }, place: NO_PLACEMENT, enter: null, start: null };
}
