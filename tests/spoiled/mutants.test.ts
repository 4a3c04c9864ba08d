/**
 * Random slips in good programs: what a brute-force judge, which shares nothing with the check, calls harmful must be refused. The
 * judge claims only what is plainly beyond the limits, so what passes it may still be refused, and is.
 */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import { FULL, random, SEED } from '../runs.ts';
import { GOODS } from './jobs.ts';
import { judge } from './judge.ts';
import { Draw, mutate, SLIP_NAMES } from './mutants.ts';

/** Small and quick programs in short runs. */
const NAMES = FULL ? GOODS.map((g) => g.name) : ['floor, inch', 'screws, standard'];
/** Of the refused, one in so many is judged all the same. */
const JUDGED = 10;
const COUNT = FULL ? 3000 : SLIP_NAMES.length;

describe('random slips', () => {
  it(`${COUNT} of them: none that does harm passes`, () => {
    const passed: string[] = [];
    const seen = { made: 0, harmful: 0, refused: 0, judged: 0, alike: 0 };
    const kinds = new Map<string, number>();
    for (let i = 0; i < COUNT; i++) {
      const d = new Draw(random(SEED + 31 * i));
      const good = GOODS.find((g) => g.name === NAMES[i % NAMES.length])!.make();
      const kind = SLIP_NAMES[i % SLIP_NAMES.length]!;
      let mutant = null;
      for (let tries = 0; tries < 20 && mutant === null; tries++) mutant = mutate(good.programs, kind, d);
      if (mutant === null) continue;
      seen.made++;
      kinds.set(kind, (kinds.get(kind) ?? 0) + 1);
      const refused = checkPrograms(mutant.programs, good.job).faults.length > 0;
      if (refused) seen.refused++;
      // What is refused needs no judge, but for a count: of some, in the long run, since the judge takes most of its time.
      if (refused && !(FULL && i % JUDGED === 0)) continue;
      if (refused) seen.judged++;
      const harm = judge(good, mutant.programs);
      if (harm !== null) seen.harmful++;
      else if (!refused) seen.alike++;
      if (harm !== null && !refused)
        passed.push(`${good.name} (seed ${i}) line ${mutant.line + 1} ${mutant.words}: ${harm}`);
    }
    console.log(`slips: ${JSON.stringify(seen)}`);
    expect(passed).toEqual([]);
    expect(seen.refused).toBeGreaterThan(0.5 * seen.made);
    expect(kinds.size).toBe(SLIP_NAMES.length);
  }, 3_600_000);

  it('the judge finds nothing in a good program', () => {
    for (const name of NAMES.slice(0, FULL ? undefined : 1)) {
      const good = GOODS.find((g) => g.name === name)!.make();
      expect(judge(good, good.programs), name).toBeNull();
    }
  }, 600_000);
});
