import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import type { CanonicalMove } from '../../../src/check/language/canonical.ts';
import { Stopping } from '../../../src/check/program/stopping.ts';
import { leverJob, leverProgram } from '../lever.ts';

const move = (kind: CanonicalMove['kind'], block: number) => ({ kind, block }) as CanonicalMove;

describe('standing still before a fact at a block', () => {
  it('counts the last move of an earlier block', () => {
    const s = new Stopping();
    s.move(move('stop', 4));
    s.fact(5);
    s.move(move('feed', 6));
    s.fact(7);
    s.move(move('stop', 8));
    s.fact(8);
    expect([5, 7, 8, 9].map((b) => s.at(b))).toEqual([true, false, false, false]);
  });

  it('counts a move that comes late, because its path is moved aside', () => {
    const s = new Stopping();
    s.move(move('stop', 4));
    s.fact(6);
    expect(s.at(6)).toBe(true);
    s.move(move('feed', 5));
    expect(s.at(6)).toBe(false);
  });

  it('tells the first cut and whether a stop comes before it', () => {
    const s = new Stopping();
    expect(s.first).toEqual({ firstCut: null, stopsFirst: false });
    s.move(move('rapid', 1));
    s.move(move('stop', 2));
    s.move(move('arc', 3));
    s.move(move('feed', 4));
    expect(s.first).toEqual({ firstCut: 3, stopsFirst: true });
  });
});

describe('a head that goes on after the first move', () => {
  const told = (edit: (t: string) => string) => {
    expect(edit(leverProgram())).not.toBe(leverProgram());
    const text = edit(leverProgram());
    return checkPrograms([{ file: 'lever.ngc', text }], leverJob()).faults.map((f) => f.code);
  };

  it('is refused where it names a stand', () => {
    expect(
      told((t) =>
        t.replace('(HOLD tabs)\n', '').replace('\nM5\nM2', '\nM5\n(HOLD jaws EDGE HOLE 1 BOSS 1 DIRECTION 90)\nM2'),
      ),
    ).toContain('head-differs');
  });

  it('is refused where it names the cutter of a program that calls none', () => {
    const bare = (t: string) => t.replace(/^T\d.*M6.*$/gm, '');
    expect(told((t) => bare(t).replace('\nM5\nM2', '\nM5\n(CUTTER 4 end mill D2)\nM2'))).toContain('head-differs');
  });

  it('is refused though every cutter is called', () => {
    expect(told((t) => t.replace('\nM5\nM2', '\nM5\n(CUTTER 4 end mill D2)\nM2'))).toContain('head-differs');
  });
});
