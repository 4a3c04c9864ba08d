/** Where a fresh cutter is touched off: a place on top of the frame that no operation ever cuts. */
import type { Mm } from '../base/units.ts';
import { distanceToLoop } from '../geometry/measure/distance.ts';
import { loopBox } from '../geometry/measure/loop.ts';
import type { Box, Loop, Point } from '../geometry/types.ts';
import type { Scene } from './scene.ts';

/** Keep this much clear of cut edges, clamps and the stock's edge beyond the cutter's own radius. */
const ROOM: Mm = 1;
/** Grid on which places are tried. */
const STRIDE: Mm = 1;

export interface TouchPlace {
  readonly at: Point;
  /** z of the surface touched. */
  readonly z: Mm;
  /** Clear distance to the nearest thing in the way. */
  readonly room: Mm;
}

/** The roomiest place on the frame; null when the frame leaves no room for the cutters' `radius`. */
export function touchPlace(scene: Scene, slotWidth: Mm, radius: Mm): TouchPlace | null {
  const { min, max } = scene.job.stock;
  let best: TouchPlace | null = null;
  for (let x = min[0] + ROOM; x <= max[0] - ROOM; x += STRIDE) {
    for (let y = min[1] + ROOM; y <= max[1] - ROOM; y += STRIDE) {
      const room = roomAt(scene, { x, y }, slotWidth);
      if (room > radius + ROOM && (best === null || room > best.room + 1e-9)) {
        best = { at: { x, y }, z: scene.heights.stockTop, room };
      }
    }
  }
  return best;
}

function roomAt(scene: Scene, p: Point, slotWidth: Mm): Mm {
  const { min, max } = scene.job.stock;
  // Half a cutter may overhang the stock's edge, so the edge counts less than a clamp or a cut.
  const edge = 2 * Math.min(p.x - min[0], max[0] - p.x, p.y - min[1], max[1] - p.y) + ROOM;
  const clamps = scene.obstacles.map((b) => awayFrom(b, p));
  const cuts = scene.outlines.map((loop) => insideOrNear(loop, p) - slotWidth);
  const faced = facedBoxes(scene).map((b) => awayFrom(b, p));
  return Math.min(edge, ...clamps, ...cuts, ...faced);
}

/** Stretches of stock top that are faced: lower afterwards than when the first cutter was touched off. */
function facedBoxes(scene: Scene): readonly Box[] {
  return scene.plan.setups.flatMap((s) =>
    s.operations.flatMap(({ target: t }) =>
      t.kind === 'stock' ? [{ minX: t.min.x, minY: t.min.y, maxX: t.max.x, maxY: t.max.y }] : [],
    ),
  );
}

function awayFrom(b: Box, p: Point): Mm {
  return Math.hypot(Math.max(b.minX - p.x, 0, p.x - b.maxX), Math.max(b.minY - p.y, 0, p.y - b.maxY));
}

/** Distance from an outline; 0 anywhere in its box, where a place would look odd even if it is free. */
function insideOrNear(loop: Loop, p: Point): Mm {
  const box = loopBox(loop);
  const outside = p.x < box.minX || p.x > box.maxX || p.y < box.minY || p.y > box.maxY;
  if (!outside) return 0;
  return distanceToLoop(loop, p);
}
