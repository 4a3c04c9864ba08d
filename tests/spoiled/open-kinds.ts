/** Faults in pockets that are open at the edge of the part. */
import type { Move } from './course.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { linesOf, withWord, wordOf } from './text.ts';

/** Cuts of open pockets. Where a job has one, all its blind pockets are. */
function cuts(c: Ground): Move[] {
  if (!c.job.part.pockets.some((p) => p.open.length > 0)) return [];
  return c.of(/pocket \d+, [\d.]+( mm)? deep/).filter((m) => m.kind !== 'rapid');
}

/** Every line of such an operation rewritten. */
function each(c: Ground, harm: string, change: (line: string, unit: number, m: Move) => string): Planted | null {
  const lines = new Map(cuts(c).map((m) => [`${m.program} ${m.line}`, m]));
  if (lines.size === 0) return null;
  const programs = c.programs.map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .map((l, line) => {
        const m = lines.get(`${program} ${line}`);
        return m === undefined ? l : change(l, c.unit(program), m);
      })
      .join('\n'),
  }));
  return { programs, harm };
}

function moved(l: string, letter: string, by: number): string {
  const v = wordOf(l, letter);
  return v === undefined ? l : withWord(l, letter, v + by);
}

export const OPEN_KINDS: readonly Kind[] = [
  {
    name: 'an open slot left 0.02 mm shallow',
    codes: /^(face-uncut|pocket-uncut)$/,
    within: null,
    plant: (c) =>
      each(c, 'its floor is 0.02 mm too high', (l, unit, m) => (m.to.z < -0.05 ? moved(l, 'Z', 0.02 / unit) : l)),
  },
  {
    name: 'an open slot cut 0.02 mm too wide on one side',
    codes: /^gouge$/,
    within: null,
    // The slots here run along X.
    plant: (c) => each(c, 'its wall is cut 0.02 mm into', (l, unit) => moved(l, 'Y', 0.02 / unit)),
  },
  {
    name: 'an open slot that ends short of the edge',
    codes: /^(face-uncut|pocket-uncut|edge-uncut)$/,
    within: null,
    plant: (c) =>
      each(c, 'stock is left in the mouth', (l, unit, m) => {
        const r = c.cutter(m).diameter / 2;
        const most = Math.max(...cuts(c).map((x) => x.to.x)) - 2 * r - 0.5;
        if (m.to.x <= most && m.from.x <= most) return l;
        // Arcs that ended or began out there run straight, or they would be no arcs.
        const straight = withWord(withWord(l.replace(/^G[23]/, 'G1'), 'I', null), 'J', null);
        return m.to.x > most && wordOf(l, 'X') !== undefined ? withWord(straight, 'X', most / unit) : straight;
      }),
  },
];
