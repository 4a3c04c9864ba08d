/**
 * Outlines written to three decimals, moved out and taken back: fillets shrink to nothing and leave cusps whose sides cross within
 * rounding. Taken back, the area is that of the source opened or closed by a disc, so it is never smaller, or never larger.
 */
import { expect, test } from 'vitest';
import { regionArea } from '../../src/geometry/measure/loop.ts';
import { bulgeOf } from '../../src/geometry/measure/segment.ts';
import { offsetRegion } from '../../src/geometry/offset/offset.ts';
import { fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';
import { random, runs, SEED } from '../runs.ts';
import { randomRegion } from './outlines.ts';

function written(loop: Loop): Loop | undefined {
  const round = (v: number, step: number) => Math.round(v / step) * step;
  const vertices = loop.map((s): OutlineVertex => {
    const at = [round(s.a.x, 0.001), round(s.a.y, 0.001)] as const;
    return s.kind === 'line' ? [...at] : [...at, round(bulgeOf(s), 1e-6)];
  });
  const read = fromVertices(vertices);
  return read.ok ? read.value : undefined;
}

function moved(regions: readonly Region[], d: number, what: string): readonly Region[] {
  return regions.flatMap((region) => {
    const out = offsetRegion(region, d);
    if (out.kind === 'failed') throw new Error(`${what} by ${d}: ${out.reason}`);
    return out.kind === 'vanished' ? [] : out.regions;
  });
}

const areaOf = (regions: readonly Region[]) => regions.reduce((sum, g) => sum + regionArea(g), 0);

test('outlines rounded to 0.001 mm, there and back by the radius of their fillets: none fails', () => {
  const r = random(SEED);
  let seen = 0;
  for (let n = 0; n < runs(1000); n++) {
    const drawn = randomRegion(r);
    const outer = written(drawn.outer);
    if (outer === undefined) continue;
    const region = { outer, holes: drawn.holes };
    const own = regionArea(region);
    for (const d of [0.5, 1]) {
      const what = `outline ${n} of seed ${SEED}`;
      expect(areaOf(moved(moved([region], d, what), -d, `${what} back`)), what).toBeGreaterThan(own - 0.001);
      const inner = moved([region], -d, what);
      const back = areaOf(moved(inner, d, `${what} back`));
      // Areas that a neck has parted overlap in it when each is moved out again.
      if (inner.length < 2) expect(back, what).toBeLessThan(own + 0.001);
      seen++;
    }
  }
  expect(seen).toBeGreaterThan(runs(1000));
});

// Found by the law above: the two sides of the cusp cross by 86 picometres.
test('a slit whose sides cross by less than rounding turns as they lie farther on', () => {
  const r = random(1027);
  let drawn = randomRegion(r);
  for (let n = 0; n < 19; n++) drawn = randomRegion(r);
  const region = { outer: written(drawn.outer)!, holes: drawn.holes };
  expect(moved(moved([region], 0.5, 'out'), -0.5, 'back')).toHaveLength(1);
});
