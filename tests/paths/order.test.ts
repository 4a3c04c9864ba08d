import { describe, expect, it } from 'vitest';
import { dist } from '../../src/geometry/measure/point.ts';
import type { Point } from '../../src/geometry/types.ts';
import { shortOrder } from '../../src/paths/order.ts';
import { random, runs, SEED } from '../runs.ts';

const START = { x: 0, y: 0 };

function length(tour: readonly Point[]): number {
  return tour.reduce((sum, p, i) => sum + dist(i === 0 ? START : tour[i - 1]!, p), 0);
}

function nearest(places: readonly Point[]): Point[] {
  const rest = [...places];
  const out: Point[] = [];
  let here: Point = START;
  while (rest.length > 0) {
    rest.sort((a, b) => dist(here, a) - dist(here, b));
    here = rest.shift()!;
    out.push(here);
  }
  return out;
}

/** The shortest of all orders, by trying every one. */
function shortest(places: readonly Point[]): number {
  const walk = (here: Point, rest: readonly Point[]): number =>
    rest.length === 0
      ? 0
      : Math.min(...rest.map((p, i) => dist(here, p) + walk(p, [...rest.slice(0, i), ...rest.slice(i + 1)])));
  return walk(START, places);
}

describe('order of visiting', () => {
  it('visits every place once, never further than nearest first, the same way each time', () => {
    const r = random(SEED);
    let seen = 0;
    for (let i = 0; i < runs(300); i++) {
      const places = Array.from({ length: 2 + Math.floor(r() * 20) }, () => ({ x: r() * 100, y: r() * 60 }));
      const order = shortOrder(places, START);
      expect(new Set(order)).toEqual(new Set(places));
      expect(length(order)).toBeLessThanOrEqual(length(nearest(places)) + 1e-9);
      expect(shortOrder(places, START)).toEqual(order);
      seen++;
    }
    expect(seen).toBe(runs(300));
  });

  it('is within a tenth of the shortest possible for up to seven places, on the average', () => {
    const r = random(SEED + 1);
    let over = 0;
    const count = runs(100);
    for (let i = 0; i < count; i++) {
      const places = Array.from({ length: 3 + Math.floor(r() * 5) }, () => ({ x: r() * 100, y: r() * 60 }));
      over += length(shortOrder(places, START)) / shortest(places) - 1;
    }
    expect(over / count).toBeLessThan(0.1);
  });
});
