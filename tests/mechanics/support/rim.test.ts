/** A glued rim against a net of plate elements and against closed forms. [M] formula from memory; [D] derived check. */
import { describe, expect, it } from 'vitest';
import { cholesky, solve } from '../../../src/mechanics/math/matrix.ts';
import { bondStiffness, CYANOACRYLATE, characteristic } from '../../../src/mechanics/support/glue.ts';
import { lapPeaks } from '../../../src/mechanics/support/lap-joint.ts';
import { rimCompliance, rimMargin } from '../../../src/mechanics/support/rim.ts';
import { FULL } from '../../runs.ts';
import { type PlateOnSprings, plateOnSprings } from '../bonded-plate.ts';

const brass = { modulus: 100_000, poisson: 0.33 };
const bond = { ...CYANOACRYLATE, wetted: 0.7 };
const spring = bondStiffness(bond);

type Shape = 'straight' | 'strip' | 'round end' | 'round flank';

/** `x`: lambda times the strip's breadth or the end's radius. */
interface Case {
  readonly shape: Shape;
  readonly thickness: number;
  readonly x: number;
}

/** Quick ones in every run: the two of the minute hand's edge, and a strip. */
const QUICK: readonly Case[] = [
  { shape: 'straight', thickness: 1, x: Infinity },
  { shape: 'round end', thickness: 1, x: 0.8 },
  { shape: 'strip', thickness: 2, x: 1 },
];
const ALL: readonly Case[] = [0.5, 1.5, 6].flatMap((thickness) => [
  { shape: 'straight' as const, thickness, x: Infinity },
  ...[0.5, 1, 2].map((x) => ({ shape: 'strip' as const, thickness, x })),
  ...(['round end', 'round flank'] as const).flatMap((shape) =>
    [0.3, 0.5, 0.8, 1.5, 3].map((x) => ({ shape, thickness, x })),
  ),
]);

/** The plate, the nodes that share the force over one thickness of edge, and the way out there. */
function modelled({ shape, thickness, x }: Case): {
  readonly net: PlateOnSprings;
  readonly nodes: readonly (readonly [number, number])[];
  readonly out: readonly [number, number];
} {
  const plate = { thickness, metal: brass };
  const lambda = characteristic(spring.up, thickness, brass);
  const fine = 0.24 / lambda;
  if (shape === 'straight' || shape === 'strip') {
    const breadth = Math.min(4.5, x) / lambda;
    const across = Math.max(4, Math.round(breadth / fine));
    const h = breadth / across;
    const half = Math.round(5 / lambda / h);
    const net = plateOnSprings([across + 1, 2 * half + 1], h, () => true, plate, spring);
    const reach = Math.round(thickness / 2 / h);
    return { net, nodes: Array.from({ length: 2 * reach + 1 }, (_, k) => [0, half + k - reach]), out: [-1, 0] };
  }
  const radius = x / lambda;
  const count = Math.max(5, Math.round(radius / fine));
  // Rows stand half a cell off the axis: the end is blunt by two nodes, no finger of one.
  const h = radius / (count - 0.5);
  const axis = (count - 0.5) * h;
  const within = (px: number, py: number) => px >= radius || Math.hypot(px - radius, py - axis) <= radius + 0.3 * h;
  const columns = Math.round((radius + 4.5 / lambda) / h) + 1;
  const net = plateOnSprings([columns, 2 * count], h, within, plate, spring);
  if (shape === 'round flank') {
    const middle = Math.round(radius / h);
    const reach = Math.round(thickness / 2 / h);
    return { net, nodes: Array.from({ length: 2 * reach + 1 }, (_, k) => [middle + k - reach, 0]), out: [0, -1] };
  }
  const reach = Math.max(thickness / 2, 0.51 * h);
  const rows = Array.from({ length: 2 * count }, (_, j) => j).filter((j) => Math.abs(j * h - axis) <= reach);
  const nodes = rows.map((j) => {
    let i = 0;
    while (net.at(i, j) < 0) i++;
    return [i, j] as const;
  });
  return { net, nodes: nodes.filter(([i]) => i * h < radius), out: [-1, 0] };
}

describe('glued rim', () => {
  it.each(FULL ? ALL : QUICK)(
    '[D] never below plate elements, and near them at what is worst: $shape, $thickness mm, $x',
    (c) => {
      const { net, nodes, out } = modelled(c);
      const place =
        c.shape === 'strip' || c.shape === 'straight' ? { radius: Infinity, breadth: breadthOf(c) } : roundOf(c);
      const give = rimCompliance(bond, { thickness: c.thickness, metal: brass }, place);
      const along = [-out[1], out[0]] as const;
      const wet = (stress: number) => stress / bond.wetted;
      const within = (bound: number, found: number) => {
        expect(bound).toBeGreaterThan(0.99 * found);
        return bound / found;
      };
      expect(within(give.lift, wet(net.peaks(nodes, [0, 0, 1], 0.5).pull))).toBeLessThan(2);
      let shear = 0;
      for (const [k, height] of [0, 0.5, 1].entries()) {
        const both = [out, along].map((way) => net.peaks(nodes, [way[0], way[1], 0], height));
        const pull = wet(Math.max(...both.map((p) => p.pull)));
        // Half way up a force tips a long edge little.
        if (height === 0.5 && c.shape === 'straight') expect(give.aside[1]).toBeGreaterThan(0.99 * pull);
        else within(give.aside[k]!, pull);
        shear = Math.max(shear, ...both.map((p) => p.shear));
      }
      within(give.shear, wet(shear));
    },
  );

  const breadthOf = ({ thickness, x }: Case) => x / characteristic(spring.up, thickness, brass);
  const roundOf = (c: Case) => ({ radius: breadthOf(c), breadth: 2 * breadthOf(c) });

  it('[M] a long straight edge lifts as Westergaard has it: P sqrt((2 + 1.2 nu)/(E h^3 k)), within a twentieth', () => {
    for (const thickness of [0.5, 1, 4]) {
      const give = rimCompliance(bond, { thickness, metal: brass }, { radius: Infinity, breadth: 1e6 });
      const deflection = Math.sqrt((2 + 1.2 * brass.poisson) / (brass.modulus * thickness ** 3 * spring.up));
      expect(Math.abs((give.lift * bond.wetted) / (spring.up * deflection) - 1)).toBeLessThan(0.05);
    }
  });

  it('[D] the net itself: a plate bent along its whole side is the beam on springs, 2 q lambda (Hetenyi)', () => {
    const bar = { modulus: 100_000, poisson: 0 };
    const plate = { thickness: 1, metal: bar };
    const lambda = characteristic(spring.up, 1, bar);
    const h = 0.1 / lambda;
    // Springs along the lower face would keep it from turning.
    const slack = 1e-4 * spring.out;
    const rows = 5;
    const net = plateOnSprings([61, rows], h, () => true, plate, { ...spring, out: slack, along: slack });
    // Corner nodes stand for half a cell of side.
    const side = Array.from(
      { length: rows - 1 },
      (_, j) =>
        [
          [0, j],
          [0, j + 1],
        ] as const,
    ).flat();
    const q = 1 / ((rows - 1) * h);
    expect(net.peaks(side, [0, 0, 1], 0.5).pull / (2 * q * lambda)).toBeCloseTo(1, 1);
  });

  it('[D] the least of pull, shear and lift on a line rules; pressing down and heights past the plate change nothing', () => {
    const spot = { x: 0, y: 0, nx: 1, ny: 0 };
    const give = { lift: 1, aside: [0.5, 0.2, 1] as const, shear: 0.1, line: 0.25 };
    const rim = { compliances: new Map([[spot, give]]), bottom: -2, thickness: 2, pull: 6, shear: 4, line: 1 };
    const margin = (z: number, out: number, along: number, up: number) =>
      rimMargin(rim, { spot, z, out, along, up }, 0, 0);
    expect(margin(-1, 0, 0, 1)).toBeCloseTo(4, 12);
    expect(margin(0, 3, 4, 0)).toBeCloseTo(6 / 5, 12);
    expect(margin(-0.5, 3, 4, 0)).toBeCloseTo(6 / (5 * 0.6), 12);
    expect(margin(-1, 5, 0, 0)).toBeCloseTo(6, 12);
    expect(margin(5, 3, 4, -9)).toBe(margin(0, 3, 4, 0));
    expect(margin(-9, 3, 4, 0)).toBe(margin(-2, 3, 4, 0));
    expect(rimMargin(rim, { spot, z: -1, out: 0, along: 0, up: 0 }, 3, 2)).toBeCloseTo(2, 12);
    expect(() => rimMargin(rim, { spot: { ...spot }, z: 0, out: 1, along: 0, up: 0 }, 0, 0)).toThrow(/bug/);
  });

  it('[D] narrower, thinner and drier rims bear less', () => {
    const at = (thickness: number, radius: number, wetted: number) =>
      rimCompliance({ ...bond, wetted }, { thickness, metal: brass }, { radius, breadth: 2 * radius });
    const base = at(2, 3, 0.7);
    for (const worse of [at(2, 1.5, 0.7), at(1, 3, 0.7), at(2, 3, 0.5)]) {
      expect(worse.lift).toBeGreaterThan(base.lift);
      expect(worse.shear).toBeGreaterThan(base.shear);
    }
  });
});

describe('lap joint', () => {
  const steel = { modulus: 210_000, poisson: 0.3 };
  const joint = { thickness: 1.6, overlap: 12.5, metal: steel };
  const whole = { ...CYANOACRYLATE, wetted: 1 };

  it('[D] pull at its ends: two beams of short pieces, joined by springs and bent by the moment and shear that the joint has there', () => {
    const mean = 13.2;
    const load = mean * joint.overlap;
    const bending = (steel.modulus * joint.thickness ** 3) / (12 * (1 - steel.poisson ** 2));
    const slope = Math.sqrt(load / bending);
    const share = 1 / (1 + 2 * Math.SQRT2 * Math.tanh((slope * joint.overlap) / (4 * Math.SQRT2)));
    const moment = (share * load * joint.thickness) / 2;
    const pieces = (n: number) => openedBy(moment, moment * slope, bending, bondStiffness(whole).up, joint.overlap, n);
    // The error goes with the length of a piece.
    const found = 2 * pieces(160) - pieces(80);
    expect(Math.abs(lapPeaks(joint, whole, mean).pull / found - 1)).toBeLessThan(0.03);
  });

  it('[M] shear at its ends is above Volkersen, who leaves the bending out, and in a stiff short joint the mean', () => {
    const ratio = Math.sqrt((2 * bondStiffness(whole).along) / (steel.modulus * joint.thickness));
    const volkersen = ((ratio * joint.overlap) / 2 / Math.tanh((ratio * joint.overlap) / 2)) * 10;
    const { shear } = lapPeaks(joint, whole, 10);
    expect(shear).toBeGreaterThan(volkersen);
    expect(shear).toBeLessThan(2 * volkersen);
    const stiff = lapPeaks({ ...joint, overlap: 0.2, metal: { modulus: 1e9, poisson: 0.3 } }, whole, 10);
    expect(Math.abs(stiff.shear / 10 - 1)).toBeLessThan(0.001);
  });

  it('[D] a stiffer film has higher peaks in the joint and under a part alike: what a rim bears of the joint hardly hangs on it', () => {
    const ratio = (modulus: number) => {
      const film = { ...CYANOACRYLATE, modulus };
      const place = { radius: Infinity, breadth: 1e6 };
      const give = rimCompliance({ ...film, wetted: 0.7 }, { thickness: 1, metal: brass }, place);
      return give.lift / lapPeaks(joint, { ...film, wetted: 1 }, 13.2).pull;
    };
    expect(Math.abs(ratio(1700) / ratio(1000) - 1)).toBeLessThan(0.03);
  });
});

/** Pull under the end of one of two beams on common springs, N/mm2 for N.mm and N per mm of width at that end of one of them. */
function openedBy(moment: number, shear: number, bending: number, k: number, length: number, n: number): number {
  const dx = length / n;
  const size = 2 * (n + 1);
  const a = new Float64Array(size * size);
  const add = (terms: readonly (readonly [number, number])[], weight: number) => {
    for (const [p, f] of terms) for (const [q, g] of terms) a[p * size + q]! += weight * f * g;
  };
  for (let i = 0; i <= n; i++) {
    add(
      [
        [2 * i, 1],
        [2 * i + 1, -1],
      ],
      k * dx * (i === 0 || i === n ? 0.5 : 1),
    );
    // Nothing else holds the two: a trace on both keeps them from floating off together, and opens nothing.
    for (const beam of [0, 1]) add([[2 * i + beam, 1]], 1e-6 * k * dx);
  }
  for (let i = 1; i < n; i++)
    for (const beam of [0, 1])
      add(
        [
          [2 * (i - 1) + beam, 1],
          [2 * i + beam, -2],
          [2 * (i + 1) + beam, 1],
        ],
        bending / dx ** 3,
      );
  const load = new Float64Array(size);
  load[0] = shear + moment / dx;
  load[2] = -moment / dx;
  const factor = cholesky(a, size);
  if (factor.kind !== 'factor') throw new Error('singular');
  const moved = solve(factor, load);
  return k * (moved[0]! - moved[1]!);
}
