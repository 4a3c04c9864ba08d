/** Jobs for the tests of the plan: a lever of the demo clock, changed by hand, read by the part stage, planned. */
import { describeProblem, type Problem } from '../../src/base/problem.ts';
import type { Cutter, Job } from '../../src/part/part.ts';
import { readJob } from '../../src/part/read.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import type { Operation, Plan } from '../../src/plan/plan.ts';
import { DRAWER_HOLDER, type DrawerCutter, defaultDrawer, drawerTap } from '../../src/trade/drawer.ts';
import { THREADS } from '../../src/trade/threads/threads.ts';

export type RawJob = any;

export function lever(change: (job: RawJob) => void = () => {}): RawJob {
  const job: RawJob = {
    name: 'lever',
    material: 'CuZn39Pb3',
    part: {
      thickness: 4,
      outline: {
        bosses: [
          { at: [0, 0], radius: 12 },
          { at: [42, 0], radius: 8 },
        ],
      },
      holes: [],
    },
    stock: { size: [120, 50, 4], measured: 4 },
    hold: 'auto',
  };
  change(job);
  return job;
}

export function withHole(hole: RawJob, change: (job: RawJob) => void = () => {}): RawJob {
  return lever((j) => {
    j.part.holes.push({ at: [0, 0], ...hole });
    change(j);
  });
}

export function jobOf(raw: RawJob): Job {
  const out = readJob(JSON.stringify(raw), 'job.json', { read: () => ({ ok: false, problems: [] }) });
  if (!out.ok) throw new Error(`not read: ${out.problems.map(describeProblem).join('\n')}`);
  return out.value;
}

/** Faults of reading a job. */
export function readProblems(raw: RawJob): readonly Problem[] {
  return readJob(JSON.stringify(raw), 'job.json', { read: () => ({ ok: false, problems: [] }) }).problems;
}

export interface Planned {
  readonly job: Job;
  readonly plan: Plan;
  readonly operations: readonly Operation[];
  readonly told: readonly Problem[];
}

export function planOf(raw: RawJob): Planned {
  const job = jobOf(raw);
  const out = makePlan(job);
  if (!out.ok) throw new Error(`refused: ${out.problems.map(describeProblem).join('\n')}`);
  const operations = out.value.setups.flatMap((s) => s.operations);
  return { job, plan: out.value, operations, told: out.problems };
}

/** The faults with which planning is refused. */
export function refusals(raw: RawJob): readonly Problem[] {
  const out = makePlan(jobOf(raw));
  if (out.ok) throw new Error('planned, although a refusal was expected');
  return out.problems.filter((p) => p.severity === 'fault');
}

export function cutterOf(p: Planned, op: Operation): Cutter {
  return p.plan.cutters.find((c) => c.number === op.cutter)!;
}

export function only<T>(list: readonly T[]): T {
  if (list.length !== 1) throw new Error(`${list.length} found, one wanted`);
  return list[0]!;
}

/** The whole stated drawer, with the tap of every thread. */
export function wholeDrawer(): readonly Cutter[] {
  return [...defaultDrawer(), ...THREADS.map(drawerTap)].map((row, i) => asCutter(row, i + 1));
}

function asCutter(row: DrawerCutter, number: number): Cutter {
  const { helix, point, source: _s, mark: _m, reason: _r, ...same } = row;
  return {
    ...same,
    ...{ number, nominal: row.diameter, helixDeg: helix, pointDeg: point, fromDrawer: true },
    holder: { diameter: DRAWER_HOLDER.diameter, length: DRAWER_HOLDER.length },
  };
}
