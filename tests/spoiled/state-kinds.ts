/** Faults in what the control is told besides where to go: spindle, feed, cutter, stops, units, modes, offsets. */
import type { Move } from './course.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLine, withLines, withWord, wordOf } from './text.ts';

const place = (m: Move): Place => ({ program: m.program, line: m.line });

/** The first of its lines in each program carries the mode words. */
const modes = (c: Ground) => find(c.programs, /^G17 /);

function mode(from: string, to: string, harm: string): (c: Ground) => Planted | null {
  return (c) => c.certain(modes(c), harm, (l) => l.replace(new RegExp(`\\b${from}\\b`), to).trim());
}

/** A line put in before a drawn cut. */
function before(operation: RegExp, line: (c: Ground, m: Move) => string, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const m = c.pick(c.of(operation).filter((v) => v.kind !== 'rapid' && v.to.z < -0.1));
    if (m === undefined) return null;
    return { programs: withLines(c.programs, place(m), 0, [line(c, m)]), at: place(m), harm };
  };
}

/** All feeds of one operation times `by`. */
function feeds(by: number, operation: RegExp, raise: boolean): (c: Ground) => Planted | null {
  return (c) => {
    const m = c.pick(c.of(operation).filter((v) => v.kind !== 'rapid'));
    if (m === undefined) return null;
    const lines = new Set(
      c.moves.filter((v) => v.operation === m.operation && v.program === m.program).map((v) => v.line),
    );
    const programs = c.programs.map((p, i) => ({
      file: p.file,
      text: linesOf(p)
        .map((l, line) =>
          i === m.program && lines.has(line) && wordOf(l, 'F') !== undefined
            ? withWord(l, 'F', wordOf(l, 'F')! * by)
            : l,
        )
        .join('\n'),
    }));
    const machine = raise ? { ...c.job.machine, maxFeed: c.job.machine.maxFeed * 20 } : c.job.machine;
    return { programs, job: { ...c.job, machine }, harm: `fed ${by} times as fast as planned` };
  };
}

/** Every feed of one operation, on a machine that could go so fast. */
function tenTimes(what: string, operation: RegExp): Kind {
  return {
    name: `a feed ten times too high, below the limit of the machine: ${what}`,
    codes: /^feed-too-high$/,
    within: null,
    plant: feeds(10, operation, true),
  };
}

function unitsSwapped(c: Ground): Planted | null {
  return c.certain(modes(c), 'every length is 25.4 times too large or too small', (l) =>
    /G21/.test(l) ? l.replace('G21', 'G20') : l.replace('G20', 'G21'),
  );
}

/** Two cutters' calls swapped in one program. */
function cuttersSwapped(c: Ground): Planted | null {
  const calls = find(c.programs, /^T\d+ M6$/);
  const [a, b] = c.shuffled(calls);
  if (a === undefined || b === undefined || c.line(a) === c.line(b)) return null;
  return {
    programs: withLine(withLine(c.programs, a, c.line(b)), b, c.line(a)),
    harm: "two operations run with each other's cutters",
  };
}

function oneCutterOnly(c: Ground): Planted | null {
  const calls = find(c.programs, /^T\d+ M6$/).slice(1);
  return c.certain(calls, 'the cutter before stays in the spindle', () => null);
}

/** Z up before a stop taken away, and every other Z up between the last cut and the stop. */
function stopLow(pattern: RegExp): (c: Ground) => Planted | null {
  return (c) => {
    for (const at of c.shuffled(find(c.programs, pattern))) {
      const lines = linesOf(c.programs[at.program]!);
      const cut = lines.slice(0, at.line).findLastIndex((l) => /^(G[123]|X|G98 G8)/.test(l));
      // A hole may be left at a feed, upwards.
      if (cut < 0 || /G8/.test(lines[cut]!) || /^X/.test(lines[cut]!) || /^G1 Z\d/.test(lines[cut]!)) continue;
      const kept = lines.filter((l, i) => !(i > cut && i < at.line && /^G0 Z/.test(l)));
      if (kept.length === lines.length) continue;
      const programs = c.programs.map((p, i) => (i === at.program ? { file: p.file, text: kept.join('\n') } : p));
      return { programs, harm: 'the cutter stands in the work at the stop' };
    }
    return null;
  };
}

const SOMEWHERE = /./;

export const STATE_KINDS: readonly Kind[] = [
  { name: 'the cutter left in the work at a change', codes: /^stop-low$/, within: null, plant: stopLow(/ M6$/) },
  { name: 'the cutter left in the work at the end', codes: /^stop-low$/, within: null, plant: stopLow(/^M2$/) },
  {
    name: 'the first rise after a stop lost',
    codes: /^position-unknown$/,
    within: 3,
    plant: (c) =>
      c.certain(
        find(c.programs, /^G0 Z/).filter(
          (at) =>
            /^(\(Operation|M0)/.test(c.line({ ...at, line: at.line - 1 })) &&
            linesOf(c.programs[at.program]!)
              .slice(at.line - 2, at.line)
              .some((l) => l === 'M0'),
        ),
        'the cutter goes aside at an unknown height',
        () => null,
      ),
  },
  {
    name: 'no stop to touch off a changed cutter',
    codes: /^length-unknown$/,
    within: null,
    plant: (c) =>
      c.certain(
        // A tap worked by hand is fitted too, but no length of it is ever used.
        find(c.programs, /^M0$/).filter((at) => {
          const before = linesOf(c.programs[at.program]!).slice(at.line - 4, at.line);
          return before.some((l) => / M6$/.test(l)) && before.some((l) => /Touch off/.test(l));
        }),
        'the new cutter has another length',
        () => null,
      ),
  },
  {
    name: 'feeds ten times too high',
    codes: /^(feed-above-machine|feed-too-high)$/,
    within: null,
    plant: feeds(10, /rough the outline|drill|pocket/, false),
  },
  tenTimes('roughing, pockets and bores', /rough the outline|pocket|bore/),
  tenTimes('the finishing pass, with a spring pass where there is one', /finish the outline/),
  tenTimes('the chamfer', /chamfer the top/),
  tenTimes('thinning the tabs', /thin the tabs/),
  tenTimes('facing', /face the top/),
  tenTimes('drilling', /: drill/),
  tenTimes('spotting', /: spot/),
  tenTimes('reaming', /: ream/),
  tenTimes('sinking heads', /countersink|counterbore/),
  {
    name: 'a feed of nothing',
    codes: /^(no-feed|rs274-\d+)$/,
    within: 8,
    plant: (c) =>
      c.certain(find(c.programs, /^G1 .*F/), 'the machine stands or the control refuses', (l) => withWord(l, 'F', 0)),
  },
  {
    name: 'the first feed left out',
    codes: /^(no-feed|rs274-\d+)$/,
    within: 3,
    plant: (c) =>
      c.certain(
        c.programs.flatMap((_, program) =>
          find(c.programs, / F/)
            .filter((at) => at.program === program && !c.line(at).startsWith('('))
            .slice(0, 1),
        ),
        'no feed has been given',
        (l) => withWord(l, 'F', null),
      ),
  },
  { name: 'millimetres for inches or the other way', codes: SOMEWHERE, within: null, plant: unitsSwapped },
  {
    name: 'distances taken as steps',
    codes: SOMEWHERE,
    within: null,
    plant: mode('G90', 'G91', 'every coordinate is taken as a step'),
  },
  {
    name: 'arcs in another plane',
    codes: SOMEWHERE,
    within: null,
    plant: (c) =>
      c.moves.some((m) => m.kind === 'arc' || m.cycle > 0)
        ? c.certain(
            modes(c).filter((at) => c.moves.some((m) => m.program === at.program && (m.kind === 'arc' || m.cycle > 0))),
            'arcs and cycles lie in another plane',
            (l) => l.replace('G17', c.pick(['G18', 'G19'])!),
          )
        : null,
  },
  {
    name: 'inverse-time feed',
    codes: SOMEWHERE,
    within: null,
    plant: (c) =>
      c.certain(
        modes(c).filter((at) => c.of(/outline/).some((m) => m.program === at.program)),
        'F is taken as one over minutes',
        (l) => l.replace('G94', 'G93'),
      ),
  },
  {
    name: 'cutter compensation switched on',
    codes: SOMEWHERE,
    within: null,
    plant: before(/outline/, (_, m) => `G41 D${m.tool}`, 'the path is moved aside by the radius once more'),
  },
  {
    name: 'another coordinate system',
    codes: /^offset-unknown$/,
    within: null,
    plant: mode('G54', 'G55', 'zero is somewhere else'),
  },
  {
    name: 'a coordinate system chosen half way',
    codes: /^offset-unknown$/,
    within: 3,
    plant: before(/outline|drill/, () => 'G56', 'zero is somewhere else'),
  },
  {
    name: 'a length offset that nobody measured',
    codes: /^(length-unknown|rs274-\d+)$/,
    within: null,
    plant: before(/outline|drill/, (_, m) => `G43 H${m.tool + 1}`, 'the length of another cutter counts'),
  },
  {
    name: 'zero shifted by G92',
    codes: SOMEWHERE,
    within: null,
    plant: before(
      /finish the outline|drill/,
      (c, m) => `G92 X${(m.from.x / c.unit(m.program) + 0.5).toFixed(4)}`,
      'everything after it stands half a unit aside',
    ),
  },
  {
    name: 'zero shifted by G10',
    codes: SOMEWHERE,
    within: null,
    plant: before(/finish the outline|drill/, () => 'G10 L2 P1 X0.5', 'everything after it stands half a unit aside'),
  },
  {
    name: 'a move in machine coordinates',
    codes: SOMEWHERE,
    within: null,
    plant: before(/outline/, () => 'G53 G0 X0 Y0', "it goes to the machine's own zero with the cutter down"),
  },
  {
    name: 'a trip to the reference point with the cutter down',
    codes: SOMEWHERE,
    within: null,
    plant: before(/outline/, () => 'G28', 'it goes home through the work'),
  },
  { name: 'two cutters swapped', codes: SOMEWHERE, within: null, plant: cuttersSwapped },
  { name: 'a cutter change lost', codes: SOMEWHERE, within: null, plant: oneCutterOnly },
  {
    name: 'a cutter that the job does not have',
    codes: /^(cutter-unknown|head-disagrees|rs274-\d+)$/,
    within: null,
    plant: (c) => c.certain(find(c.programs, /^T\d+ M6$/), 'nobody knows its size', () => 'T97 M6'),
  },
  {
    name: 'flood coolant that the machine does not have',
    codes: /^(coolant-absent|rs274-118)$/,
    within: 3,
    plant: before(/outline/, () => 'M8', 'the code has no meaning there'),
  },
  {
    name: 'mist that the machine does not have',
    codes: /^(coolant-absent|rs274-118)$/,
    within: 3,
    plant: before(/outline/, () => 'M7', 'the code has no meaning there'),
  },
  {
    name: 'travel beyond the machine',
    codes: /^(travel|gouge|clamp-hit)$/,
    within: null,
    plant: (c) =>
      c.certain(find(c.programs, /^G0 X/), 'the slide comes to its end', (l, at) =>
        withWord(l, 'X', 900 / c.unit(at.program)),
      ),
  },
  {
    name: 'a cycle that retracts into the work',
    codes: SOMEWHERE,
    within: 3,
    plant: (c) =>
      c.certain(
        find(c.programs, /^G98 G8\d .* R/).filter((at) =>
          c.of(/: spot/).some((m) => m.program === at.program && m.line === at.line),
        ),
        'the rapid to R ends in whole stock',
        (l, at) => withWord(l, 'R', -1.2 / c.unit(at.program)),
      ),
  },
  {
    name: 'a cycle code turned into a rapid',
    codes: SOMEWHERE,
    within: 3,
    plant: (c) =>
      c.certain(find(c.programs, /^G98 G8\d /), 'a rapid down into whole stock', (l) =>
        l.replace(/^G98 G8\d/, 'G0').replace(/ [RPQF][\d.]+/g, ''),
      ),
  },
  {
    name: 'a retract level below what stands in the way',
    codes: /^(clamp-hit|rapid-in-stock)$/,
    within: null,
    plant: (c) => lowRetract(c),
  },
];

/** A clamp stands between two holes that one cycle drills; with G99 the cutter does not rise over it. */
function lowRetract(c: Ground): Planted | null {
  for (const at of c.shuffled(find(c.programs, /^X\S+ Y\S+$/))) {
    const own = c.moves.filter((m) => m.program === at.program && m.line === at.line);
    const over = own[0];
    if (over === undefined || over.cycle === 0) continue;
    const [a, b] = [over.from, over.to];
    const l = Math.hypot(b.x - a.x, b.y - a.y);
    if (l < 12) continue;
    const middle = { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
    const top = c.job.stock.max[2] + 0.9;
    const clamp = {
      kind: 'block' as const,
      min: [middle.x - 1, middle.y - 1] as const,
      max: [middle.x + 1, middle.y + 1] as const,
      top,
    };
    const head = find(c.programs, /^G98 G8\d /).findLast((h) => h.program === at.program && h.line < at.line);
    if (head === undefined) continue;
    const programs = withLine(c.programs, head, c.line(head).replace('G98', 'G99'));
    return {
      programs,
      job: { ...c.job, clamps: [...c.job.clamps, clamp] },
      at,
      harm: 'between the holes the cutter passes 0.1 mm over a clamp',
    };
  }
  return null;
}
