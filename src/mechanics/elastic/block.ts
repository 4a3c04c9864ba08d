/**
 * One tab with its two roots: solids in the tab and in a margin of frame and part round it, condensed to the nodes where the margin
 * meets the plate. One of these stands for each form of the tab that a state of the cut may ask for; without metal in the slot the
 * margins are plate.
 */
import type { Mm } from '../../base/units.ts';
import {
  borderColumn,
  freeColumn,
  levelsOf,
  type NodeColumn,
  type Numbering,
  plateColumn,
  tiedColumn,
} from './columns.ts';
import type { ElasticMetal } from './element/plate.ts';
import type { PlanMesh } from './mesh/mesh.ts';
import { cornersOf, middleOf, nodesOf, type Piece, platePiece, type Stack, stackPiece } from './piece.ts';
import { FRAME, PART } from './regions.ts';

/** Height of the metal above the lower face at a place in the slot; 0 or less: none. */
export type TabMetal = (x: Mm, y: Mm) => Mm;

export interface BlockRequest {
  readonly mesh: PlanMesh;
  /** Triangles of frame and part in the margins, and of the slot near the tab. */
  readonly margin: readonly number[];
  readonly slot: readonly number[];
  /** Nodes that plates outside share. */
  readonly border: ReadonlySet<number>;
  /** Upper face of each triangle of frame and part. */
  readonly tops: Float64Array;
  readonly thickness: Mm;
  readonly metal: ElasticMetal;
  readonly tab: TabMetal;
  readonly numbers: Numbering;
}

export interface BlockPieces {
  readonly margin: readonly Piece[];
  readonly tab: readonly Stack[];
}

/** Thinner metal is left out: under a thousandth of the stiffness, which goes with the cube, of the lowest tab. */
const LEAST_METAL: Mm = 0.04;
/** Height given to a node at the foot of a ramp, so that a wedge keeps a volume. */
const FOOT: Mm = 0.02;
/** A height that changes by more within so small a share of a triangle is a step. */
const INWARDS = 0.02;
const STEP: Mm = 0.05;
/** The layer over a tab's is this many times as high: the root's field fades over about the tab's height. */
const NEXT_LAYER = 1.5;

export function blockPieces(request: BlockRequest): BlockPieces {
  const { mesh, margin, slot, tops, metal } = request;
  const heights = slotHeights(request);
  const metalled = slot.filter((t) => heights.get(t)!.some((h) => h > LEAST_METAL));
  if (metalled.length === 0) return { margin: plates(request), tab: [] };
  const bounds = boundsOf(
    request,
    metalled.flatMap((t) => heights.get(t)!),
  );
  const columns = marginColumns(request, bounds);
  const solid = margin.map((t) =>
    stackPiece(mesh, t, {
      columns: [...nodesOf(mesh, t)].map((n) => columns.get(n)!),
      layers: bounds.findIndex((z) => z >= tops[t]! - 1e-9),
      metal,
    }),
  );
  const tab = tabColumns(request, { metalled, heights, columns }).map(({ triangle, six }) =>
    stackPiece(mesh, triangle, { columns: six, layers: 1, metal }),
  );
  return { margin: solid, tab };
}

function plates({ mesh, margin, tops, thickness, metal }: BlockRequest): Piece[] {
  return margin.map((t) => platePiece(mesh, t, { bottom: 0, top: tops[t]!, reference: thickness / 2, metal }));
}

/**
 * Heights at the six nodes of each triangle of the slot. At a step, where a line of the mesh should run, those of the two sides differ:
 * the height is read a little inside the triangle there.
 */
function slotHeights({ mesh, slot, tab }: BlockRequest): Map<number, Mm[]> {
  const out = new Map<number, Mm[]>();
  for (const t of slot) {
    const nodes = nodesOf(mesh, t);
    const [cx, cy] = middleOf(cornersOf(mesh, t));
    const read = (n: number) => {
      const [x, y] = [mesh.x[n]!, mesh.y[n]!];
      const here = tab(x, y);
      const inwards = tab(x + INWARDS * (cx - x), y + INWARDS * (cy - y));
      return Math.max(FOOT, Math.abs(inwards - here) > STEP ? inwards : here);
    };
    const corners = [0, 1, 2].map((k) => read(nodes[k]!));
    const middles = [0, 1, 2].map((k) => {
      const [low, high] = [corners[k]!, corners[(k + 1) % 3]!].sort((p, q) => p - q) as [Mm, Mm];
      // Within these a parabola from end to end neither rises over the one nor falls below the other: no wedge is turned inside out.
      return Math.max((3 * low + high) / 4, Math.min((low + 3 * high) / 4, read(nodes[k + 3]!)));
    });
    out.set(t, [...corners, ...middles]);
  }
  return out;
}

/** Heights that bound the layers of the margins: the tab's usual top and its highest, one over them, every upper face. */
function boundsOf({ margin, tops, thickness }: BlockRequest, heights: readonly Mm[]): Mm[] {
  const faces = [...new Set(margin.map((t) => tops[t]!))];
  const sorted = [...heights].sort((p, q) => p - q);
  const [usual, tallest] = [sorted[Math.floor(0.6 * sorted.length)]!, sorted.at(-1)!];
  const out = [...faces];
  for (const z of [tallest, usual, tallest * (1 + NEXT_LAYER)]) {
    if (z < 0.8 * thickness && out.every((f) => Math.abs(f - z) > 0.08 * thickness)) out.push(z);
  }
  return [0, ...out].sort((p, q) => p - q);
}

function marginColumns(
  { mesh, margin, tops, thickness, border, numbers }: BlockRequest,
  bounds: readonly Mm[],
): Map<number, NodeColumn> {
  const highest = new Map<number, Mm>();
  for (const t of margin) for (const n of nodesOf(mesh, t)) highest.set(n, Math.max(highest.get(n) ?? 0, tops[t]!));
  const out = new Map<number, NodeColumn>();
  for (const [n, top] of highest) {
    const heights = levelsOf(bounds.filter((z) => z <= top + 1e-9));
    out.set(n, border.has(n) ? borderColumn(n, heights, thickness / 2, numbers) : freeColumn(heights, numbers));
  }
  return out;
}

interface TabColumns {
  readonly metalled: readonly number[];
  readonly heights: ReadonlyMap<number, readonly Mm[]>;
  /** Of the margins. */
  readonly columns: ReadonlyMap<number, NodeColumn>;
}

/** Columns of each triangle of the tab. The highest at a node leads; a lower side of a step moves as that does. */
function tabColumns(request: BlockRequest, { metalled, heights, columns }: TabColumns) {
  const { mesh, thickness, border, numbers } = request;
  const highest = new Map<number, Mm>();
  for (const t of metalled) {
    nodesOf(mesh, t).forEach((n, i) => {
      highest.set(n, Math.max(highest.get(n) ?? 0, heights.get(t)![i]!));
    });
  }
  const leading = new Map<number, NodeColumn>();
  for (const [n, top] of highest) {
    const levels = levelsOf([0, top]);
    const wall = columns.get(n);
    if (wall !== undefined) leading.set(n, tiedColumn(levels, wall));
    else leading.set(n, border.has(n) ? plateColumn(n, levels, thickness / 2) : freeColumn(levels, numbers));
  }
  return metalled.map((triangle) => ({
    triangle,
    six: [...nodesOf(mesh, triangle)].map((n, i) => {
      const lead = leading.get(n)!;
      const top = heights.get(triangle)![i]!;
      if (top > highest.get(n)! - 1e-9) return lead;
      return tiedColumn(levelsOf([0, top]), columns.get(n) ?? lead);
    }),
  }));
}

/** Which of the margin's bodies has a node on its edge, for the cuts at both roots. */
export function wallNodes(mesh: PlanMesh, triangles: readonly number[]): readonly [Set<number>, Set<number>] {
  const out: [Set<number>, Set<number>] = [new Set(), new Set()];
  for (const t of triangles) {
    const region = mesh.region[t]!;
    if (region !== FRAME && region !== PART) continue;
    for (const n of nodesOf(mesh, t)) out[region === FRAME ? 0 : 1].add(n);
  }
  return out;
}
