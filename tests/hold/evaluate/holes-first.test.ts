/** Holes before the tabs bear anything: the order of every plan, and what a drill does to the whole plate. */
import { describe, expect, it } from 'vitest';
import { holesFirst } from '../../../src/hold/evaluate/holes-first.ts';
import { chooseHolding } from '../../../src/hold/ways/choose.ts';
import { makePlan } from '../../../src/plan/make-plan.ts';
import { randomJob } from '../../laws/random-job.ts';
import { runs, SEED } from '../../runs.ts';
import { inputOf, jobOf, lever, ready } from '../scenes.ts';

/** All that cuts in the plate but the profile itself, its chamfer and the thinning of tabs. */
const ALLOWED_AFTER = new Set(['rough', 'finish', 'chamfer', 'lighten']);

describe('order', () => {
  it('law: nothing is drilled, reamed, tapped, bored or pocketed once the outline is begun', () => {
    const seen = { plans: 0, holes: 0, after: 0 };
    for (let i = 0; i < runs(200); i++) {
      const { seed, text } = randomJob(SEED + i);
      const plan = makePlan(jobOf(text));
      if (!plan.ok) continue;
      seen.plans++;
      let begun = false;
      for (const op of plan.value.setups[0]!.operations) {
        begun ||= op.what === 'rough' && op.target.kind === 'outline';
        if (op.target.kind === 'holes' || op.target.kind === 'bore') seen.holes++;
        if (!begun) continue;
        seen.after++;
        expect(ALLOWED_AFTER, `seed ${seed}: ${op.title}`).toContain(op.what);
      }
    }
    expect(seen.plans).toBeGreaterThan(0.8 * runs(200));
    expect(seen.holes).toBeGreaterThan(seen.plans);
    expect(seen.after).toBeGreaterThan(2 * seen.plans);
  });
});

/** One hole midway between clamps 40 mm apart, in a plate 30 mm wide. */
function midway(changes: Record<string, unknown> = {}, thickness = 4) {
  const part = {
    thickness,
    outline: {
      bosses: [
        { at: [-12, 0], radius: 5 },
        { at: [12, 0], radius: 5 },
      ],
    },
    holes: [{ at: [0, 0], drill: 2.9 }],
  };
  return lever({
    part,
    stock: { size: [70, 30, thickness], measured: thickness },
    place: [{ at: [35, 15] }],
    clamps: [
      { from: [0, 0], to: [10, 30], height: 12 },
      { from: [60, 0], to: [70, 30], height: 12 },
    ],
    hold: { by: 'tabs', tabs: { count: 3, width: 2, height: 0.6 } },
    ...changes,
  });
}

describe('a drill in the whole plate', () => {
  it('springs it as a beam built in at both clamps: F L^3/(192 E I) (Megson, beams built in at both ends)', () => {
    const { scene } = ready(midway());
    const drilled = holesFirst(scene)!;
    const [length, wide, thick] = [50, 30, 4 - scene.thinnest];
    const wanted = length ** 3 / (192 * scene.metal.modulus * ((wide * thick ** 3) / 12));
    expect(drilled.springs! / drilled.force).toBeCloseTo(wanted, 12);
    expect(drilled.upwards).toBe(true);
    expect(drilled.force).toBe(drilled.pull);
  });

  it('one clamp: as a cantilever, F L^3/(3 E I); nothing under it: pushed down harder than it is pulled', () => {
    const one = ready(midway({ clamps: [{ from: [0, 0], to: [10, 30], height: 12 }] })).scene;
    const drilled = holesFirst(one)!;
    const wide = 25;
    const inertia = (wide * (4 - one.thinnest) ** 3) / 12;
    expect(drilled.springs! / drilled.force).toBeCloseTo(25 ** 3 / (3 * one.metal.modulus * inertia), 12);
    const hollow = holesFirst(ready(midway({ under: { kind: 'parallels', thickness: 10 } })).scene)!;
    expect(hollow.upwards).toBe(false);
    expect(hollow.force).toBeGreaterThan(drilled.force);
  });

  it('a thin plate that springs further than a roughing pass may is told, a thicker one not', () => {
    const told = (thickness: number) => {
      const job = jobOf(midway({}, thickness));
      const plan = makePlan(job);
      if (!plan.ok) throw new Error('no plan');
      const out = chooseHolding(inputOf(job, plan.value));
      return out.problems.map((p) => p.code);
    };
    expect(told(1)).toContain('plate-springs');
    expect(told(4)).not.toContain('plate-springs');
  });

  it('no hole: nothing to say', () => {
    const { part } = JSON.parse(midway());
    expect(holesFirst(ready(midway({ part: { ...part, holes: [] } })).scene)).toBeNull();
  });
});
