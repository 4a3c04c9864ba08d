/** Stops taken away that hands need. */
import type { Text } from './jobs.ts';
import type { Ground, Kind } from './kind.ts';
import { find, linesOf, type Place, withLine, withLines } from './text.ts';

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

/** Messages before a stop taken away, those that match. */
function silenced(c: Ground, stop: Place, pattern: RegExp): Text[] {
  const lines = linesOf(c.programs[stop.program]!);
  let first = stop.line;
  while (lines[first - 1]?.startsWith('(MSG,')) first--;
  const kept = lines.slice(first, stop.line).filter((l) => !pattern.test(l));
  return withLines(c.programs, { program: stop.program, line: first }, stop.line - first, kept);
}

export const STOP_KINDS: readonly Kind[] = [
  {
    name: 'the message to touch off lost at one stop of many',
    codes: /^stop-untold$/,
    within: 2,
    plant(c) {
      const at = c.pick(find(c.programs, /Touch off /));
      if (at === undefined) return null;
      return { programs: withLine(c.programs, at, null), at, harm: 'it is run with the length of the cutter before' };
    },
  },
  {
    name: 'the messages to touch off lost at all stops',
    codes: /^stop-untold$/,
    within: null,
    plant(c) {
      const text = (t: string) => t.replace(/^\(MSG, Touch off .*\n/gm, '');
      if (!/M6/.test(c.programs[0]!.text)) return null;
      const programs = c.programs.map((p) => ({ file: p.file, text: text(p.text) }));
      return { programs, harm: 'nobody knows where, and on what height' };
    },
  },
  {
    name: 'the message that asks for the screws lost',
    codes: /^stop-untold$/,
    within: null,
    plant(c) {
      const [event] = find(c.programs, /^\(SCREWS FITTED/);
      if (event === undefined) return null;
      const stop = { program: event.program, line: linesOf(c.programs[event.program]!).lastIndexOf('M0', event.line) };
      return { programs: silenced(c, stop, /screw/i), harm: 'the profile is run and no screw holds' };
    },
  },
  {
    name: 'a program of several whose number alone is lost',
    codes: /^(program-order|head-differs)$/,
    within: null,
    plant(c) {
      const program = c.programs.length - 1;
      if (program === 0) return null;
      const whole = c.programs.map((p) => p.text.replace(/^(\(.*: program \d+ of \d+), .*\)$/m, '$1)'));
      const programs = c.programs.map((p, i) => {
        const text = i === program ? whole[i]!.replace(/: program \d+ of \d+/, '') : whole[i]!;
        return { file: p.file, text };
      });
      return { programs, harm: 'it may run out of its order, on stock that nobody knows' };
    },
  },
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
