/** Faults in how deep the cutter goes: profile, tabs, floor, pockets, chamfers. */
import { courseOf, lengthOf, type Move, pointOf } from './course.ts';
import { harmOf } from './harm.ts';
import type { Text } from './jobs.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { find, linesOf, type Place, withLine, withWord, wordOf } from './text.ts';

const UNCUT = /^(edge-uncut|face-uncut|hole-uncut|pocket-uncut|chamfer-uncut)$/;
const place = (m: Move): Place => ({ program: m.program, line: m.line });
const near = (a: number, b: number) => Math.abs(a - b) < 2e-3;

/** Every line of matching operations rewritten. */
function everyLine(c: Ground, operation: RegExp, change: (line: string, program: number, m: Move) => string): Text[] {
  const lines = new Map(c.of(operation).map((m) => [`${m.program} ${m.line}`, m]));
  return c.programs.map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .map((l, line) => {
        const m = lines.get(`${program} ${line}`);
        return m === undefined ? l : change(l, program, m);
      })
      .join('\n'),
  }));
}

/** Lowest level of the profile. */
function bottom(c: Ground): number {
  return Math.min(...c.of(/outline/).map((m) => m.to.z));
}

function lastDepthTo(c: Ground, z: number, harm: (programs: readonly Text[]) => string | null): Planted | null {
  const low = bottom(c);
  const programs = everyLine(c, /outline/, (l, program) => {
    const at = wordOf(l, 'Z');
    return at !== undefined && near(at * c.unit(program), low) ? withWord(l, 'Z', z / c.unit(program)) : l;
  });
  const words = harm(programs);
  return words === null ? null : { programs, harm: words };
}

/** Lines that lift over a tab in the finishing pass: Z above the bottom and below the top, the cutter on the edge. */
function lifts(c: Ground, operation: RegExp): Place[] {
  const low = bottom(c);
  return c
    .of(operation)
    .filter(
      (m) =>
        m.kind !== 'rapid' &&
        level(c, m) &&
        m.to.z > low + 0.05 &&
        m.to.z < -0.05 &&
        m.from.z < m.to.z - 0.05 &&
        Math.hypot(m.to.x - m.from.x, m.to.y - m.from.y) > 0.01,
    )
    .map(place);
}

/** The move after this one stays at its height: the lift is done. */
function level(c: Ground, m: Move): boolean {
  const next = c.moves[c.moves.indexOf(m) + 1];
  return next !== undefined && next.kind !== 'rapid' && Math.abs(next.to.z - m.to.z) < 1e-4;
}

function liftDropped(c: Ground): Planted | null {
  const low = bottom(c);
  return c.certain(lifts(c, /finish the outline/), 'the tab is cut through', (l, at) =>
    withWord(l, 'Z', low / c.unit(at.program)),
  );
}

/** Tabs without a thinning pass: their lifts stand at the height that the head states. */
function finalTabLines(c: Ground): Place[] {
  if (c.of(/thin the tabs/).length === 0) return lifts(c, /finish the outline/);
  return c
    .of(/thin the tabs/)
    .filter((m) => m.kind === 'feed' && m.to.z < -0.05 && m.to.x === m.from.x && m.to.y === m.from.y)
    .map(place);
}

/** Highest, over the tabs, of the lowest that a cutter goes while it covers the edge at the tab's middle. */
function topOf(c: Ground, programs: readonly Text[]): number {
  const heads = [...programs[0]!.text.matchAll(/\(TAB .* AT X(\S+) Y(\S+) DIRECTION (\S+) /g)].map((m) =>
    m.slice(1).map(Number),
  );
  const moves = courseOf(programs).filter((m) => m.kind !== 'rapid' && m.to.z < 0);
  const tops = heads.map(([x, y, deg]) => {
    const a = (deg! * Math.PI) / 180;
    const p = { x: x! * c.unit(0) + 0.02 * Math.cos(a), y: y! * c.unit(0) + 0.02 * Math.sin(a) };
    let low = 0;
    for (const m of moves) {
      const r = c.cutter(m).diameter / 2;
      const count = Math.ceil(lengthOf(m) / 0.05) + 1;
      if (Math.min(m.from.z, m.to.z) >= low || c.cutter(m).kind !== 'end mill') continue;
      for (let i = 0; i <= count; i++) {
        const q = pointOf(m, i / count);
        if (Math.hypot(q.x - p.x, q.y - p.y) < r) low = Math.min(low, q.z);
      }
    }
    return low;
  });
  return Math.max(...tops);
}

function lowerAll(c: Ground, by: number): Planted | null {
  const spots = new Set(finalTabLines(c).map((p) => `${p.program} ${p.line}`));
  if (spots.size === 0) return null;
  const programs = c.programs.map((p, program) => ({
    file: p.file,
    text: linesOf(p)
      .map((l, line) => {
        const z = wordOf(l, 'Z');
        return spots.has(`${program} ${line}`) && z !== undefined ? withWord(l, 'Z', z + by / c.unit(program)) : l;
      })
      .join('\n'),
  }));
  // Another pass may cut the tops to their height all the same.
  if (by > 0 && topOf(c, programs) < topOf(c, c.programs) + by / 2) return null;
  return { programs, harm: `tabs left ${Math.abs(by)} mm ${by < 0 ? 'lower' : 'higher'} than the head says` };
}

/** The lift begins late: the point where the path is up is moved on by most of the tab's width. */
function lateLift(c: Ground): Planted | null {
  // Thinned after, a tab is wider than its waist at the height that is left.
  if (c.of(/thin the tabs/).length > 0) return null;
  for (const at of c.shuffled(lifts(c, /finish the outline/))) {
    const up = c.line(at);
    const m = c.moves.find((v) => v.program === at.program && v.line === at.line)!;
    const next = c.moves.find((v) => v.program === at.program && v.line === at.line + 1);
    if (m.kind !== 'feed' || next?.kind !== 'feed' || Math.abs(next.to.z - next.from.z) > 1e-4) continue;
    const l = Math.hypot(next.to.x - next.from.x, next.to.y - next.from.y);
    if (l < 1.5) continue;
    const u = c.unit(at.program);
    const x = (m.to.x + ((next.to.x - m.to.x) * 1) / l) / u;
    const y = (m.to.y + ((next.to.y - m.to.y) * 1) / l) / u;
    const put = (line: string) => {
      const bare = withWord(withWord(line, 'X', null), 'Y', null);
      return `${bare.replace(/^G1/, `G1 X${x.toFixed(5)} Y${y.toFixed(5)}`)}`;
    };
    return {
      programs: withLine(c.programs, at, put(up)),
      at,
      harm: 'the waist of the tab is 1 mm narrower than the head says, less what the ramp leaves',
    };
  }
  return null;
}

function allLiftsDropped(c: Ground): Planted | null {
  if (find(c.programs, /SCREWS FITTED/).length > 0 || c.of(/outline/).length === 0 || lifts(c, /outline/).length === 0)
    return null;
  const low = bottom(c);
  const programs = everyLine(c, /outline|thin the tabs/, (l, program) => {
    const z = wordOf(l, 'Z');
    return z !== undefined && z < -0.01 && /^G[123]/.test(l) && z * c.unit(program) > low
      ? withWord(l, 'Z', low / c.unit(program))
      : l;
  }).map((p) => ({ file: p.file, text: p.text.replace(/\(TAB .*\n/g, '') }));
  return { programs, job: { ...c.job, hold: { by: 'auto' } }, harm: 'no tab is left: the part is cut free' };
}

function chamferTo(by: number): (c: Ground) => Planted | null {
  return (c) => {
    if (c.of(/chamfer the top edges/).length === 0) return null;
    const programs = everyLine(c, /chamfer the top edges/, (l, program, m) => {
      const z = wordOf(l, 'Z');
      return z !== undefined && m.to.z < 0 ? withWord(l, 'Z', z + by / c.unit(program)) : l;
    });
    return { programs, harm: `the chamfer is ${Math.abs(by)} mm ${by < 0 ? 'larger' : 'smaller'}` };
  };
}

function operationLost(operation: RegExp, harm: string): (c: Ground) => Planted | null {
  return (c) => {
    const gone = new Set(
      c
        .of(operation)
        .filter((m) => m.kind !== 'rapid' || m.cycle > 0)
        .map((m) => `${m.program} ${m.line}`),
    );
    if (gone.size === 0) return null;
    const programs = c.programs.map((p, program) => ({
      file: p.file,
      text: linesOf(p)
        .filter((_, line) => !gone.has(`${program} ${line}`))
        .join('\n'),
    }));
    return { programs, harm };
  };
}

/** Blind pockets: lines at the floor. */
function pocketFloor(by: number): (c: Ground) => Planted | null {
  return (c) => {
    const blind = c.of(/pocket \d+, [\d.]+( mm)? deep/).filter((m) => m.kind !== 'rapid');
    if (blind.length === 0) return null;
    const low = Math.min(...blind.map((m) => m.to.z));
    const spots = blind.filter((m) => near(m.to.z, low)).map(place);
    const lines = new Set(spots.map((s) => `${s.program} ${s.line}`));
    const programs = c.programs.map((p, program) => ({
      file: p.file,
      text: linesOf(p)
        .map((l, line) => {
          const z = wordOf(l, 'Z');
          return lines.has(`${program} ${line}`) && z !== undefined ? withWord(l, 'Z', z + by / c.unit(program)) : l;
        })
        .join('\n'),
    }));
    return { programs, harm: `the pocket's floor is ${Math.abs(by)} mm too ${by < 0 ? 'deep' : 'high'}` };
  };
}

const pocketCuts = (c: Ground) => c.of(/pocket/).filter((m) => m.kind !== 'rapid');

export const DEPTH_KINDS: readonly Kind[] = [
  {
    name: 'the profile 0.02 mm short of the lower face',
    codes: UNCUT,
    within: null,
    plant: (c) =>
      c.job.hold.by === 'floor' ? null : lastDepthTo(c, -c.job.part.thickness + 0.02, (p) => harmOf(c.good, p)),
  },
  {
    name: 'the last depth of the profile lost',
    codes: UNCUT,
    within: null,
    plant: (c) => lastDepthTo(c, -c.job.part.thickness * 0.7, (p) => harmOf(c.good, p)),
  },
  {
    name: 'the profile right through the backing plate',
    codes: /^cuts-below$/,
    within: null,
    plant: (c) =>
      lastDepthTo(
        c,
        c.job.stock.min[2] - c.job.under.thickness - 0.5,
        () => 'it cuts into the table under the backing plate',
      ),
  },
  {
    name: 'a profile that runs below the part, with the table under it',
    codes: /^cuts-below$/,
    within: null,
    plant: (c) => {
      if (bottom(c) > c.job.stock.min[2] - 0.01) return null;
      const kind = c.pick(['table', 'vice', 'parallels'] as const)!;
      return {
        programs: c.programs,
        job: { ...c.job, under: { ...c.job.under, kind } },
        harm: `it cuts into the ${kind}`,
      };
    },
  },
  {
    name: 'the sign of a depth lost',
    codes: /./,
    within: null,
    plant: (c) => {
      const low = bottom(c);
      const cuts = c.of(/finish the outline/).filter((m) => near(m.to.z, low) && m.kind !== 'rapid');
      return c.harmful(cuts.map(place), (l) => (wordOf(l, 'Z') === undefined ? l : withWord(l, 'Z', -wordOf(l, 'Z')!)));
    },
  },
  { name: "a tab's lift dropped", codes: /^(tab-height|tab-width)$/, within: null, plant: liftDropped },
  {
    name: 'the tabs 0.05 mm lower than stated',
    codes: /^(tab-height|floor-thin)$/,
    within: null,
    plant: (c) => lowerAll(c, -0.05),
  },
  {
    name: 'the tabs 0.05 mm higher than stated',
    codes: /^(tab-height|edge-uncut)$/,
    within: null,
    plant: (c) => lowerAll(c, 0.05),
  },
  { name: 'a tab too narrow', codes: /^(tab-width|gouge)$/, within: null, plant: lateLift },
  { name: 'no tab left at all', codes: /^part-loose$/, within: null, plant: allLiftsDropped },
  {
    name: 'the floor 0.05 mm thinner than stated',
    codes: /^floor-thin$/,
    within: null,
    plant: (c) =>
      find(c.programs, /HOLD floor/).length === 0
        ? null
        : lastDepthTo(c, bottom(c) - 0.05, () => 'the floor is thinner than the head says'),
  },
  {
    name: 'the floor cut through',
    codes: /^(floor-thin|part-loose)$/,
    within: null,
    plant: (c) =>
      find(c.programs, /HOLD floor/).length === 0
        ? null
        : lastDepthTo(c, c.job.stock.min[2] - 0.1, () => 'nothing holds the part'),
  },
  { name: 'the chamfer 0.03 mm too deep', codes: /^gouge/, within: null, plant: chamferTo(-0.03) },
  { name: 'the chamfer 0.03 mm too shallow', codes: /^chamfer-uncut$/, within: null, plant: chamferTo(0.03) },
  {
    name: 'the chamfer lost',
    codes: /^chamfer-uncut$/,
    within: null,
    plant: operationLost(/chamfer the top edges/, 'no chamfer is cut'),
  },
  { name: "a pocket's floor 0.02 mm too deep", codes: /^gouge/, within: null, plant: pocketFloor(-0.02) },
  {
    name: "a pocket's floor 0.02 mm too high",
    codes: /^(face-uncut|pocket-uncut)$/,
    within: null,
    plant: pocketFloor(0.02),
  },
  {
    name: 'a pocket lost',
    codes: /^(pocket-uncut|face-uncut)$/,
    within: null,
    plant: operationLost(/pocket/, 'a pocket is not cut'),
  },
  {
    name: "a pocket's wall or island cut 0.02 mm into",
    codes: /^(gouge|rs274-49|rs274-50)$/,
    within: 2,
    plant: (c) => {
      const letter = c.pick(['X', 'Y'])!;
      const by = c.pick([0.02, -0.02])!;
      return c.harmful(
        pocketCuts(c)
          .map(place)
          .filter((at) => wordOf(c.line(at), letter) !== undefined),
        (l, at) => withWord(l, letter, wordOf(l, letter)! + by / c.unit(at.program)),
      );
    },
  },
  {
    name: 'a block of a pocket lost',
    codes: /./,
    within: null,
    plant: (c) => c.harmful(pocketCuts(c).map(place), () => null),
  },
];
