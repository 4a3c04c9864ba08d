/** Faults in holes: place, size, depth, order. Harm from the figures of the job. */
import { courseOf, type Move } from './course.ts';
import type { Text } from './jobs.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { linesOf, type Place, withLine, withWord, wordOf } from './text.ts';

const place = (m: Move): Place => ({ program: m.program, line: m.line });

/** The feed strokes that go down into holes with a cutter of a kind, by operation words. */
function down(c: Ground, operation: RegExp): Move[] {
  return c
    .of(operation)
    .filter((m) => m.kind === 'feed' && m.to.z < m.from.z && m.to.z < 0 && m.to.x === m.from.x && m.to.y === m.from.y);
}

/** The line that holds the words of the place of a hole: the cycle's own, or the rapid before the feed. */
function aside(c: Ground, operation: RegExp, by: number): Planted | null {
  const lines = new Set(down(c, operation).map((m) => `${m.program} ${m.line}`));
  const m = c.pick(down(c, operation).filter((d) => lines.has(`${d.program} ${d.line}`)));
  if (m === undefined) return null;
  const letter = c.pick(['X', 'Y'])!;
  // Every line that brings the cutter to this very place.
  const u = c.unit(m.program);
  const want = letter === 'X' ? m.to.x : m.to.y;
  const op = linesOf(c.programs[m.program]!).indexOf(`(${m.operation})`);
  const programs = c.programs.map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .map((l, line) => {
        const v = wordOf(l, letter);
        const here =
          program === m.program && line > op && line <= m.line && v !== undefined && Math.abs(v * u - want) < 1e-3;
        return here ? withWord(l, letter, v + by / u) : l;
      })
      .join('\n'),
  }));
  return { programs, at: place(m), harm: `a hole stands ${by} mm aside` };
}

/** Every stroke of an operation (pecks too) at its lowest level moved by `by`. */
function deeper(
  c: Ground,
  operation: RegExp,
  by: number,
  harm: string,
  which: (m: Move) => boolean = () => true,
): Planted | null {
  const strokes = down(c, operation).filter(which);
  const m = c.pick(strokes);
  if (m === undefined) return null;
  const same = strokes.filter(
    (s) => s.operation === m.operation && Math.hypot(s.to.x - m.to.x, s.to.y - m.to.y) < 1e-3,
  );
  const low = Math.min(...same.map((s) => s.to.z));
  let programs = c.programs;
  let changed = false;
  for (const s of same.filter((v) => Math.abs(v.to.z - low) < 1e-4)) {
    const line = c.line(place(s));
    const z = wordOf(line, 'Z');
    if (z === undefined) continue;
    programs = withLine(programs, place(s), withWord(line, 'Z', z + by / c.unit(s.program)));
    changed = true;
  }
  if (!changed || (by > 0 && reachOf(programs, m) < reachOf(c.programs, m) + 0.01)) return null;
  return { programs, at: place(m), harm };
}

/** Lowest that the cutter of a stroke goes at its place: a peck before the last may be deep enough. */
function reachOf(programs: readonly Text[], m: Move): number {
  const here = courseOf(programs).filter(
    (v) => v.tool === m.tool && Math.hypot(v.to.x - m.to.x, v.to.y - m.to.y) < 1e-3,
  );
  return Math.min(...here.map((v) => v.to.z));
}

const holeAt = (c: Ground, m: Move) =>
  c.job.part.holes.find((h) =>
    c.job.places.some((p) => {
      const x = p.mirror ? -h.at.x : h.at.x;
      const [cs, sn] = [Math.cos(p.turn), Math.sin(p.turn)];
      return Math.hypot(p.at.x + x * cs - h.at.y * sn - m.to.x, p.at.y + x * sn + h.at.y * cs - m.to.y) < 0.01;
    }),
  );

const through = (c: Ground) => (m: Move) => holeAt(c, m)?.depth === null;
const blind = (c: Ground) => (m: Move) => {
  const hole = holeAt(c, m);
  return hole !== undefined && hole.depth !== null;
};

/** Words of drilling that makes the hole's own size, not what is reamed or bored after. */
const FINAL = /^Operation \d+: (drill [\d.]+( mm)?(,| to clear| for)|ream)/;

function lost(operation: RegExp, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const m = c.pick(c.of(operation).filter((v) => v.kind !== 'rapid'));
    if (m === undefined) return null;
    const gone = new Set(
      c.moves.filter((v) => v.operation === m.operation && v.program === m.program).map((v) => v.line),
    );
    const lines = linesOf(c.programs[m.program]!).filter((l, i) => !(gone.has(i) && /^(G98 |X|G1 |G8)/.test(l)));
    const programs = c.programs.map((p, i) => (i === m.program ? { file: p.file, text: lines.join('\n') } : p));
    return { programs, harm };
  };
}

/** Circles of a bore made by the end mill: start, end and centre moved outwards or inwards. */
function bored(by: number): (c: Ground) => Planted | null {
  return (c) => {
    const hole = c.job.part.holes.find((h) => h.make.kind === 'bore');
    if (hole === undefined) return null;
    const arcs = c.of(/bore/).filter((m) => m.kind === 'arc');
    if (arcs.length === 0) return null;
    const at = arcs[arcs.length - 1]!.centre;
    const radius = Math.max(...arcs.map((m) => Math.hypot(m.from.x - m.centre.x, m.from.y - m.centre.y)));
    const grow = 1 + by / radius;
    // All that reaches the wall is scaled about the hole's axis: a cutter or an offset of the wrong size.
    const lines = new Set(c.of(/bore/).map((m) => `${m.program} ${m.line}`));
    const programs = c.programs.map((p, program) => ({
      file: p.file,
      text: linesOf(p)
        .map((l, line) => {
          if (!lines.has(`${program} ${line}`)) return l;
          const u = c.unit(program);
          let s = l;
          for (const [letter, centre] of [
            ['X', at.x],
            ['Y', at.y],
          ] as const) {
            const v = wordOf(s, letter);
            if (v !== undefined) s = withWord(s, letter, centre / u + (v - centre / u) * grow);
          }
          for (const letter of ['I', 'J']) {
            const v = wordOf(s, letter);
            if (v !== undefined) s = withWord(s, letter, v * grow);
          }
          return s;
        })
        .join('\n'),
    }));
    return {
      programs,
      harm: `the bore is ${(2 * Math.abs(by)).toFixed(3)} mm too ${by > 0 ? 'large' : 'small'} in diameter`,
    };
  };
}

function wrongDrill(c: Ground): Planted | null {
  const m = c.pick(down(c, /: drill/));
  if (m === undefined || c.programs.length > 1) return null;
  const mine = c.cutter(m);
  const others = new Set(down(c, /: (drill|ream)/).map((d) => d.tool));
  const other = c.pick(
    [...others].filter((t) => Math.abs(c.job.cutters.find((k) => k.number === t)!.diameter - mine.diameter) > 0.3),
  );
  if (other === undefined) return null;
  const text = linesOf(c.programs[0]!);
  const t = text.findLastIndex((l, i) => i < m.line && l === `T${m.tool} M6`);
  return t < 0
    ? null
    : {
        programs: withLine(c.programs, { program: 0, line: t }, `T${other} M6`),
        harm: `cutter ${other} in place of ${m.tool}`,
      };
}

/** The drill of the backing's threads exchanged for another of the program: the part itself is as it should be. */
function wrongBackingDrill(c: Ground): Planted | null {
  const m = c.pick(down(c, /in the backing/));
  if (m === undefined || c.job.hold.by !== 'screws') return null;
  const other = c.pick([...new Set(down(c, /: drill/).map((d) => d.tool))].filter((t) => t !== m.tool));
  const text = linesOf(c.programs[m.program]!);
  const t = text.findLastIndex((l, i) => i < m.line && l === `T${m.tool} M6`);
  if (other === undefined || t < 0) return null;
  return {
    programs: withLine(c.programs, { program: m.program, line: t }, `T${other} M6`),
    harm: `the backing is drilled with cutter ${other} in place of ${m.tool}: the thread of the screw strips`,
  };
}

export const HOLE_KINDS: readonly Kind[] = [
  { name: 'the wrong drill in the backing', codes: /^(backing-hole|gouge)$/, within: null, plant: wrongBackingDrill },
  { name: 'a drilled hole 0.01 mm aside', codes: /^hole-place$/, within: 1, plant: (c) => aside(c, /: drill/, 0.01) },
  { name: 'a reamed hole 0.01 mm aside', codes: /^hole-place$/, within: 1, plant: (c) => aside(c, /: ream/, 0.01) },
  { name: 'a spot 0.02 mm aside', codes: /^(hole-place|gouge)$/, within: 1, plant: (c) => aside(c, /: spot/, 0.02) },
  {
    name: 'a hole 1 mm aside',
    codes: /^(gouge|hole-place|hole-uncut)$/,
    within: null,
    plant: (c) => aside(c, FINAL, 1),
  },
  {
    name: 'a through hole 0.1 mm short',
    codes: /^hole-uncut$/,
    within: null,
    plant: (c) => deeperTo(c, FINAL, 0.1, through(c)),
  },
  {
    name: 'a through hole half way',
    codes: /^hole-uncut$/,
    within: null,
    plant: (c) => {
      const planted = deeper(c, FINAL, c.job.part.thickness / 2 + 1.5, 'the hole does not come through', through(c));
      const m =
        planted?.at === undefined
          ? undefined
          : c.moves.find((v) => v.program === planted.at!.program && v.line === planted.at!.line && v.kind === 'feed');
      return planted === null ||
        m === undefined ||
        reachOf(planted.programs, m) + pointOfTool(c, m) < -c.job.part.thickness + 0.02
        ? null
        : planted;
    },
  },
  {
    name: 'a blind hole 0.05 mm too deep',
    codes: /^gouge$/,
    within: 20,
    plant: (c) => deeper(c, FINAL, -0.05, 'the hole is too deep', blind(c)),
  },
  {
    name: 'a blind hole right through',
    codes: /^gouge$/,
    within: 20,
    plant: (c) => deeper(c, FINAL, -c.job.part.thickness, 'the hole comes through', blind(c)),
  },
  {
    name: 'a blind hole 0.05 mm too shallow',
    codes: /^hole-uncut$/,
    within: null,
    plant: (c) => deeper(c, FINAL, 0.05, 'the hole is too shallow', blind(c)),
  },
  {
    name: 'a drill into the table',
    codes: /^cuts-below$/,
    within: 20,
    plant: (c) =>
      deeper(
        c,
        /: drill/,
        -c.job.under.thickness - 2 - c.job.part.thickness,
        'the drill goes through the backing plate',
      ),
  },
  {
    name: 'a spot 0.3 mm too deep',
    codes: /^gouge$/,
    within: 1,
    plant: (c) =>
      deeper(
        c,
        /: spot/,
        -0.3,
        'the spot is wider than hole and chamfer',
        (m) =>
          c.cutter(m).diameter / 2 > (holeAt(c, m)?.diameter ?? 99) / 2 + c.job.part.chamfer + 0.3 &&
          -m.to.z + 0.3 > (holeAt(c, m)?.diameter ?? 0) / 2 + c.job.part.chamfer + 0.02 &&
          holeAt(c, m)?.countersink === null,
      ),
  },
  {
    name: 'a countersink 0.05 mm too deep',
    codes: /^gouge$/,
    within: 1,
    plant: (c) => deeper(c, /: countersink/, -0.05, 'the countersink is too wide'),
  },
  {
    name: 'a countersink 0.05 mm too shallow',
    codes: /^hole-uncut$/,
    within: null,
    plant: (c) => deeper(c, /: countersink/, 0.05, 'the countersink is too narrow'),
  },
  {
    name: 'reaming left out',
    codes: /^hole-uncut$/,
    within: null,
    plant: lost(/: ream/, 'the hole keeps the size of its drill'),
  },
  {
    name: 'drilling before the reamer left out',
    codes: /^(no-hole-before|rapid-plunge)$/,
    within: null,
    plant: lost(/: drill .* before the .* reamer/, 'the reamer goes into whole stock'),
  },
  {
    name: 'drilling left out',
    codes: /^(hole-uncut|no-hole-before|backing-hole|rapid-plunge)$/,
    within: null,
    plant: lost(/: drill [\d.]+( mm)?(,| to clear| for)/, 'the hole is not there'),
  },
  { name: 'a bore 0.03 mm too small', codes: /^hole-uncut$/, within: null, plant: bored(-0.015) },
  { name: 'a bore 0.03 mm too large', codes: /^gouge$/, within: null, plant: bored(0.015) },
  {
    name: 'a block of a milled bore lost',
    codes: /./,
    within: null,
    plant: (c) =>
      c.harmful(
        c
          .of(/bore/)
          .filter((m) => m.kind === 'arc')
          .map(place),
        () => null,
      ),
  },
  {
    name: 'the wrong drill',
    codes: /^(hole-uncut|gouge|no-hole-before|head-disagrees|backing-hole)$/,
    within: null,
    plant: wrongDrill,
  },
  {
    name: 'a drill before its turn: the reamer first',
    codes: /^(no-hole-before|gouge|hole-uncut|program-order|rapid-plunge)$/,
    within: null,
    plant: (c) => {
      if (c.programs.length < 3) return null;
      const drill = c.of(/: drill .* before the .* reamer/)[0];
      const ream = c.of(/: ream/)[0];
      if (drill === undefined || ream === undefined || drill.program === ream.program) return null;
      const order = c.programs.map((_, i) =>
        i === drill.program ? ream.program : i === ream.program ? drill.program : i,
      );
      return { programs: order.map((i) => c.programs[i]!), harm: 'the reamer goes into whole stock' };
    },
  },
];

/** From the tip to the full diameter. */
function pointOfTool(c: Ground, m: Move): number {
  const k = c.cutter(m);
  return k.kind === 'drill' ? k.diameter / 2 / Math.tan((k.pointDeg * Math.PI) / 360) : k.lead;
}

/** Short of coming through with its full diameter by `by`. */
function deeperTo(c: Ground, operation: RegExp, by: number, which: (m: Move) => boolean): Planted | null {
  const strokes = down(c, operation).filter(which);
  const m = c.pick(strokes);
  if (m === undefined) return null;
  const wanted = -c.job.part.thickness - pointOfTool(c, m) + by;
  const same = strokes.filter(
    (s) => s.operation === m.operation && Math.hypot(s.to.x - m.to.x, s.to.y - m.to.y) < 1e-3,
  );
  const low = Math.min(...same.map((s) => s.to.z));
  const planted = deeper(
    c,
    operation,
    wanted - low,
    `the full diameter stops ${by} mm short of the lower face`,
    (s) => which(s) && s === m,
  );
  return planted === null || reachOf(planted.programs, m) < wanted - 0.01 ? null : planted;
}
