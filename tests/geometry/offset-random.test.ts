import { describe, expect, test } from 'vitest';
import { SegmentIndex } from '../../src/geometry/measure/index.ts';
import { loopArea, loopLength, regionArea } from '../../src/geometry/measure/loop.ts';
import { bulgeOf } from '../../src/geometry/measure/segment.ts';
import { offsetRegion } from '../../src/geometry/offset/offset.ts';
import { fromVertices, type OutlineVertex } from '../../src/geometry/shapes.ts';
import type { Loop, Region } from '../../src/geometry/types.ts';
import { validateLoop } from '../../src/geometry/validate.ts';
import { random, runs, SEED } from '../runs.ts';
import { sample } from './helpers.ts';
import { signedDistance } from './oracle.ts';
import { randomRegion } from './outlines.ts';
import { byClipper2, byJsts } from './references.ts';

const DISTANCES = [3, -3, 1, -1, 0.05, -0.05, -6];
const CHORD = 0.001;
/** The promise for any outline, mm (for levers it is 0.0001, see offset.test.ts). */
const WITHIN = 0.0002;

function regionsAt(region: Region, d: number): readonly Region[] {
  const result = offsetRegion(region, d);
  if (result.kind === 'failed') throw new Error(`offset ${d} failed: ${result.reason}`);
  return result.kind === 'vanished' ? [] : result.regions;
}

const loopsOf = (regions: readonly Region[]): Loop[] => regions.flatMap((g) => [g.outer, ...g.holes]);
const sum = (values: readonly number[]): number => values.reduce((s, v) => s + v, 0);

describe(`500 random outlines (a tenth unless LAWS=full), seed ${SEED}`, () => {
  test('every point lies at the distance asked, no loop is lost, ends are shared, loops have their sense', () => {
    const r = random(SEED);
    const seen = { offsets: 0, points: 0, vanished: 0, split: 0, openings: 0, unshared: 0, wrongSense: 0, worst: 0 };
    for (let n = 0; n < runs(500); n++) {
      const region = randomRegion(r);
      for (const d of DISTANCES) {
        const regions = regionsAt(region, d);
        const loops = loopsOf(regions);
        seen.offsets++;
        if (regions.length === 0) seen.vanished++;
        if (regions.length > 1) seen.split++;
        seen.openings += loops.length - regions.length;
        for (const g of regions) {
          if (!(loopArea(g.outer) > 0) || g.holes.some((h) => !(loopArea(h) < 0))) seen.wrongSense++;
        }
        for (const loop of loops) {
          for (const [i, s] of loop.entries()) {
            if (s.b !== loop[(i + 1) % loop.length]!.a) seen.unshared++;
            for (const q of sample(s, 2)) {
              seen.points++;
              seen.worst = Math.max(seen.worst, Math.abs(signedDistance(region, q) - d));
            }
          }
        }
        const area = sum(regions.map(regionArea));
        const length = sum(loops.map(loopLength));
        const other = byClipper2(region, d, CHORD);
        // A flattened edge errs by at most the chord on each side of its length, and so does the join.
        expect(Math.abs(area - other.area), `area, outline ${n}, ${d}`).toBeLessThan(3 * CHORD * length + 0.01);
      }
    }
    expect(seen).toMatchObject({ unshared: 0, wrongSense: 0 });
    expect(seen.worst).toBeLessThan(WITHIN);
    expect(seen.points).toBeGreaterThan(10_000);
    for (const count of [seen.vanished, seen.split, seen.openings]) expect(count).toBeGreaterThan(0);
  });

  test('area and length agree with two other libraries', () => {
    const r = random(SEED + 1);
    let compared = 0;
    for (let n = 0; n < runs(150); n++) {
      const region = randomRegion(r);
      for (const d of [2, -1.5]) {
        const regions = regionsAt(region, d);
        const loops = loopsOf(regions);
        const area = sum(regions.map(regionArea));
        const length = sum(loops.map(loopLength));
        const near = [d - 2 * CHORD, d + 2 * CHORD].map((e) => sum(loopsOf(regionsAt(region, e)).map(loopLength)));
        const lengths = [length, ...near];
        for (const other of [byClipper2(region, d, CHORD), byJsts(region, d, CHORD)]) {
          compared++;
          expect(Math.abs(area - other.area), `area, outline ${n}, ${d}`).toBeLessThan(3 * CHORD * length + 0.01);
          // Where a neck is about to close, a chord of depth decides over much length: ours a little to either side is allowed for.
          expect(other.length, `length, outline ${n}, ${d}`).toBeGreaterThan(Math.min(...lengths) * 0.999 - 0.01);
          expect(other.length, `length, outline ${n}, ${d}`).toBeLessThan(Math.max(...lengths) * 1.001 + 0.01);
        }
      }
    }
    expect(compared).toBeGreaterThan(40);
  });

  test('an inset never gains area, an outset never loses any; out and back contains the original', () => {
    const r = random(SEED + 2);
    let tried = 0;
    for (let n = 0; n < runs(200); n++) {
      const region = randomRegion(r);
      const area = regionArea(region);
      const d = 0.2 + 3 * r();
      expect(sum(regionsAt(region, -d).map(regionArea))).toBeLessThan(area);
      const out = regionsAt(region, d);
      expect(sum(out.map(regionArea))).toBeGreaterThan(area);
      const back = out.flatMap((g) => regionsAt(g, -d));
      for (const q of loopsOf([region]).flatMap((loop) => loop.map((s) => s.a))) {
        tried++;
        expect(Math.min(...back.map((g) => signedDistance(g, q)))).toBeLessThan(WITHIN);
      }
    }
    expect(tried).toBeGreaterThan(100);
  });

  test('outlines of 3,000 short rough edges: the same area as by another library, every piece at its distance', () => {
    const r = random(SEED + 3);
    let pieces = 0;
    for (let n = 0; n < runs(10); n++) {
      const lobes = 3 + Math.floor(6 * r());
      const made = fromVertices(
        Array.from({ length: 3000 }, (_, i): OutlineVertex => {
          const angle = (2 * Math.PI * i) / 3000;
          const q = 30 + 4 * Math.sin(lobes * angle) + 0.02 * (r() - 0.5);
          return [q * Math.cos(angle), q * Math.sin(angle)];
        }),
      );
      if (!made.ok) throw new Error('no outline');
      const region = { outer: made.value, holes: [] };
      const index = new SegmentIndex(made.value);
      for (const d of [3, -3, -12]) {
        const loops = loopsOf(regionsAt(region, d));
        const area = sum(loops.map(loopArea));
        expect(Math.abs(area - byJsts(region, d, CHORD).area)).toBeLessThan(3 * CHORD * sum(loops.map(loopLength)));
        for (const q of loops.flat().flatMap((s) => sample(s, 2))) {
          pieces++;
          expect(Math.abs(index.nearest(q)!.distance - Math.abs(d))).toBeLessThan(WITHIN);
        }
      }
    }
    expect(pieces).toBeGreaterThan(1000);
  });

  test('outlines with tangent arcs, rounded to six decimals as drawings are: out and back, in and out', () => {
    const r = random(SEED + 4);
    let [there, andBack] = [0, 0];
    for (let n = 0; n < runs(200); n++) {
      const drawn = rounded(randomRegion(r).outer);
      if (drawn === undefined) continue;
      const f = 0.2 + 2 * r();
      for (const d of [f, -f, 2 * f, -2 * f]) {
        for (const g of regionsAt({ outer: drawn, holes: [] }, d)) {
          there++;
          for (const back of loopsOf(regionsAt(g, -d)).flat()) {
            andBack++;
            const off = signedDistance({ outer: drawn, holes: [] }, back.a);
            // Opening takes away and closing adds: never the other way about.
            expect(d > 0 ? off : -off).toBeGreaterThan(-WITHIN);
          }
        }
      }
    }
    expect(Math.min(there, andBack)).toBeGreaterThan(50);
  });
});

function rounded(loop: Loop): Loop | undefined {
  const six = (v: number): number => Number(v.toFixed(6));
  const made = fromVertices(loop.map((s): OutlineVertex => [six(s.a.x), six(s.a.y), six(bulgeOf(s))]));
  return made.ok && validateLoop(made.value).length === 0 ? made.value : undefined;
}
