/**
 * Rapids stay out of stock: none moves sideways below the top of the stock, and straight down only where a cutter at least as
 * wide has cut before, stopping short of what is left. The stock is what it was before any cut except where earlier
 * strokes can be shown to have cleared the whole disc.
 */
import type { Mm } from '../../base/units.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { Job } from '../../part/part.ts';
import type { Removal } from '../field/removal.ts';
import { LIMITS, ROUNDING, SAME } from '../limits.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, pathBelow, type Stroke, spotOf } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import { near } from '../wanted/clear.ts';

export function checkRapids(strokes: Strokes, job: Job, removal: Removal, out: Findings): void {
  const top = job.stock.max[2];
  const close = new Set<number>();
  for (const s of strokes) {
    if (!s.rapid || s.low >= top + LIMITS.rapidAir - ROUNDING) continue;
    if (s.low >= top - ROUNDING) {
      if (!close.has(s.program) && !beyondStock(s, job) && !isCleared(strokes, s, removal))
        lookAtAir(s, top, close, out);
      continue;
    }
    const { a, b } = s.path;
    if (!isVertical(s)) {
      out.fault({
        code: 'rapid-in-stock',
        at: { program: s.program, block: s.block, at: [b.x, b.y, s.low] },
        size: top - s.low,
        found: `a rapid moves sideways at z ${s.low.toFixed(3)}`,
        wanted: `at or above the top of the stock, z ${top.toFixed(3)}`,
        remedy: 'raise the cutter first, or feed',
      });
      continue;
    }
    if (s.zb >= s.za - SAME || beyondStock(s, job)) continue;
    if (isCleared(strokes, s, removal)) continue;
    out.fault({
      code: 'rapid-plunge',
      at: { program: s.program, block: s.block, at: [a.x, a.y, s.zb] },
      size: s.za - s.zb,
      found: `a rapid goes down to z ${s.zb.toFixed(3)} where the stock may still stand`,
      wanted: `a cut of a cutter at least as wide, ${LIMITS.rapidAir} mm below the end of the rapid, before it`,
      remedy: 'end the rapid above the stock and feed from there',
    });
  }
  out.prove(
    'rapids',
    null,
    'safe',
    'no rapid moves sideways below the top of the stock; those straight down end in air that earlier cuts made',
  );
}

/** A plate is never quite flat, nor touched off to the last tenth. Once a program. */
function lookAtAir(s: Stroke, top: Mm, told: Set<number>, out: Findings): void {
  if (isVertical(s) && s.zb >= s.za - SAME) return;
  told.add(s.program);
  const found = `a rapid ${isVertical(s) ? 'ends' : 'moves sideways'} ${Math.max(0, s.low - top).toFixed(3)} mm over the top of the stock`;
  const wanted = `${LIMITS.rapidAir} mm of air`;
  out.caution({ code: 'rapid-close', at: spotOf(s), found, wanted, remedy: 'raise its Z' });
}

/** The field first: it is at hand, and looking back may take the whole program. */
function isCleared(strokes: Strokes, s: Stroke, removal: Removal): boolean {
  if (!isVertical(s)) return false;
  return removal.of(s).under <= s.zb - LIMITS.rapidAir + ROUNDING || clearedBefore(strokes, s);
}

/** Wholly beside the stock, and ending above what it lies on, which may reach beyond it. */
function beyondStock(s: Stroke, job: Job): boolean {
  const { min, max } = job.stock;
  if (s.zb < min[2] + LIMITS.rapidAir - ROUNDING) return false;
  const { a } = s.path;
  const dx = Math.max(min[0] - a.x, a.x - max[0], 0);
  const dy = Math.max(min[1] - a.y, a.y - max[1], 0);
  return Math.hypot(dx, dy) >= s.tool.shape.radius;
}

/** Whether one earlier stroke swept the whole disc under the rapid's end. */
function clearedBefore(strokes: Strokes, s: Stroke): boolean {
  for (const e of strokes.backwards(s.index)) {
    if (e.rapid || !near(e.box, s.box, e.tool.shape.radius + CENTRED)) continue;
    const spare = e.tool.shape.radius - s.tool.shape.radius;
    if (spare < -SAME) continue;
    // The same cutter fits the bottom it cut itself; another may find a point's cone there.
    const cone = e.tool === s.tool ? 0 : e.tool.shape.fullAt;
    const path = pathBelow(e, s.zb - LIMITS.rapidAir - cone + ROUNDING);
    if (path !== undefined && nearestOn(path, s.path.a).distance <= spare + CENTRED) return true;
  }
  return false;
}

/** A disc counts as inside another when it sticks out by no more than this: two written positions that are one. */
const CENTRED: Mm = 1e-3;
