/**
 * Forces through a tab's root: what the wall must give the tab's wedges, from their own nodal forces, so that they balance the load
 * exactly. Six of each root as weights on unknowns: they are measured as loads are, forward only.
 */
import { cube } from '../../base/powers.ts';
import type { Mm, Mm2 } from '../../base/units.ts';
import { addSum, type Sum } from './columns.ts';
import type { PlanMesh } from './mesh/mesh.ts';
import { nodesOf, type Stack } from './piece.ts';

export interface TabRoot {
  /** Middle of the root's section, mm. */
  readonly at: readonly [x: Mm, y: Mm, z: Mm];
  /** Unit vector along the wall. */
  readonly along: readonly [number, number];
  readonly section: Section;
  /** Force x y z (N) and moment x y z about `at` (N mm) of the wall upon the tab. */
  readonly weights: readonly Sum[];
}

/** The metal over the wall's line. About its own middle: bending up about the line along the wall, sideways about the upright. */
export interface Section {
  readonly area: Mm2;
  /** mm4. */
  readonly upward: number;
  readonly sideways: number;
  /** Furthest metal above, below and along from the middle. */
  readonly above: Mm;
  readonly below: Mm;
  readonly reach: Mm;
}

/** null: the tab does not reach the wall. */
export function rootOf(mesh: PlanMesh, tab: readonly Stack[], wall: ReadonlySet<number>): TabRoot | null {
  const edges = tab.flatMap((stack) => edgesOn(mesh, stack, wall));
  if (edges.length === 0) return null;
  const { at, along, section } = sectionOf(edges);
  const weights: Sum[] = Array.from({ length: 6 }, () => ({ dofs: [], values: [] }));
  for (const stack of tab) addForces(weights, mesh, { stack, wall, at });
  return { at, along, section, weights };
}

/** Two ends of an edge on the wall with the metal's height at its ends and middle. */
type WallEdge = readonly [x0: Mm, y0: Mm, x1: Mm, y1: Mm, h0: Mm, hm: Mm, h1: Mm];

function edgesOn(mesh: PlanMesh, stack: Stack, wall: ReadonlySet<number>): WallEdge[] {
  const nodes = nodesOf(mesh, stack.triangle);
  const height = (i: number) => stack.columns[i]!.heights.at(-1)!;
  return [0, 1, 2].flatMap((k): WallEdge[] => {
    const [a, b] = [k, (k + 1) % 3];
    if (![nodes[a]!, nodes[b]!, nodes[k + 3]!].every((n) => wall.has(n))) return [];
    const [p, q] = [nodes[a]!, nodes[b]!];
    return [[mesh.x[p]!, mesh.y[p]!, mesh.x[q]!, mesh.y[q]!, height(a), height(k + 3), height(b)]];
  });
}

function sectionOf(edges: readonly WallEdge[]): Pick<TabRoot, 'at' | 'along' | 'section'> {
  const widest = edges.reduce((m, e) => [m[0] + e[2] - e[0], m[1] + e[3] - e[1]] as const, [0, 0] as readonly [
    number,
    number,
  ]);
  const width = Math.hypot(...widest) || 1;
  const along = [widest[0] / width, widest[1] / width] as const;
  let [area, sx, sy, sz, szz] = [0, 0, 0, 0, 0];
  const strips = edges.flatMap(([x0, y0, x1, y1, h0, hm, h1]) => {
    const length = Math.hypot(x1 - x0, y1 - y0);
    // Simpson: exact for the height and near enough for its cube.
    return [
      [x0, y0, h0, length / 6],
      [(x0 + x1) / 2, (y0 + y1) / 2, hm, (2 * length) / 3],
      [x1, y1, h1, length / 6],
    ] as const;
  });
  for (const [x, y, h, w] of strips) {
    area += h * w;
    sx += x * h * w;
    sy += y * h * w;
    sz += (h * h * w) / 2;
    szz += (cube(h) * w) / 3;
  }
  const at = [sx / area, sy / area, sz / area] as const;
  const off = (x: number, y: number) => (x - at[0]) * along[0] + (y - at[1]) * along[1];
  const sideways = strips.reduce((s, [x, y, h, w]) => s + off(x, y) ** 2 * h * w, 0);
  const tallest = Math.max(...strips.map(([, , h]) => h));
  const reach = Math.max(...strips.map(([x, y]) => Math.abs(off(x, y))));
  const section = { area, upward: szz - area * at[2] ** 2, sideways, above: tallest - at[2], below: at[2], reach };
  return { at, along, section };
}

function addForces(
  weights: readonly Sum[],
  mesh: PlanMesh,
  { stack, wall, at }: { readonly stack: Stack; readonly wall: ReadonlySet<number>; readonly at: TabRoot['at'] },
): void {
  const nodes = nodesOf(mesh, stack.triangle);
  for (const wedge of stack.wedges) {
    const n = wedge.sums.length;
    // Rows of the wedge's stiffness under each of six rigid movements of the wall's nodes.
    const row = weights.map(() => new Float64Array(n));
    nodes.forEach((node, i) => {
      if (!wall.has(node)) return;
      for (let k = 0; k < 3; k++) {
        const z = wedge.heights[3 * i + k]! - at[2];
        const [x, y] = [mesh.x[node]! - at[0], mesh.y[node]! - at[1]];
        const rigid = [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
          [0, -z, y],
          [z, 0, -x],
          [-y, x, 0],
        ];
        for (let c = 0; c < 3; c++) {
          const from = (3 * (3 * i + k) + c) * n;
          rigid.forEach((move, m) => {
            if (move[c] !== 0) for (let j = 0; j < n; j++) row[m]![j]! += move[c]! * wedge.stiffness[from + j]!;
          });
        }
      }
    });
    row.forEach((values, m) => wedge.sums.forEach((sum, j) => addSum(weights[m]!, sum, values[j]!)));
  }
}
