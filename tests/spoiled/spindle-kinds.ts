/** Faults in what turns the cutter: the spindle still, backwards, late, too fast or too slow, or on where a hand comes near. */
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withWord } from './text.ts';

const START = /^S\d+ M3$/;

/** M3 only after the first cut of the operation. */
function spindleLate(c: Ground): Planted | null {
  const at = c.pick(find(c.programs, START));
  if (at === undefined) return null;
  const lines = linesOf(c.programs[at.program]!);
  const cut = lines.findIndex((l, i) => i > at.line && /^(G1|G98 G8)/.test(l));
  if (cut < 0) return null;
  lines.splice(cut + 1, 0, lines[at.line]!);
  lines.splice(at.line, 1);
  // A spindle left turning by the operation before would do the work.
  const start = lines.slice(0, at.line).findLastIndex((l) => /^M[35]$|M3$|^M6|M6$/.test(l));
  if (start >= 0 && /M3$/.test(lines[start]!)) return null;
  const programs = c.programs.map((p, i) => (i === at.program ? { file: p.file, text: lines.join('\n') } : p));
  return { programs, harm: 'the first cut is made with the spindle standing' };
}

function stillSpindle(change: (line: string) => string | null, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const starts = find(c.programs, START).filter((at) => {
      const above = linesOf(c.programs[at.program]!).slice(0, at.line);
      const last = above.findLast((l) => /M[35]\b|M6\b/.test(l) && !l.startsWith('('));
      return last === undefined || !/M3/.test(last);
    });
    return c.certain(starts, harm, change);
  };
}

/** Started since it was stopped last: after a stop at which screws are fitted it stands already. */
function turns(c: Ground, at: Place): boolean {
  const last = (pattern: RegExp) =>
    find(c.programs, pattern).findLast((s) => s.program === at.program && s.line < at.line)?.line ?? -1;
  return last(START) > last(/^M5$/);
}

export const SPINDLE_KINDS: readonly Kind[] = [
  {
    name: 'the spindle never started',
    codes: /^spindle-off$/,
    within: 8,
    plant: stillSpindle(() => null, 'cuts with the spindle standing'),
  },
  {
    name: 'the spindle turned backwards',
    codes: /^spindle-reverse$/,
    within: 8,
    plant: stillSpindle((l) => l.replace('M3', 'M4'), 'every tooth runs backwards'),
  },
  { name: 'the spindle started after the first cut', codes: /^spindle-off$/, within: null, plant: spindleLate },
  {
    name: 'the speed left out',
    codes: /^(spindle-off|speed-outside-machine)$/,
    within: null,
    plant: (c) =>
      c.certain(
        find(c.programs, START).filter(
          (at) => find(c.programs, START).filter((o) => o.program === at.program)[0]!.line === at.line,
        ),
        'no speed has been given',
        (l) => withWord(l, 'S', null),
      ),
  },
  {
    name: 'the speed above the machine',
    codes: /^(speed-outside-machine|rs274-119)$/,
    within: 8,
    plant: (c) =>
      c.certain(find(c.programs, START), 'beyond the spindle', (l) => withWord(l, 'S', c.job.machine.maxSpeed * 2)),
  },
  {
    name: 'the speed below the machine',
    codes: /^speed-outside-machine$/,
    within: 8,
    plant: (c) => c.certain(find(c.programs, START), 'the spindle cannot turn so slowly', (l) => withWord(l, 'S', 20)),
  },
  {
    name: 'the spindle left turning at a cutter change',
    codes: /^stop-spindle-on$/,
    within: 3,
    plant: (c) =>
      c.certain(
        find(c.programs, /^M5$/).filter((at) => /M6|M0/.test(c.line({ ...at, line: at.line + 1 })) && turns(c, at)),
        'hands go to a turning spindle',
        () => null,
      ),
  },
  {
    name: 'the spindle left turning at the end',
    codes: /^stop-spindle-on$/,
    within: 3,
    plant: (c) =>
      c.certain(
        find(c.programs, /^M5$/).filter((at) => /^M2$/.test(c.line({ ...at, line: at.line + 1 }))),
        'the spindle turns on',
        () => null,
      ),
  },
];
