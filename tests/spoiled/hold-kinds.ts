/** Faults in what holds the part: tabs severed from afar, and holdings that nothing but the head speaks of. */
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLines } from './text.ts';

interface TabLine {
  readonly x: number;
  readonly y: number;
  readonly degrees: number;
  readonly footprint: number;
}

/** A tab of the first program's head, in program lengths. */
function tabOf(c: Ground): TabLine | undefined {
  const line = c.pick(linesOf(c.programs[0]!).filter((l) => l.startsWith('(TAB ')));
  if (line === undefined) return undefined;
  const of = (name: string) => Number(line.match(new RegExp(`${name} ?(-?[\\d.]+)`))![1]);
  return { x: of(' X'), y: of(' Y'), degrees: of('DIRECTION'), footprint: of('FOOTPRINT') };
}

/** The last time the spindle is stopped: the cutter is up. */
function lastStop(c: Ground): Place | undefined {
  return find(c.programs, /^M5$/).at(-1);
}

/** One stroke at full depth from 30 mm outside to where the cutter's rim is 0.4 mm off the edge. */
function severed(c: Ground): Planted | null {
  const tab = tabOf(c);
  const stop = lastStop(c);
  const m = c.of(/finish the outline/).at(-1);
  if (tab === undefined || stop === undefined || m === undefined || c.programs.length > 1) return null;
  const u = c.unit(0);
  const [cos, sin] = [Math.cos((tab.degrees * Math.PI) / 180), Math.sin((tab.degrees * Math.PI) / 180)];
  const at = (mm: number) => `X${(tab.x + (mm / u) * cos).toFixed(4)} Y${(tab.y + (mm / u) * sin).toFixed(4)}`;
  const clear = linesOf(c.programs[0]!)
    .slice(0, stop.line)
    .findLast((l) => /^G0 Z/.test(l));
  if (clear === undefined) return null;
  const low = (-c.job.part.thickness / u).toFixed(4);
  const near = c.cutter(m).diameter / 2 + 0.4;
  const lines = [`G0 ${at(30)}`, `G1 Z${low} F${(40 / u).toFixed(4)}`, `G1 ${at(near)}`, clear];
  return { programs: withLines(c.programs, stop, 0, lines), harm: 'a tab is cut through from outside' };
}

export const HOLD_KINDS: readonly Kind[] = [
  { name: 'a tab severed by a stroke from afar', codes: /^tab-width$/, within: null, plant: severed },
];
