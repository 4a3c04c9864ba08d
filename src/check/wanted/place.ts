/** A block for what is found in the work as a whole: the last cut beside the place, or else the last of all. */
import type { Mm } from '../../base/units.ts';
import { nearestOn } from '../../geometry/measure/segment.ts';
import type { FindingPlace } from '../report/findings.ts';
import type { Stroke } from '../strokes/stroke.ts';
import { firstStroke, type Strokes } from '../strokes/strokes.ts';
import { near } from './clear.ts';

/** Cuts whose edge passes within this are beside it. */
const BESIDE: Mm = 1;

export function blockNear(strokes: Strokes, spot: FindingPlace): Pick<FindingPlace, 'program' | 'block'> {
  const { at } = spot;
  const beside = at === undefined ? undefined : firstStroke(strokes.backwards(), (v) => passes(v, at[0], at[1]));
  const s = beside ?? strokes.at(strokes.length - 1);
  return s === undefined ? { program: spot.program, block: spot.block } : { program: s.program, block: s.block };
}

function passes(s: Stroke, x: Mm, y: Mm): boolean {
  const reach = s.tool.shape.radius + BESIDE;
  if (s.rapid || s.low >= 0 || !near(s.box, { minX: x, minY: y, maxX: x, maxY: y }, reach)) return false;
  return nearestOn(s.path, { x, y }).distance <= reach;
}
