/**
 * Feeds so low that no chip forms. The edge of a small cutter is round by some micrometres: a tooth that is to take less only ploughs, hardens the
 * metal and rubs itself blunt, however long it is given (common practice; physics 2.3, floor for the feed a tooth).
 */
import { cube } from '../../base/powers.ts';
import type { Job } from '../../part/part.ts';
import type { Material } from '../../trade/materials/materials.ts';
import { leastToothFeed, PLUNGE_FEED, RAMP_FEED } from '../../trade/milling-rules.ts';
import type { Removal } from '../field/removal.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke, spotOf, strokeLength } from '../strokes/stroke.ts';
import type { Strokes } from '../strokes/strokes.ts';
import { cutsOnAxis } from './chip.ts';

/** Share of the least that forms a chip below which it is told; feeds are lowered for weak holdings and long cutters. */
const LOW = 1 / 5;
/** A tenth of the edge's rounding and less: nobody cuts so, and a figure has been lost. */
const ABSURD = 1 / 40;

export function checkRubbing(strokes: Strokes, m: Material, job: Job, removal: Removal, out: Findings): void {
  const told = new Set<string>();
  for (const s of strokes) {
    if (s.rapid || s.cycle === 84 || s.low >= job.stock.max[2] || !(s.speed > 0 && s.feed > 0)) continue;
    const share = shareOf(s, m);
    if (share >= LOW) continue;
    const { cell } = removal.field;
    if (strokeLength(s) < cell || removal.of(s).volume <= cube(cell)) continue;
    tell(s, share, told, out);
  }
}

/** Of the least feed at which the cutter cuts; a drill's by the turn. */
function shareOf(s: Stroke, m: Material): number {
  const { cutter } = s.tool;
  if (cutsOnAxis(s)) return s.feed / s.speed / (m.drillFeedPerDiameter.value * LEAST_DRILL * cutter.diameter);
  const tooth = s.feed / (s.speed * cutter.flutes);
  return tooth / (leastToothFeed(cutter.diameter).value * downward(s));
}

/** A drill is fed half the rule where it is asked to be gentle; a spot drill only dimples. */
const LEAST_DRILL = 0.5;

function downward(s: Stroke): number {
  if (s.zb >= s.za) return 1;
  return isVertical(s) ? PLUNGE_FEED.low : RAMP_FEED.value;
}

function tell(s: Stroke, share: number, told: Set<string>, out: Findings): void {
  const absurd = share < ABSURD;
  const key = `${s.program} ${s.tool.number} ${absurd}`;
  if (told.has(key)) return;
  told.add(key);
  const { cutter } = s.tool;
  const each = cutsOnAxis(s)
    ? `${(s.feed / s.speed).toFixed(5)} mm a turn`
    : `${(s.feed / s.speed / cutter.flutes).toFixed(5)} mm a tooth`;
  const found = `cutter ${cutter.number} is fed ${each}, ${share.toPrecision(2)} of the least that forms a chip: it rubs`;
  const wanted = 'a feed at which the edge cuts';
  out.faultIf(absurd, { code: 'feed-too-low', at: spotOf(s), found, wanted, remedy: 'raise F or lower S' });
}
