/** Layouts by the room that tabs take, against all that can be tried one by one. */
import { describe, expect, it } from 'vitest';
import type { TabCandidate } from '../../../src/hold/scene/candidates.ts';
import { packedLayouts, tightest } from '../../../src/hold/search/packed.ts';
import { hasRoom, type Spacing } from '../../../src/hold/search/room.ts';
import { random, runs, SEED } from '../../runs.ts';

/** An edge with gaps where no tab may stand, and tabs that nearly fill it. */
function edge(r: () => number) {
  const all = 12 + Math.floor(6 * r());
  const length = all * (0.9 + 0.2 * r());
  const places = Array.from({ length: all }, (_, i): TabCandidate => {
    const s = (i * length) / all;
    return { s, at: { x: s, y: 0 }, normal: { x: 0, y: -1 }, curvature: 0, toCorner: 1, ease: 1 };
  }).filter(() => r() < 0.8);
  const count = 2 + Math.floor(2 * r());
  const spacing: Spacing = { length, footprint: ((0.5 + 0.5 * r()) * length) / count, free: r() < 0.5 ? 0 : 1.5 };
  return { places, count, spacing };
}

function oneByOne(places: readonly TabCandidate[], count: number, spacing: Spacing): string[] {
  const found: string[] = [];
  const next = (layout: readonly number[]): void => {
    if (layout.length === count) {
      if (hasRoom(places, layout, spacing)) found.push(layout.join());
      return;
    }
    for (let n = (layout.at(-1) ?? -1) + 1; n < places.length; n++) next([...layout, n]);
  };
  next([]);
  return found;
}

describe('packed layouts', () => {
  it('law: at the finest all there are, coarser some of them, and the tightest wherever there is any', () => {
    const r = random(SEED);
    const seen = { none: 0, some: 0 };
    for (let k = 0; k < runs(500); k++) {
      const { places, count, spacing } = edge(r);
      const all = oneByOne(places, count, spacing);
      const fine = packedLayouts(places, count, spacing, Number.POSITIVE_INFINITY);
      expect(fine.stride).toBe(1);
      expect(fine.layouts.map((l) => l.join()).sort()).toEqual([...all].sort());
      const most = Math.ceil(all.length / 3);
      const { layouts } = packedLayouts(places, count, spacing, most);
      expect(layouts.length).toBeLessThanOrEqual(most);
      for (const l of layouts) expect(all).toContain(l.join());
      const tight = tightest(places, count, spacing);
      if (all.length === 0) expect(tight).toBeNull();
      else expect(all).toContain(tight!.join());
      seen[all.length === 0 ? 'none' : 'some']++;
    }
    expect(Math.min(seen.none, seen.some)).toBeGreaterThan(0);
  });
});
