/** The plate as a net of beams, and a part hung on it, against closed forms and the whole set of equations at once. */
import { describe, expect, it } from 'vitest';
import type { Vector } from '../../../src/mechanics/cutting/cut.ts';
import { cholesky, inverse, solve } from '../../../src/mechanics/math/matrix.ts';
import { skylineFactor, unitSolutions } from '../../../src/mechanics/math/skyline.ts';
import { condensedModes } from '../../../src/mechanics/plate/condensed-modes.ts';
import { type Connector, frameCompliance, hang } from '../../../src/mechanics/plate/hang.ts';
import { nodeCompliance, plateFrame, rootedOnly } from '../../../src/mechanics/plate/plate.ts';
import { beamMovement } from '../../../src/mechanics/support/beam.ts';
import { edgeAxes, toLocal } from '../../../src/mechanics/support/supports.ts';
import { tabFlexibility } from '../../../src/mechanics/support/tab.ts';
import { frameMatrices, type HungTab, hangBody, hungModes, tabStiffness } from '../oracles/chain.ts';

const STEEL = { modulus: 210_000, poisson: 0.3 };
const all = () => true;

describe('plate', () => {
  it('[F formula] a narrow strip held at one end bends as a Timoshenko cantilever, up and sideways', () => {
    const frame = rootedOnly(
      plateFrame({
        stock: { minX: 0, minY: 0, maxX: 80, maxY: 4 },
        thickness: 3,
        z: 0,
        held: [{ minX: 0, minY: 0, maxX: 10, maxY: 4 }],
        windows: [],
        stays: all,
        metal: STEEL,
        density: 7.85e-9,
      }),
    )!;
    const tip = frame.nodes.reduce((best, n, i) => (n[0] > frame.nodes[best]![0] ? i : best), 0);
    const solved = nodeCompliance(frame, [tip]);
    expect(solved.kind).toBe('compliance');
    if (solved.kind !== 'compliance') return;
    const length = frame.nodes[tip]![0] - 10;
    const up = beamMovement('cantilever', 1, length, { area: 12, inertia: (4 * 27) / 12 }, STEEL).total;
    const aside = beamMovement('cantilever', 1, length, { area: 12, inertia: (3 * 64) / 12 }, STEEL).total;
    expect(solved.compliance.blocks[14]! / up).toBeCloseTo(1, 6);
    expect(solved.compliance.blocks[7]! / aside).toBeCloseTo(1, 6);
  });

  it('[F formula] a strip thinned over a stretch bends as a stepped cantilever: F/(E I) of each piece, summed by its moments', () => {
    const tipOf = (taken?: (x: number, y: number) => number) => {
      const frame = rootedOnly(
        plateFrame({
          stock: { minX: 0, minY: 0, maxX: 80, maxY: 4 },
          thickness: 3,
          z: 0,
          held: [{ minX: 0, minY: 0, maxX: 10, maxY: 4 }],
          windows: [],
          stays: all,
          ...(taken ? { taken } : {}),
          metal: STEEL,
          density: 7.85e-9,
        }),
      )!;
      const tip = frame.nodes.reduce((best, n, i) => (n[0] > frame.nodes[best]![0] ? i : best), 0);
      const solved = nodeCompliance(frame, [tip]);
      if (solved.kind !== 'compliance') throw new Error('unclamped');
      return { up: solved.compliance.blocks[14]!, x: frame.nodes[tip]![0] };
    };
    const whole = tipOf();
    expect(tipOf(() => 0).up).toBe(whole.up);
    const inertia = (h: number) => (4 * h ** 3) / 12;
    // Thinned from 30 to 45 by `by`: integral of (distance to the tip)^2/(E I), the piece at a time.
    const bent = (by: number) => {
      const piece = (a: number, b: number, h: number) =>
        ((whole.x - a) ** 3 - (whole.x - b) ** 3) / (3 * STEEL.modulus * inertia(h));
      return piece(10, 30, 3) + piece(30, 45, 3 - by) + piece(45, whole.x, 3);
    };
    const shear = whole.up - bent(0);
    for (const by of [0.5, 1.5, 2]) {
      const found = tipOf((x) => (x > 30 && x < 45 ? by : 0)).up;
      expect(Math.abs((found - shear) / bent(by) - 1)).toBeLessThan(0.03);
    }
    // Half the breadth alone: softer than the section is by its own middle, stiffer than if all were thinned.
    const half = tipOf((x, y) => (x > 30 && x < 45 && y > 2 ? 1.5 : 0)).up;
    const [a, b] = [6, 3];
    const middle = (a * 1.5 + b * 0.75) / (a + b);
    const exact = (2 * 27) / 12 + a * (1.5 - middle) ** 2 + (2 * 1.5 ** 3) / 12 + b * (0.75 - middle) ** 2;
    const stepped =
      bent(0) + (((whole.x - 30) ** 3 - (whole.x - 45) ** 3) / (3 * STEEL.modulus)) * (1 / exact - 1 / inertia(3));
    expect(half - shear).toBeGreaterThan(stepped);
    expect(half).toBeLessThan(tipOf((x) => (x > 30 && x < 45 ? 1.5 : 0)).up);
  });

  it('[F formula] a long strip bends as one beam though its cells grow away from the window', () => {
    const frame = rootedOnly(
      plateFrame({
        stock: { minX: 0, minY: 0, maxX: 320, maxY: 4 },
        thickness: 3,
        z: 0,
        held: [
          { minX: 0, minY: 0, maxX: 10, maxY: 4 },
          { minX: 310, minY: 0, maxX: 320, maxY: 4 },
        ],
        windows: [{ minX: 147.5, minY: 0, maxX: 172.5, maxY: 4 }],
        stays: all,
        metal: STEEL,
        density: 7.85e-9,
      }),
    )!;
    const spaces = frame.nodes.map((n) => n[0]).toSorted((a, b) => a - b);
    const gaps = spaces.slice(1).map((x, i) => x - spaces[i]!);
    expect(Math.min(...gaps)).toBeLessThan(6);
    expect(Math.max(...gaps)).toBeGreaterThan(15);
    expect(frame.nodes.length).toBeLessThan(32);
    const middle = frame.nodes.findIndex((n) => Math.abs(n[0] - 160) < 1e-9);
    const solved = nodeCompliance(frame, [middle]);
    if (solved.kind !== 'compliance') throw new Error('unclamped');
    const up = beamMovement('fixed-centre', 1, 300, { area: 12, inertia: (4 * 27) / 12 }, STEEL).total;
    expect(solved.compliance.blocks[14]! / up).toBeCloseTo(1, 6);
  });

  it('[D] a square plate on two built-in sides is within a fifth of the same strips side by side, and softer with a window', () => {
    const facts = {
      stock: { minX: 0, minY: 0, maxX: 60, maxY: 30 },
      thickness: 4,
      z: 0,
      held: [
        { minX: 0, minY: 0, maxX: 5, maxY: 30 },
        { minX: 55, minY: 0, maxX: 60, maxY: 30 },
      ],
      metal: STEEL,
      density: 7.85e-9,
    };
    const give = (windows: { minX: number; minY: number; maxX: number; maxY: number }[]) => {
      const stays = (x: number, y: number) =>
        windows.every((w) => x < w.minX || x > w.maxX || y < w.minY || y > w.maxY);
      const frame = rootedOnly(plateFrame({ ...facts, windows, stays }))!;
      const node = frame.nodes.findIndex((n) => Math.abs(n[0] - 30) < 3 && n[1] < 5);
      const solved = nodeCompliance(frame, [node]);
      if (solved.kind !== 'compliance') throw new Error('unclamped');
      return solved.compliance.blocks[14]!;
    };
    const whole = give([]);
    const open = give([{ minX: 15, minY: 8, maxX: 45, maxY: 22 }]);
    const strip = beamMovement('fixed-centre', 1, 50, { area: 120, inertia: (30 * 64) / 12 }, STEEL).total;
    expect(whole).toBeGreaterThan(strip);
    expect(whole).toBeLessThan(12 * strip);
    expect(open).toBeGreaterThan(whole);
  });

  it('pieces that no rail joins to a clamp are left out; nothing clamped is said so', () => {
    const facts = {
      stock: { minX: 0, minY: 0, maxX: 40, maxY: 20 },
      thickness: 2,
      z: 0,
      windows: [{ minX: 18, minY: 0, maxX: 22, maxY: 20 }],
      stays: (x: number) => x < 18 || x > 22,
      metal: STEEL,
      density: 7.85e-9,
    };
    const half = rootedOnly(plateFrame({ ...facts, held: [{ minX: 0, minY: 0, maxX: 4, maxY: 20 }] }))!;
    expect(Math.max(...half.nodes.map((n) => n[0]))).toBeLessThan(18);
    expect(half.nodes.length).toBeGreaterThan(3);
    expect(rootedOnly(plateFrame({ ...facts, held: [] }))).toBeNull();
  });

  it('[D] the skyline solution is the dense one', () => {
    const n = 12;
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      a[i * n + i] = 4 + (i % 3);
      if (i > 0) a[i * n + i - 1] = a[(i - 1) * n + i] = -1;
      if (i > 3) a[i * n + i - 4] = a[(i - 4) * n + i] = -0.5;
    }
    const sky = skylineFactor(a, n);
    const dense = cholesky(a, n);
    if (sky.kind !== 'skyline' || dense.kind !== 'factor') throw new Error('singular');
    for (let j = 0; j < n; j++) {
      const unit = new Float64Array(n);
      unit[j] = 1;
      const x = unitSolutions(sky, [j, (j + 5) % n, j], 0);
      solve(dense, unit).forEach((v, i) => {
        expect(x[3 * i]).toBeCloseTo(v, 12);
        expect(x[3 * i + 2]).toBe(x[3 * i]);
      });
    }
  });
});

describe('part on the plate', () => {
  const frame = rootedOnly(
    plateFrame({
      stock: { minX: 0, minY: 0, maxX: 60, maxY: 40 },
      thickness: 4,
      z: -2,
      held: [{ minX: 0, minY: 0, maxX: 6, maxY: 40 }],
      windows: [{ minX: 16, minY: 10, maxX: 46, maxY: 30 }],
      stays: (x, y) => x < 16 || x > 46 || y < 10 || y > 30,
      metal: STEEL,
      density: 7.85e-9,
    }),
  )!;
  const shape = { waist: 2, height: 1, cutterRadius: 1.5, slotWidth: 3 };
  const flexibility = tabFlexibility(shape, STEEL, { part: 4, frame: 4 });
  const places = [
    { at: [30, 27, -3.5] as Vector, angle: Math.PI / 2 },
    { at: [25, 13, -3.5] as Vector, angle: -Math.PI / 2 },
    { at: [43, 20, -3.5] as Vector, angle: 0 },
  ];
  const near = (p: Vector) =>
    frame.nodes.reduce(
      (best, n, i) =>
        (n[0] - p[0]) ** 2 + (n[1] - p[1]) ** 2 <
        (frame.nodes[best]![0] - p[0]) ** 2 + (frame.nodes[best]![1] - p[1]) ** 2
          ? i
          : best,
      0,
    );
  const nodes = places.map((p) => near(p.at));
  const solved = nodeCompliance(frame, nodes);
  if (solved.kind !== 'compliance') throw new Error('unclamped');
  const connectors = places.map(
    (p, i): Connector => ({
      at: p.at,
      axes: edgeAxes(p.angle),
      order: 6,
      flexibility,
      root: { index: i, rows: toLocal({ at: p.at, axes: edgeAxes(p.angle) }, frame.nodes[nodes[i]!]!) },
    }),
  );
  const tabs = places.map(
    (p, i): HungTab => ({
      node: nodes[i]!,
      support: { at: p.at, axes: edgeAxes(p.angle), stiffness: tabStiffness(flexibility) },
    }),
  );
  const origin: Vector = [31, 20, -2];

  it('[D] equals frame, tabs and part in one set of equations: movement and tab forces to 1e-8', () => {
    const quick = hang(
      connectors,
      (i, j) => frameCompliance(solved.compliance, connectors[i]!, connectors[j]!),
      new Float64Array(36),
      origin,
    );
    const whole = hangBody(frame, tabs, [], origin);
    if (quick.kind !== 'held' || whole.kind !== 'held') throw new Error('loose');
    const size = Math.max(...whole.compliance.map(Math.abs));
    quick.compliance.forEach((v, i) => expect(Math.abs(v - whole.compliance[i]!) / size).toBeLessThan(1e-8));
    quick.recover.forEach((r, n) =>
      r.forEach((v, i) => expect(Math.abs(v - whole.recover[n]![i]!)).toBeLessThan(1e-6 * (1 + Math.abs(v)))),
    );
  });

  it('[D] lowest frequencies within a tenth of those of every node with its mass', () => {
    const part = {
      mass: 7.85e-9 * 24 * 14 * 4,
      centre: origin,
      inertia: [2e-4, 0, 0, 0, 4e-4, 0, 0, 0, 6e-4].map((v) => v * 0.1),
    };
    const { mass, place } = frameMatrices(frame);
    const spread = frame.nodes.map((_, i) => i).filter((i) => place[6 * i]! >= 0 && i % 3 === 0);
    const all2 = [...new Set([...nodes, ...spread])];
    const give = nodeCompliance(frame, all2);
    if (give.kind !== 'compliance') throw new Error('unclamped');
    const metal = frame.nodes.flatMap((at, i) => (place[6 * i]! < 0 ? [] : [{ at, mass: mass[place[6 * i]!]! }]));
    const hung = connectors.map((c, i) => ({ ...c, root: { index: all2.indexOf(nodes[i]!), rows: c.root!.rows } }));
    const masters = all2.map((_, i) => i);
    const places2 = all2.map((n) => frame.nodes[n]!);
    const quick = condensedModes({ compliance: give.compliance, places: places2, metal, masters }, hung, [], part, 2);
    const whole = hungModes(frame, tabs, [], part, 2);
    if (quick.kind !== 'modes' || whole.kind !== 'modes') throw new Error('loose');
    expect(quick.frequencies[0]! / whole.frequencies[0]!).toBeGreaterThan(0.9);
    expect(quick.frequencies[0]! / whole.frequencies[0]!).toBeLessThan(1.1);
  });
});

it('inverse of the give is a stiffness: symmetric and positive', () => {
  const frame = rootedOnly(
    plateFrame({
      stock: { minX: 0, minY: 0, maxX: 30, maxY: 12 },
      thickness: 2,
      z: 0,
      held: [{ minX: 0, minY: 0, maxX: 4, maxY: 12 }],
      windows: [],
      stays: all,
      metal: STEEL,
      density: 7.85e-9,
    }),
  )!;
  const solved = nodeCompliance(frame, [frame.nodes.length - 3]);
  if (solved.kind !== 'compliance') throw new Error('unclamped');
  const b = solved.compliance.blocks;
  for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) expect(b[6 * i + j]).toBeCloseTo(b[6 * j + i]!, 12);
  const factor = cholesky(b, 6);
  if (factor.kind === 'factor') expect(inverse(factor)[0]).toBeGreaterThan(0);
  expect(factor.kind).toBe('factor');
});
