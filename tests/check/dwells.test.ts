/** Waits with the cutter in the stock: what breaks a chip is nothing, what rubs is told, what does nothing but rub is refused. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../src/check/check.ts';
import { leverJob, leverProgram } from './lever.ts';

/** Before the last rise of the drill's cycle or of the profile, or in the air. */
function told(where: RegExp, lines: string): string[] {
  const text = leverProgram().replace(where, `$&\n${lines}`);
  const report = checkPrograms([{ file: 'lever.ngc', text }], leverJob());
  return [...report.faults, ...report.cautions].filter((f) => f.code === 'dwell-long').map((f) => f.severity);
}

const IN_CUT = /^G1 X.*$/m;
const IN_AIR = /^M3 S2000$/m;

describe('waits', () => {
  it('of a second or two are usual', () => {
    expect(told(IN_CUT, 'G4 P2')).toEqual([]);
    expect(told(IN_AIR, 'G4 P30')).toEqual([]);
  });

  it('of three seconds and more in the stock are told, once, and of minutes anywhere', () => {
    expect(told(IN_CUT, 'G4 P3\nG4 P3')).toEqual(['caution']);
    expect(told(IN_AIR, 'G4 P2000')).toEqual(['caution']);
  });

  it('of over twenty seconds at one place are refused, in one piece or in many', () => {
    expect(told(IN_CUT, 'G4 P21')).toEqual(['fault']);
    expect(told(IN_CUT, Array(21).fill('G4 P1').join('\n'))).toEqual(['fault']);
    expect(told(IN_CUT, 'G4 P2000')).toEqual(['fault']);
  });
});
