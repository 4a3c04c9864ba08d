/** How low a stroke cuts at a point, in closed form: ramps of flat cutters, level strokes of shaped ones. */
import { arccosine, arctangent2 } from '../base/angles.ts';
import type { Mm } from '../base/units.ts';
import { nearestOn } from '../geometry/measure/segment.ts';
import { startAngle } from '../geometry/measure/sweep.ts';
import type { Arc, Line, Segment } from '../geometry/types.ts';
import type { CutterShape } from './shape.ts';

/** Lowest the cutter comes at a point; Infinity where it does not come. */
export type HeightAt = (x: Mm, y: Mm) => Mm;

export function shapedHeight(path: Segment, z: Mm, shape: Pick<CutterShape, 'radius' | 'lift'>): HeightAt {
  return (x, y) => {
    const d = nearestOn(path, { x, y }).distance;
    return d > shape.radius ? Infinity : z + shape.lift(d);
  };
}

/** The disc covers a point over one stretch of the line; the lower end of that stretch is how low it is cut. */
export function lineRamp(path: Line, za: Mm, zb: Mm, r: Mm): HeightAt {
  const { a, b } = path;
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const l2 = dx * dx + dy * dy;
  return (x, y) => {
    const px = x - a.x;
    const py = y - a.y;
    const t = (px * dx + py * dy) / l2;
    const off = (px * dy - py * dx) ** 2 / l2;
    const q = (r * r - off) / l2;
    if (q < 0) return Infinity;
    const half = Math.sqrt(q);
    const t0 = Math.max(0, t - half);
    const t1 = Math.min(1, t + half);
    if (t0 > t1) return Infinity;
    return zb < za ? za + (zb - za) * t1 : za + (zb - za) * t0;
  };
}

/** The same along a circle: the disc covers a point over an interval of angles about the point's own direction. */
export function turnRamp(path: Arc, za: Mm, zb: Mm, r: Mm): HeightAt {
  const start = startAngle(path);
  const sense = Math.sign(path.sweep);
  const whole = Math.abs(path.sweep);
  const turn = 2 * Math.PI;
  return (x, y) => {
    const px = x - path.centre.x;
    const py = y - path.centre.y;
    const d = Math.sqrt(px * px + py * py);
    const half = halfAngle(d, path.radius, r);
    if (half < 0) return Infinity;
    let t0 = (arctangent2(py, px) - start) * sense - half;
    t0 -= turn * Math.floor(t0 / turn);
    let best = Infinity;
    // Two windows of the circle of angles: one that begins in the sweep, one that has begun before it.
    for (const from of [t0 - turn, t0]) {
      const lo = Math.max(0, from);
      const hi = Math.min(whole, from + 2 * half);
      if (lo <= hi) best = Math.min(best, za + (zb - za) * ((zb < za ? hi : lo) / whole));
    }
    return best;
  };
}

/** Half the angle over which a point at distance d from the centre lies under the disc; -1 never, pi always. */
function halfAngle(d: Mm, radius: Mm, r: Mm): number {
  if (d <= r - radius) return Math.PI;
  const cos = (d * d + radius * radius - r * r) / (2 * d * radius);
  return cos > 1 ? -1 : arccosine(Math.max(-1, cos));
}
