/** The plate with every slot cut, solved once: how places of it move under loads on others. */
import type { Mm } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { Vector } from '../../mechanics/cutting/cut.ts';
import type { RailFrame } from '../../mechanics/plate/frame.ts';
import {
  cellLength,
  type NodeCompliance,
  nodeCompliance,
  plateFrame,
  type Rect,
  rootedOnly,
} from '../../mechanics/plate/plate.ts';
import { takenAt } from './mouths.ts';
import type { HoldScene } from './scene.ts';

export interface StockNet {
  readonly frame: RailFrame;
  readonly compliance: NodeCompliance;
  /** Index into `give.nodes` of the node that carries a place beside a slot; null: nothing solid is near. */
  root(p: Point): { readonly index: number; readonly at: Vector } | null;
  /** The job names no clamps: evaluated as held along both short sides. */
  readonly assumedClamps: boolean;
}

export type NetOutcome =
  | { readonly kind: 'net'; readonly net: StockNet }
  /** No clamp touches the plate that is left. */
  | { readonly kind: 'unclamped' };

/** A root farther from any node than this, or than this many cells, hangs over a gap. */
const REACH: Mm = 8;
const REACH_CELLS = 1.2;
/** Strip taken as held along the short sides when the job says nothing. */
const ASSUMED_GRIP: Mm = 6;

/** `roots`: every place a tab, stub or skin may be rooted. */
export function stockNet(scene: HoldScene, roots: readonly Point[]): NetOutcome {
  const assumedClamps = scene.held.length === 0;
  const held = assumedClamps ? shortSides(scene) : scene.held;
  const { min, max } = scene.job.stock;
  const facts = {
    stock: { minX: min[0], minY: min[1], maxX: max[0], maxY: max[1] },
    thickness: scene.thickness + scene.job.stock.below - scene.thinnest,
    z: (scene.bottom - scene.job.stock.below) / 2,
    held,
    windows: scene.parts.map(({ box }) => ({
      minX: box.minX - scene.slotWidth,
      minY: box.minY - scene.slotWidth,
      maxX: box.maxX + scene.slotWidth,
      maxY: box.maxY + scene.slotWidth,
    })),
    stays: scene.stays,
    ...(scene.mouths.length > 0 ? { taken: (x: Mm, y: Mm) => takenAt(scene.mouths, x, y) } : {}),
    metal: scene.metal,
    density: scene.density,
  };
  const frame = rootedOnly(plateFrame(facts));
  if (frame === null) return { kind: 'unclamped' };
  const reach = Math.max(REACH, REACH_CELLS * cellLength(facts));
  const nearest = roots.map((p) => nearestNode(frame, p, reach));
  const nodes = [...new Set(nearest.filter((n) => n >= 0))].sort((a, b) => a - b);
  const solved = nodeCompliance(frame, nodes);
  if (solved.kind === 'unclamped') return solved;
  const index = new Map(nodes.map((n, i) => [n, i]));
  const root = (p: Point) => {
    const i = index.get(nearestNode(frame, p, reach));
    return i === undefined ? null : { index: i, at: frame.nodes[nodes[i]!]! };
  };
  return { kind: 'net', net: { frame, compliance: solved.compliance, root, assumedClamps } };
}

function nearestNode(frame: RailFrame, p: Point, reach: Mm): number {
  let best = -1;
  let least = reach * reach;
  frame.nodes.forEach((n, i) => {
    const dx = n[0] - p.x;
    const dy = n[1] - p.y;
    const d = dx * dx + dy * dy;
    if (d < least - 1e-9) {
      least = d;
      best = i;
    }
  });
  return best;
}

function shortSides(scene: HoldScene): Rect[] {
  const [x0, y0] = scene.job.stock.min;
  const [x1, y1] = scene.job.stock.max;
  const g = Math.min(ASSUMED_GRIP, (x1 - x0) / 4, (y1 - y0) / 4);
  return x1 - x0 >= y1 - y0
    ? [
        { minX: x0, minY: y0, maxX: x0 + g, maxY: y1 },
        { minX: x1 - g, minY: y0, maxX: x1, maxY: y1 },
      ]
    : [
        { minX: x0, minY: y0, maxX: x1, maxY: y0 + g },
        { minX: x0, minY: y1 - g, maxX: x1, maxY: y1 },
      ];
}
