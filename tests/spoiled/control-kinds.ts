/** Faults that lie in what the control that runs the program does with it: switches, stored numbers, tables, places it does not know, spellings. */
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLines } from './text.ts';

/** Lines put in before, or with `after` behind, a drawn line; `within` of the finding is counted from the first of them. */
function insert(name: string, codes: RegExp, before: RegExp, lines: readonly string[], harm: string, after = 0): Kind {
  return {
    name,
    codes,
    within: lines.length + 2,
    plant(c) {
      const at = c.pick(find(c.programs, before));
      if (at === undefined) return null;
      const place = { program: at.program, line: at.line + after };
      return { programs: withLines(c.programs, place, 0, lines), at: place, harm };
    },
  };
}

function edit(name: string, codes: RegExp, where: RegExp, change: (line: string) => string, harm: string): Kind {
  return { name, codes, within: null, plant: (c) => c.certain(find(c.programs, where), harm, change) };
}

/** The stop at which a cutter is touched off, after its change. */
function touchOffStop(c: Ground): Place | undefined {
  return c.pick(
    find(c.programs, /^M0$/).filter(({ program, line }) => {
      const before = linesOf(c.programs[program]!).slice(0, line);
      const change = before.findLastIndex((l) => /\bM6\b/.test(l));
      return change >= 0 && !before.slice(change).some((l) => /^(M0|G[0123] |G98)/.test(l));
    }),
  );
}

/** No stop after a change, and a spelling of the codes round it that a search of the text would miss. */
function untouched(c: Ground): Planted | null {
  const stop = touchOffStop(c);
  if (stop === undefined) return null;
  const lines = linesOf(c.programs[stop.program]!);
  const change = lines.slice(0, stop.line).findLastIndex((l) => /\bM6\b/.test(l));
  const without = withLines(c.programs, stop, 1, []);
  const at = { program: stop.program, line: change };
  const programs = withLines(without, at, 1, [lines[change]!.replace('M6', 'M6.')]);
  return { programs, harm: 'its length is that of the cutter before' };
}

function spindleOnAtStop(spelling: string): (c: Ground) => Planted | null {
  return (c) => {
    for (const at of c.shuffled(find(c.programs, /^M0$/))) {
      const lines = linesOf(c.programs[at.program]!);
      const off = lines.lastIndexOf('M5', at.line);
      const on = lines.slice(0, off).findLastIndex((l) => / M3$/.test(l));
      if (off < 0 || on < 0 || lines.slice(on, off).some((l) => /M6/.test(l))) continue;
      const spelt = lines[on]!.replace('M3', spelling);
      const programs = withLines(withLines(c.programs, { ...at, line: off }, 1, []), { ...at, line: on }, 1, [spelt]);
      return { programs, harm: 'hands go near a turning cutter' };
    }
    return null;
  };
}

const CUT = /^G1 X\S+ Y\S+/;
const START = /^S\d+ M3$/;

export const CONTROL_KINDS: readonly Kind[] = [
  edit(
    'a lift that a switch leaves out',
    /^line-optional$/,
    /^G0 Z/,
    (l) => `/${l}`,
    'the rapid after it runs through stock',
  ),
  edit(
    'a start that a switch leaves out',
    /^line-optional$/,
    START,
    (l) => `/${l}`,
    'the cutter stands as it is fed in',
  ),
  edit('a stop that a switch leaves out', /^line-optional$/, /^M0$/, (l) => `/${l}`, 'nobody fits the cutter'),
  edit(
    'a depth over a number that the control has stored',
    /^offset-unknown$/,
    /^G1 .*Z-\d/,
    (l) => l.replace(/Z(-[\d.]+)/, 'Z[$1+#500]'),
    'any depth at all',
  ),
  insert(
    'an origin written for the program after',
    /^offset-unknown$/,
    /^M2$/,
    ['#5221=10'],
    'the next stands 10 mm off',
  ),
  insert(
    'a shift left standing',
    /^offset-unknown$/,
    /^M2$/,
    ['G92 X0 Y0'],
    'the next program stands where this one ended',
  ),
  insert('a stored shift brought back', /^offset-unknown$/, START, ['G92.3'], 'every place is off by what was stored'),
  edit(
    'no coordinate system named',
    /^mode-not-stated$/,
    /^G17 /,
    (l) => l.replace(' G54', ''),
    'another zero is in force',
  ),
  edit(
    'a table length not put off',
    /^mode-not-stated$/,
    /^G17 /,
    (l) => l.replace(' G49', ''),
    'every depth is off by a length',
  ),
  edit(
    'a path left moved aside',
    /^mode-not-stated$/,
    /^G17 /,
    (l) => l.replace(' G40', ''),
    'the path lies a radius aside',
  ),
  insert(
    'a path moved aside by no table',
    /^compensation-unknown$/,
    /^\(Operation/,
    ['G42'],
    'by the cutter that the control knows',
    1,
  ),
  insert(
    'a path moved aside by slot 0',
    /^compensation-unknown$/,
    /^\(Operation/,
    ['G42 D0'],
    'slot 0 may hold a cutter',
    1,
  ),
  {
    name: 'a change spelt otherwise and nobody to touch off',
    codes: /^length-unknown$/,
    within: null,
    plant: untouched,
  },
  ...['M3.0', 'M[3]', 'M+3'].map(
    (spelling): Kind => ({
      name: `a spindle started with ${spelling} and not stopped`,
      codes: /^stop-spindle-on$/,
      within: null,
      plant: spindleOnAtStop(spelling),
    }),
  ),
  insert(
    "another cutter's length in another spelling",
    /^length-unknown$/,
    START,
    ['G043 H[99]'],
    'every depth is off by tens of millimetres',
  ),
  insert(
    'a rapid down at an unknown place',
    // Where the spindle is started again inside a program, the place is known.
    /^(position-unknown|rapid-plunge)$/,
    START,
    ['G0 Z-20', 'G0 Z40'],
    'into stock or a clamp',
    -2,
  ),
  insert(
    'a rapid down with a cutter that the job does not have',
    /^cutter-unknown$/,
    /^T\d+ M6$/,
    ['T999 M6', 'M0', 'G0 Z90', 'G0 X22 Y15', 'G0 Z-20', 'G0 Z90'],
    'into whole stock',
  ),
  insert(
    'a cut as a probing move',
    /^(probe-move|rs274-\d+)$/,
    CUT,
    ['G38.2 Z-1.3 F700'],
    'with the feed and load of no cut',
    1,
  ),
  insert('a spindle stopped in the cut', /^spindle-off$/, CUT, ['M5', 'M3'], 'the standing teeth break', 1),
  insert(
    'an hour on the spot in the cut',
    /^dwell-long$/,
    CUT,
    ['G4 P3600'],
    'it rubs itself blunt and hardens the metal',
    1,
  ),
  insert(
    'forty short waits at one place in the cut',
    /^dwell-long$/,
    CUT,
    Array(40).fill('G4 P1'),
    'it rubs itself blunt',
    1,
  ),
  {
    name: 'a cycle that waits in the hole, thousandths meant and seconds written',
    codes: /^dwell-long$/,
    within: 0,
    plant(c) {
      const holes = find(c.programs, /^G98 G8[13] .*Z-/).filter((at) => !/Q0/.test(c.line(at)));
      const harm = 'the drill burns in its hole';
      return c.certain(holes, harm, (l) => `${l.replace(/G8[13]/, 'G82').replace(/ Q\S+/, '')} P500`);
    },
  },
  insert('a spindle turned round in the cut', /^spindle-off$/, CUT, ['M4', 'G4 P2', 'M3'], 'the teeth break', 1),
  {
    name: 'an end with the cutter down and turning',
    codes: /^stop-(low|spindle-on)$/,
    within: null,
    plant(c) {
      const program = c.programs.length - 1;
      const lines = linesOf(c.programs[program]!);
      const end = lines.lastIndexOf('M2');
      const up = lines.slice(0, end).findLastIndex((l) => /^G0 Z/.test(l));
      if (up < 0) return null;
      const programs = withLines(c.programs, { program, line: up }, end + 1 - up, []);
      return { programs, harm: 'the cutter stands in the slot and turns' };
    },
  },
  edit(
    'a message that fits another cutter',
    /^message-cutter$/,
    /Fit cutter \d/,
    (l) => l.replace(/cutter \d+/, 'cutter 98'),
    'it cuts with another diameter',
  ),
  edit(
    'a message that asks for a cutter of another size',
    /^message-differs$/,
    /Fit cutter \d+: /,
    (l) => l.replace(/(: [a-z -]+ )[\d.]+/, '$19.5'),
    'it cuts with another diameter',
  ),
  edit(
    'a message that asks for a cutter of another kind',
    /^message-differs$/,
    /Fit cutter \d+: (drill|end mill)/,
    (l) => l.replace(/: (drill|end mill)/, (_, k: string) => `: ${k === 'drill' ? 'end mill' : 'drill'}`),
    'it is no cutter for this cut',
  ),
  edit(
    'a message that lets a cutter stand out far',
    /^message-differs$/,
    /stick out [\d.]+ /,
    (l) => l.replace(/stick out ([\d.]+)/, (_, v: string) => `stick out ${2 * Number(v)}`),
    'it bends eight times as far',
  ),
  edit(
    'a message that undoes what holds before the last cut',
    /^message-differs$/,
    /^\(MSG, Touch off/,
    (l) => `(MSG, Take off both clamps)\n${l}`,
    'nothing holds the plate',
  ),
  edit(
    'another material named at the head',
    /^message-differs$/,
    /^\(Material /,
    (l) => l.replace(/Material [^,]+/, l.includes('POM') ? 'Material O1' : 'Material POM'),
    'it is run on another plate',
  ),
  edit(
    'another unit named at the head',
    /^message-differs$/,
    /Lengths in /,
    (l) => (/inches/.test(l) ? l.replace('inches', 'millimetres') : l.replace('millimetres', 'inches')),
    'every figure is read as another length',
  ),
  {
    name: 'a length from the table on top of what was touched off',
    codes: /^stop-untold$/,
    within: 0,
    plant(c) {
      const stop = touchOffStop(c);
      if (stop === undefined) return null;
      const lines = linesOf(c.programs[stop.program]!);
      const call = lines.slice(0, stop.line).findLast((l) => /^T\d+ M6$/.test(l))!;
      if (!lines.slice(stop.line - 2, stop.line).some((l) => /Touch off/.test(l))) return null;
      const programs = withLines(c.programs, stop, 1, ['M0', `G43 H${call.slice(1, -3)}`]);
      return { programs, at: stop, harm: 'every depth is off by the length of the cutter' };
    },
  },
  edit(
    'a figure to touch off at, in other words',
    /^head-disagrees$/,
    /Touch off on .*Z is/,
    (l) => l.replace(/Z is \S+ there/, 'Z is 5 there, about'),
    'every depth after it is off',
  ),
  {
    name: 'a fact of the head stated after the first move as well',
    codes: /^head-(differs|disagrees)$/,
    within: null,
    plant(c) {
      const fact = c.pick(find(c.programs, /^\((ZERO|STOCK|HOLD|TAB) /));
      const [end] = find(c.programs, /^M2$/).filter((at) => at.program === fact?.program);
      if (fact === undefined || end === undefined) return null;
      const moved = withLines(c.programs, end, 0, [c.line(fact)]);
      return { programs: withLines(moved, fact, 1, []), harm: 'who reads the head sets it up otherwise' };
    },
  },
  edit(
    'zero stated twice',
    /^head-disagrees$/,
    /^\(ZERO/,
    (l) => `(ZERO part)\n${l.replace('part', 'stock')}`,
    'who reads the first touches off elsewhere',
  ),
];
