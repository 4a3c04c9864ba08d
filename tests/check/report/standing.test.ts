/** No statement of proof stands beside a fault that speaks against it. */

import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { mustMakeSample } from '../../helpers.ts';

const made = mustMakeSample('lifting-lever');
const text = made.programs[0]!.text;

function check(change: (t: string) => string) {
  const changed = change(text);
  expect(changed).not.toBe(text);
  return checkPrograms([{ file: 'lifting-lever.ngc', text: changed }], made.job);
}

const proven = (change: (t: string) => string) => check(change).proven.map((p) => p.what);

describe('what stands beside a fault', () => {
  it('all of it in the program as written', () => {
    const report = checkPrograms([{ file: 'lifting-lever.ngc', text }], made.job);
    expect(report.faults).toEqual([]);
    expect(report.proven.length).toBeGreaterThanOrEqual(9);
  });

  it('a gouge takes its own statement down and is named among what is not proven', () => {
    const line = /(finish the outline[\s\S]*?\nG1 X[\d.]+ Y)([\d.]+)/;
    const moved = (by: number) => check((t) => t.replace(line, (_, a, y) => `${a}${(Number(y) + by).toFixed(4)}`));
    // One of the two ways is into the part.
    const report = [moved(0.5), moved(-0.5)].find((r) => r.faults.some((f) => f.code === 'gouge'))!;
    expect(report.faults.some((f) => f.code === 'gouge')).toBe(true);
    expect(report.proven.map((p) => p.what)).not.toContain('gouge');
    expect(report.notProven.map((n) => n.what)).toContain('gouge');
  });

  it('a program that cannot be read to its end proves nothing', () => {
    expect(proven((t) => t.replace('\nM2\n', '\nG1 X1.2.3\nM2\n'))).toEqual([]);
  });

  it('other units leave nothing standing that they change', () => {
    const what = proven((t) => t.replace('G21', 'G20'));
    expect(what).not.toContain('gouge');
    expect(what).not.toContain('still held');
  });
});
