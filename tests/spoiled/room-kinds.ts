/** Faults beside and below what is cut: shank, backing, jaws, the table beside the stock. The places are far from anything that may be cut. */
import type { Move } from './course.ts';
import type { Ground, Kind, Planted } from './kind.ts';
import { withLines } from './text.ts';

const DEEP = 0.5;

function lowest(moves: readonly Move[]): Move | undefined {
  return [...moves].filter((m) => m.kind !== 'rapid').sort((a, b) => a.to.z - b.to.z)[0];
}

/** Lines put in after a move, in millimetres, scaled to the program's unit. */
export function after(
  c: Ground,
  m: Move,
  lines: readonly (readonly [string, Record<string, number>])[],
  harm: string,
): Planted {
  const unit = c.unit(m.program);
  const text = lines.map(([code, words]) =>
    [code, ...Object.entries(words).map(([k, v]) => `${k}${Number((k === 'S' ? v : v / unit).toFixed(4))}`)].join(' '),
  );
  const at = { program: m.program, line: m.line + 1 };
  return { programs: withLines(c.programs, at, 0, text), at, harm };
}

function shankDown(c: Ground): Planted | null {
  const m = lowest(c.of(/finish the outline/).filter((v) => c.cutter(v).shank > c.cutter(v).diameter + DEEP));
  if (m === undefined) return null;
  const z = -c.cutter(m).fluteLength - c.job.part.thickness / 2;
  return after(
    c,
    m,
    [
      ['G1', { Z: z, F: 60 }],
      ['G1', { Z: m.to.z }],
    ],
    'the shank is forced into the slot',
  );
}

function intoBacking(c: Ground): Planted | null {
  const m = lowest(c.of(/finish the outline/));
  if (m === undefined || c.job.under.kind !== 'plate') return null;
  const z = c.job.stock.min[2] - 1;
  return after(
    c,
    m,
    [
      ['G1', { Z: z, F: 60 }],
      ['G1', { Z: m.to.z }],
    ],
    'the mill stands 1 mm in the backing',
  );
}

/** A rapid at clearance height, from where the stock can be left. */
function aloft(c: Ground): Move | undefined {
  const clear = c.job.stock.max[2] + 1;
  const over = (m: Move, i: number) =>
    m.kind === 'rapid' && m.cycle === 0 && m.from.z > clear && m.to.z > clear && c.moves[i + 1]?.kind === 'rapid';
  return c.pick(c.moves.filter(over));
}

function besideStock(c: Ground): Planted | null {
  const m = aloft(c);
  if (m === undefined) return null;
  const y = c.job.stock.min[1] - 40;
  return after(
    c,
    m,
    [
      ['G0', { Y: y }],
      ['G0', { Z: -80 }],
      ['G0', { Z: m.to.z }],
      ['G0', { X: m.to.x, Y: m.to.y }],
    ],
    'a rapid into the table beside the stock',
  );
}

function intoJaw(c: Ground): Planted | null {
  const m = aloft(c);
  if (m === undefined) return null;
  const { min } = c.job.stock;
  const planted = after(
    c,
    m,
    [
      ['G0', { Y: min[1] - 4 }],
      ['G1', { Z: min[2] / 2, F: 100 }],
      ['G0', { Z: m.to.z }],
      ['G0', { X: m.to.x, Y: m.to.y }],
    ],
    'the cutter goes down into a jaw',
  );
  return { ...planted, job: { ...c.job, clamps: [{ kind: 'jaws', axis: 'y', grip: 2 }] } };
}

/** Over the part and back, both ends beside it, at half the chamfer's height. */
function grooveAcross(c: Ground): Planted | null {
  const m = c.of(/chamfer the top edges/).findLast((v) => v.kind !== 'rapid' && v.to.z < -0.05);
  if (m === undefined) return null;
  const { at } = c.job.places[0]!;
  const d = Math.hypot(m.to.x - at.x, m.to.y - at.y);
  const out = (l: number) => ({ X: at.x + ((m.to.x - at.x) * l) / d, Y: at.y + ((m.to.y - at.y) * l) / d });
  return after(
    c,
    m,
    [
      ['G1', { ...out(d + 2) }],
      ['G1', { Z: m.to.z / 2 }],
      ['G1', { ...out(-d) }],
    ],
    'a groove over the whole face',
  );
}

export const ROOM_KINDS: readonly Kind[] = [
  { name: 'a shank down into the slot', codes: /^gouge$/, within: 2, plant: shankDown },
  { name: 'a mill 1 mm into the backing', codes: /^cuts-below$/, within: 2, plant: intoBacking },
  { name: 'a rapid into the table beside the stock', codes: /^cuts-below$/, within: 3, plant: besideStock },
  { name: 'a groove by the point of the chamfer cutter', codes: /^gouge$/, within: 4, plant: grooveAcross },
  { name: 'a cutter into a jaw', codes: /^clamp-hit$/, within: 3, plant: intoJaw },
];
