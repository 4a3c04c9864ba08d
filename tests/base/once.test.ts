import { describe, expect, it } from 'vitest';
import { toldOnce } from '../../src/base/once.ts';
import { caution, fault, type Problem } from '../../src/base/problem.ts';

const at = (line: number, found = 'a cut at z -1.5') =>
  fault({ code: 'spindle-reverse', at: { file: 'a.ngc', line }, found, wanted: 'forwards', remedy: 'write M3' });

const told = (...problems: Problem[]) => toldOnce(problems).map((p) => p.found);

describe('telling once', () => {
  it('leaves what is told once alone', () => {
    expect(told()).toEqual([]);
    expect(toldOnce([at(3)])).toEqual([at(3)]);
  });

  it('names the number of the others and the next line', () => {
    expect(told(at(3), at(3, 'a cut at z -2.5'), at(7), at(9))).toEqual([
      'a cut at z -1.5 (and 3 more, the next at line 7)',
    ]);
    expect(told(at(3), at(3, 'a cut at z -2.5'))).toEqual(['a cut at z -1.5 (and 1 more, all on this line)']);
  });

  it('keeps apart what is not the same: words, code, severity, file', () => {
    const others = [
      at(3, 'a cut sideways'),
      fault({
        code: 'other',
        at: { file: 'a.ngc', line: 4 },
        found: 'a cut at z 1',
        wanted: 'forwards',
        remedy: 'write M3',
      }),
      caution({
        code: 'spindle-reverse',
        at: { file: 'a.ngc', line: 5 },
        found: 'a cut at z 1',
        wanted: 'forwards',
        remedy: 'write M3',
      }),
      fault({
        code: 'spindle-reverse',
        at: { file: 'b.ngc', line: 6 },
        found: 'a cut at z 1',
        wanted: 'forwards',
        remedy: 'write M3',
      }),
    ];
    expect(toldOnce([at(2), ...others])).toHaveLength(5);
  });

  it('names the place on the work where there is no line', () => {
    const hole = (x: number): Problem =>
      fault({ code: 'hole-uncut', at: { at: [x, 2] }, found: 'a hole', wanted: 'cut', remedy: 'cut it' });
    expect(told(hole(1), hole(5))).toEqual(['a hole (and 1 more, the next at 5, 2)']);
  });
});
