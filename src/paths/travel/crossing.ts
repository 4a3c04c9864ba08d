/** How high the cutter is lifted on its way from place to place: no higher than what stands in between asks for. */
import type { Mm } from '../../base/units.ts';
import type { Box, Point } from '../../geometry/types.ts';
import type { Cutter } from '../../part/part.ts';
import type { ObstacleBox, Scene } from '../scene.ts';
import { OVER_CLAMPS } from './heights.ts';
import { bodiesOf, CLAMP_AIR } from './keep-clear.ts';

/** Beside a clamp nearer than this counts as over it: a rapid is fast, and clamps are set by eye. */
const BESIDE: Mm = 1;

/** Lowest height at which a sideways rapid from a to b is free: over the stock, or higher where a clamp or a screw head is near. */
export function crossingHeight(scene: Scene, a: Point, b: Point, cutter: Cutter): Mm {
  return scene.obstacles.reduce((z, o) => Math.max(z, heightPast(o, a, b, cutter)), scene.heights.retract);
}

/** The tip passes well over what stands in its way; shank and holder, which are higher, need only not touch it. */
function heightPast(o: ObstacleBox, a: Point, b: Point, cutter: Cutter): Mm {
  const heights = bodiesOf(cutter).map((body) => {
    if (!boxNearLine(o, a, b, body.radius + BESIDE)) return Number.NEGATIVE_INFINITY;
    return body.from === 0 ? o.top + OVER_CLAMPS : o.top + CLAMP_AIR - body.from;
  });
  return Math.max(...heights);
}

function boxNearLine(box: Box, a: Point, b: Point, reach: Mm): boolean {
  const minX = box.minX - reach;
  const maxX = box.maxX + reach;
  const minY = box.minY - reach;
  const maxY = box.maxY + reach;
  let t0 = 0;
  let t1 = 1;
  const clip = (p: number, d: number, low: number, high: number): boolean => {
    if (Math.abs(d) < 1e-12) return p >= low && p <= high;
    const u = (low - p) / d;
    const v = (high - p) / d;
    t0 = Math.max(t0, Math.min(u, v));
    t1 = Math.min(t1, Math.max(u, v));
    return t0 <= t1;
  };
  return clip(a.x, b.x - a.x, minX, maxX) && clip(a.y, b.y - a.y, minY, maxY);
}
