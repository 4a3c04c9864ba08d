/** Jobs that the program was not made for, and programs of a set in another order. */
import { dist } from '../../src/geometry/measure/point.ts';
import { unplacePoint } from '../../src/geometry/measure/transform.ts';
import type { Job } from '../../src/part/part.ts';
import { DISAGREES, fact } from './head-kinds.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, withLine, withWord, wordOf } from './text.ts';

/** The edge where a tab stands is declared free of tabs. */
function tabOnFreeEdge(c: Ground): Planted | null {
  const line = linesOf(c.programs[0]!).find((l) => l.startsWith('(TAB '));
  if (line === undefined) return null;
  const u = c.unit(0);
  const at = { x: wordOf(line.slice(1), 'X')! * u, y: wordOf(line.slice(1), 'Y')! * u };
  const part = Number(line.match(/PART (\d+)/)![1]) - 1;
  const own = unplacePoint(c.job.places[part]!, at);
  const loop = c.job.part.outline.loop;
  const piece = loop.findIndex(
    (s) => (s.kind === 'line' ? distLine(own, s.a, s.b) : Math.abs(dist(own, s.centre) - s.radius)) < 0.02,
  );
  if (piece < 0) return null;
  const s = loop[piece]!;
  const free: Job['part']['noTabs'] = [{ kind: 'stretch', from: s.a, to: s.b }];
  return {
    programs: c.programs,
    job: { ...c.job, part: { ...c.job.part, noTabs: free } },
    harm: 'a tab on an edge that shall have none',
  };
}

function distLine(p: { x: number; y: number }, a: { x: number; y: number }, b: { x: number; y: number }): number {
  const l2 = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const t = Math.max(0, Math.min(1, ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / l2));
  return Math.hypot(p.x - a.x - t * (b.x - a.x), p.y - a.y - t * (b.y - a.y));
}

function job(change: (c: Ground) => Partial<Job> | null, codes: RegExp, harm: string): Omit<Kind, 'name'> {
  return {
    codes,
    within: null,
    plant: (c) => {
      const part = change(c);
      return part === null ? null : { programs: c.programs, job: { ...c.job, ...part }, harm };
    },
  };
}

/** The cutter of the finishing pass, changed in the job and, if told to, in the head as well. */
function cutterSize(by: number, head: boolean): (c: Ground) => Planted | null {
  return (c) => {
    const m = c.of(/finish the outline/)[0];
    if (m === undefined) return null;
    const mine = c.cutter(m);
    const cutters = c.job.cutters.map((k) => (k.number === m.tool ? { ...k, diameter: k.diameter + by } : k));
    const programs = !head
      ? c.programs
      : c.programs.map((p, i) => ({
          file: p.file,
          text: p.text.replace(
            new RegExp(`(\\(CUTTER ${m.tool} [a-z -]+ D)[\\d.]+`),
            (_, l: string) => `${l}${((mine.diameter + by) / c.unit(i)).toFixed(5)}`,
          ),
        }));
    return {
      programs,
      job: { ...c.job, cutters },
      harm: `the cutter is ${by} mm off the one the path was reckoned for`,
    };
  };
}

const profileCutter = (c: Ground) => c.of(/rough the outline|finish the outline/)[0]?.tool;

const cutters = (c: Ground, change: object): Partial<Job> | null => {
  const tool = profileCutter(c);
  return tool === undefined
    ? null
    : { cutters: c.job.cutters.map((k) => (k.number === tool ? { ...k, ...change } : k)) };
};

function clampOnPath(c: Ground): Planted | null {
  const m = c.pick(c.of(/outline/).filter((v) => v.kind !== 'rapid' && v.to.z < 0));
  if (m === undefined) return null;
  const { x, y } = m.to;
  const clamp = {
    kind: 'block' as const,
    min: [x - 1, y - 1] as const,
    max: [x + 1, y + 1] as const,
    top: c.job.stock.max[2] + 10,
  };
  return {
    programs: c.programs,
    job: { ...c.job, clamps: [...c.job.clamps, clamp] },
    harm: 'the path runs through a clamp',
  };
}

function clampUnderHolder(c: Ground): Planted | null {
  const m = c.pick(c.of(/outline/).filter((v) => v.kind !== 'rapid' && v.to.z < -1));
  if (m === undefined) return null;
  const k = c.cutter(m);
  const off = k.holder.diameter / 2 + 0.2;
  const clamp = {
    kind: 'block' as const,
    min: [m.to.x + off, m.to.y - 1] as const,
    max: [m.to.x + off + 3, m.to.y + 1] as const,
    top: m.to.z + k.stickOut + 2,
  };
  return {
    programs: c.programs,
    job: { ...c.job, clamps: [clamp] },
    harm: 'the holder passes 0.2 mm from a clamp that stands higher',
  };
}

/** Programs of one set-up in another running order. */
function order(change: (n: number) => number[] | null, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const n = change(c.programs.length);
    return n === null ? null : { programs: n.map((i) => c.programs[i]!), harm };
  };
}

/** Screws said to be fitted at another block. */
function screwsMoved(c: Ground): Planted | null {
  const at = find(c.programs, /^\(SCREWS FITTED/)[0];
  if (at === undefined) return null;
  // The tabs go too: without them the part hangs on its screws alone.
  const low = Math.min(...c.of(/outline/).map((m) => m.to.z));
  const lines = new Set(c.of(/outline|thin the tabs/).map((m) => `${m.program} ${m.line}`));
  const programs = withLine(c.programs, at, null).map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .map((l, i) => {
        const line = program === at.program && i >= at.line ? i + 1 : i;
        const z = wordOf(l, 'Z');
        const cut = lines.has(`${program} ${line}`) && /^G[123]/.test(l) && z !== undefined && z < -0.01;
        return cut && z * c.unit(program) > low ? withWord(l, 'Z', low / c.unit(program)) : l;
      })
      .filter((l) => !/^\(TAB \d/.test(l))
      .join('\n'),
  }));
  return { programs, job: { ...c.job, hold: { by: 'auto' } }, harm: 'the part is cut free before any screw holds it' };
}

export const JOB_KINDS: readonly Kind[] = [
  { name: 'a tab on an edge that shall have none', codes: DISAGREES, within: null, plant: tabOnFreeEdge },
  {
    name: 'a smaller cutter than the path was reckoned for',
    codes: /^(edge-uncut|tab-width|pocket-uncut|hole-uncut)$/,
    within: null,
    plant: cutterSize(-0.04, true),
  },
  {
    name: 'a larger cutter than the path was reckoned for',
    codes: /^(gouge|tab-width)$/,
    within: null,
    plant: cutterSize(0.04, true),
  },
  {
    name: 'a cutter measured again after the program was made',
    codes: DISAGREES,
    within: null,
    plant: cutterSize(0.04, false),
  },
  {
    name: 'a thicker plate than the program was made for',
    ...job(
      (c) => ({
        part: { ...c.job.part, thickness: c.job.part.thickness + 1 },
        stock: { ...c.job.stock, min: [c.job.stock.min[0], c.job.stock.min[1], c.job.stock.min[2] - 1] },
      }),
      /^(edge-uncut|head-disagrees)$/,
      'the profile does not come through',
    ),
  },
  {
    name: 'another outline than the program was made for',
    ...job((c) => wider(c), /^(gouge|edge-uncut|outline-differs)$/, 'the part wanted is 0.05 mm larger'),
  },
  {
    name: 'a hole added to the job after the program was made',
    ...job(
      (c) =>
        c.job.part.holes[0] === undefined || c.job.part.outline.source.kind !== 'bosses'
          ? null
          : {
              part: {
                ...c.job.part,
                holes: [
                  ...c.job.part.holes,
                  {
                    ...c.job.part.holes[0],
                    index: c.job.part.holes.length,
                    at: middleOf(c.job),
                    diameter: 1.5,
                    limits: null,
                    make: { kind: 'drill' },
                    countersink: null,
                    counterbore: null,
                  },
                ],
              },
            },
      /^hole-uncut$/,
      'a hole is not there',
    ),
  },
  {
    name: 'flutes too short for the cut',
    // Shorter than the thinnest level that is ever planned.
    ...job((c) => cutters(c, { fluteLength: 0.04, shank: 0.5 }), /^flutes-short$/, 'it cuts with its shank'),
  },
  {
    name: 'a shank that rubs',
    ...job(
      (c) => cutters(c, { fluteLength: c.job.part.thickness - 0.5, shank: 8 }),
      /^(shank-rubs|flutes-short)$/,
      'the shank runs into the stock',
    ),
  },
  {
    name: 'a cutter that stands out too little',
    ...job(
      (c) => cutters(c, { stickOut: c.job.part.thickness - 0.2, fluteLength: c.job.part.thickness - 0.3, shank: 0.5 }),
      /^(holder-hits|clamp-hit)$/,
      'the holder comes down on the stock',
    ),
  },
  {
    name: 'a cutter that does not cut at its centre plunged',
    // Where the line before the ramp is a rapid, it is the rapid that goes into the stock.
    codes: /^(plunge|ramp-steep|rapid-plunge)$/,
    within: null,
    plant: plungeWithout,
  },
  { name: 'a clamp across the path', codes: /^clamp-hit$/, within: null, plant: clampOnPath },
  { name: 'a clamp in the way of the holder', codes: /^clamp-hit$/, within: null, plant: clampUnderHolder },
  {
    name: 'a machine of too little travel',
    ...job(
      (c) => ({ machine: { ...c.job.machine, travel: [10, c.job.machine.travel[1], c.job.machine.travel[2]] } }),
      /^travel$/,
      'the slide comes to its end',
    ),
  },
  {
    name: 'a machine of too little power',
    ...job((c) => ({ machine: { ...c.job.machine, power: 2 } }), /^power$/, 'the spindle stalls'),
  },
  {
    name: 'programs in the wrong order',
    codes: /^(program-order|no-hole-before)$/,
    within: null,
    plant: order((n) => (n < 2 ? null : [...Array(n).keys()].reverse()), 'the last program runs first'),
  },
  {
    name: 'a program run twice',
    codes: /^program-order$/,
    within: null,
    plant: order((n) => (n < 2 ? null : [0, ...Array(n).keys()]), 'the first program runs twice'),
  },
  { name: 'the screws not fitted before the part comes free', codes: /^part-loose$/, within: null, plant: screwsMoved },
  {
    name: 'screws through a hole that is not there',
    ...fact(/^\(SCREWS FITTED/, () => '(SCREWS FITTED 97)', 'no such hole'),
  },
];

/** An end mill goes straight down in whole stock, and the job says that it cannot. */
function plungeWithout(c: Ground): Planted | null {
  const lone = c.moves.filter((m) => {
    const k = c.job.cutters.find((v) => v.number === m.tool);
    return (
      k?.kind === 'end mill' &&
      m.kind === 'feed' &&
      m.from.x === m.to.x &&
      m.from.y === m.to.y &&
      m.from.z > 0 &&
      m.to.z < -0.3
    );
  });
  // The first of an operation that starts in whole stock: a ramp taken out of the first pass.
  const ramp = c.of(/rough the outline/).find((m) => m.kind !== 'rapid' && m.to.z < m.from.z - 0.2 && m.from.z > -0.01);
  if (ramp === undefined || lone.length > 99) return null;
  const line = { program: ramp.program, line: ramp.line };
  const z = wordOf(c.line(line), 'Z');
  if (z === undefined) return null;
  const before = { program: ramp.program, line: ramp.line - 1 };
  if (wordOf(c.line(before), 'Z') === undefined) return null;
  const programs = withLine(
    c.programs,
    before,
    withWord(c.line(before), 'Z', Math.min(z, -0.4 / c.unit(ramp.program))),
  );
  const list = c.job.cutters.map((k) => (k.number === ramp.tool ? { ...k, centreCutting: false } : k));
  return { programs, job: { ...c.job, cutters: list }, harm: 'the cutter stands on its uncut middle' };
}

function wider(c: Ground): Partial<Job> | null {
  const { outline } = c.job.part;
  const { source } = outline;
  if (source.kind !== 'bosses') return null;
  const bosses = source.bosses.map((b) => ({ ...b, radius: b.radius + 0.05 }));
  return { part: { ...c.job.part, outline: { ...outline, source: { ...source, bosses } } } };
}

function middleOf(j: Job) {
  const s = j.part.outline.loop[0]!;
  const holes = j.part.holes;
  const first = holes[0]!.at;
  const far = holes[holes.length - 1]!.at;
  return holes.length > 1
    ? { x: first.x + (far.x - first.x) * 0.4, y: first.y + (far.y - first.y) * 0.4 }
    : { x: (first.x + s.a.x) / 2, y: (first.y + s.a.y) / 2 };
}
