/** Stops taken away that hands need. */
import type { Kind } from './kind.ts';
import { find, linesOf, withLine } from './text.ts';

/** A figure of a touch-off message changed. */
function touchOff(name: string, pattern: RegExp, by: string): Kind {
  return {
    name,
    codes: /^touch-off$/,
    within: 0,
    plant(c) {
      const harm = 'every depth after it is off';
      return c.certain(find(c.programs, /Touch off on .*Z is/), harm, (l) => l.replace(pattern, by));
    },
  };
}

export const STOP_KINDS: readonly Kind[] = [
  touchOff('a message that gives another Z to touch off at', /Z is [-\d.]+/, 'Z is 5'),
  touchOff('a message that gives a place off the stock to touch off at', /X [-\d.]+ /, 'X -20 '),
  {
    name: 'a program of several that does not say which it is',
    codes: /^head-differs$/,
    within: null,
    plant(c) {
      const program = c.programs.length - 1;
      const text = c.programs[program]!.text.replace(/^\(.*: program \d+ of \d+.*\n/m, '');
      if (program === 0 || text === c.programs[program]!.text) return null;
      const programs = c.programs.map((p, i) => (i === program ? { file: p.file, text } : p));
      return { programs, harm: 'it may run out of its order, on stock that nobody knows' };
    },
  },
  {
    name: 'the stop to touch off made optional',
    codes: /^length-unknown$/,
    within: null,
    plant(c) {
      const text = c.programs[0]!.text.replace(/^M0$/gm, 'M1');
      if (!/\bM6\b/.test(text)) return null;
      const programs = c.programs.map((p, i) => (i === 0 ? { file: p.file, text } : p));
      return { programs, harm: 'with the switch off nobody touches the cutters off' };
    },
  },
  {
    name: 'no stop at which the screws are fitted',
    codes: /^stop-missing$/,
    within: 1,
    plant(c) {
      const [at] = find(c.programs, /^\(SCREWS FITTED/);
      if (at === undefined) return null;
      const stop = linesOf(c.programs[at.program]!).lastIndexOf('M0', at.line);
      const programs = withLine(c.programs, { program: at.program, line: stop }, null);
      return { programs, at: { program: at.program, line: at.line - 1 }, harm: 'the profile is run on loose screws' };
    },
  },
  {
    name: 'no stop to fit the cutter of the next program',
    codes: /^stop-missing$/,
    within: null,
    plant(c) {
      if (c.programs.length < 2 || c.programs.some((p) => /\bM6\b/.test(p.text))) return null;
      // The last runs the profile; tapped holes and drills would be worse still.
      const program = c.programs.length - 1;
      const text = c.programs[program]!.text.replace(/^M0\n/gm, '');
      const programs = c.programs.map((p, i) => (i === program ? { file: p.file, text } : p));
      return { programs, harm: 'the cutter of the program before may still be in the spindle' };
    },
  },
];
