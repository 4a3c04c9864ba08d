/**
 * The elastic body: patch tests, rigid movements, reciprocity, and a tab between two bodies against the beam of Timoshenko (Strength
 * of Materials, part 1) and against the balance of forces.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { freeColumn, levelsOf, type NodeColumn } from '../../../src/mechanics/elastic/columns.ts';
import { elasticBody } from '../../../src/mechanics/elastic/elastic.ts';
import {
  answer,
  type ElasticAnswer,
  type HeldElastic,
  hold,
  type PressedPlace,
} from '../../../src/mechanics/elastic/held.ts';
import { nodesOf, type Piece, stackPiece } from '../../../src/mechanics/elastic/piece.ts';
import { FRAME, PART, SLOT } from '../../../src/mechanics/elastic/regions.ts';
import { condense } from '../../../src/mechanics/elastic/solve/tree.ts';
import { box, heldAt, inside, METAL, meshOf, nodesWhere, platesOf, work } from './shapes.ts';

/** Internal forces of an exact field must balance at every unknown that no edge has. */
function unbalanced(pieces: readonly Piece[], field: (dof: number) => number, free: (dof: number) => boolean): number {
  const forces = new Map<number, number>();
  let most = 0;
  for (const { stiffness } of pieces) {
    const n = stiffness.dofs.length;
    stiffness.dofs.forEach((d, i) => {
      let f = 0;
      stiffness.dofs.forEach((e, j) => (f += stiffness.matrix[i * n + j]! * field(e)));
      most = Math.max(most, Math.abs(f));
      forces.set(d, (forces.get(d) ?? 0) + f);
    });
  }
  const left = [...forces].filter(([d]) => free(d)).map(([, f]) => Math.abs(f));
  expect(left.length).toBeGreaterThan(20);
  return Math.max(...left) / Math.max(most, 1e-30);
}

describe('patch tests', () => {
  const mesh = meshOf([box(0, 0, 10, 7)], 3);
  const onEdge = new Set(nodesWhere(mesh, (x, y) => Math.min(x, y, 10 - x, 7 - y) < 1e-9));

  it('plates carry constant stretching, bending and twisting', () => {
    const plates = platesOf(mesh, 2);
    // w = x2 + x y - y2/2: p = -dw/dx, q = -dw/dy.
    const field = (d: number) => {
      const [x, y] = [mesh.x[Math.floor(d / 5)]!, mesh.y[Math.floor(d / 5)]!];
      return [0.3 * x + 0.1 * y, 0.2 * x - 0.4 * y, x * x + x * y - (y * y) / 2, -2 * x - y, -x + y][d % 5]!;
    };
    expect(unbalanced(plates, field, (d) => !onEdge.has(Math.floor(d / 5)))).toBeLessThan(1e-11);
  });

  it('wedges with sloping tops carry any constant strain', () => {
    const at = new Map<number, readonly [number, number, number, number, boolean]>();
    const numbers = { next: 0 };
    const columns = new Map<number, NodeColumn>();
    mesh.x.forEach((x, n) => {
      const heights = levelsOf([0, 1 + 0.03 * x, 2.5 - 0.05 * mesh.y[n]!]);
      const column = freeColumn(heights, numbers);
      columns.set(n, column);
      heights.forEach((z, k) => {
        const outer = onEdge.has(n) || k === 0 || k === heights.length - 1;
        for (const c of [0, 1, 2] as const) at.set(column.at(k, c).dofs[0]!, [x, mesh.y[n]!, z, c, outer]);
      });
    });
    const stacks = Array.from(mesh.region, (_, t) =>
      stackPiece(mesh, t, { columns: [...nodesOf(mesh, t)].map((n) => columns.get(n)!), layers: 2, metal: METAL }),
    );
    const strain = [
      [0.3, 0.1, -0.2],
      [0.2, -0.4, 0.5],
      [0.1, 0.3, 0.6],
    ];
    const field = (d: number) => {
      const [x, y, z, c] = at.get(d)!;
      const row = strain[c]!;
      return row[0]! * x + row[1]! * y + row[2]! * z;
    };
    expect(unbalanced(stacks, field, (d) => !at.get(d)![4])).toBeLessThan(1e-11);
  });

  it('a plate held nowhere is loose', () => {
    expect(
      condense(
        platesOf(mesh, 2).map((p) => p.stiffness),
        new Set(),
      ).kind,
    ).toBe('loose');
  });

  it('six movements of a rigid plate need no force', () => {
    const plates = platesOf(mesh, 2);
    const z = 1;
    const rigid = [
      [1, 0, 0, 0, 0],
      [0, 1, 0, 0, 0],
      [0, 0, 1, 0, 0],
    ].map((m) => () => m);
    const turns = [
      (x: number, y: number) => [-y, x, 0, 0, 0],
      (x: number) => [0, 0, -x, 1, 0],
      (_: number, y: number) => [0, 0, y, 0, -1],
    ];
    for (const move of [...rigid, ...turns]) {
      const field = (d: number) =>
        (move as (x: number, y: number) => number[])(mesh.x[Math.floor(d / 5)]!, mesh.y[Math.floor(d / 5)]!)[d % 5]!;
      for (const { stiffness } of plates) {
        const n = stiffness.dofs.length;
        const scale = Math.max(...stiffness.matrix.map(Math.abs));
        stiffness.dofs.forEach((_, i) => {
          let f = 0;
          stiffness.dofs.forEach((e, j) => (f += stiffness.matrix[i * n + j]! * field(e)));
          expect(Math.abs(f) / scale).toBeLessThan(1e-10 * z);
        });
      }
    }
  });
});

describe('a part on one tab', () => {
  // Frame of 20 x 20 held at its far edge, slot of 6, part of 20 x 20; the tab is a bar of 2 x 0.8 with upright sides.
  const [slot, wide, high] = [6, 2, 0.8];
  const frame = box(0, 0, 20, 20);
  const bar = box(20, 10 - wide / 2, 20 + slot, 10 + wide / 2);
  const part = box(20 + slot, 0, 40 + slot, 20);
  const regionAt = (x: number, y: number) =>
    inside(frame, x, y) ? FRAME : inside(part, x, y) ? PART : inside(bar, x, y) ? SLOT : -1;
  const size = (x: number, y: number) => Math.min(4, 0.6 + 0.5 * Math.max(0, Math.hypot(x - 23, y - 10) - 3.5));
  const places: PressedPlace[] = [
    { x: 46, y: 10, z: 2, region: PART },
    { x: 46, y: 20, z: 4, region: PART },
    { x: 20 + slot, y: 13, z: 3, region: PART },
    { x: 20, y: 12, z: 0, region: FRAME },
  ];
  let held: HeldElastic;
  let told: ElasticAnswer;
  beforeAll(() => {
    const body = elasticBody({
      plan: { lines: [frame, bar, part], regionAt, size },
      thickness: 4,
      metal: METAL,
      topAt: () => 4,
      springs: [{ regions: [FRAME], covers: (x) => x < 6, perArea: [1e6, 1e6, 1e6], height: 2 }],
      tabs: [{ at: [23, 10], reach: 4, forms: [() => high, () => high / 2] }],
    });
    if (body.kind !== 'body') throw new Error(body.kind);
    const state = hold(body, [0]);
    if (state.kind !== 'held') throw new Error('loose');
    held = state;
    told = answer(held, places);
  });

  it('moves alike under a newton at the other place (Maxwell, Betti)', () => {
    const n = 3 * places.length;
    let seen = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) {
        const [a, b] = [told.compliance[i * n + j]!, told.compliance[j * n + i]!];
        expect(Math.abs(a - b)).toBeLessThan(
          1e-9 * Math.sqrt(told.compliance[i * n + i]! * told.compliance[j * n + j]!),
        );
        seen++;
      }
    }
    expect(seen).toBe((n * (n - 1)) / 2);
  });

  it('gives up all force through its roots, exactly', () => {
    const n = 3 * places.length;
    expect(told.roots.length).toBe(2);
    const atPart = told.roots[1]!;
    expect(atPart.section.area).toBeCloseTo(wide * high, 9);
    expect(atPart.section.upward).toBeCloseTo((wide * high ** 3) / 12, 9);
    for (const [i, p] of places.slice(0, 3).entries()) {
      for (const c of [0, 1, 2]) {
        const column = 3 * i + c;
        const got = [0, 1, 2, 3, 4, 5].map((m) => told.forces[(atPart.row + m) * n + column]!);
        const force = [0, 1, 2].map((m) => (m === c ? 1 : 0));
        const [rx, ry, rz] = [p.x - atPart.at[0], p.y - atPart.at[1], p.z - atPart.at[2]];
        const moment = [
          ry * force[2]! - rz * force[1]!,
          rz * force[0]! - rx * force[2]!,
          rx * force[1]! - ry * force[0]!,
        ];
        [...force, ...moment].forEach((f, m) => expect(Math.abs(got[m]! - f)).toBeLessThan(1e-6));
      }
    }
  });

  it('sinks as a cantilever of the tab with elastic roots: over the stiff-walled beam, under one with 0.8 of its height more at each end', () => {
    const n = 3 * places.length;
    const up = told.compliance[2 * n + 2]!;
    const inertia = (wide * high ** 3) / 12;
    const beam = (more: number) => {
      // Force at the far edge of the part: the tab bends under the force and its moment; the part turns as a rigid body.
      const length = slot + more;
      const arm = 20 - more / 2;
      const stiff = METAL.modulus * inertia;
      return (
        (length ** 3 / 3 + length ** 2 * arm + length * arm ** 2) / stiff +
        (1.2 * length * 2.6) / (METAL.modulus * wide * high)
      );
    };
    expect(up).toBeGreaterThan(beam(0));
    expect(up).toBeLessThan(beam(1.6 * high));
  });

  it('is loose without its tab', () => {
    expect(hold(held.body, [null]).kind).toBe('loose');
  });

  it('gives more when the tab is thinned, by nearly eight times (the cube)', () => {
    const thin = hold(held.body, [1]);
    if (thin.kind !== 'held') throw new Error('loose');
    const n = 3 * places.length;
    const ratio = answer(thin, places).compliance[2 * n + 2]! / told.compliance[2 * n + 2]!;
    expect(ratio).toBeGreaterThan(6.5);
    expect(ratio).toBeLessThan(8);
  });
});

it('a bar of wedges alone bends as Timoshenko says within 1 %', () => {
  const [length, wide, high] = [20, 3, 1];
  const metal = { ...METAL, poisson: 0 };
  const mesh = meshOf([box(0, 0, length, wide)], 1.5);
  const numbers = { next: 5 * mesh.x.length };
  const columns = new Map([...mesh.x.keys()].map((n) => [n, freeColumn([0, high / 2, high], numbers)]));
  const stacks = Array.from(mesh.region, (_, t) =>
    stackPiece(mesh, t, { columns: [...nodesOf(mesh, t)].map((n) => columns.get(n)!), layers: 1, metal }),
  );
  const root = nodesWhere(mesh, (x) => x < 1e-9).flatMap((n) =>
    [0, 1, 2].flatMap((k) => ([0, 1, 2] as const).map((c) => columns.get(n)!.at(k, c).dofs[0]!)),
  );
  const holds = root.map((d) => ({ ...heldAt([0], [0])[0]!, dofs: Int32Array.of(d) }));
  const last = nodesWhere(mesh, (x) => x > length - 1e-9);
  const tip = { dofs: last.flatMap((n) => columns.get(n)!.at(1, 2).dofs), values: last.map(() => 1 / last.length) };
  const w = work([...stacks.map((s) => s.stiffness), ...holds], [tip])[0]!;
  const wanted =
    length ** 3 / (3 * metal.modulus * ((wide * high ** 3) / 12)) + (1.2 * length * 2) / (metal.modulus * wide * high);
  expect(w / wanted).toBeGreaterThan(0.99);
  expect(w / wanted).toBeLessThan(1.01);
});
