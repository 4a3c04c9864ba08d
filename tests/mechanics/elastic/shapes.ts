/** Plans and bodies that the tests of the elastic model share. */
import type { Component } from '../../../src/mechanics/elastic/columns.ts';
import type { ElasticMetal } from '../../../src/mechanics/elastic/element/plate.ts';
import { gradients } from '../../../src/mechanics/elastic/element/triangle.ts';
import type { MeshLine, PlanPoint } from '../../../src/mechanics/elastic/mesh/lines.ts';
import { type PlanMesh, planMesh } from '../../../src/mechanics/elastic/mesh/mesh.ts';
import { cornersOf, nodesOf, type Piece, platePiece } from '../../../src/mechanics/elastic/piece.ts';
import { reduce, type Weights } from '../../../src/mechanics/elastic/solve/sweep.ts';
import { condense, type ElementMatrix } from '../../../src/mechanics/elastic/solve/tree.ts';

export const METAL: ElasticMetal = { modulus: 1e5, poisson: 0.3, density: 8000 };

export function polygon(...points: PlanPoint[]): MeshLine {
  return { closed: true, points };
}

export function box(x0: number, y0: number, x1: number, y1: number): MeshLine {
  return polygon([x0, y0], [x1, y0], [x1, y1], [x0, y1]);
}

export function circle(x: number, y: number, r: number, n = 96): MeshLine {
  const turn = (2 * Math.PI) / n;
  return polygon(
    ...Array.from({ length: n }, (_, i): PlanPoint => [x + r * Math.cos(i * turn), y + r * Math.sin(i * turn)]),
  );
}

export function inside({ points }: MeshLine, x: number, y: number): boolean {
  let odd = false;
  points.forEach(([ax, ay], i) => {
    const [bx, by] = points[(i + 1) % points.length]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) odd = !odd;
  });
  return odd;
}

/** One region within the first outline and outside the others. */
export function meshOf(lines: readonly MeshLine[], size: number): PlanMesh {
  const [outer, ...holes] = lines;
  const mesh = planMesh({
    lines,
    size: () => size,
    regionAt: (x, y) => (inside(outer!, x, y) && holes.every((h) => !inside(h, x, y)) ? 0 : -1),
  });
  if (mesh.kind !== 'mesh') throw new Error(`no mesh: ${mesh.reason}`);
  return mesh;
}

export function platesOf(mesh: PlanMesh, thickness: number, metal = METAL): Piece[] {
  const slab = { bottom: 0, top: thickness, reference: thickness / 2, metal };
  return Array.from(mesh.region, (_, t) => platePiece(mesh, t, slab));
}

/** Components of nodes (0 1 2 movements, 3 4 turns) held by springs far stiffer than the body. */
export function heldAt(nodes: readonly number[], components: readonly number[], stiffness = 1e13): ElementMatrix[] {
  return nodes.map((n) => {
    const m = components.length;
    const matrix = new Float64Array(m * m);
    for (let i = 0; i < m; i++) matrix[i * m + i] = stiffness;
    return { dofs: Int32Array.from(components, (c) => 5 * n + c), matrix, x: 0, y: 0 };
  });
}

export function nodesWhere({ x, y }: PlanMesh, where: (x: number, y: number) => boolean): number[] {
  return [...x.keys()].filter((n) => where(x[n]!, y[n]!));
}

/** Upward pressure of 1 N/mm2: the middles of the sides carry a third each (exact for second order). */
export function pressure(mesh: PlanMesh): Weights {
  const dofs: number[] = [];
  const values: number[] = [];
  mesh.region.forEach((_, t) => {
    const { area } = gradients(cornersOf(mesh, t));
    for (const k of [3, 4, 5]) {
      dofs.push(5 * nodesOf(mesh, t)[k]! + 2);
      values.push(area / 3);
    }
  });
  return { dofs, values };
}

/** The movement at a place, as weights on unknowns. */
export function probe(
  mesh: PlanMesh,
  pieces: readonly Piece[],
  at: readonly [number, number, number],
  c: Component,
): Weights {
  let best = { inside: -Infinity, piece: pieces[0]!, l: [1, 0, 0] as [number, number, number] };
  for (const piece of pieces) {
    const [x0, y0, x1, y1, x2, y2] = cornersOf(mesh, piece.triangle);
    const twice = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0);
    const b = ((at[0] - x0) * (y2 - y0) - (x2 - x0) * (at[1] - y0)) / twice;
    const d = ((x1 - x0) * (at[1] - y0) - (at[0] - x0) * (y1 - y0)) / twice;
    const least = Math.min(1 - b - d, b, d);
    if (least > best.inside) best = { inside: least, piece, l: [1 - b - d, b, d] };
  }
  return best.piece.movement(best.l, at[2], c);
}

/** Work of each side on each other's movement, sides squared. */
export function work(elements: readonly ElementMatrix[], sides: readonly Weights[]): Float64Array {
  const body = condense(elements, new Set());
  if (body.kind !== 'condensed') throw new Error(`loose at unknown ${body.dof}`);
  return reduce(body, sides).within;
}

export function areaOf(mesh: PlanMesh): number {
  return Array.from(mesh.region, (_, t) => gradients(cornersOf(mesh, t)).area).reduce((a, b) => a + b, 0);
}
