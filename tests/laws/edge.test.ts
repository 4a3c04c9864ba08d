/**
 * Random levers with a hole from the edge: made without a fault, or refused because of where that hole is. The judge of the place is
 * not the check: the hole's axis, put back into the part's plane, must run from the mouth to the boss's centre.
 */
import { describe, expect, it } from 'vitest';
import { toRad } from '../../src/base/units.ts';
import { makeText } from '../helpers.ts';
import { random, runs, SEED } from '../runs.ts';
import { randomLever } from './random-lever.ts';

describe('random holes from the edge', () => {
  const count = runs(20);

  it(`${count} of them: made in place, or refused with the reason`, () => {
    let made = 0;
    const refused = new Map<string, number>();
    for (let i = 0; i < 6 * count && made < count; i++) {
      const r = random(SEED + 7000 + i);
      const job = JSON.parse(randomLever(SEED + 7000 + i).text);
      const { bosses } = job.part.outline;
      const boss = Math.floor(r() * bosses.length);
      const direction = Math.round(360 * r());
      job.part.edgeHoles = [{ boss, direction, drill: 1, depth: Math.round(10 * bosses[boss].radius * r() + 5) / 10 }];
      job.cutters.push({ number: 9, kind: 'drill', diameter: 1 });
      const out = makeText(JSON.stringify(job));
      if (!out.ok) {
        for (const p of out.problems) refused.set(p.code, (refused.get(p.code) ?? 0) + 1);
        continue;
      }
      expect(out.value.report.faults, `seed ${SEED + 7000 + i}`).toEqual([]);
      const edge = out.value.plan.setups[1]!.edge!;
      // Two points known in both: the bosses' centres. Distances and the turn between them are kept, the sense too.
      const [a, b] = [bosses[boss], bosses[(boss + 1) % bosses.length]];
      const [pa, pb] = [edge.centres[boss]!, edge.centres[(boss + 1) % bosses.length]!];
      const [dx, dy] = [b.at[0] - a.at[0], b.at[1] - a.at[1]];
      const up = [Math.cos(toRad(direction)), Math.sin(toRad(direction))] as const;
      expect(pa.x).toBeCloseTo(0, 9);
      expect(pa.z).toBeCloseTo(-a.radius, 9);
      expect(pb.z - pa.z).toBeCloseTo(dx * up[0] + dy * up[1], 9);
      expect(pb.x - pa.x).toBeCloseTo(dx * up[1] - dy * up[0], 9);
      const text = out.value.programs.at(-1)!.text;
      expect(text).toMatch(/G8[123] X0 Y0 /);
      made++;
    }
    console.log(`edge holes: ${made} made; refused: ${[...refused].map((p) => p.join(' ')).join(', ') || 'none'}`);
    expect(made).toBe(count);
    for (const code of refused.keys()) expect(code).toMatch(/^edge-hole-|^flute-too-short/);
  }, 600_000);
});
