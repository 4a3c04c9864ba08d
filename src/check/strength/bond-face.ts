/** A glued face under a stiff part: how shear and pull spread over it (strength of materials: N/A and M c/I, by its own axes). */
import type { Mm2, Stress } from '../../base/units.ts';
import type { Point } from '../../geometry/types.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CutterPush } from './collapse.ts';
import { hullOf } from './pushes.ts';

export interface BondFace {
  readonly area: Mm2;
  readonly middle: Point;
  /** Second moments about the middle: of x, of y, mixed. */
  readonly xx: number;
  readonly yy: number;
  readonly xy: number;
  readonly rim: readonly Point[];
}

/** Cells over the longer side. */
const CELLS = 80;

/** By cells: openings right through hold nothing. */
export function bondFace(part: WantedPart): BondFace {
  const { minX, minY, maxX, maxY } = part.edge.box;
  const cell = Math.max(maxX - minX, maxY - minY) / CELLS;
  const points: Point[] = [];
  for (let x = minX + cell / 2; x < maxX; x += cell)
    for (let y = minY + cell / 2; y < maxY; y += cell) if (isGlued(part, { x, y })) points.push({ x, y });
  const mean = (value: (p: Point) => number) => points.reduce((sum, p) => sum + value(p), 0) / points.length;
  const middle = { x: mean((p) => p.x), y: mean((p) => p.y) };
  const area = points.length * cell * cell;
  const second = (value: (x: number, y: number) => number) => area * mean((p) => value(p.x - middle.x, p.y - middle.y));
  const own = (area * cell * cell) / 12;
  return {
    area,
    middle,
    xx: second((x) => x * x) + own,
    yy: second((_, y) => y * y) + own,
    xy: second((x, y) => x * y),
    rim: hullOf(part),
  };
}

function isGlued(part: WantedPart, p: Point): boolean {
  if (!part.edge.inside(p)) return false;
  if (part.holes.some((h) => h.hole.depth === null && Math.hypot(p.x - h.at.x, p.y - h.at.y) < h.hole.diameter / 2))
    return false;
  return !part.pockets.some((k) => k.through && k.outer.inside(p) && !k.islands.some((i) => i.inside(p)));
}

/** Share of what the bond may bear that a push takes where it is worst: shear and pull added, as for brittle glue. */
export function bondShare(
  f: BondFace,
  push: CutterPush,
  allowed: { readonly shear: Stress; readonly pull: Stress },
): number {
  const e = { x: push.at.x - f.middle.x, y: push.at.y - f.middle.y };
  const det = f.xx * f.yy - f.xy * f.xy;
  let pull = 0;
  let far = 0;
  for (const q of f.rim) {
    const [x, y] = [q.x - f.middle.x, q.y - f.middle.y];
    // Slope of the stress over the face that a unit moment about each axis makes, times this point.
    const g = { x: (f.yy * x - f.xy * y) / det, y: (f.xx * y - f.xy * x) / det };
    pull = Math.max(
      pull,
      push.up * (1 / f.area + e.x * g.x + e.y * g.y) + push.sideways * push.z * Math.hypot(g.x, g.y),
    );
    far = Math.max(far, Math.hypot(x, y));
  }
  const shear = push.sideways / f.area + (push.sideways * Math.hypot(e.x, e.y) * far) / (f.xx + f.yy);
  return shear / allowed.shear + pull / allowed.pull;
}
