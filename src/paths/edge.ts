/** A part on edge: what its set-up has otherwise than the plate. */
import type { Tables } from '../base/tables.ts';
import type { EdgeStand, SetupPlan } from '../plan/plan.ts';
import type { HeadFacts } from './moves.ts';
import { type PathsRequest, type Scene, sceneOf } from './scene.ts';
import type { TouchOffPlace } from './travel/touch.ts';

export function edgeScene(request: PathsRequest, setup: SetupPlan, edge: EdgeStand, tables: Tables): Scene {
  const plan = { ...request.plan, setups: [setup], heads: [] };
  const holding = { ...request.holding, tabs: [], stubs: [], screws: [] };
  return sceneOf({ job: edge.job, plan, holding, post: request.post }, tables);
}

/** Half-way between the hole and the face of the part, on the crown, which is a line along Y: no cutter goes there. */
export function crownPlace({ job, hole }: EdgeStand): TouchOffPlace {
  const half = job.stock.max[1];
  const room = (half - hole.diameter / 2) / 2;
  return { at: { x: 0, y: half - room }, on: 'the crown of the boss', z: 0, room };
}

export function onEdge(head: HeadFacts, { hole }: EdgeStand, material: string): HeadFacts {
  return {
    ...head,
    material,
    hold: { by: 'jaws', edgeHole: hole.index, boss: hole.boss, directionDeg: hole.directionDeg },
    tabs: [],
  };
}
