import { describe, expect, it } from 'vitest';
import { Foremost } from '../../src/base/foremost.ts';
import { random, SEED } from '../runs.ts';

describe('foremost first', () => {
  it('law: whatever is added and taken in between, the foremost of what waits comes next', () => {
    const r = random(SEED);
    const waiting = new Foremost<number>((a, b) => a < b);
    const kept: number[] = [];
    for (let k = 0; k < 2000; k++) {
      if (r() < 0.55) {
        const n = Math.floor(50 * r());
        waiting.add(n);
        kept.push(n);
      } else {
        kept.sort((a, b) => a - b);
        expect(waiting.take()).toBe(kept.shift());
      }
    }
    kept.sort((a, b) => a - b);
    for (const n of kept) expect(waiting.take()).toBe(n);
    expect(waiting.take()).toBeUndefined();
  });
});
