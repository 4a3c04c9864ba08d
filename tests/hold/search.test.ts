/** Places of tabs: never worse than chance, and what the search promises about room and forbidden stretches. */
import { describe, expect, it } from 'vitest';
import { candidates } from '../../src/hold/candidates.ts';
import { Layouts } from '../../src/hold/layouts.ts';
import { passesFor } from '../../src/hold/reckon.ts';
import { compareScores, type LayoutScore } from '../../src/hold/score.ts';
import { hasRoom, searchPlaces } from '../../src/hold/search.ts';
import { spacingOf, TABS_ALONE } from '../../src/hold/tabs-way.ts';
import { furthest } from '../../src/mechanics/furthest.ts';
import { randomLever } from '../laws/random-lever.ts';
import { random, runs, SEED } from '../runs.ts';
import { ready } from './scenes.ts';

function fieldOf(text: string, width: number, height: number) {
  // Passes eased until most of these levers hold: layouts that all fail say little.
  const { scene, net } = ready(text, 15);
  const { places, length } = candidates(scene, width);
  const way = { ...TABS_ALONE, tabs: { width, cutHeight: height, height, places: [] } };
  const passes = passesFor(scene, way)
    .filter((p) => p.below === 0 && p.kind !== 'lightening')
    .map((p) => ({
      ...p,
      forces: furthest(p.forces, Math.PI / 4),
      hollowForces: furthest(p.hollowForces, Math.PI / 4),
    }));
  const layouts = new Layouts(scene, net, places, { width, height }, passes, []);
  return { layouts, places, spacing: spacingOf(scene, width, height, length), scene };
}

describe('chosen places', () => {
  it('law: never worse than the best of 2000 random layouts of the same count, width and height', () => {
    const jobs = runs(20);
    const layoutsEach = 2000;
    let compared = 0;
    for (let k = 0; k < jobs; k++) {
      const lever = randomLever(SEED + k);
      const { layouts, places, spacing } = fieldOf(lever.text, 1.5, 0.6);
      const found = searchPlaces(layouts, 3, spacing, 'thorough');
      expect(found, `seed ${lever.seed}`).not.toBeNull();
      const r = random(SEED + k);
      let best: LayoutScore | null = null;
      let tried = 0;
      for (let i = 0; i < 20 * layoutsEach && tried < layoutsEach; i++) {
        const layout = Array.from({ length: 3 }, () => Math.floor(r() * places.length));
        if (new Set(layout).size < 3 || !hasRoom(places, layout, spacing)) continue;
        tried++;
        const s = layouts.score(layout, best);
        if (s !== null) best = s;
      }
      expect(tried, `seed ${lever.seed}`).toBe(layoutsEach);
      expect(best).not.toBeNull();
      const by = compareScores(found!.score, best!);
      compared += tried;
      expect(
        by,
        `seed ${lever.seed}: ${JSON.stringify(found!.score)} against ${JSON.stringify(best)}`,
      ).toBeLessThanOrEqual(0);
    }
    expect(compared).toBe(jobs * layoutsEach);
  }, 60_000);

  it('keeps tabs a footprint apart, leaves a way in, and is the same every time', () => {
    const { layouts, places, spacing } = fieldOf(randomLever(SEED + 100).text, 1.5, 0.6);
    const a = searchPlaces(layouts, 4, spacing, 'thorough');
    const b = searchPlaces(layouts, 4, spacing, 'thorough');
    expect(a).toEqual(b);
    expect(hasRoom(places, a!.layout, spacing)).toBe(true);
  });

  it('a score that gives up early never hides a better layout', () => {
    const { layouts, places, spacing } = fieldOf(randomLever(SEED + 101).text, 1.5, 0.6);
    const r = random(7);
    let best: LayoutScore | null = null;
    let checked = 0;
    for (let i = 0; i < 400; i++) {
      const layout = Array.from({ length: 3 }, () => Math.floor(r() * places.length));
      if (new Set(layout).size < 3 || !hasRoom(places, layout, spacing)) continue;
      const whole = layouts.score(layout);
      const quick = layouts.score(layout, best);
      const better = whole !== null && (best === null || compareScores(whole, best) < 0);
      expect(quick !== null).toBe(better);
      if (better) best = whole;
      checked++;
    }
    expect(checked).toBeGreaterThan(50);
  });
});
