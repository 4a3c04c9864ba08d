/** Cells taken together: the least height of each block, and which blocks a strip meets. */
import { describe, expect, it } from 'vitest';
import { blockCentre, blocksIn, blocksOf } from '../../src/stock/blocks.ts';
import { centreX, centreY, fieldOf } from '../../src/stock/field.ts';
import { random, SEED } from '../runs.ts';

const field = fieldOf([-3, 2], [20, 15], -4, 0, 0.5);

describe('blocks of a field', () => {
  it('are as low as their lowest cell, and at the bottom where a cell is left out', () => {
    const unit = random(SEED);
    const heights = field.heights.map(() => -4 * unit());
    const out = new Int16Array(heights.length);
    for (let i = 0; i < 20; i++) out[Math.floor(unit() * out.length)] = 1;
    const blocks = blocksOf(field, heights, out, 1.5);
    expect(blocks.side).toBe(1.5);
    expect([blocks.cols, blocks.rows]).toEqual([15, 8]);
    let dead = 0;
    for (let b = 0; b < blocks.least.length; b++) {
      const middle = blockCentre(blocks, b);
      let least = Infinity;
      for (let k = 0; k < heights.length; k++) {
        const x = centreX(field, k % field.cols);
        const y = centreY(field, Math.floor(k / field.cols));
        if (Math.abs(x - middle.x) > 0.75 || Math.abs(y - middle.y) > 0.75) continue;
        least = Math.min(least, out[k] !== 0 ? field.bottom : heights[k]!);
      }
      if (least === field.bottom) dead++;
      expect(blocks.least[b]).toBe(least);
    }
    expect(dead).toBeGreaterThan(5);
  });

  it('in a strip are those with their middle in it', () => {
    const blocks = blocksOf(field, field.heights, new Int16Array(field.heights.length), 0);
    const angle = 0.7;
    const strip = { at: { x: 4, y: 6 }, out: { x: Math.cos(angle), y: Math.sin(angle) }, length: 7, width: 3 };
    const found = blocksIn(blocks, strip);
    expect(found.length * blocks.side ** 2).toBeGreaterThan(19);
    expect(found.length * blocks.side ** 2).toBeLessThan(23);
    for (const k of found) {
      const p = blockCentre(blocks, k);
      expect(Math.hypot(p.x - 4, p.y - 6)).toBeLessThanOrEqual(Math.hypot(7, 1.5));
    }
  });
});
