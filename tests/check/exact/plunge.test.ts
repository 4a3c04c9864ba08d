/** Reamers in the check: they need a hole before them, and draw out of their own hole without a word. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { mustMake } from '../../helpers.ts';

/** Thickness and size are such that the depth has no exact single-precision height, as most in inches. */
const JOB = JSON.stringify({
  name: 'pivot arm',
  material: '11SMn30',
  part: {
    thickness: 3.175,
    outline: {
      bosses: [
        { at: [0, 0], radius: 6.35 },
        { at: [30, 0], radius: 4 },
      ],
    },
    holes: [{ at: [0, 0], ream: 4.7625 }],
  },
});

describe('reamers', () => {
  it('drawn straight out cut nothing, whatever the depth', () => {
    const made = mustMake(JOB);
    expect(made.programs.some((p) => /^G98 G85 .* Z-5\.675/m.test(p.text))).toBe(true);
    expect(made.report.faults).toEqual([]);
  });

  it('without the drill before them are refused', () => {
    const made = mustMake(JOB);
    const without = made.programs.map((p) => ({ ...p, text: p.text.replace(/^G98 G8[123] .* Z-[4-9].*$/m, '') }));
    expect(without.map((p) => p.text)).not.toEqual(made.programs.map((p) => p.text));
    expect(checkPrograms(without, made.job).faults.map((f) => f.code)).toContain('no-hole-before');
  });
});
