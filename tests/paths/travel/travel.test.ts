import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import type { Move } from '../../../src/paths/moves.ts';
import { makeMoves } from '../../../src/paths/paths.ts';
import { envelopeOf } from '../../../src/paths/travel/travel.ts';
import { abilities, sample } from '../helpers.ts';

describe('travel', () => {
  it('counts the bulge of arcs, the places of cycles and every program', () => {
    const first: Move[] = [
      { kind: 'rapid', z: 20 },
      { kind: 'rapid', x: 0, y: 0 },
      { kind: 'arc', x: 10, y: 0, centre: { x: 5, y: 0 }, counterClockwise: true, feed: 100 },
    ];
    const second: Move[] = [
      {
        ...{ kind: 'cycle', cycle: 'plain', places: [{ x: -3, y: 8 }], retract: 5, from: 1, bottom: -6 },
        ...{ peck: 0, dwell: 0, feed: 80 },
      } as Move,
    ];
    const [x, y, z] = envelopeOf([first, second]);
    expect(x).toEqual([-3, 10]);
    expect(y![0]).toBeCloseTo(-5, 9);
    expect(y![1]).toBe(8);
    expect(z).toEqual([-6, 20]);
  });

  it('a part longer than the machine moves is refused, with the key named', () => {
    const made = sample('lifting-lever');
    const machine = { ...made.job.machine, travel: [40, 150, 150] as const };
    const out = makeMoves({
      job: { ...made.job, machine },
      plan: made.plan,
      holding: made.holding,
      post: abilities('standard'),
      cautions: [],
    });
    expect(out.ok).toBe(false);
    const found = out.ok ? [] : out.problems.filter((p) => p.code === 'off-travel');
    expect(found).toHaveLength(1);
    expect(found[0]!.place?.path).toBe('machine.travel');
    expect(found[0]!.found).toMatch(/along X/);
  });

  it('the envelope is the one the check reads from the text', () => {
    const made = sample('lifting-lever');
    const mine = envelopeOf(made.moves.programs.map((p) => p.moves));
    const read = checkPrograms(made.programs, null).envelope!;
    for (const i of [0, 1, 2]) {
      expect(mine[i]![0]).toBeCloseTo(read.min[i]!, 3);
      expect(mine[i]![1]).toBeCloseTo(read.max[i]!, 3);
    }
  });
});
