/** Random pockets that are open at the edge, through plan, paths and text: nothing found by the independent check. */
import { describe, expect, it } from 'vitest';
import { bad, describeProblem, fault } from '../../src/base/problem.ts';
import { checkPrograms } from '../../src/check/check.ts';
import type { Holding } from '../../src/hold/holding.ts';
import { readJob } from '../../src/part/read.ts';
import { makeMoves } from '../../src/paths/paths.ts';
import { makePlan } from '../../src/plan/make-plan.ts';
import { readPost } from '../../src/write/post.ts';
import { writePrograms } from '../../src/write/write.ts';
import { shippedPost } from '../helpers.ts';
import { abilities, must, onThreeTabs } from '../paths/helpers.ts';
import { runs, SEED } from '../runs.ts';
import { randomOpenJob } from './random-open.ts';

/** A notch that no cutter of the default drawer enters with its allowance. */
const FAIR = ['cutter-too-wide'];

describe('pockets open at the edge', () => {
  const count = runs(80);

  it(`${count} are cut without a fault`, () => {
    const wrong: string[] = [];
    const seen = new Map<string, number>();
    let refused = 0;
    for (let seed = SEED; seed < SEED + count; seed++) {
      const { text, post, has } = randomOpenJob(seed);
      for (const h of has) seen.set(h, (seen.get(h) ?? 0) + 1);
      const read = readJob(text, 'job.json', {
        read: () => bad(fault({ code: 'file-missing', found: '', wanted: '', remedy: '' })),
      });
      const plan = read.ok ? makePlan(read.value) : read;
      if (!read.ok || !plan.ok) {
        refused++;
        for (const p of plan.problems) if (!FAIR.includes(p.code)) wrong.push(`${seed} ${has}: ${describeProblem(p)}`);
        continue;
      }
      const job = read.value;
      const holding: Holding = { ...onThreeTabs(job, plan.value), by: 'floor', tabs: [], floor: 0.2 };
      const moves = makeMoves({ job, plan: plan.value, holding, post: abilities(post), cautions: [] });
      if (!moves.ok) {
        wrong.push(`${seed} ${has}: ${describeProblem(moves.problems[0]!)}`);
        continue;
      }
      const { faults } = checkPrograms(
        writePrograms(moves.value, must(readPost(shippedPost(post), post)), job.name),
        job,
      );
      if (faults.length > 0) wrong.push(`${seed} ${has} ${post}: ${describeProblem(faults[0]!)}`);
    }
    console.log(`open pockets: ${count - refused} made, ${refused} refused; ${JSON.stringify([...seen])}`);
    expect(wrong).toEqual([]);
    expect(refused).toBeLessThanOrEqual(count / 5);
    if (count >= 50) expect(seen.size).toBe(10);
  }, 600_000);
});
