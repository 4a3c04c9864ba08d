/** Comments of people that begin as facts do, and facts that are nearly right. */
import { describe, expect, it } from 'vitest';
import { checkPrograms } from '../../../src/check/check.ts';
import { isProse } from '../../../src/check/program/prose.ts';
import { leverJob, leverProgram } from '../lever.ts';

const PROSE = [
  ...['Part 1 of the tower clock', 'Stock X is sawn long', 'HOLD on to your hat', 'Hold tight to the vice'],
  ...['Tab 1 is hard to reach with a file', 'Screws fitted by Jim', 'Hold the plate down with a finger of brass'],
];
const BROKEN = [
  ...[
    'PART 1 AT X22 Y15 TURN 0 MIROR no',
    'PART 1 AT X22 Y15',
    'PART 1',
    'PART 1 MIRROR',
    'PART 1 AT THE X22 AS DRAWN',
  ],
  ...['STOCK X0 Y0 Z-4 TO X75 Y30', 'STOCK X', 'CUTTER 1 end mil D', 'HOLD flor', 'HOLD floor', 'HOLD tabs and glue'],
  ...['TAB 1 PRT DIRECTON WIDHT HIGHT FOOTPRNT', 'TAB 1', 'SCREWS FITTED', 'SCREWS FITTED in holes 1 and 2'],
  ...['SCREWS FITTED holes', 'Touch off on the stock, Z is 5 or so', 'Upper face to the left'],
];

describe('a comment that begins as a fact', () => {
  it.each(PROSE)('%s: is prose', (text) => expect(isProse(text)).toBe(true));
  it.each(BROKEN)('%s: is a broken fact', (text) => expect(isProse(text)).toBe(false));

  const told = (text: string) => {
    const { faults, cautions } = checkPrograms(
      [{ file: 'lever.ngc', text: leverProgram().replace('(HOLD', `(${text})\n(HOLD`) }],
      leverJob(),
    );
    const codes = /^(comment-like-fact|head-disagrees)$/;
    return [...faults, ...cautions].filter((f) => codes.test(f.code)).map((f) => `${f.severity} ${f.code}`);
  };

  it('and is prose is a caution, and else refused', () => {
    expect(told('Part 1 of the tower clock')).toEqual(['caution comment-like-fact']);
    expect(told('PART 1 AT X22 Y15')).toEqual(['fault head-disagrees']);
  });
});
