/** Faults in where the cutter goes sideways. Harm by the brute-force judge. */
import { type Move, sweepOf } from './course.ts';
import { harmOf } from './harm.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLine, withWord, wordOf } from './text.ts';

const PROFILE = /outline/;
const FINISH = /finish the outline/;
const PASS_OF_OUTLINE = /finish the outline|rough the outline/;

const UNCUT = /^(edge-uncut|face-uncut|hole-uncut|pocket-uncut)$/;
const SHAPE =
  /^(gouge|gouge-field|edge-uncut|hole-uncut|pocket-uncut|face-uncut|hole-place|tab-width|rapid-in-stock|rs274-\d+|plunge)$/;

const place = (m: Move): Place => ({ program: m.program, line: m.line });
const low = (c: Ground, m: Move) => Math.min(m.from.z, m.to.z) <= -c.job.part.thickness / 2;

/** Moves beside the finished edge, deep enough to matter, that have a word. */
function beside(c: Ground, letter: string, kind?: Move['kind']): Place[] {
  return c
    .of(FINISH)
    .filter((m) => m.kind !== 'rapid' && (kind === undefined || m.kind === kind) && low(c, m))
    .map(place)
    .filter((at) => wordOf(c.line(at), letter) !== undefined);
}

function shifted(by: number): (c: Ground) => Planted | null {
  return (c) => {
    const letter = c.pick(['X', 'Y'])!;
    for (const sign of c.shuffled([1, -1])) {
      const planted = c.harmful(beside(c, letter, 'feed'), (l, at) =>
        withWord(l, letter, wordOf(l, letter)! + (sign * by) / c.unit(at.program)),
      );
      if (planted !== null) return planted;
    }
    return null;
  };
}

/** Centre moved along the line that keeps it as far from both ends: the words stay within the language. */
function centreSlid(c: Ground): Planted | null {
  const arcs = c.of(FINISH).filter((m) => m.kind === 'arc' && low(c, m) && Math.abs(sweepOf(m)) > 0.5);
  for (const m of c.shuffled(arcs).slice(0, 6)) {
    const [dx, dy] = [m.to.x - m.from.x, m.to.y - m.from.y];
    const l = Math.hypot(dx, dy);
    if (l < 0.5) continue;
    for (const by of c.shuffled([0.15, -0.15])) {
      const u = c.unit(m.program);
      const i = (m.centre.x - m.from.x - (dy / l) * by) / u;
      const j = (m.centre.y - m.from.y + (dx / l) * by) / u;
      const line = withWord(withWord(c.line(place(m)), 'I', i), 'J', j);
      const programs = withLine(c.programs, place(m), line);
      const harm = harmOf(c.good, programs);
      if (harm !== null) return { programs, at: place(m), harm };
    }
  }
  return null;
}

/** The centre words replaced by a radius of the sign that means the other arc. */
function wrongRadiusArc(c: Ground): Planted | null {
  const arcs = c
    .of(FINISH)
    .filter((m) => m.kind === 'arc' && low(c, m) && Math.abs(Math.abs(sweepOf(m)) - Math.PI) > 0.3);
  for (const m of c.shuffled(arcs.filter((a) => Math.abs(sweepOf(a)) < 6)).slice(0, 6)) {
    const r = Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y) / c.unit(m.program);
    const sign = Math.abs(sweepOf(m)) < Math.PI ? -1 : 1;
    const line = `${withWord(withWord(c.line(place(m)), 'I', null), 'J', null)} R${(sign * r).toFixed(5)}`;
    const programs = withLine(c.programs, place(m), line);
    // The judge reads no radius words: it is shown the same arc by its centre. Beside a stub the other arc may lie in the open.
    const harm = harmOf(c.good, withLine(c.programs, place(m), byCentre(c, m)));
    if (harm !== null) return { programs, at: place(m), harm };
  }
  return null;
}

/** The other of the two arcs of the same radius between the ends of an arc. */
function byCentre(c: Ground, m: Move): string {
  const u = c.unit(m.program);
  const [x, y] = [m.from.x + m.to.x - m.centre.x, m.from.y + m.to.y - m.centre.y];
  return withWord(withWord(c.line(place(m)), 'I', (x - m.from.x) / u), 'J', (y - m.from.y) / u);
}

/** Arcs with both centre words and ends well apart. */
function openArcs(c: Ground): Place[] {
  return c
    .of(FINISH)
    .filter((m) => m.kind === 'arc' && Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) > 0.5)
    .map(place)
    .filter((at) => wordOf(c.line(at), 'I') !== undefined && wordOf(c.line(at), 'J') !== undefined);
}

/** Whole passes: every line of the operation's cuts is moved or taken away. */
function whole(change: (line: string, c: Ground, program: number) => string): (c: Ground) => Planted | null {
  return (c) => {
    const lines = new Map(
      c
        .of(FINISH)
        .filter((m) => m.kind !== 'rapid')
        .map((m) => [`${m.program} ${m.line}`, place(m)]),
    );
    if (lines.size === 0) return null;
    const programs = c.programs.map((p, program) => ({
      file: p.file,
      text: linesOf(p)
        .map((l, line) => (lines.has(`${program} ${line}`) ? change(l, c, program) : l))
        .join('\n'),
    }));
    const harm = harmOf(c.good, programs);
    return harm === null ? null : { programs, harm };
  };
}

function finishLost(c: Ground): Planted | null {
  const cuts = c.of(FINISH).filter((m) => m.kind !== 'rapid');
  if (cuts.length === 0) return null;
  const gone = new Set(cuts.map((m) => `${m.program} ${m.line}`));
  const programs = c.programs.map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .filter((_, line) => !gone.has(`${program} ${line}`))
      .join('\n'),
  }));
  const harm = harmOf(c.good, programs);
  return harm === null ? null : { programs, harm };
}

function scaled(c: Ground): Planted | null {
  const by = c.pick([1.002, 0.998])!;
  const programs = c.programs.map((p) => ({
    file: p.file,
    text: linesOf(p)
      .map((l) =>
        l.startsWith('(')
          ? l
          : l.replace(/\b([XYIJ])(-?[\d.]+)/g, (_, w: string, v: string) => `${w}${(Number(v) * by).toFixed(5)}`),
      )
      .join('\n'),
  }));
  // Every wall moves by a five-hundredth of its distance from the zero: no judge is needed to see that it is far off.
  const reach = Math.max(...c.good.job.stock.max.slice(0, 2), ...c.good.job.stock.min.slice(0, 2).map((v) => -v));
  const off = reach * 0.002;
  return off < 0.04 ? null : { programs, harm: `everything ${by} times as large: ${off.toFixed(3)} mm at the far end` };
}

function swapNeighbours(c: Ground): Planted | null {
  const cuts = c.of(PROFILE).filter((m) => m.kind !== 'rapid' && low(c, m));
  for (const m of c.shuffled(cuts).slice(0, 8)) {
    const [a, b] = [place(m), { program: m.program, line: m.line + 1 }];
    const [la, lb] = [c.line(a), c.line(b)];
    if (!/^G[123] /.test(la) || !/^G[123] /.test(lb)) continue;
    const programs = withLine(withLine(c.programs, a, lb), b, la);
    const harm = harmOf(c.good, programs);
    if (harm !== null) return { programs, at: a, harm: `${la} / ${lb} swapped: ${harm}` };
  }
  return null;
}

const cutLines = (c: Ground) =>
  c
    .of(/outline|pocket|bore/)
    .filter((m) => m.kind !== 'rapid')
    .map(place);

export const PATH_KINDS: readonly Kind[] = [
  {
    name: 'a coordinate of the finishing pass moved by 0.02 mm',
    codes: /^(gouge|edge-uncut|rs274-49|rs274-50)$/,
    within: 6,
    plant: shifted(0.02),
  },
  { name: 'a coordinate of the finishing pass moved by 0.1 mm', codes: SHAPE, within: 6, plant: shifted(0.1) },
  { name: 'a coordinate of the finishing pass moved by 1 mm', codes: SHAPE, within: 6, plant: shifted(1) },
  {
    name: 'an arc turned round',
    codes: SHAPE,
    within: 3,
    plant: (c) =>
      c.harmful(beside(c, 'I'), (l) => (/^G2\b/.test(l) ? l.replace(/^G2\b/, 'G3') : l.replace(/^G3\b/, 'G2'))),
  },
  {
    name: 'the centre of an arc off by 0.1 mm, beyond what the language allows',
    codes: /^rs274-\d+$/,
    within: 0,
    plant: (c) =>
      c.certain(openArcs(c), 'the two radii of the arc differ by far more than 0.002 mm', (l, at) => {
        // Along the chord, so that one radius grows and the other shrinks.
        const m = c.moves.find((v) => v.program === at.program && v.line === at.line)!;
        const chord = Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) * c.unit(at.program) * 10;
        const moved = withWord(l, 'I', wordOf(l, 'I')! + (m.to.x - m.from.x) / chord);
        return withWord(moved, 'J', (wordOf(l, 'J') ?? 0) + (m.to.y - m.from.y) / chord);
      }),
  },
  { name: 'the centre of an arc slid within the language', codes: SHAPE, within: 3, plant: centreSlid },
  {
    name: 'an arc by radius with the wrong sign',
    codes: /^(gouge|edge-uncut|clamp-hit|travel|rs274-\d+)$/,
    within: 3,
    plant: wrongRadiusArc,
  },
  {
    name: 'the decimal point of a coordinate lost',
    codes: /./,
    within: 4,
    plant: (c) => c.harmful([...beside(c, 'X'), ...beside(c, 'Y')], (l) => l.replace(/([XY]-?\d+)\.(\d+)/, '$1$2')),
  },
  {
    name: 'the sign of a centre word lost',
    codes: SHAPE,
    within: 3,
    plant: (c) =>
      c.certain(
        beside(c, 'I').filter((at) => Math.abs(wordOf(c.line(at), 'I')!) > 0.05),
        'the arc has another centre',
        (l) => withWord(l, 'I', -wordOf(l, 'I')!),
      ),
  },
  {
    name: 'X and Y swapped in a block',
    codes: /./,
    within: 4,
    plant: (c) =>
      c.harmful(
        beside(c, 'X').filter((at) => wordOf(c.line(at), 'Y') !== undefined),
        (l) => l.replace('X', '?').replace('Y', 'X').replace('?', 'Y'),
      ),
  },
  { name: 'a block of the profile lost', codes: SHAPE, within: 6, plant: (c) => c.harmful(cutLines(c), () => null) },
  { name: 'two neighbouring blocks of the profile swapped', codes: SHAPE, within: 8, plant: swapNeighbours },
  { name: 'the finishing pass lost', codes: UNCUT, within: null, plant: finishLost },
  {
    name: 'the finishing pass 0.02 mm aside',
    codes: /^(gouge|edge-uncut|rs274-49|rs274-50)$/,
    within: null,
    plant: whole((l, c, p) =>
      wordOf(l, 'X') === undefined ? l : withWord(l, 'X', wordOf(l, 'X')! + 0.02 / c.unit(p)),
    ),
  },
  { name: 'everything 0.2 % too large or too small', codes: SHAPE, within: null, plant: scaled },
  {
    name: 'a digit of a coordinate mistyped',
    codes: /./,
    within: 8,
    plant: (c) =>
      c.harmful(cutLines(c), (l) => {
        const spots = [...l.matchAll(/[XYIJ]-?[\d.]+/g)].flatMap((m) =>
          [...m[0]].flatMap((ch, i) => (/\d/.test(ch) ? [m.index + i] : [])),
        );
        const spot = c.pick(spots);
        return spot === undefined
          ? l
          : `${l.slice(0, spot)}${(Number(l[spot]) + 1 + Math.floor(c.number(0, 8.99))) % 10}${l.slice(spot + 1)}`;
      }),
  },
  {
    name: 'a feed turned into a rapid',
    codes: /^(rapid-in-stock|rapid-plunge|gouge)$/,
    within: 1,
    plant: (c) =>
      c.harmful(
        c
          .of(PASS_OF_OUTLINE)
          .filter((m) => m.kind === 'feed')
          .map(place),
        (l) => l.replace(/^G1\b/, 'G0').replace(/ F[\d.]+/, ''),
      ),
  },
  {
    name: 'a lift before a rapid lost',
    codes: /^(rapid-in-stock|gouge|position-unknown)$/,
    within: 3,
    plant: (c) => c.harmful(find(c.programs, /^G0 Z[\d.]+$/), () => null),
  },
  {
    name: 'a clearance height below the top of the stock',
    codes: /^(rapid-in-stock|rapid-plunge|position-unknown|clamp-hit|gouge)$/,
    within: 3,
    plant: (c) => c.harmful(find(c.programs, /^G0 Z[\d.]+$/), (l, at) => withWord(l, 'Z', -0.5 / c.unit(at.program))),
  },
];
