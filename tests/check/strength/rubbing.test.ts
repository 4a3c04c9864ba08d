/** Feeds that form no chip and rapids that end too near to the plate, by a good program of the small lever with a word changed. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { leverJob, leverProgram } from '../lever.ts';

function told(code: string, change: (text: string) => string): string[] {
  const report = checkPrograms([{ file: 'lever.ngc', text: change(leverProgram()) }], leverJob());
  return [...report.faults, ...report.cautions].filter((f) => f.code === code).map((f) => f.severity);
}

const slower = (by: number) => (t: string) => t.replace(/\bF([\d.]+)/g, (_, f: string) => `F${Number(f) / by}`);

describe('a feed so low that no chip forms', () => {
  it('is told below a fifth of the least, and refused where a figure has been lost', () => {
    expect(told('feed-too-low', (t) => t)).toEqual([]);
    expect(told('feed-too-low', slower(2))).toEqual([]);
    expect(told('feed-too-low', slower(20))).toContain('caution');
    expect(told('feed-too-low', slower(20))).not.toContain('fault');
    expect(told('feed-too-low', slower(1000))).toContain('fault');
  });
});

describe('a rapid over the plate', () => {
  it('keeps 0.2 mm of air where nothing has been cut', () => {
    const to = (r: string) => (t: string) => t.replace(/ R1 /, ` R${r} `);
    expect(told('rapid-close', (t) => t)).toEqual([]);
    expect(told('rapid-close', to('0.2'))).toEqual([]);
    expect(told('rapid-close', to('0.1'))).toEqual(['caution']);
  });
});
