/** A part on edge: what its set-up has otherwise than the plate. */
import type { Holding } from '../hold/holding.ts';
import type { EdgeStand, Plan, SetupPlan } from '../plan/plan.ts';
import type { HeadFacts, PostAbilities } from './moves.ts';
import { type Scene, sceneOf } from './scene.ts';
import type { TouchPlace } from './travel/touch.ts';

export function edgeScene(plan: Plan, holding: Holding, post: PostAbilities, setup: SetupPlan, edge: EdgeStand): Scene {
  const bare = { ...holding, tabs: [], stubs: [], screws: [] };
  return sceneOf(edge.job, { ...plan, setups: [setup], heads: [] }, bare, post);
}

/** Half-way between the hole and the face of the part, on the crown, which is a line along Y: no cutter goes there. */
export function crownPlace({ job, hole }: EdgeStand): TouchPlace {
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
