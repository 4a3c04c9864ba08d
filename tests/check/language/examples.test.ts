/** Worked examples of NISTIR 6556, with the results it prints or that follow from its rules; programs are our own. */
import { describe, expect, it } from 'vitest';
import type { CanonicalArc, CanonicalMove, ReaderOptions } from '../../../src/check/language/canonical.ts';
import { readProgram } from '../../../src/check/language/read.ts';

const FROM: ReaderOptions = { start: { x: 0, y: 0, z: 0 } };
const START = 'G17 G21 G40 G49 G54 G80 G90 G94 G98 F100 S1000 M3';

function read(lines: readonly string[], options: ReaderOptions = FROM) {
  const result = readProgram([START, ...lines, 'M2'].join('\n'), options);
  expect(result.problems.filter((p) => p.severity === 'fault')).toEqual([]);
  return result;
}

function steps(moves: readonly CanonicalMove[], block: number) {
  return moves.filter((m) => m.block === block).map((m) => [m.kind, m.to.x, m.to.y, m.to.z]);
}

function expectPoints(moves: readonly CanonicalMove[], wanted: readonly (readonly [number, number])[], digits: number) {
  expect(moves.length).toBe(wanted.length);
  moves.forEach((m, i) => {
    expect(m.to.x, `x of move ${i}`).toBeCloseTo(wanted[i]![0], digits);
    expect(m.to.y, `y of move ${i}`).toBeCloseTo(wanted[i]![1], digits);
  });
}

describe('numbers and parameters', () => {
  const value = (text: string) => read([`#1=${text}`]).last.parameter(1);
  it.each([
    ['[2/3*1.5-5.5/11]', 0.5],
    ['FIX[2.8]', 2],
    ['FUP[2.8]', 3],
    ['FIX[-2.8]', -3],
    ['FUP[-2.8]', -2],
    ['[1--3]', 4],
    ['[15 MOD 4.0]', 3],
    ['[1+2*3-4/5]', 6.2],
    ['[2 OR 2]', 1],
    ['[2 AND 2]', 1],
    ['[2 XOR 2]', 0],
    ['ROUND[-0.499]', 0],
    ['ROUND[-0.5001]', -1],
    ['FIX[-0.499]', -1],
    ['FUP[-0.499]', 0],
    ['[2**3]', 8],
    ['[2**3**2]', 64],
    ['[2*3**2]', 18],
    ['[20/2*5 MOD 7+1]', 2],
    ['[1 OR 0 AND 0]', 0],
    ['[-15 MOD 4]', 1],
    ['SQRT[3**2+4**2]', 5],
    ['SQRT[[3**2]+[4**2]]', 5],
  ])('%s (3.3.2.3, 3.3.2.4, C.2)', (text, wanted) => {
    expect(value(text)).toBeCloseTo(wanted, 12);
  });

  it('ATAN takes two arguments in degrees (C.2)', () => {
    expect(value('ATAN[1.7321]/[1]')).toBeCloseTo(60, 2);
    expect(value('[SIN[30]+COS[60]+TAN[45]]')).toBeCloseTo(2, 12);
  });

  it('settings act after the whole line, in parallel (3.3.3)', () => {
    const result = read(['#3=15', '#3=6 G1 X#3', '#4=7 #5=5', '#4=#5 #5=#4', '#6=4', '#7=##6', '#8=[#6+1]']);
    expect(result.moves.find((m) => m.block === 3)?.to.x).toBe(15);
    expect([3, 4, 5, 7, 8].map(result.last.parameter)).toEqual([6, 5, 7, 5, 5]);
  });

  it('spaces inside a number (3.3)', () => {
    expect(steps(read(['g0 x +0. 12 34 y 7']).moves, 2)).toEqual([['rapid', 0.1234, 7, 0]]);
  });
});

describe('arcs', () => {
  it('centre format: from 7,7 clockwise to 10,16 with offsets 3,4 (3.5.3.2)', () => {
    const arc = read(['G0 X7 Y7 Z9', 'G2 X10 Y16 I3 J4 Z9']).moves.at(-2) as CanonicalArc;
    expect([arc.centre.x, arc.centre.y, arc.radius]).toEqual([10, 11, 5]);
    expect(arc.sweep).toBeLessThan(0);
  });

  it('radius format: R7.01 from 3,1 to X0, Z0.5 (table 10)', () => {
    const arc = read(['G1 X3 Y1 Z0', 'G2 X0 Z0.5 R7.01']).moves.at(-2) as CanonicalArc;
    expect(arc.centre.x).toBeCloseTo(1.5, 9);
    expect(Math.abs(arc.centre.y - 1)).toBeCloseTo(6.8476, 4);
    expect(arc.centre.y).toBeCloseTo(7.8476, 4);
    expect(arc.to.z).toBe(0.5);
  });

  it('radius arc of chord 5 and R4 turns 77.364 degrees (C.1)', () => {
    const arc = read(['G0 X64 Y4', 'G3 X69 Y4 R4']).moves.at(-2) as CanonicalArc;
    expect((Math.abs(arc.sweep) * 180) / Math.PI).toBeCloseTo(77.364, 3);
  });

  it('270 degrees with one offset, full circles, and a half circle giving only Y and J', () => {
    const sweeps = (['G3 X5 Y-5 I5', 'G2 X5 J3', 'G3 Y5 J5'] as const).map((line, i) => {
      const start = i === 0 ? 'G0 X0 Y0' : i === 1 ? 'G0 X5 Y0' : 'G0 X0 Y-5';
      return (read([start, line]).moves.at(-2) as CanonicalArc).sweep / Math.PI;
    });
    expect(sweeps.map((s) => Number(s.toFixed(9)))).toEqual([0.5, -2, 1]);
  });

  it('G18 turns counter-clockwise from Z to X, G19 from Y to Z (4.3.6.1)', () => {
    const xz = read(['G18 G0 X0 Z5', 'G3 X5 Z0 K-5']).moves.at(-2) as CanonicalArc;
    const yz = read(['G19 G0 Y5 Z0', 'G3 Y0 Z5 J-5']).moves.at(-2) as CanonicalArc;
    expect([xz.plane, xz.sweep, yz.plane, yz.sweep]).toEqual(['XZ', Math.PI / 2, 'YZ', Math.PI / 2]);
  });
});

describe('canned cycles (3.5.16)', () => {
  it('example 1: G90 G98 G81 from 1,2,3', () => {
    const r = read(['G90 G98 G81 X4 Y5 Z1.5 R2.8'], { start: { x: 1, y: 2, z: 3 } });
    expect(steps(r.moves, 2)).toEqual([
      ['rapid', 4, 5, 3],
      ['rapid', 4, 5, 2.8],
      ['feed', 4, 5, 1.5],
      ['rapid', 4, 5, 3],
    ]);
  });

  it('example 2: G91 G98 G81 with L3 from 1,2,3', () => {
    const r = read(['G91 G98 G81 X4 Y5 Z-0.6 R1.8 L3'], { start: { x: 1, y: 2, z: 3 } });
    const got = steps(r.moves, 2).map(([kind, ...p]) => [kind, ...p.map((v) => Number(Number(v).toFixed(9)))]);
    const hole = (x: number, y: number) => [
      ['rapid', x, y, 4.8],
      ['feed', x, y, 4.2],
      ['rapid', x, y, 4.8],
    ];
    expect(got).toEqual([['rapid', 1, 2, 4.8], ...hole(5, 7), ...hole(9, 12), ...hole(13, 17)]);
  });

  it('sticky depth, increments from R, pecks (after C.3)', () => {
    const r = read([
      'G20 F10 G81 X3 Y4 R0.2 Z-1.1',
      'G91 X1 R0 L3',
      'Y-2 R0.1',
      'G90 G0 Z0.2',
      'G83 X1 Y1 Z-1.1 R0.2 Q0.21',
    ]);
    const inch = (v: number | null) => Number((Number(v) / 25.4).toFixed(6));
    const feeds = (block: number) =>
      r.moves
        .filter((m) => m.block === block && m.kind === 'feed')
        .map((m) => [inch(m.to.x), inch(m.to.y), inch(m.to.z)]);
    expect(inch(r.moves.find((m) => m.block === 2)!.to.z)).toBe(0.2);
    expect(feeds(2)).toEqual([[3, 4, -1.1]]);
    expect(feeds(3)).toEqual([
      [4, 4, -0.9],
      [5, 4, -0.9],
      [6, 4, -0.9],
    ]);
    expect(inch(r.moves.find((m) => m.block === 4)!.to.z)).toBe(0.3);
    expect(feeds(4)).toEqual([[6, 2, -0.8]]);
    expect(feeds(6).map((p) => p[2])).toEqual([-0.01, -0.22, -0.43, -0.64, -0.85, -1.06, -1.1]);
  });

  it('every cycle runs in every plane, both distance modes', () => {
    const words = { G82: 'P1', G83: 'Q1', G86: 'P1', G87: 'I1 J1 K-2', G88: 'P1', G89: 'P1' } as Record<string, string>;
    let seen = 0;
    for (const [plane, depth, side] of [
      ['G17', 'Z', 'X'],
      ['G18', 'Y', 'Z'],
      ['G19', 'X', 'Y'],
    ] as const) {
      for (const code of ['G81', 'G82', 'G83', 'G84', 'G85', 'G86', 'G87', 'G88', 'G89']) {
        for (const mode of ['G90', 'G91']) {
          const r = read([`${plane} ${mode} ${code} ${side}3 ${depth}-4 R1 ${words[code] ?? ''} L2`]);
          const last = r.moves.at(-2)!;
          const level = { G17: last.to.z, G18: last.to.y, G19: last.to.x }[plane];
          expect(level, `${plane} ${code}`).toBe(1);
          expect(Math.max(...r.moves.map((m) => m.cycle?.hole ?? 0))).toBe(1);
          seen++;
        }
      }
    }
    expect(seen).toBe(54);
  });

  it('tapping runs backwards on the way out; G86 stops on the way out; G88 stops for the hand', () => {
    const spindle = (line: string) =>
      read([line])
        .moves.filter((m) => m.block === 2 && m.to.z !== null)
        .map((m) => `${m.kind} ${m.spindle.on ? (m.spindle.clockwise ? 'cw' : 'ccw') : 'off'}`);
    expect(spindle('G84 X1 Z-2 R1').slice(-2)).toEqual(['feed cw', 'feed ccw']);
    expect(spindle('G86 X1 Z-2 R1 P1').slice(-3)).toEqual(['feed cw', 'dwell cw', 'rapid off']);
    expect(spindle('G88 X1 Z-2 R1 P1').slice(-3)).toEqual(['dwell cw', 'stop off', 'rapid off']);
  });
});

describe('offsets, feed, end', () => {
  it('G92 X7 at X4 shifts by -3, then G92 X9 by -5 (3.5.18)', () => {
    expect(read(['G0 X4', 'G92 X7']).last.parameter(5211)).toBe(-3);
    expect(read(['G0 X4', 'G92 X7', 'G92 X9']).last.parameter(5211)).toBe(-5);
    const r = read(['G0 X4', 'G92 X7', 'G0 X10']);
    expect(r.moves.at(-2)!.to.x).toBe(7);
  });

  it('G10 for system 1 leaves the Z origin alone (3.5.5)', () => {
    const r = read(['G10 L2 P1 X3.5 Y17.2'], { ...FROM, parameters: new Map([[5223, 5]]) });
    expect([5221, 5222, 5223].map(r.last.parameter)).toEqual([3.5, 17.2, 5]);
  });

  it('inverse time F2 takes half a minute (3.5.19), along the helix', () => {
    const moves = read(['G93 G1 X30 F2', 'G2 X40 Y0 Z4 I5 F2']).moves;
    expect(moves.find((m) => m.block === 2)).toMatchObject({ kind: 'feed', feed: 60 });
    expect((moves.find((m) => m.block === 3) as CanonicalArc).feed).toBeCloseTo(2 * Math.hypot(5 * Math.PI, 4), 9);
  });

  it('feed is not converted by G20 (4.3.3.3)', () => {
    expect(read(['F10', 'G20', 'G1 X1']).moves.find((m) => m.block === 4)).toMatchObject({
      feed: 254,
      to: { x: 25.4 },
    });
  });

  it('a length offset of 1 lowers the coordinate by 1; M2 leaves it, resets the rest and sets G1 (3.6.1, table 10)', () => {
    const r = read(['G1 Z0.5', 'G43 H2', 'M8', 'G18 G91 G55'], {
      ...FROM,
      toolTable: [{ number: 2, diameter: 1, length: 1 }],
    });
    expect(r.last).toMatchObject({
      motion: 1,
      plane: 'XY',
      absolute: true,
      system: 1,
      lengthOffset: 1,
      spindle: { on: false },
      coolant: { flood: false },
    });
    expect(r.last.position.z).toBe(-0.5);
  });

  it('order of execution: T1 M6 M3 on one line ends with the spindle on (table 8)', () => {
    expect(read(['M3 T1 M6', 'G0 X1']).moves.at(-2)).toMatchObject({ tool: 1, spindle: { on: true } });
  });

  it('the position is unknown until each axis is programmed', () => {
    const r = readProgram('G21 G90 G94 F100\nG0 Z5\nG0 X1 Y2\nG91 G1 X1\nM2');
    expect(r.moves.slice(0, 3).map((m) => m.to)).toEqual([
      { x: null, y: null, z: 5 },
      { x: 1, y: 2, z: 5 },
      { x: 2, y: 2, z: 5 },
    ]);
    expect(readProgram('G21 G90 G94 F100\nG2 X1 I2\nM2').problems[0]).toMatchObject({
      code: 'position-unknown',
      place: { line: 2, column: 1 },
    });
  });

  it('probes a hole four ways without a fault (after table 6)', () => {
    const lines = [
      'M5',
      'G38.2 X10',
      '#10=#5061',
      'G0 X0',
      'G38.2 X-10',
      '#11=#5061',
      'G0 X[[#10+#11]/2]',
      'G38.2 Y10',
      'G0 Y0',
      'G38.2 Y-10',
    ];
    expect(read(lines).last.parameter(10)).toBe(10);
  });
});

/** Contour of table 12 and figure 3: material edge, and of table 13: nominal path of a 1.0 cutter. */
const EDGE = [
  'G41 D1 G1 X1 Y4',
  'G3 X2 Y3 I1',
  'G2 X3 Y2 J-1',
  'G1 Y-1',
  'G2 X2 Y-2 I-1',
  'G1 X-2',
  'G2 X-2.6 Y-0.2 J1',
  'G1 X1.4 Y2.8',
  'G2 X2 Y3 I0.6 J-0.8',
];
const EDGE_CENTRES = [
  [1.433, 4.25],
  [1.5, 4],
  [2, 3.5],
  [3.5, 2],
  [3.5, -1],
  [2, -2.5],
  [-2, -2.5],
  [-2.9, 0.2],
  [1.1, 3.2],
  [2, 3.5],
] as const;

describe('cutter radius compensation (appendix B)', () => {
  const tool = (diameter: number): ReaderOptions => ({ ...FROM, toolTable: [{ number: 1, diameter, length: 0 }] });
  const cutting = (moves: readonly CanonicalMove[]) => moves.filter((m) => m.compensated);

  it('table 12: centres of a cutter of diameter 1 along the edge', () => {
    const moves = cutting(read(['G0 X1 Y5', ...EDGE, 'G40'], tool(1)).moves);
    expectPoints(moves, EDGE_CENTRES, 4);
    expect(moves.filter((m) => m.kind === 'arc').map((m) => Number((m as CanonicalArc).radius.toFixed(9)))).toEqual([
      0.5, 0.5, 1.5, 1.5, 1.5, 1.5,
    ]);
    joined(moves);
  });

  it('table 13: nominal path, table diameter -0.03, side flips', () => {
    const path = [
      'G41 D1 G1 X1.5 Y4',
      'G3 X2 Y3.5 I0.5',
      'G2 X3.5 Y2 J-1.5',
      'G1 Y-1',
      'G2 X2 Y-2.5 I-1.5',
      'G1 X-2',
      'G2 X-2.9 Y0.2 J1.5',
      'G1 X1.1 Y3.2',
      'G2 X2 Y3.5 I0.9 J-1.2',
    ];
    const moves = cutting(read(['G0 X1.5 Y5', ...path, 'G40'], tool(-0.03)).moves);
    const ends = moves.filter((m) => !(m.kind === 'arc' && Math.abs(m.radius - 0.015) < 1e-9));
    expectPoints(
      ends,
      [
        [1.485, 4.0002],
        [2, 3.485],
        [3.485, 2],
        [3.485, -1],
        [2, -2.485],
        [-2, -2.485],
        [-2.891, 0.188],
        [1.109, 3.188],
        [2, 3.485],
      ],
      4,
    );
    joined(moves);
  });

  it('B.3.1.2: simple entry straight to a convex corner', () => {
    const path = ['G41 D1 G1 X3 Y3', 'G1 Y-1', 'G2 X2 Y-2 I-1', 'G1 X-2'];
    const moves = cutting(read(['G0 X1.5 Y4', ...path, 'G40'], tool(1)).moves);
    expect(moves.at(-1)!.to.y).toBeCloseTo(-2.5, 9);
    joined(moves);
  });

  it('D0 and radius zero follow the programmed path; G91 counts from the programmed point', () => {
    expect(cutting(read(['G41 D0 G1 X5', 'Y5', 'X0'], tool(1)).moves).map((m) => [m.to.x, m.to.y])).toEqual([
      [5, 0],
      [5, 5],
      [0, 5],
    ]);
    const g91 = cutting(read(['G0 X1 Y5', 'G41 D1 G1 X1 Y4', 'G91 G3 X1 Y-1 I1', 'G2 X1 Y-1 J-1'], tool(1)).moves);
    expectPoints(g91, EDGE_CENTRES.slice(0, 4), 4);
  });

  it('inverse time counts the real path: corner arc and line together take 1/F minutes (B.1)', () => {
    const path = ['G0 Y10', 'G41 D1 G93 G1 X0 Y5 F1', 'G1 Y0 F1', 'X-4 Y-4 F2'];
    const last = cutting(read(path, tool(2)).moves).filter((m) => m.block === 5);
    expect(last.map((m) => m.kind)).toEqual(['arc', 'feed']);
    const minutes = last.map((m) =>
      m.kind === 'arc' ? Math.abs(m.sweep * m.radius) / m.feed! : m.kind === 'feed' ? Math.hypot(4, 4) / m.feed! : 0,
    );
    expect(minutes[0]! + minutes[1]!).toBeCloseTo(0.5, 9);
  });

  it('an arc as first move: the cutter must already touch the auxiliary arc', () => {
    const moves = cutting(read(['G0 X-3 Y0', 'G41 D1 G2 X5 Y5 I8'], tool(6)).moves);
    expect(moves.length).toBe(1);
    expect(moves[0]).toMatchObject({ kind: 'arc', radius: 8 });
    expectPoints(moves, [[5, 8]], 9);
  });

  function joined(moves: readonly CanonicalMove[]) {
    for (let i = 1; i < moves.length; i++) expect(moves[i]!.from).toEqual(moves[i - 1]!.to);
    for (const m of moves) {
      if (m.kind !== 'arc') continue;
      expect(Math.hypot(m.from.x! - m.centre.x, m.from.y! - m.centre.y)).toBeCloseTo(m.radius, 6);
      expect(Math.hypot(m.to.x! - m.centre.x, m.to.y! - m.centre.y)).toBeCloseTo(m.radius, 6);
    }
  }
});
