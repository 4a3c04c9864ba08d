/** The set-up seen from the front: clamps, stock, and the top of what lies beneath, with its heights from Z0. */
import type { Mm } from '../../../base/units.ts';
import { loopBox } from '../../../geometry/measure/loop.ts';
import { pt } from '../../../geometry/measure/point.ts';
import type { Point } from '../../../geometry/types.ts';
import { placedParts } from '../../../part/placed.ts';
import { jawStrips } from '../../jaws.ts';
import type { Units } from '../figures.ts';
import type { SheetInput } from '../input.ts';
import { type DimensionFigure, running } from './dimension.ts';
import { onPaper, polyline, rect, stroke, type View } from './pen.ts';

export interface FrontView {
  /** Of the work, before scaling. */
  readonly height: Mm;
  /** Highest z drawn. */
  readonly topZ: Mm;
  /** `side`: x of the dimension line of the Z figures, paper. */
  draw(view: View, side: Mm): string[];
}

/** Of what lies beneath, only so much is drawn, with a break line. */
const BENEATH: Mm = 3;

export function frontView(input: SheetInput, u: Units): FrontView {
  const { stock } = input.job;
  const boxes = clampBoxes(input);
  const topZ = Math.max(stock.max[2], ...boxes.map((b) => b.top));
  const bottomZ = stock.min[2] - BENEATH;
  const draw = (view: View, side: Mm): string[] => {
    const at = (x: Mm, z: Mm): Point => onPaper(view, { x, y: z });
    const left = at(Math.min(stock.min[0], ...boxes.map((b) => b.min.x)), 0).x;
    const end = at(Math.max(stock.max[0], ...boxes.map((b) => b.max.x)), 0).x;
    return [
      rect(at(stock.min[0], stock.min[2]), at(stock.max[0], stock.max[2]), 'edge'),
      ...boxes.map((b) => rect(at(b.min.x, Math.min(b.top, stock.max[2])), at(b.max.x, b.top), 'adjacent')),
      ...partEdges(input, at),
      beneath(left, end, at(0, stock.min[2]).y, at(0, bottomZ).y),
      running(
        { axis: 'y', at: side, origin: view.oy, room: [at(0, topZ).y, at(0, bottomZ).y + 6] },
        heights(input, u, view),
      ).svg,
    ];
  };
  return { height: topZ - bottomZ, topZ, draw };
}

function partEdges(input: SheetInput, at: (x: Mm, z: Mm) => Point): string[] {
  const lower = -input.job.part.thickness;
  return placedParts(input.job).flatMap((p) => {
    const box = loopBox(p.outline);
    return [box.minX, box.maxX].map((x) => stroke(at(x, 0), at(x, lower), 'hidden'));
  });
}

/** Narrow outline of an adjacent part, broken off by a zigzag (ISO 128-2 break line). */
function beneath(left: Mm, right: Mm, top: Mm, bottom: Mm): string {
  const middle = (left + right) / 2;
  const z = 1.5;
  const outline = [pt(left, bottom), pt(left, top), pt(right, top), pt(right, bottom)];
  const zigzag = [pt(middle - z, bottom), pt(middle - z / 2, bottom - z), pt(middle + z / 2, bottom + z)];
  const line = [pt(left - 1, bottom), ...zigzag, pt(middle + z, bottom), pt(right + 1, bottom)];
  return polyline(outline, 'adjacent') + polyline(line, 'narrow');
}

function heights(input: SheetInput, u: Units, view: View): DimensionFigure[] {
  const { stock, part } = input.job;
  const mark = (z: Mm, rank: number, plan?: string): DimensionFigure => {
    return { text: u.size(z), along: onPaper(view, { x: 0, y: z }).y, from: 2, rank, plan };
  };
  return [
    mark(0, 0),
    mark(stock.max[2], 0, 'stock.max.2'),
    mark(stock.min[2], 0, 'stock.min.2'),
    mark(-part.thickness, 1),
    mark(input.plan.profileBottom, 2),
    ...clampBoxes(input).flatMap((b) => (b.top > stock.max[2] ? [mark(b.top, 1, b.topPlan)] : [])),
  ];
}

export interface ClampBox {
  readonly name: string;
  readonly min: Point;
  readonly max: Point;
  readonly top: Mm;
  /** Key path of its top in the plan file. */
  readonly topPlan: string;
  /** Key path of its corners, where they are figures of the plan. */
  readonly plan: string | null;
}

/** Jaws stand out a little beyond the stock, so that they are seen. */
const JAW: Mm = 4;

/** Blocks as they are; jaws as a strip at each end. */
export function clampBoxes(input: SheetInput): ClampBox[] {
  const { stock, clamps } = input.job;
  return clamps.flatMap((c, i): ClampBox[] => {
    const plan = `setups.0.hold.clamps.${i}`;
    if (c.kind === 'block') {
      return [
        { min: pt(...c.min), max: pt(...c.max), name: `clamp ${i + 1}`, top: c.top, topPlan: `${plan}.top`, plan },
      ];
    }
    const jaw = { name: 'jaw', top: stock.max[2], topPlan: 'stock.max.2', plan: null };
    return jawStrips(c, stock, JAW).map(([x0, y0, x1, y1]) => ({ ...jaw, min: pt(x0, y0), max: pt(x1, y1) }));
  });
}
