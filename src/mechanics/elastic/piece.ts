/** One triangle of the body with what stands on it: a plate, or a stack of wedges. Stiffness, mass, and the movement inside. */
import type { Mm } from '../../base/units.ts';
import { addSum, type Component, movementAt, type NodeColumn, plateAt, type Sum } from './columns.ts';
import { type ElasticMetal, plateMass, plateStiffness } from './element/plate.ts';
import { WEDGE_NODES, wedgeMass, wedgeStiffness } from './element/solid.ts';
import { type Corners, shapes } from './element/triangle.ts';
import type { PlanMesh } from './mesh/mesh.ts';
import type { ElementMatrix } from './solve/tree.ts';

export interface Piece {
  /** Index of the triangle in the mesh. */
  readonly triangle: number;
  readonly stiffness: ElementMatrix;
  /** Made when asked for: only frequencies need it. */
  readonly mass: () => ElementMatrix;
  /** Movement at barycentrics and height. */
  readonly movement: (l: readonly [number, number, number], z: Mm, component: Component) => Sum;
}

export function nodesOf(mesh: PlanMesh, triangle: number): Int32Array {
  return mesh.elements.subarray(6 * triangle, 6 * triangle + 6);
}

export function cornersOf({ x, y, elements }: PlanMesh, triangle: number): Corners {
  const [a, b, c] = [elements[6 * triangle]!, elements[6 * triangle + 1]!, elements[6 * triangle + 2]!];
  return [x[a]!, y[a]!, x[b]!, y[b]!, x[c]!, y[c]!];
}

export function middleOf(corners: Corners): readonly [number, number] {
  return [(corners[0] + corners[2] + corners[4]) / 3, (corners[1] + corners[3] + corners[5]) / 3];
}

export interface PlateRequest {
  readonly bottom: Mm;
  readonly top: Mm;
  readonly reference: Mm;
  readonly metal: ElasticMetal;
}

export function platePiece(mesh: PlanMesh, triangle: number, slab: PlateRequest): Piece {
  const corners = cornersOf(mesh, triangle);
  const nodes = nodesOf(mesh, triangle);
  const dofs = Int32Array.from([...nodes].flatMap((n) => [0, 1, 2, 3, 4].map((c) => 5 * n + c)));
  const [x, y] = middleOf(corners);
  return {
    triangle,
    stiffness: { dofs, matrix: plateStiffness({ corners, ...slab }), x, y },
    mass: () => ({ dofs, matrix: plateMass({ corners, ...slab }), x, y }),
    movement: (l, z, component) => {
      const out: Sum = { dofs: [], values: [] };
      shapes(...l).forEach((w, i) => {
        if (w !== 0) addSum(out, plateAt(nodes[i]!, z - slab.reference, component), w);
      });
      return out;
    },
  };
}

export interface Stack extends Piece {
  readonly columns: readonly NodeColumn[];
  readonly wedges: readonly StackWedge[];
}

export interface StackWedge {
  readonly heights: Float64Array;
  /** Of the 54 unknowns of the wedge. */
  readonly sums: readonly Sum[];
  readonly stiffness: Float64Array;
}

/** Wedges from the lower face up: `layers` of the six columns, three levels each. */
export function stackPiece(
  mesh: PlanMesh,
  triangle: number,
  {
    columns,
    layers,
    metal,
  }: { readonly columns: readonly NodeColumn[]; readonly layers: number; readonly metal: ElasticMetal },
): Stack {
  const corners = cornersOf(mesh, triangle);
  const [x, y] = middleOf(corners);
  const wedges: StackWedge[] = [];
  const numbers = new Map<number, number>();
  for (let layer = 0; layer < layers; layer++) {
    const heights = new Float64Array(WEDGE_NODES);
    const sums: Sum[] = [];
    columns.forEach((column, i) => {
      for (let k = 0; k < 3; k++) {
        heights[3 * i + k] = column.heights[2 * layer + k]!;
        for (const c of [0, 1, 2] as const) sums.push(column.at(2 * layer + k, c));
      }
    });
    for (const s of sums) for (const d of s.dofs) if (!numbers.has(d)) numbers.set(d, numbers.size);
    wedges.push({ heights, sums, stiffness: wedgeStiffness({ corners, heights, metal }) });
  }
  const n = numbers.size;
  const gathered = (of: (wedge: StackWedge) => Float64Array) => {
    const out = new Float64Array(n * n);
    for (const wedge of wedges) addThrough(out, n, of(wedge), placed(wedge.sums, numbers));
    return out;
  };
  const dofs = Int32Array.from(numbers.keys());
  return {
    triangle,
    columns,
    wedges,
    stiffness: { dofs, matrix: gathered((w) => w.stiffness), x, y },
    mass: () => ({ dofs, matrix: gathered(({ heights }) => wedgeMass({ corners, heights, metal })), x, y }),
    movement: (l, z, component) => {
      const out: Sum = { dofs: [], values: [] };
      shapes(...l).forEach((w, i) => {
        if (w !== 0) addSum(out, movementAt(columns[i]!, z, component), w);
      });
      return out;
    },
  };
}

/** Sums laid end to end: those of row i stand from `from[i]` on. */
interface LaidSums {
  readonly from: Int32Array;
  readonly at: Int32Array;
  readonly by: Float64Array;
}

function placed(sums: readonly Sum[], numbers: ReadonlyMap<number, number>): LaidSums {
  const from = new Int32Array(sums.length + 1);
  sums.forEach((s, i) => {
    from[i + 1] = from[i]! + s.dofs.length;
  });
  return {
    from,
    at: Int32Array.from(sums.flatMap((s) => s.dofs.map((d) => numbers.get(d)!))),
    by: Float64Array.from(sums.flatMap((s) => s.values)),
  };
}

/** T^T K T, each row of T a sum of few unknowns. */
function addThrough(into: Float64Array, n: number, k: Float64Array, { from, at, by }: LaidSums): void {
  const m = from.length - 1;
  for (let i = 0; i < m; i++) {
    for (let p = from[i]!; p < from[i + 1]!; p++) {
      const row = at[p]! * n;
      const scale = by[p]!;
      for (let j = 0; j < m; j++) {
        const v = k[i * m + j]! * scale;
        for (let q = from[j]!; q < from[j + 1]!; q++) into[row + at[q]!]! += v * by[q]!;
      }
    }
  }
}
