/** Faults of the language itself, as fingers and broken transfers make them. */
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLine, withLines } from './text.ts';

const LANGUAGE = /^(rs274-\d+|value-out-of-range|not-ended)$/;
const CUT = /^G[123] X\S+ Y/;
const ARC = /^G[23] X/;

function words(
  name: string,
  pattern: RegExp,
  harm: string,
  change: (line: string, c: Ground) => string,
  codes = LANGUAGE,
): Kind {
  return { name, codes, within: 1, plant: (c) => c.certain(find(c.programs, pattern), harm, (l) => change(l, c)) };
}

function inserted(name: string, line: string, harm: string): Kind {
  return {
    name,
    codes: LANGUAGE,
    within: 1,
    plant: (c) => {
      const at = c.pick(find(c.programs, CUT));
      return at === undefined ? null : { programs: withLines(c.programs, at, 0, [line]), at, harm };
    },
  };
}

/** The file breaks off in the middle, at the end of a line, with or without an end put to it. */
function brokenOff(end: string): (c: Ground) => Planted | null {
  return (c) => {
    const cuts = find(c.programs, CUT);
    const program = cuts.at(-1)?.program;
    if (program === undefined) return null;
    const mine = cuts.filter((at) => at.program === program);
    const at: Place = mine[Math.floor(mine.length * c.number(0.3, 0.6))]!;
    const text = linesOf(c.programs[program]!).slice(0, at.line).join('\n') + end;
    const programs = c.programs.map((p, i) => (i === program ? { file: p.file, text } : p));
    return { programs, harm: 'the rest of the program is gone' };
  };
}

export const LANGUAGE_KINDS: readonly Kind[] = [
  words('a word written twice', CUT, 'which one counts is not known', (l) => `${l} X1`),
  words('two motions in one block', CUT, 'which one counts is not known', (l) => `G0 ${l}`),
  words('an arc without a centre', ARC, 'no circle is given', (l) => l.replace(/ [IJ]-?[\d.]+/g, '')),
  words('a comma for a decimal point', /^G[123] .*\d\.\d/, 'the number cannot be read', (l) => l.replace('.', ',')),
  words('a letter in a number', CUT, 'the number cannot be read', (l) => l.replace(/(X-?\d)/, '$1O')),
  words('a number without its letter', CUT, 'nobody knows which axis', (l) => l.replace(' Y', ' ')),
  words('a letter without its number', CUT, 'nobody knows how far', (l) => l.replace(/ Y-?[\d.]+/, ' Y')),
  words('a code that does not exist', CUT, 'it has no meaning', (l) => l.replace(/^G[123]/, 'G12')),
  words('a comment that never ends', /^\(Operation/, 'what follows is lost', (l) => l.slice(0, -1)),
  words('a motion without a coordinate', CUT, 'nothing to move', (l) => l.split(' ')[0]!),
  words('a radius and a centre in one arc', ARC, 'which one counts is not known', (l) => `${l} R5`),
  words('a cycle without its depth', /^G98 G8\d .*Z/, 'no depth is given', (l) => l.replace(/ Z-?[\d.]+/, '')),
  words('a cycle with R below Z', /^G98 G8\d .*R/, 'the levels cross', (l) => l.replace(/R[\d.]+/, 'R-90')),
  words('a dwell without its time', /^G98 G82 .*P/, 'no time is given', (l) => l.replace(/ P[\d.]+/, '')),
  words('a peck of nothing', /^G98 G83 .*Q/, 'the pecks never end', (l) => l.replace(/Q[\d.]+/, 'Q0')),
  words('a negative speed', /^S\d+ M3/, 'no such speed', (l) => l.replace('S', 'S-')),
  words('a negative feed', /^G1 .*F\d/, 'no such feed', (l) => l.replace('F', 'F-')),
  words('half a cutter number', /^T\d+ M6/, 'no such cutter', (l) => l.replace(' M6', '.5 M6')),
  inserted('a line of prose', 'now finish the edge', 'no words of the language'),
  inserted('a rotary axis that the machine does not have', 'G1 A90', 'no such axis'),
  inserted('a program number of another control', 'O1000', 'no such word'),
  inserted('a byte that is no text', 'G1 X1\u0007', 'the file is broken'),
  inserted('a line longer than the language allows', `G1 X1 ${' '.repeat(300)}`, 'controls cut it off'),
  { name: 'the file broken off', codes: LANGUAGE, within: null, plant: brokenOff('\n') },
  { name: 'the file broken off in a word', codes: LANGUAGE, within: null, plant: brokenOff('\nG1 X') },
  {
    name: 'half of a program lost between its frame',
    codes: /./,
    within: null,
    plant: brokenOff('\nG0 Z40\nM5\nM2\n%\n'),
  },
  {
    name: 'no end',
    codes: LANGUAGE,
    within: null,
    plant: (c) => {
      const at = find(c.programs, /^M2$/)[0];
      if (at === undefined) return null;
      const text = linesOf(c.programs[at.program]!).slice(0, at.line).join('\n');
      return {
        programs: c.programs.map((p, i) => (i === at.program ? { file: p.file, text } : p)),
        harm: 'the program does not end',
      };
    },
  },
  {
    name: 'the closing frame lost',
    codes: LANGUAGE,
    within: null,
    plant: (c) => {
      const m2 = find(c.programs, /^M2$/)[0];
      if (m2 === undefined || !c.programs[m2.program]!.text.startsWith('%')) return null;
      const open = withLine(c.programs, m2, null);
      return {
        programs: open.map((p, i) => (i === m2.program ? { file: p.file, text: p.text.replace(/%\n?$/, '') } : p)),
        harm: 'the program does not end',
      };
    },
  },
];
