/** Strokes that cut with the end of the cutter: straight down and steep ramps need one that cuts at its centre. */
import { arctangent2 } from '../../base/angles.ts';
import { type Mm, toDeg } from '../../base/units.ts';
import { segmentLength } from '../../geometry/measure/segment.ts';
import type { CutterKind } from '../../part/part.ts';
import type { Removal } from '../field/removal.ts';
import type { Findings } from '../report/findings.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';

/** Cutters made for going straight down. */
const DOWN: readonly CutterKind[] = [
  'drill',
  'spot drill',
  'centre drill',
  'reamer',
  'countersink',
  'counterbore',
  'tap',
  'chamfer cutter',
  'slot drill',
];

/** Share of the whole disc that a plunge may take beside stock already gone: the outer teeth cut there, the centre does not. */
const RIM_SHARE = 0.3;
/** No end mill without a cutting centre goes down a ramp as steep as this; makers allow 2-5 degrees (carbide-tooling page). */
const STEEPEST_DEG = 15;

/**
 * Reamers and taps finish a hole that is there: they take less than this share of their own disc over the stock they go through. A reamer
 * finds a hole of 84 % of its size or more, a tap one of 70 % (tapping sizes lie at 78-89 %, ISO 2306).
 */
const FINISH_SHARE = { reamer: 0.3, tap: 0.5 };

function checkFinisher(s: Stroke, volume: number, touched: Mm, bottom: Mm, out: Findings): void {
  const c = s.tool.cutter;
  const disc = Math.PI * s.tool.shape.radius ** 2 * Math.max(1e-9, touched - Math.max(s.zb, bottom));
  if (volume <= FINISH_SHARE[c.kind === 'tap' ? 'tap' : 'reamer'] * disc) return;
  out.fault({
    code: 'no-hole-before',
    at: { program: s.program, block: s.block, at: [s.path.b.x, s.path.b.y, s.zb] as const },
    found: `${c.kind} ${c.number} finds too little of a hole before it`,
    wanted: 'a hole drilled before it',
    remedy: 'drill first',
  });
}

export function checkPlunges(strokes: Iterable<Stroke>, removal: Removal, out: Findings): void {
  for (const s of strokes) {
    const c = s.tool.cutter;
    const { volume, touched } = removal.of(s);
    // Drawn straight out, a reamer cuts nothing: what the field says it removes there is the rounding of its heights.
    const drawnOut = isVertical(s) && s.zb > s.za;
    if (!s.rapid && !drawnOut && (c.kind === 'reamer' || c.kind === 'tap') && volume > 0) {
      checkFinisher(s, volume, touched, removal.field.bottom, out);
    }
    if (s.rapid || s.zb >= s.za || c.centreCutting || DOWN.includes(c.kind) || !(volume > 0)) continue;
    const spot = { program: s.program, block: s.block, at: [s.path.b.x, s.path.b.y, s.zb] as const };
    if (isVertical(s)) {
      const deep = Math.max(1e-9, touched - Math.max(s.zb, removal.field.bottom));
      const disc = Math.PI * s.tool.shape.radius ** 2 * deep;
      if (volume > RIM_SHARE * disc) {
        const found = `cutter ${c.number}, which does not cut at its centre, goes straight down into stock`;
        const wanted = 'a ramp, a helix or a cutter that cuts at its centre';
        out.fault({ code: 'plunge', at: spot, found, wanted, remedy: 'enter on a ramp' });
      }
      continue;
    }
    const angle = toDeg(arctangent2(s.za - s.zb, segmentLength(s.path)));
    if (angle > STEEPEST_DEG) {
      const found = `cutter ${c.number}, which does not cut at its centre, goes down a ramp of ${angle.toFixed(1)} degrees`;
      const wanted = `at most ${STEEPEST_DEG} degrees`;
      out.fault({ code: 'ramp-steep', at: spot, found, wanted, remedy: 'take a longer ramp' });
    }
  }
}
