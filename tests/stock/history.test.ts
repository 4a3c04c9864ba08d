/** Any moment of a field, asked for in any order, is what the steps up to it leave of a whole one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { line, subSegment } from '../../src/geometry/measure/segment.ts';
import { Sweeper } from '../../src/stock/cutter.ts';
import { fieldOf } from '../../src/stock/field.ts';
import { type CutStep, FieldHistory, firstWhere, MOMENTS_KEPT } from '../../src/stock/history.ts';
import { runs, SEED } from '../runs.ts';

const whole = () => fieldOf([0, 0], [30, 20], -4, 0, 0.5);
const FLAT = { radius: 2, flat: true, lift: () => 0 };
const STEPS = 3 * MOMENTS_KEPT + 5;

/** Straight cuts that criss-cross the field, lower and lower; every seventh step cuts nothing. */
const cut: CutStep = (sweeper, i, share) => {
  if (i % 7 === 6) return sweeper.lift();
  const path = line({ x: (i * 7) % 30, y: (i * 3) % 20 }, { x: (i * 11) % 30, y: (i * 5 + 4) % 20 });
  sweeper.cut(subSegment(path, 0, share), -i / 20, -i / 20, FLAT);
};

function afresh(position: number): Float32Array {
  const field = whole();
  const sweeper = new Sweeper(field);
  for (let i = 0; i < Math.floor(position); i++) cut(sweeper, i, 1);
  if (position > Math.floor(position)) cut(sweeper, Math.floor(position), position - Math.floor(position));
  return field.heights;
}

describe('the history of a field', () => {
  it('gives every moment as if nothing else had been asked for', () => {
    const moments = fc.array(fc.integer({ min: 0, max: 4 * STEPS }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(moments, (quarters) => {
        const history = new FieldHistory(whole(), STEPS, cut);
        for (const q of quarters) expect(history.seek(q / 4)).toEqual(afresh(q / 4));
      }),
      { seed: SEED, numRuns: runs(200) },
    );
  });

  it('finds the first moment of what stays true', () => {
    const history = new FieldHistory(whole(), STEPS, cut);
    const last = history.seek(STEPS).slice();
    const cells = [...last.keys()].filter((k) => last[k]! < -1);
    expect(cells.length).toBeGreaterThan(100);
    for (const k of cells.slice(0, 20)) {
      const first = firstWhere(0, STEPS, (n) => history.seek(n)[k]! < -1);
      expect(history.seek(first)[k]!).toBeLessThan(-1);
      expect(history.seek(first - 1)[k]!).toBeGreaterThanOrEqual(-1);
    }
  });
});
