/** A part with every kind of feature, mirrored and turned, cut by a program made here by hand. */
import { describe, expect, it } from 'vitest';
import { describeProblem } from '../../src/base/problem.ts';
import { checkPrograms } from '../../src/check/check.ts';
import type { Point } from '../../src/geometry/types.ts';
import type { Job } from '../../src/part/part.ts';
import { cutter, hullLoop, leverJob } from './lever.ts';

const TURN = 0.3;
const HOME = { x: 52, y: 20 };
const hole = leverJob().part.holes[0]!;

function richJob(change: Partial<Job> = {}): Job {
  return leverJob(
    {
      places: [{ at: HOME, turn: TURN, mirror: true }],
      stock: { min: [0, 0, -4], max: [75, 45, 0], above: 0, below: 0, measured: 4, flatness: 0.05 },
      clamps: [
        { kind: 'block', min: [0, 0], max: [5, 45], top: 12 },
        { kind: 'block', min: [70, 0], max: [75, 45], top: 12 },
      ],
      hold: { by: 'glue', shear: 8, tension: 4, wetted: 0.7 },
      cutters: [
        cutter(1, 'end mill', 3, { shank: 3, centreCutting: true }),
        cutter(2, 'drill', 3, { fluteLength: 30, stickOut: 50, shank: 3 }),
        cutter(3, 'spot drill', 6, { fluteLength: 15 }),
      ],
      ...change,
    },
    {
      chamfer: 0.3,
      holes: [
        { ...hole, index: 0, at: { x: 32, y: 0 }, diameter: 3, depth: 2 },
        { ...hole, index: 1, at: { x: 24, y: 0 }, diameter: 3, countersink: { diameter: 4, angle: 90 } },
        { ...hole, index: 2, at: { x: 0, y: 0 }, diameter: 7.2, make: { kind: 'bore', nominal: 7.2, fit: null } },
      ],
      pockets: [
        {
          index: 0,
          depth: 1.5,
          islands: [],
          open: [],
          outline: {
            loop: slotLoop(),
            inner: [],
            source: { kind: 'slot', from: { x: 10, y: 0 }, to: { x: 17, y: 0 }, width: 5 },
          },
        },
      ],
    },
  );
}

/** A slot is the hull of two equal discs. */
function slotLoop() {
  return hullLoop(0, 2.5, 2.5, 7).map((s) =>
    s.kind === 'line'
      ? { ...s, a: shift(s.a), b: shift(s.b) }
      : { ...s, a: shift(s.a), b: shift(s.b), centre: shift(s.centre) },
  );
}

function shift(p: Point): Point {
  return { x: p.x + 10, y: p.y };
}

/** Mirror x, turn, move: as the job file's rule says. */
function place(p: Point): Point {
  return {
    x: HOME.x - p.x * Math.cos(TURN) - p.y * Math.sin(TURN),
    y: HOME.y - p.x * Math.sin(TURN) + p.y * Math.cos(TURN),
  };
}

const n = (v: number) => Number(v.toFixed(4)).toString();
const xy = (p: Point) => `X${n(place(p).x)} Y${n(place(p).y)}`;

interface Knobs {
  readonly spotDepth?: number;
  readonly blind?: number;
  readonly pocketDepth?: number;
  readonly pocketInset?: number;
  readonly sink?: number;
  readonly boreRadius?: number;
  readonly chamferDepth?: number;
}

function program(k: Knobs = {}): string {
  return [
    '%',
    '(ZERO stock)',
    '(STOCK X0 Y0 Z-4 TO X75 Y45 Z0)',
    `(PART 1 AT X${HOME.x} Y${HOME.y} TURN ${n((TURN * 180) / Math.PI)} MIRROR yes)`,
    '(CUTTER 1 end mill D3)',
    '(CUTTER 2 drill D3)',
    '(CUTTER 3 spot drill D6)',
    '(HOLD glue)',
    'G17 G21 G40 G49 G54 G61 G80 G90 G94 G98',
    'T3 M6',
    'M0',
    'G0 Z20',
    `G0 ${xy({ x: 32, y: 0 })}`,
    'M3 S3000',
    'G0 Z2',
    `G81 ${xy({ x: 32, y: 0 })} Z${k.spotDepth ?? -1.8} R1 F80`,
    `G81 ${xy({ x: 24, y: 0 })} Z${k.sink ?? -2} R1`,
    'G80',
    // The bore's chamfer: point in the open later; cut here by running round with the cone inside the bore's edge.
    'G0 Z20',
    'M5',
    'T2 M6',
    'M0',
    'G0 Z20',
    `G0 ${xy({ x: 32, y: 0 })}`,
    'M3 S3000',
    'G0 Z2',
    `G81 ${xy({ x: 32, y: 0 })} Z${n(-(k.blind ?? 2) - 1.5 / Math.tan((59 * Math.PI) / 180))} R1 F80`,
    `G81 ${xy({ x: 24, y: 0 })} Z-5.2 R1`,
    'G80',
    'G0 Z20',
    'M5',
    'T1 M6',
    'M0',
    'G0 Z20',
    `G0 ${xy({ x: 10, y: 0 })}`,
    'M3 S4800',
    'G0 Z2',
    ...pocketLines(k),
    'G0 Z2',
    ...boreLines(k),
    'G0 Z20',
    ...outside(1.5, [-1.4, -2.8, -4.1]),
    'G0 Z20',
    'M5',
    'T3 M6',
    'M0',
    'G0 Z20',
    `G0 ${xy({ x: 0, y: 0 })}`,
    'M3 S3000',
    'G0 Z2',
    ...boreChamfer(),
    'G0 Z20',
    ...outside(0.7, [k.chamferDepth ?? -1]),
    'G0 Z20',
    'M5',
    'M2',
    '%',
    '',
  ].join('\n');
}

function circleAt(r: number, z: number): string[] {
  const a = place({ x: r, y: 0 });
  const c = place({ x: 0, y: 0 });
  return [`G1 ${xy({ x: r, y: 0 })}`, `G1 Z${n(z)}`, `G2 X${n(a.x)} Y${n(a.y)} I${n(c.x - a.x)} J${n(c.y - a.y)}`];
}

function boreLines(k: Knobs): string[] {
  const r = k.boreRadius ?? 3.6 - 1.5;
  return [
    `G0 ${xy({ x: 0, y: 0 })}`,
    'G1 Z0 F120',
    ...[-1.4, -2.8, -4.1].flatMap((z) => [
      `G1 ${xy({ x: 0, y: 0 })}`,
      `G1 Z${z}`,
      ...circleAt(1.4, z),
      ...circleAt(r, z),
    ]),
    `G1 ${xy({ x: 0, y: 0 })}`,
  ];
}

function boreChamfer(): string[] {
  // Cone of 45 degrees with its tip 1 below: it touches the chamfer's foot at 0.7 from its axis.
  return [`G1 Z-1 F120`, ...circleAt(3.6 - 0.7, -1), `G1 ${xy({ x: 0, y: 0 })}`];
}

function pocketLines(k: Knobs): string[] {
  const z = k.pocketDepth ?? -1.5;
  const inset = 1 - (k.pocketInset ?? 0);
  const loop = hullLoop(inset - 2.5, 2.5, 2.5, 7);
  return [
    'G1 Z0 F120',
    `G1 Z${n(z)}`,
    `G1 ${xy({ x: 17, y: 0 })}`,
    ...loopLines(
      loop.map((s) => s),
      shift,
    ),
  ];
}

function outside(by: number, depths: readonly number[]): string[] {
  const loop = hullLoop(by);
  return [
    `G0 ${xy(loop[0]!.a)}`,
    'G0 Z1',
    'G1 Z0 F120',
    ...depths.flatMap((z) => [`G1 Z${n(z)}`, ...loopLines(loop, (p) => p)]),
  ];
}

/** The mirrored part is run the other way round: arcs turn clockwise. */
function loopLines(loop: ReturnType<typeof hullLoop>, move: (p: Point) => Point): string[] {
  const first = loop[0]!;
  return [
    `G1 ${xy(move(first.a))}`,
    ...loop.map((s) => {
      const a = place(move(s.a));
      if (s.kind === 'line') return `G1 ${xy(move(s.b))}`;
      const c = place(move(s.centre));
      return `G2 ${xy(move(s.b))} I${n(c.x - a.x)} J${n(c.y - a.y)}`;
    }),
  ];
}

function codes(k: Knobs, job = richJob()): string[] {
  const r = checkPrograms([{ file: 'rich.ngc', text: program(k) }], job);
  return [...new Set(r.faults.map((f) => f.code))].sort();
}

describe('a part with every feature', () => {
  it('passes', () => {
    const r = checkPrograms([{ file: 'rich.ngc', text: program() }], richJob());
    expect(r.faults.map(describeProblem)).toEqual([]);
    expect(r.proven.map((p) => p.what)).toEqual(
      expect.arrayContaining(['gouge', 'edge reached', 'faces and floors', 'hole places', 'still held', 'clamps']),
    );
  });

  const planted: [string, Knobs, string[]][] = [
    ['the spot too deep widens the chamfer', { spotDepth: -1.82 }, ['gouge']],
    ['the spot too shallow leaves the chamfer', { spotDepth: -1.77 }, ['chamfer-uncut']],
    ['the blind hole too deep', { blind: 2.02 }, ['gouge']],
    ['the blind hole too shallow', { blind: 1.97 }, ['hole-uncut']],
    ['the pocket too deep', { pocketDepth: -1.52 }, ['gouge', 'gouge-field']],
    ['the pocket too shallow', { pocketDepth: -1.48 }, ['face-uncut', 'pocket-uncut']],
    ['the pocket too wide', { pocketInset: -0.007 }, ['gouge']],
    ['the pocket too narrow', { pocketInset: 0.012 }, ['pocket-uncut']],
    ['the countersink too wide', { sink: -2.01 }, ['gouge']],
    ['the countersink too small', { sink: -1.98 }, ['hole-uncut']],
    ['the bore too large', { boreRadius: 2.107 }, ['gouge']],
    ['the bore too small', { boreRadius: 2.093 }, ['hole-uncut']],
    ['the chamfer too deep', { chamferDepth: -1.01 }, ['gouge']],
    ['the chamfer too shallow', { chamferDepth: -0.985 }, ['chamfer-uncut']],
  ];
  it.each(planted)('%s', (_name, knobs, expected) => {
    expect(codes(knobs)).toEqual(expected);
  });

  it('the same program does not fit a part that is not mirrored', () => {
    const found = codes({}, richJob({ places: [{ at: HOME, turn: TURN, mirror: false }] }));
    expect(found).toContain('head-disagrees');
    expect(found).toContain('gouge');
  });
});
