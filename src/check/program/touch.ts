/**
 * What a person is told when a cutter is touched off: every depth after it hangs on that place and that figure. It must lie on the stock,
 * and Z must be its top there, or what a pass over it has left.
 */
import type { Mm } from '../../base/units.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { LIMITS, WRITTEN } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import { near } from '../wanted/clear.ts';
import type { CheckedSetUp } from '../work.ts';
import type { HeadTouch } from './head.ts';

export function checkTouches(work: CheckedSetUp, out: Findings): void {
  const { min, max } = work.job.stock;
  for (const p of work.programs) {
    for (const t of p.head.touches) {
      if (t.at === null) {
        checkBeside(t, max[2], p.index, out);
        continue;
      }
      const { x, y } = t.at;
      const on = x >= min[0] - WRITTEN && x <= max[0] + WRITTEN && y >= min[1] - WRITTEN && y <= max[1] + WRITTEN;
      const z = on ? lowestBefore(work.strokes, t.at, p.index, t.block, max[2]) : null;
      if (z !== null && Math.abs(t.z - z) <= LIMITS.depth) continue;
      const found = `the message says that Z is ${t.z.toFixed(3)} at X ${x.toFixed(3)} Y ${y.toFixed(3)}`;
      const wanted = z === null ? 'a place on the stock' : `${z.toFixed(3)}, where the stock stands then`;
      out.fault({
        code: 'touch-off',
        at: { program: p.index, block: t.block, at: [x, y], ...(z === null ? {} : { size: Math.abs(t.z - z) }) },
        found,
        wanted,
        remedy: 'correct the message: every depth after it is off by as much',
      });
    }
  }
}

function checkBeside(t: HeadTouch, top: Mm, program: number, out: Findings): void {
  const off = Math.abs(t.z - top);
  if (off <= LIMITS.depth) return;
  const found = `the message says that Z is ${t.z.toFixed(3)} at the height of the top`;
  const remedy = 'correct the message: every depth after it is off by as much';
  out.fault({ code: 'touch-off', at: { program, block: t.block }, size: off, found, wanted: top.toFixed(3), remedy });
}

function lowestBefore(strokes: Iterable<Stroke>, p: Point, program: number, block: number, top: Mm): Mm {
  const here = { minX: p.x, maxX: p.x, minY: p.y, maxY: p.y };
  let low = top;
  for (const s of strokes) {
    if (s.program > program || (s.program === program && s.block > block)) break;
    const { radius } = s.tool.shape;
    if (s.rapid || s.low >= low || !near(s.box, here, radius)) continue;
    const { distance } = nearestOn(s.path, p);
    if (distance < radius) low = Math.min(low, s.low + s.tool.shape.lift(distance));
  }
  return low;
}
