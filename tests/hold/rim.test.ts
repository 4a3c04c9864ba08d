/** Glued parts at their rim: which place rules, by how much, and that the plan heeds it. */
import { describe, expect, it } from 'vitest';
import { easeFor } from '../../src/hold/evaluate/budget.ts';
import { groundedOf } from '../../src/hold/evaluate/grounded.ts';
import { judge } from '../../src/hold/evaluate/judge.ts';
import { NO_WAY } from '../../src/hold/way.ts';
import { draftHolding } from '../../src/hold/ways/choose.ts';
import type { RimLimit } from '../../src/mechanics/support/rim.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { NO_EASE } from '../../src/plan/plan.ts';
import { GLUE_ALLOWABLE } from '../../src/trade/holding-rules.ts';
import { mustMakeSample } from '../helpers.ts';
import { inputOf, jobOf, ready, sampleText } from './scenes.ts';

const HAND = sampleText('minute-hand');

function rimOf(text: string, glue: { shear: number; tension: number; wetted: number }): RimLimit {
  const { scene } = ready(text, 5);
  const limit = groundedOf(scene, 0, { ...NO_WAY, by: 'glue', glue }).limit(new Float64Array(36));
  if (limit.kind !== 'bond') throw new Error('no bond');
  return limit.rim;
}

const most = (rim: RimLimit) => Math.max(...[...rim.compliances.values()].map((g) => g.lift));

describe('rim of a glued part', () => {
  it('the tip of the hand feels most, half as much again as the least place of its edge, and less when it is rounder', () => {
    const glue = { shear: 2, tension: 1, wetted: 0.7 };
    const rim = rimOf(HAND, glue);
    const worst = [...rim.compliances].reduce((a, b) => (b[1].lift > a[1].lift ? b : a));
    expect(worst[0].x).toBeGreaterThan(36 + 51);
    const least = Math.min(...[...rim.compliances.values()].map((g) => g.lift));
    expect(worst[1].lift).toBeGreaterThan(1.5 * least);
    const rounder = rimOf(HAND.replace('"radius": 1 ', '"radius": 2 '), glue);
    expect(most(rounder)).toBeLessThan(0.85 * most(rim));
  });

  it('what it may be asked are the peaks of a tested lap joint at the allowed mean, and goes with the lesser of what the job trusts', () => {
    const rim = rimOf(HAND, { shear: 2, tension: 1, wetted: 0.7 });
    // Joints bore five times and more of the mean: so do their ends.
    expect(rim.pull).toBeGreaterThan(2 * GLUE_ALLOWABLE.shear.value);
    expect(rim.shear).toBeGreaterThan(2 * GLUE_ALLOWABLE.shear.value);
    expect(rim.line).toBe(GLUE_ALLOWABLE.peelLine.value);
    const half = rimOf(HAND, { shear: 2, tension: 0.5, wetted: 0.7 });
    expect(half.pull).toBeCloseTo(rim.pull / 2, 9);
    expect(half.line).toBe(0.5);
    expect(rimOf(HAND, { shear: 1, tension: 1, wetted: 0.7 }).shear).toBeCloseTo(rim.shear / 2, 9);
    expect(most(rimOf(HAND, { shear: 2, tension: 1, wetted: 0.5 }))).toBeGreaterThan(most(rim));
  });

  it('the plan is eased until the rim bears it, and says where it is nearest its limit', () => {
    const { holding } = mustMakeSample('minute-hand');
    const { margin } = judge(holding.evaluation);
    expect(margin.least).toBeGreaterThanOrEqual(1);
    expect(margin.least).toBeLessThan(1.2);
    expect(holding.reasons.join('\n')).toMatch(/nearest its limit at the rim, at 8\d\.\d, 1\d\.\d/);
  });

  it('passes before the one that goes through are eased as the plan eases them, though the lowest may be through', () => {
    const job = jobOf(HAND.replace('"radius": 1 ', '"radius": 1.5 '));
    let ease = NO_EASE;
    let least = 0;
    for (let round = 0; round < 4; round++) {
      const plan = makePlan(job, ease);
      if (!plan.ok) throw new Error('no plan');
      const draft = draftHolding(inputOf(job, plan.value));
      if (!draft.ok) throw new Error('refused');
      least = judge(draft.value.holding.evaluation).margin.least;
      ease = easeFor(draft.value.holding, ease) ?? ease;
    }
    expect(least).toBeGreaterThanOrEqual(1);
  });
});
