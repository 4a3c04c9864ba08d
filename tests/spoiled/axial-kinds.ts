/** Faults in how a cutter is led: a drill sideways, an arc that a control may take for a circle. */
import type { Ground, Kind, Planted } from './kind.ts';
import { after } from './room-kinds.ts';

function drillSideways(c: Ground): Planted | null {
  const downs = c.of(/: drill/).filter((m) => m.kind === 'feed' && m.to.z < 0 && m.to.z < m.from.z);
  const m = c.pick(downs.filter((v) => v.cycle === 0));
  if (m === undefined) return null;
  return after(
    c,
    m,
    [
      ['G1', { X: m.to.x + 0.05 }],
      ['G1', { X: m.to.x }],
    ],
    'the drill is pushed against the side of its hole',
  );
}

function arcSliver(c: Ground): Planted | null {
  const m = c.pick(c.of(/outline/).filter((v) => v.kind === 'feed' && v.to.z < 0));
  if (m === undefined || c.unit(m.program) !== 1) return null;
  return after(
    c,
    m,
    [
      ['G3', { X: m.to.x + 0.0006, Y: m.to.y, I: 0.0003, J: 12 }],
      ['G1', { X: m.to.x, Y: m.to.y }],
    ],
    'a control that counts in thousandths cuts a circle of 24 mm',
  );
}

/** Holes of 4 mm and more were drilled at more than twice what tool steel bears, or this finds no spot. */
function forOtherMetal(c: Ground): Planted | null {
  const fast = c
    .of(/: drill/)
    .some(
      (m) => m.kind === 'feed' && m.to.z < 0 && c.cutter(m).kind === 'drill' && c.cutter(m).diameter * m.speed > 10_000,
    );
  if (!fast || c.job.material !== 'CuZn39Pb3') return null;
  return {
    programs: c.programs,
    job: { ...c.job, material: 'O1' },
    harm: 'speeds of brass burn a drill in tool steel',
  };
}

/** The feeds of all that cuts in the last program a hundredth: its figures are written in other units, or the point is lost. */
function crawling(c: Ground): Planted | null {
  const program = c.programs.length - 1;
  const last = c.programs[program]!;
  const text = last.text.replace(/\bF([\d.]+)/g, (_, f: string) => `F${(Number(f) / 100).toFixed(4)}`);
  const programs = c.programs.map((p, i) => (i === program ? { file: p.file, text } : p));
  return { programs, harm: 'the teeth rub, and it takes days' };
}

export const AXIAL_KINDS: readonly Kind[] = [
  { name: 'feeds a hundred times too low', codes: /^feed-too-low$/, within: null, plant: crawling },
  { name: 'a drill fed sideways in its hole', codes: /^drill-sideways$/, within: 2, plant: drillSideways },
  { name: 'speeds of brass in tool steel', codes: /^speed-too-high$/, within: null, plant: forOtherMetal },
  { name: 'an arc whose ends are one to a control', codes: /^arc-sliver$/, within: 1, plant: arcSliver },
];
