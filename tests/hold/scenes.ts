/** Jobs, scenes and plates for tests of the holding. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describeProblem } from '../../src/base/problem.ts';
import { Tables } from '../../src/base/tables.ts';
import { netOf } from '../../src/hold/evaluate/decide.ts';
import type { StockNet } from '../../src/hold/scene/net.ts';
import { type HoldInput, type HoldScene, holdScene } from '../../src/hold/scene/scene.ts';
import type { Job } from '../../src/part/part.ts';
import { readJob } from '../../src/part/read.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { type Ease, NO_EASE, type Plan } from '../../src/plan/plan.ts';
import { PLAN_VARIANTS } from '../../src/plan/variants.ts';
import { ROOT, readBesides } from '../helpers.ts';
import { leverOnPlate } from '../lever-job.ts';

export interface Ready {
  readonly job: Job;
  readonly plan: Plan;
  readonly scene: HoldScene;
  readonly net: StockNet;
}

export function jobOf(text: string): Job {
  const read = readJob(text, 'job.json', { read: readBesides(join(ROOT, 'samples')) });
  if (!read.ok) throw new Error(read.problems.map(describeProblem).join('\n'));
  return read.value;
}

/** `force`: what every kind of pass beside the part may push with; null: as the cutter can. */
export function ready(text: string, force: number | null = null): Ready {
  const job = jobOf(text);
  const plan = makePlan(job, easeOf(force));
  if (!plan.ok) throw new Error(plan.problems.map(describeProblem).join('\n'));
  const scene = holdScene(inputOf(job, plan.value));
  const found = netOf(scene);
  if (found.kind !== 'net') throw new Error('no frame');
  return { job, plan: plan.value, scene, net: found.net };
}

/** What the holding is asked with, nothing known yet. */
export function inputOf(job: Job, plan: Plan): HoldInput {
  return { job, plan, tables: new Tables(), variants: PLAN_VARIANTS };
}

export function easeOf(force: number | null): Ease {
  return force === null ? NO_EASE : { solid: force, through: force, finishing: force, lightening: force };
}

export function sampleText(name: string): string {
  return readFileSync(join(ROOT, 'samples', `${name}.json`), 'utf8');
}

/** The lifting lever with some keys changed at the top level. */
export function lever(changes: Record<string, unknown> = {}): string {
  const base = {
    ...leverOnPlate(),
    stock: { size: [75, 30, 4], measured: 4, flatness: 0.02 },
    cutters: CUTTERS,
    hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 1 } },
  };
  return JSON.stringify({ ...base, ...changes });
}

export const CUTTERS = [
  {
    number: 1,
    kind: 'end mill',
    diameter: 3,
    flutes: 2,
    fluteLength: 9,
    stickOut: 18,
    shank: 6,
    material: 'carbide',
    helix: 30,
    centreCutting: true,
  },
  { number: 2, kind: 'spot drill', diameter: 6, angle: 90, stickOut: 25 },
  { number: 3, kind: 'drill', diameter: 2.05 },
  { number: 4, kind: 'drill', diameter: 4.9 },
  { number: 5, kind: 'reamer', diameter: 5, lead: 1.5 },
  { number: 6, kind: 'tap', thread: 'M2.5' },
  { number: 7, kind: 'drill', diameter: 2.9 },
  { number: 8, kind: 'reamer', diameter: 3 },
];
