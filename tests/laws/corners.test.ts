/** Random outlines with inside corners and tight curves, through the whole flow: the corners are cut, and nothing is found by the check. */
import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../src/base/problem.ts';
import { makeText } from '../helpers.ts';
import { FULL, random, runs, SEED } from '../runs.ts';

const POSTS = ['standard', 'plain', 'lines', 'inch'] as const;
const SHAPES = ['ell', 'tee', 'star', 'lever', 'teeth'] as const;

function randomJob(seed: number) {
  const unit = random(seed);
  const between = (low: number, high: number) => Math.round(20 * (low + (high - low) * unit())) / 20;
  const one = <T>(of: readonly T[]): T => of[Math.floor(unit() * of.length)]!;
  const shape = one(SHAPES);
  const [w, h, c] = [between(8, 16), between(8, 14), between(24, 34)];
  const points = one([5, 6, 7]);
  const star = (i: number) => {
    const [r, a] = [i % 2 === 1 ? between(9, 12) : between(17, 20), (Math.PI * i) / points];
    return [Math.round(1e3 * (22 + r * Math.cos(a))) / 1e3, Math.round(1e3 * (22 + r * Math.sin(a))) / 1e3];
  };
  const lever = [
    { at: [8, 8], radius: between(6, 9) },
    { at: [between(30, 36), 8], radius: between(5, 7) },
    { at: [between(26, 38), between(24, 30)], radius: between(4, 6) },
  ];
  const outlines: Record<(typeof SHAPES)[number], object> = {
    ell: {
      vertices: [
        [0, 0],
        [44, 0],
        [44, h],
        [w + between(-3, 3), h],
        [w, 34],
        [0, 34],
      ],
    },
    tee: {
      vertices: [
        [0, 0],
        [44, 0],
        [44, h],
        [c, h],
        [c + between(-2, 2), 32],
        [w, 32],
        [w, h],
        [0, h],
      ],
    },
    star: { vertices: Array.from({ length: 2 * points }, (_, i) => star(i)) },
    lever: { bosses: lever, fillet: one([0, 0.8, 1, 1.5]) },
    teeth: {
      vertices: [
        [0, 0],
        [44, 0],
        [44, 20],
        [36, 20],
        [36, c],
        [28, c],
        [28, 20],
        [16, 20],
        [16, 27, 0.3],
        [8, 27],
        [8, 20],
        [0, 20],
      ],
    },
  };
  const thickness = one([2, 3, 4, 5]);
  const job = {
    name: `corners ${seed}`,
    material: one(['EN-AW-6082-T6', 'CuZn39Pb3', 'C45']),
    part: { thickness, outline: outlines[shape], ...(unit() < 0.3 ? { chamfer: 0.2 } : {}) },
    stock: { size: [190, 170, thickness], measured: thickness },
    place: [{ at: [90, 70], turn: one([0, 0, 30, 90]), mirror: unit() < 0.3 }],
    machine: { travel: [400, 400, 250], backlash: one([0.02, 0.1]) },
    hold: one([
      ...(FULL ? ['auto'] : []),
      { by: 'tabs', tabs: { count: 3, width: 2, height: 0.8 } },
      { by: 'floor', thickness: 0.2 },
    ]),
  };
  return { text: JSON.stringify(job), post: one(POSTS), shape };
}

/** Random tabs may be too weak for a random part: the job's wish, told, and no fault of its corners. */
const FAIR = /^(hold-|tab-no-room|frame-too-narrow|tabs-weak|hold-weak)/;

describe('outlines with inside corners', () => {
  const count = runs(10);

  it(`${count} are made without a fault, most with a smaller cutter in their corners`, () => {
    const wrong: string[] = [];
    let rests = 0;
    let made = 0;
    for (let seed = SEED; seed < SEED + count; seed++) {
      const { text, post, shape } = randomJob(seed);
      const out = makeText(text, { post });
      const faults = out.ok ? out.value.report.faults : out.problems.filter((p) => p.severity === 'fault');
      for (const f of faults) if (!FAIR.test(f.code)) wrong.push(`${seed} ${shape} ${post}: ${describeProblem(f)}`);
      if (!out.ok) continue;
      made++;
      if (out.value.plan.setups[0]!.operations.some((o) => o.target.kind === 'corners')) rests++;
    }
    console.log(`inside corners: ${made} made, ${rests} with a smaller cutter`);
    expect(wrong).toEqual([]);
    expect(made).toBeGreaterThan(0.8 * count);
    expect(rests).toBeGreaterThan(made / 2);
  }, 600_000);
});
