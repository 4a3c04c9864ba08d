/** Springs over an area: clamps that grip, glue, screws, backing. They act on the movement at one height. */
import type { Mm } from '../../base/units.ts';
import { addSum, type Component, type Sum } from './columns.ts';
import { gradients, RULE_6 } from './element/triangle.ts';
import type { PlanMesh } from './mesh/mesh.ts';
import { cornersOf, type Piece } from './piece.ts';
import type { ElementMatrix } from './solve/tree.ts';

export interface AreaSprings {
  /** Regions of the mesh they act on. */
  readonly regions: readonly number[];
  readonly covers: (x: Mm, y: Mm) => boolean;
  /** Along x, y and up, N/mm for each mm2. */
  readonly perArea: readonly [number, number, number];
  /** Height above the lower face at which they grip. */
  readonly height: Mm;
}

/** null: the springs do not reach the piece. */
export function springsOn(mesh: PlanMesh, piece: Piece, springs: AreaSprings): ElementMatrix | null {
  if (!springs.regions.includes(mesh.region[piece.triangle]!)) return null;
  const c = cornersOf(mesh, piece.triangle);
  const { area } = gradients(c);
  const rows: { readonly sum: Sum; readonly by: number }[] = [];
  for (const [l0, l1, l2, weight] of RULE_6) {
    const x = l0 * c[0] + l1 * c[2] + l2 * c[4];
    const y = l0 * c[1] + l1 * c[3] + l2 * c[5];
    if (!springs.covers(x, y)) continue;
    springs.perArea.forEach((k, i) => {
      if (k > 0)
        rows.push({ sum: piece.movement([l0, l1, l2], springs.height, i as Component), by: k * weight * area });
    });
  }
  if (rows.length === 0) return null;
  const { dofs, x, y } = piece.stiffness;
  const place = new Map([...dofs].map((d, i) => [d, i]));
  const n = dofs.length;
  const matrix = new Float64Array(n * n);
  for (const { sum, by } of rows) {
    const merged: Sum = { dofs: [], values: [] };
    addSum(merged, sum, 1);
    merged.dofs.forEach((p, i) => {
      merged.dofs.forEach((q, j) => {
        matrix[place.get(p)! * n + place.get(q)!]! += by * merged.values[i]! * merged.values[j]!;
      });
    });
  }
  return { dofs, matrix, x, y };
}
