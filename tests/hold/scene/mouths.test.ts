/** The frame before a pocket that is open at the edge. */
import { describe, expect, it } from 'vitest';
import { decide, netOf } from '../../../src/hold/evaluate/decide.ts';
import { judge } from '../../../src/hold/evaluate/judge.ts';
import { mouthsOf, takenAt } from '../../../src/hold/scene/mouths.ts';
import { holdScene } from '../../../src/hold/scene/scene.ts';
import { draftHolding } from '../../../src/hold/ways/choose.ts';
import { CUTTERS, inputOf, lever, ready } from '../scenes.ts';

const WIDE = { ...CUTTERS[0]!, number: 9, diameter: 6, fluteLength: 13, stickOut: 20 };

/** A square lever with a broad notch, 3 of its 4 mm deep, open towards the rail between it and the stock's near side. */
const NOTCHED = lever({
  part: {
    thickness: 4,
    outline: {
      vertices: [
        [0, 0],
        [40, 0],
        [40, 14],
        [0, 14],
      ],
    },
    pockets: [
      {
        outline: {
          vertices: [
            [10, -1],
            [30, -1],
            [30, 7],
            [10, 7],
          ],
        },
        depth: 3,
      },
    ],
  },
  stock: { size: [75, 34, 4], measured: 4, flatness: 0.02 },
  place: [{ at: [18, 8] }],
  clamps: [
    { from: [0, 0], to: [8, 34], height: 12 },
    { from: [67, 0], to: [75, 34], height: 12 },
  ],
  cutters: [...CUTTERS, WIDE],
  hold: {
    by: 'tabs',
    tabs: {
      count: 4,
      width: 2,
      height: 1,
      at: [
        [4, 0],
        [36, 0],
        [4, 14],
        [36, 14],
      ],
    },
  },
});

describe('a blind pocket that is open at the edge', () => {
  const { job, plan, scene, net } = ready(NOTCHED, 20);

  it('thins the frame before it as deep as it is, as far out as its cutter, and nothing else', () => {
    const mouths = mouthsOf(job, plan);
    // The wider cutter, and a smaller one into the corners after it.
    expect(mouths.length).toBeGreaterThan(0);
    const { target } = plan.setups[0]!.operations.find((o) => o.what === 'pocket')!;
    if (target.kind !== 'pocket') throw new Error('no pocket');
    expect(target.out).toBeGreaterThan(scene.slotWidth);
    expect(takenAt(mouths, 38, 8 - target.out + 0.1)).toBe(3);
    expect(takenAt(mouths, 38, 8 - target.out - 0.1)).toBe(0);
    expect(takenAt(mouths, 18 + 5, 5)).toBe(0);
  });

  it('lets the part move more than were the frame whole, and its tabs bear less', () => {
    const draft = draftHolding(inputOf(job, plan));
    if (!draft.ok) throw new Error('refused');
    const { way, footprint } = draft.value.decided;
    const judged = (s: typeof scene, n: typeof net) => {
      const d = decide(s, n, { way, footprint, reasons: [] }, true);
      if (d.kind === 'refused') throw new Error('loose');
      return judge(d.decided.evaluation);
    };
    const whole = ready(NOTCHED, 20);
    const unthinned = { ...whole.scene, mouths: [] };
    const found = netOf(unthinned);
    if (found.kind !== 'net') throw new Error('no frame');
    const solid = found.net;
    const [thin, full] = [judged(holdScene(inputOf(job, plan)), net), judged(unthinned, solid)];
    expect(thin.movement.most).toBeGreaterThan(1.01 * full.movement.most);
    expect(thin.margin.least).toBeLessThan(full.margin.least);
  });
});
