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

/** A ring round each clamp, so deep that a tenth of a millimetre joins it to the rest. */
function clampsRinged(c: Ground): Planted | null {
  const stop = lastStop(c);
  const m = c.of(/finish the outline/).at(-1);
  const blocks = c.job.clamps.flatMap((k) => (k.kind === 'block' ? [k] : []));
  const onTabs = find(c.programs, /^\(HOLD (tabs|stub)/).length > 0;
  if (stop === undefined || m === undefined || c.programs.length > 1 || blocks.length < c.job.clamps.length)
    return null;
  if (blocks.length === 0 || !onTabs) return null;
  const u = c.unit(0);
  const mm = (v: number) => (v / u).toFixed(4);
  const clear = linesOf(c.programs[0]!)
    .slice(0, stop.line)
    .findLast((l) => /^G0 Z/.test(l));
  if (clear === undefined) return null;
  const off = c.cutter(m).diameter / 2 + 1.1;
  const rings = blocks.flatMap(({ min, max }) => {
    const [x0, y0, x1, y1] = [min[0] - off, min[1] - off, max[0] + off, max[1] + off];
    const way = [`X${mm(x1)} Y${mm(y0)}`, `X${mm(x1)} Y${mm(y1)}`, `X${mm(x0)} Y${mm(y1)}`, `X${mm(x0)} Y${mm(y0)}`];
    const low = mm(c.job.stock.min[2] + 0.1);
    return [`G0 X${mm(x0)} Y${mm(y0)}`, `G1 Z${low} F${mm(40)}`, ...way.map((w) => `G1 ${w}`), clear];
  });
  return { programs: withLines(c.programs, stop, 0, rings), harm: 'the clamps hold on to a foil' };
}

/** The last tab of the head stated to stand where the first does. */
function statedTwice(c: Ground): Planted | null {
  const lines = linesOf(c.programs[0]!).filter((l) => l.startsWith('(TAB '));
  const last = lines.at(-1);
  if (lines.length < 2 || last === undefined || !/PART 1 /.test(last)) return null;
  const copy = lines[0]!.replace(/^\(TAB \d+/, last.match(/^\(TAB \d+/)![0]);
  const programs = c.programs.map((p) => ({ file: p.file, text: p.text.replace(last, copy) }));
  return { programs, harm: 'one tab counts as two' };
}

/** What holds is stated to be something that a job left to the program does not speak of. */
function invented(by: string): (c: Ground) => Planted | null {
  return (c) => {
    if (find(c.programs, /^\(HOLD tabs\)$/).length === 0) return null;
    const text = (t: string) => t.replace('(HOLD tabs)', `(HOLD ${by})`).replace(/\(TAB \d.*\n/g, '');
    const programs = c.programs.map((p) => ({ file: p.file, text: text(p.text) }));
    return { programs, job: { ...c.job, hold: { by: 'auto' } }, harm: `nothing is known of ${by}` };
  };
}

/** The event at which screws are fitted, changed; null: taken away. */
function screws(change: (line: string, c: Ground) => string | null, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const at = find(c.programs, /^\(SCREWS FITTED/)[0];
    const line = at === undefined ? undefined : c.line(at);
    if (at === undefined || line === undefined) return null;
    const by = change(line, c);
    return by === line ? null : { programs: withLines(c.programs, at, 1, by === null ? [] : [by]), harm };
  };
}

function screwsLate(c: Ground): Planted | null {
  const at = find(c.programs, /^\(SCREWS FITTED/)[0];
  const stop = lastStop(c);
  if (at === undefined || stop === undefined || stop.program !== at.program) return null;
  const programs = withLines(withLines(c.programs, stop, 0, [c.line(at)]), at, 1, []);
  return { programs, harm: 'the screws are fitted when all is cut' };
}

function backingWhole(c: Ground): Planted | null {
  const drilled = c.of(/in the backing/).filter((m) => m.cycle > 0);
  if (drilled.length === 0) return null;
  const gone = new Set(drilled.map((m) => `${m.program} ${m.line}`));
  const programs = c.programs.map((p, i) => ({
    file: p.file,
    text: linesOf(p)
      .filter((_, line) => !gone.has(`${i} ${line}`))
      .join('\n'),
  }));
  return { programs, harm: 'there is nothing to screw into' };
}

const DISAGREES = /^head-disagrees$/;

export const HOLD_KINDS: readonly Kind[] = [
  { name: 'a tab severed by a stroke from afar', codes: /^tab-width$/, within: null, plant: severed },
  { name: 'the frame cut to a foil round the clamps', codes: /^tabs-weak$/, within: null, plant: clampsRinged },
  { name: 'a tab stated twice', codes: DISAGREES, within: null, plant: statedTwice },
  { name: 'glue that the job does not speak of', codes: DISAGREES, within: null, plant: invented('glue') },
  { name: 'screws that the job does not speak of', codes: DISAGREES, within: null, plant: invented('screws M3') },
  {
    name: 'tabs alone where screws were asked for',
    codes: DISAGREES,
    within: null,
    plant: screws(() => null, 'no screw holds it'),
  },
  {
    name: 'one screw fewer than asked for',
    codes: DISAGREES,
    within: null,
    plant: screws((l) => l.replace(/ \d+\)$/, ')').replace('FITTED)', 'FITTED 0)'), 'a screw is missing'),
  },
  { name: 'screws fitted after the profile', codes: DISAGREES, within: null, plant: screwsLate },
  { name: 'a backing not drilled for its screws', codes: /^backing-hole$/, within: null, plant: backingWhole },
];
