/** Faults in what the program says of itself. */
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf } from './text.ts';

export const DISAGREES = /^head-disagrees$/;

/** A fact of the head changed in every program, so that they agree with each other. */
export function fact(
  pattern: RegExp,
  change: (line: string, c: Ground) => string | null,
  harm: string,
  codes = DISAGREES,
) {
  return {
    codes,
    within: null,
    plant: (c: Ground): Planted | null => {
      let changed = 0;
      const programs = c.programs.map((p) => ({
        file: p.file,
        text: linesOf(p)
          .flatMap((l) => {
            if (!pattern.test(l)) return [l];
            const by = change(l, c);
            if (by !== l) changed++;
            return by === null ? [] : [by];
          })
          .join('\n'),
      }));
      return changed === 0 ? null : { programs, harm };
    },
  };
}

/** One word of a comment. */
export function word(line: string, name: string, change: (v: number) => number): string {
  return line.replace(
    new RegExp(`(${name} ?)(-?[\\d.]+)`),
    (_, n: string, v: string) => `${n}${Number(change(Number(v)).toFixed(4))}`,
  );
}

function asked(c: Ground): boolean {
  return c.job.hold.by === 'tabs' && c.job.hold.tabs.count !== null;
}

function tabLost(c: Ground): Planted | null {
  if (!asked(c) || find(c.programs, /^\(TAB \d/).length === 0) return null;
  const first = linesOf(c.programs[0]!).find((l) => l.startsWith('(TAB '))!;
  const programs = c.programs.map((p) => ({ file: p.file, text: p.text.replace(`${first}\n`, '') }));
  return { programs, harm: 'a tab that stands is not declared' };
}

export const HEAD_KINDS: readonly Kind[] = [
  {
    name: 'head: zero elsewhere',
    ...fact(
      /^\(ZERO/,
      (l) => (l.includes('stock') ? '(ZERO part)' : '(ZERO stock)'),
      'zero is said to be at another place',
    ),
  },
  { name: 'head: no zero', ...fact(/^\(ZERO/, () => null, 'nobody can say where zero is') },
  {
    name: 'head: another stock',
    ...fact(/^\(STOCK/, (l) => word(l, 'TO X', (v) => v * 1.1), 'another piece than the job has'),
  },
  { name: 'head: no stock', ...fact(/^\(STOCK/, () => null, 'nobody can say what is cut from') },
  {
    name: 'head: the part elsewhere',
    ...fact(/^\(PART/, (l) => word(l, 'AT X', (v) => v + 0.1), 'the part stands 0.1 aside'),
  },
  {
    name: 'head: the part turned',
    ...fact(/^\(PART/, (l) => word(l, 'TURN', (v) => v + 0.5), 'the part is turned by half a degree'),
  },
  {
    name: 'head: the part mirrored',
    ...fact(
      /^\(PART/,
      (l) => (l.includes('MIRROR no') ? l.replace('MIRROR no', 'MIRROR yes') : l.replace('MIRROR yes', 'MIRROR no')),
      'the wrong hand',
    ),
  },
  { name: 'head: a part missing', ...fact(/^\(PART 1 /, () => null, 'one part fewer than the job has') },
  {
    name: 'head: a cutter of another size',
    ...fact(/^\(CUTTER/, (l) => word(l, ' D', (v) => v + 0.1), 'cutters 0.1 larger than in the job'),
  },
  {
    name: 'head: a cutter of another kind',
    ...fact(/^\(CUTTER \d+ (end mill|drill)/, (l) => l.replace(/end mill|drill/, 'reamer'), 'another kind of cutter'),
  },
  {
    name: 'head: another way of holding',
    ...fact(/^\(HOLD/, (l, c) => (c.job.hold.by === 'auto' ? l : '(HOLD glue)'), 'glue was never asked for'),
  },
  { name: 'head: no holding', ...fact(/^\(HOLD/, () => null, 'nothing is said to hold the part') },
  { name: 'head: a tab missing', codes: /^(head-disagrees|edge-uncut)$/, within: null, plant: tabLost },
  {
    name: 'head: tabs lower than asked',
    ...fact(
      /^\(TAB/,
      (l, c) => (asked(c) ? word(l, 'HEIGHT', (v) => v - 0.1 / c.unit(0)) : l),
      'lower tabs than the job asks',
    ),
  },
  {
    name: 'head: tabs narrower than asked',
    ...fact(
      /^\(TAB/,
      (l, c) =>
        asked(c) && c.job.hold.by === 'tabs' && c.job.hold.tabs.width !== null
          ? word(l, 'WIDTH', (v) => v - 0.2 / c.unit(0))
          : l,
      'narrower tabs than the job asks',
    ),
  },
  {
    name: 'head: tabs wider than they are',
    ...fact(
      /^\(TAB/,
      (l, c) => (c.of(/thin the tabs/).length > 0 ? l : word(l, 'WIDTH', (v) => v + 0.5 / c.unit(0))),
      'the tabs are 0.5 mm narrower than stated',
      /^tab-width$/,
    ),
  },
  {
    name: 'head: a tab off the edge',
    ...fact(
      /^\(TAB/,
      (l, c) => word(l, 'AT X', (v) => v + 2 / c.unit(0)),
      'the tab is not where it is said to be',
      /^(head-disagrees|tab-width|tab-height|edge-uncut)$/,
    ),
  },
  {
    name: 'head: a tab that points elsewhere',
    ...fact(/^\(TAB/, (l) => word(l, 'DIRECTION', (v) => v + 20), 'not the normal of the edge'),
  },
  {
    name: 'head: a footprint shorter than what is left',
    ...fact(
      /^\(TAB/,
      (l) => l.replace(/FOOTPRINT [\d.]+/, `FOOTPRINT ${l.match(/WIDTH ([\d.]+)/)![1]}`),
      'stock is left on the edge beside the tab',
      /^edge-uncut$/,
    ),
  },
  {
    name: 'head: a footprint 40 mm longer than what is left',
    ...fact(
      /^\(TAB/,
      (l) => word(l, 'FOOTPRINT', (v) => v + 40),
      'the head would excuse edge that is left by mistake',
      /^tab-footprint$/,
    ),
  },
  {
    name: 'head: a fact that cannot be read',
    ...fact(/^\(TAB 1/, (l) => l.replace('WIDTH', 'WIDE'), 'the tab is not declared'),
  },
];
