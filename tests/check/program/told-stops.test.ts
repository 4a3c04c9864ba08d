/** What hands are told at stops, and in which order programs run: by hand-made programs of the small lever. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { leverJob, leverProgram } from '../lever.ts';

function untold(change: (text: string) => string): string[] {
  const report = checkPrograms([{ file: 'lever.ngc', text: change(leverProgram()) }], leverJob());
  return [...report.faults, ...report.cautions]
    .filter((f) => f.code === 'stop-untold')
    .map((f) => `${f.severity} ${f.block}`);
}

const touched = (text: string, words = '(MSG, Touch off on the top: Z is 0 there)') =>
  text.replace(/^T\d M6$/gm, `$&\n${words}`);

describe('what a stop is for', () => {
  it('is told in every message, and by any words that name it', () => {
    expect(untold((t) => touched(t))).toEqual([]);
    expect(untold((t) => touched(t, '(touch the point on the plate, set zero)'))).toEqual([]);
    expect(untold((t) => touched(t, '(MSG, Its length must be in the table)'))).toEqual([]);
  });

  it('is missed where a program speaks at one stop and not at another', () => {
    expect(untold((t) => touched(t, '').replace('T2 M6', 'T2 M6\n(MSG, Touch off)'))).toHaveLength(1);
    const swept = untold((t) => touched(t, '(MSG, Brush the swarf away before touching off)'));
    expect(swept).toHaveLength(2);
    expect(swept.every((f) => f.startsWith('fault'))).toBe(true);
  });

  it('is left to the hand that wrote it where a program has no message at all', () => {
    const told = untold((t) => t);
    expect(told).toHaveLength(2);
    expect(told.every((f) => f.startsWith('caution'))).toBe(true);
  });
});

describe('the order in which programs run', () => {
  const pair = (name: (n: number) => string) =>
    [leverProgram({ withProfile: false }), leverProgram({ withDrill: false })].map((text, i) => ({
      file: `${i}.ngc`,
      text: text.replace('(ZERO', `${name(i + 1)}(ZERO`),
    }));
  const doubts = (name: (n: number) => string) =>
    checkPrograms(pair(name), leverJob()).notProven.filter((d) => d.what === 'running order').length;

  it('is not proven where no head says it', () => {
    expect(doubts(() => '')).toBe(1);
    expect(doubts((n) => `(lever: program ${n} of 2)\n`)).toBe(0);
    const one = checkPrograms([{ file: 'lever.ngc', text: leverProgram() }], leverJob());
    expect(one.notProven.map((d) => d.what)).not.toContain('running order');
  });

  it('is refused where one of them does not say which it is', () => {
    const { faults } = checkPrograms(
      pair((n) => (n === 1 ? '' : '(lever: program 2 of 2)\n')),
      leverJob(),
    );
    expect(faults.map((f) => f.code)).toContain('program-order');
  });
});
