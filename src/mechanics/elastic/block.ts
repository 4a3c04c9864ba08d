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
import { nodesOf, type Piece, platePiece, type Stack, stackPiece } from './piece.ts';
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
/** The layer over a tab's is this many times as high: the root's field fades over about the tab's height. */
const NEXT_LAYER = 1.5;

export function blockPieces(request: BlockRequest): BlockPieces {
  const { mesh, margin, slot, tops, metal } = request;
  const heights = nodeHeights(request);
  const metalled = slot.filter((t) => nodesOf(mesh, t).some((n) => heights.get(n)! > LEAST_METAL));
  if (metalled.length === 0) return { margin: plates(request), tab: [] };
  const tallest = Math.max(...metalled.flatMap((t) => [...nodesOf(mesh, t)].map((n) => heights.get(n)!)));
  const bounds = boundsOf(request, tallest);
  const columns = marginColumns(request, bounds);
  const solid = margin.map((t) =>
    stackPiece(mesh, t, {
      columns: [...nodesOf(mesh, t)].map((n) => columns.get(n)!),
      layers: bounds.findIndex((z) => z >= tops[t]! - 1e-9),
      metal,
    }),
  );
  const own = new Map<number, NodeColumn>();
  const tab = metalled.map((t) =>
    stackPiece(mesh, t, {
      columns: [...nodesOf(mesh, t)].map((n) => tabColumn(request, { n, heights, columns, own })),
      layers: 1,
      metal,
    }),
  );
  return { margin: solid, tab };
}

function plates({ mesh, margin, tops, thickness, metal }: BlockRequest): Piece[] {
  return margin.map((t) => platePiece(mesh, t, { bottom: 0, top: tops[t]!, reference: thickness / 2, metal }));
}

function nodeHeights({ mesh, slot, tab }: BlockRequest): Map<number, Mm> {
  const out = new Map<number, Mm>();
  const read = (n: number) => {
    if (!out.has(n)) out.set(n, Math.max(FOOT, tab(mesh.x[n]!, mesh.y[n]!)));
    return out.get(n)!;
  };
  for (const t of slot) {
    const nodes = nodesOf(mesh, t);
    for (const k of [0, 1, 2]) {
      const [a, b] = [read(nodes[k]!), read(nodes[(k + 1) % 3]!)];
      const [low, high] = [Math.min(a, b), Math.max(a, b)];
      // Within these a parabola from end to end neither rises over the one nor falls below the other: no wedge is turned inside out.
      const middle = Math.max((3 * low + high) / 4, Math.min((low + 3 * high) / 4, read(nodes[k + 3]!)));
      out.set(nodes[k + 3]!, middle);
    }
  }
  return out;
}

/** Heights that bound the layers of the margins: the tab's top, one more, every upper face. */
function boundsOf({ margin, tops, thickness }: BlockRequest, tallest: Mm): Mm[] {
  const faces = [...new Set(margin.map((t) => tops[t]!))];
  const wanted = [tallest, tallest * (1 + NEXT_LAYER)].filter((z) => z < 0.8 * thickness);
  const inside = wanted.filter((z) => faces.every((f) => Math.abs(f - z) > 0.1 * thickness));
  return [0, ...new Set([...inside, ...faces])].sort((a, b) => a - b);
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
  readonly n: number;
  readonly heights: ReadonlyMap<number, Mm>;
  readonly columns: ReadonlyMap<number, NodeColumn>;
  readonly own: Map<number, NodeColumn>;
}

/** On a wall the tab's nodes lie on the margin's column, or on the plate's where the margin has ended. */
function tabColumn({ thickness, border, numbers }: BlockRequest, { n, heights, columns, own }: TabColumns): NodeColumn {
  let column = own.get(n);
  if (column === undefined) {
    const levels = levelsOf([0, heights.get(n)!]);
    const wall = columns.get(n);
    if (wall !== undefined) column = tiedColumn(levels, wall);
    else column = border.has(n) ? plateColumn(n, levels, thickness / 2) : freeColumn(levels, numbers);
    own.set(n, column);
  }
  return column;
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
