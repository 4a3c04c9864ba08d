/** [F]/[M] textbook closed forms named where used; [D] = derived check. */
import { describe, expect, it } from 'vitest';
import type { Vector } from '../../../src/mechanics/cutting/cut.ts';
import { cholesky, inverse, solve, symmetricEigen } from '../../../src/mechanics/math/matrix.ts';
import { lowestModes } from '../../../src/mechanics/math/modes.ts';
import type { RailFrame } from '../../../src/mechanics/plate/frame.ts';
import { beamMovement } from '../../../src/mechanics/support/beam.ts';
import { edgeAxes, loadAt, type Support, toLocal } from '../../../src/mechanics/support/supports.ts';
import { tabFlexibility } from '../../../src/mechanics/support/tab.ts';
import { random, SEED } from '../../runs.ts';
import {
  frameMatrices,
  type HungBody,
  type HungTab,
  hangBody,
  hungModes,
  tabStiffness,
  withFrame,
} from '../oracles/chain.ts';
import { rectangle } from '../oracles/handbook.ts';
import { holdBody, motionUnder, movementAt } from '../oracles/rigid-body.ts';

const steel = { modulus: 210_000, poisson: 0.3 };
const RHO = 7.85e-9;

function straight(
  length: number,
  parts: number,
  width: number,
  height: number,
  clamped: readonly number[],
  direction: Vector = [1, 0, 0],
): RailFrame {
  const nodes = Array.from(
    { length: parts + 1 },
    (_, i): Vector => [
      direction[0] * length * (i / parts),
      direction[1] * length * (i / parts),
      direction[2] * length * (i / parts),
    ],
  );
  const rails = Array.from({ length: parts }, (_, i) => ({ from: i, to: i + 1, width, height }));
  return { nodes, rails, clamped, metal: steel, density: RHO };
}

/** Movement of `node` along `axis` (0-5) for a unit of load `load` there. */
function give(frame: RailFrame, node: number, load: number, axis = load): number {
  const m = frameMatrices(frame);
  const factor = cholesky(m.stiffness, m.size);
  if (factor.kind !== 'factor') throw new Error('loose');
  const f = new Float64Array(m.size);
  f[m.place[6 * node + load]!] = 1;
  return solve(factor, f)[m.place[6 * node + axis]!]!;
}

describe('static frames', () => {
  it('[F formulas] Timoshenko cantilever and fixed beam (Megson; open notes), exact at the nodes, in any direction', () => {
    for (const direction of [
      [1, 0, 0],
      [0, 1, 0],
      [0.6, 0.8, 0],
      [-0.8, 0.6, 0],
    ] as const) {
      const c = straight(30, 3, 8, 4, [0], direction);
      const flat = beamMovement('cantilever', 1, 30, rectangle(4, 8), steel).total;
      const up = beamMovement('cantilever', 1, 30, rectangle(8, 4), steel).total;
      expect(give(c, 3, 2)).toBeCloseTo(up, 12);
      const across =
        give(c, 3, 0) * direction[1] ** 2 +
        give(c, 3, 1) * direction[0] ** 2 -
        2 * direction[0] * direction[1] * give(c, 3, 0, 1);
      expect(Math.abs(across / flat - 1)).toBeLessThan(1e-9);
      const f = straight(60, 4, 8, 4, [0, 4], direction);
      expect(
        Math.abs(give(f, 2, 2) / beamMovement('fixed-centre', 1, 60, rectangle(8, 4), steel).total - 1),
      ).toBeLessThan(1e-9);
    }
  });

  it('[F formula] portal frame with fixed feet, sway P h^3/(12 E I) (3k + 2)/(6k + 1), k = I_b h/(I_c L) (Kleinlogel, Rahmenformeln; from memory, limits checked)', () => {
    for (const [h, l, bBeam] of [
      [100, 150, 0.5],
      [100, 50, 1],
      [80, 200, 0.25],
    ] as const) {
      const col = 0.5;
      const frame: RailFrame = {
        nodes: [
          [0, 0, 0],
          [0, h, 0],
          [l, h, 0],
          [l, 0, 0],
        ],
        rails: [
          { from: 0, to: 1, width: col, height: 1 },
          { from: 1, to: 2, width: bBeam, height: 1 },
          { from: 3, to: 2, width: col, height: 1 },
        ],
        clamped: [0, 3],
        metal: steel,
        density: RHO,
      };
      const ic = col ** 3 / 12;
      const k = ((bBeam ** 3 / 12) * h) / (ic * l);
      const sway = (h ** 3 / (12 * steel.modulus * ic)) * ((3 * k + 2) / (6 * k + 1));
      expect(Math.abs(give(frame, 1, 0) / sway - 1)).toBeLessThan(1e-3);
    }
  });

  it('[D] Maxwell: node i under a load at j moves as j under a load at i; stiffness is symmetric', () => {
    const frame: RailFrame = {
      nodes: [
        [0, 0, 0],
        [40, 0, 0],
        [40, 25, 0],
        [0, 25, 0],
        [20, 0, 0],
      ],
      rails: [
        [0, 4],
        [4, 1],
        [1, 2],
        [2, 3],
        [3, 0],
      ].map(([from, to]) => ({ from: from!, to: to!, width: 6, height: 4 })),
      clamped: [0, 3],
      metal: steel,
      density: RHO,
    };
    const m = frameMatrices(frame);
    for (let i = 0; i < m.size; i++)
      for (let j = 0; j < i; j++)
        expect(Math.abs(m.stiffness[i * m.size + j]! - m.stiffness[j * m.size + i]!)).toBeLessThan(
          1e-6 * Math.abs(m.stiffness[i * (m.size + 1)]!),
        );
    const factor = cholesky(m.stiffness, m.size);
    if (factor.kind !== 'factor') throw new Error('loose');
    const c = inverse(factor);
    expect(Math.abs(c[3 * m.size + 8]! - c[8 * m.size + 3]!)).toBeLessThan(
      1e-9 * Math.sqrt(c[3 * (m.size + 1)]! * c[8 * (m.size + 1)]!),
    );
  });
});

describe('frequencies', () => {
  const modes = (frame: RailFrame, count: number) => {
    const m = frameMatrices(frame);
    const mass = new Float64Array(m.size * m.size);
    for (let i = 0; i < m.size; i++) mass[i * (m.size + 1)] = m.mass[i]!;
    const found = lowestModes(m.stiffness, mass, m.size, count);
    if (found.kind !== 'modes') throw new Error('loose');
    return { found, m };
  };

  it('[F] Euler beams (Timoshenko, Vibration Problems in Engineering: 1.8751, 4.6941; 4.7300): slender cantilever and fixed beam', () => {
    const f = (lambda: number, l: number, h: number) =>
      ((lambda * lambda) / (2 * Math.PI * l * l)) * Math.sqrt((steel.modulus * h * h) / 12 / RHO);
    const c = modes(straight(200, 20, 6, 2, [0]), 3).found.frequencies;
    expect(Math.abs(c[0]! / f(1.8751, 200, 2) - 1)).toBeLessThan(0.005);
    expect(Math.abs(c[1]! / f(1.8751, 200, 6) - 1)).toBeLessThan(0.005);
    expect(Math.abs(c[2]! / f(4.6941, 200, 2) - 1)).toBeLessThan(0.01);
    const b = modes(straight(200, 20, 6, 2, [0, 20]), 1).found.frequencies;
    expect(Math.abs(b[0]! / f(4.73, 200, 2) - 1)).toBeLessThan(0.01);
  });

  it('[D] subspace iteration agrees with Jacobi on the whole problem', () => {
    const { found, m } = modes(straight(60, 4, 8, 4, [0], [0.6, 0.8, 0]), 6);
    const a = m.stiffness.map((v, i) => v / Math.sqrt(m.mass[Math.floor(i / m.size)]! * m.mass[i % m.size]!));
    const all = symmetricEigen(a, m.size).values;
    found.frequencies.forEach((f, i) => expect(Math.abs((2 * Math.PI * f) ** 2 / all[i]! - 1)).toBeLessThan(1e-7));
  });
});

describe('clamp, frame, tab, part', () => {
  const tabShape = { waist: 2, height: 1, cutterRadius: 1.5, slotWidth: 3 };
  const flex = tabFlexibility(tabShape, steel, { part: 4, frame: 4 });
  const tabK = tabStiffness(flex);
  const window: RailFrame = {
    nodes: [
      [-30, -15, 0],
      [0, -15, 0],
      [30, -15, 0],
      [30, 0, 0],
      [30, 15, 0],
      [0, 15, 0],
      [-30, 15, 0],
      [-30, 0, 0],
    ],
    rails: [
      [0, 1],
      [1, 2],
      [2, 3],
      [3, 4],
      [4, 5],
      [5, 6],
      [6, 7],
      [7, 0],
    ].map(([from, to]) => ({ from: from!, to: to!, width: 6, height: 4 })),
    clamped: [0, 6, 7],
    metal: steel,
    density: RHO,
  };
  const tab = (node: number, x: number, y: number, angle: number): HungTab => ({
    node,
    support: { at: [x, y, -1.5], axes: edgeAxes(angle), stiffness: tabK },
  });
  const tabs = [tab(1, 0, -9, -Math.PI / 2), tab(5, 0, 9, Math.PI / 2), tab(3, 24, 0, 0)];
  const hung = (frame: RailFrame, some: readonly HungTab[] = tabs, ground: readonly Support[] = []): HungBody => {
    const b = hangBody(frame, some, ground, [3, 1, 0]);
    if (b.kind !== 'held') throw new Error('loose');
    return b;
  };

  it('[D] with every node clamped it is the plain body on its tabs', () => {
    const rigid = hung({ ...window, clamped: window.nodes.map((_, i) => i) });
    const plain = holdBody(
      tabs.map((t) => t.support),
      [3, 1, 0],
    );
    if (plain.kind !== 'held') throw new Error('loose');
    for (let i = 0; i < 36; i++)
      expect(Math.abs(rigid.compliance[i]! - plain.compliance[i]!)).toBeLessThan(
        1e-9 * Math.abs(plain.compliance[35]!) + 1e-9 * Math.abs(plain.compliance[i]!) + 1e-15,
      );
  });

  it('[D] one tab on a cantilevered rail equals tab and rail in series', () => {
    const rail = straight(20, 1, 6, 4, [0], [0, 1, 0]);
    // Tab points from the part (x < 0) to the rail's end at (0, 20); out is +x.
    const one: HungTab = { node: 1, support: { at: [-3, 20, 0], axes: edgeAxes(0), stiffness: tabK } };
    const b = hangBody(rail, [one], [], [-3, 20, 0]);
    if (b.kind !== 'held') throw new Error('loose');
    const m = frameMatrices(rail);
    const factor = cholesky(m.stiffness, 6);
    if (factor.kind !== 'factor') throw new Error('loose');
    const series = withFrame(flex, inverse(factor), 3);
    for (let i = 0; i < 36; i++)
      expect(Math.abs(b.compliance[i]! - series[i]!)).toBeLessThan(
        1e-7 * Math.sqrt(series[7 * Math.floor(i / 6)]! * series[7 * (i % 6)]!),
      );
  });

  it('[D] the tabs together carry the load, to 1e-9 of it; and share it through the frame', () => {
    const b = hung(window);
    const rand = random(SEED);
    for (let n = 0; n < 50; n++) {
      const load = loadAt(
        b.origin,
        [rand() * 40 - 20, rand() * 16 - 8, rand() * 4 - 4],
        [rand() * 100 - 50, rand() * 100 - 50, rand() * 60],
      );
      const sum = new Float64Array(6);
      tabs.forEach((t, k) => {
        const local = toLocal(t.support, b.origin);
        for (let i = 0; i < 6; i++) {
          const f = load.reduce((a, v, j) => a + b.recover[k]![6 * i + j]! * v, 0);
          for (let j = 0; j < 6; j++) sum[j]! += local[6 * i + j]! * f;
        }
      });
      for (let j = 0; j < 6; j++) expect(Math.abs(sum[j]! - load[j]!)).toBeLessThan(1e-9 * Math.hypot(...load));
    }
  });

  it('law: wider rails, another clamp, another tab or a floor never let the part move further (Rayleigh)', () => {
    const rand = random(SEED + 5);
    const floor: Support[] = [
      {
        at: [5, 2, -4],
        axes: edgeAxes(0.3),
        stiffness: Float64Array.from({ length: 36 }, (_, i) => (i % 7 === 0 ? 500 : 0)),
      },
    ];
    const base = hung(window);
    const better = [
      hung({ ...window, rails: window.rails.map((r) => ({ ...r, width: 8 })) }),
      hung({ ...window, clamped: [0, 6, 7, 3] }),
      hung(window, [...tabs, tab(7, -24, 0, Math.PI)]),
      hung(window, tabs, floor),
    ];
    for (let n = 0; n < 200; n++) {
      const at: Vector = [rand() * 40 - 20, rand() * 16 - 8, rand() * 4 - 4];
      const f: Vector = [rand() - 0.5, rand() - 0.5, rand() - 0.5];
      const work = (b: HungBody) =>
        movementAt(b.origin, motionUnder(b, loadAt(b.origin, at, f)), at).reduce((a, v, i) => a + v * f[i]!, 0);
      for (const b of better) expect(work(b)).toBeLessThanOrEqual(work(base) * (1 + 1e-9));
    }
  });

  it('[D] a frame without a clamp is loose', () => {
    expect(hangBody({ ...window, clamped: [] }, tabs, [], [0, 0, 0]).kind).toBe('loose');
    expect(hangBody(window, [], [], [0, 0, 0]).kind).toBe('loose');
  });

  it('[D] a heavy part on one clamped tab swings as sqrt(k/m); the frame lowers it', () => {
    const mass = 1e-3;
    const part = { mass, centre: [0, 0, -1.5] as Vector, inertia: [1e6, 0, 0, 0, 1e6, 0, 0, 0, 1e6] };
    const free = { ...window, clamped: window.nodes.map((_, i) => i) };
    const k = holdBody(
      tabs.map((t) => t.support),
      part.centre,
    );
    if (k.kind !== 'held') throw new Error('loose');
    const stiff = hungModes(free, tabs, [], part, 6);
    const soft = hungModes(window, tabs, [], part, 6);
    if (stiff.kind !== 'modes' || soft.kind !== 'modes') throw new Error('loose');
    // So much inertia that the part hardly turns: three slow turning modes, then shifts with the diagonal stiffness.
    const direct = symmetricEigen(
      k.stiffness.map((v, i) => v / Math.sqrt((i / 6 < 3 ? mass : 1e6) * (i % 6 < 3 ? mass : 1e6))),
      6,
    ).values;
    stiff.frequencies.forEach((f, i) => {
      expect(Math.abs((2 * Math.PI * f) ** 2 / direct[i]! - 1)).toBeLessThan(1e-6);
      expect(soft.frequencies[i]!).toBeLessThan(f);
    });
  });
});
