/** Stops taken away that hands need. */
import type { Kind } from './kind.ts';
import { find, linesOf, withLine } from './text.ts';

export const STOP_KINDS: readonly Kind[] = [
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
