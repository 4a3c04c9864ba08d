/** What the cutter does to a part: sideways in any direction, and upwards where its helix pulls. */
import type { Mm } from '../../base/units.ts';
import { pointAt } from '../../geometry/measure/segment.ts';
import type { Point } from '../../geometry/types.ts';
import { FORCE_RATIOS } from '../../trade/milling-rules.ts';
import { isVertical, type Stroke } from '../strokes/stroke.ts';
import { gapTo, near } from '../wanted/clear.ts';
import type { WantedPart } from '../wanted/wanted.ts';
import type { CheckedSetUp } from '../work.ts';
import type { CutterPush } from './collapse.ts';
import type { Force, Loads } from './load.ts';

/** Strokes within this of a part push on it. */
export const BESIDE: Mm = 10;

/** A right-hand helix pulls up; straight teeth and left-hand ones do not. */
export function pushOf(f: Force, thickness: Mm): CutterPush {
  const s = f.stroke;
  const pull = s.tool.cutter.helixDeg > 0 ? FORCE_RATIOS.axial.high : 0;
  const at = pointAt(s.path, 0.5);
  return { at, sideways: f.worst, up: f.worst * pull, z: thickness + s.low + f.depth / 2 };
}

/** Forces beside a part of strokes along the plate; drilling only presses it down. */
export function forcesOn(part: WantedPart, loads: Loads, counts: (s: Stroke) => boolean): Iterable<Force> {
  return loads.forces((s) => counts(s) && !isVertical(s) && near(s.box, part.edge.box, BESIDE));
}

/** Points of the outline: what lies between them stands out by the sagitta of a sixteenth of a piece. */
export function hullOf(part: WantedPart): Point[] {
  return part.loop.flatMap((piece) => Array.from({ length: PIECES }, (_, i) => pointAt(piece, i / PIECES)));
}

const PIECES = 16;

/** Outside the edge, within the cutter's reach of it: a stroke of the profile, not of a pocket or bore. */
export function runsBeside(part: WantedPart, s: Stroke): boolean {
  const reach = 2 * s.tool.shape.radius;
  return (
    near(s.box, part.edge.box, reach) && !part.edge.inside(s.path.a) && gapTo(part.edge, s.path, s.box, reach) < reach
  );
}

/** The strokes of the profile below a height. */
export interface Profile {
  /** The first of them; undefined where nothing runs round the part so low. */
  readonly first: Stroke | undefined;
  /** Radius of the narrowest cutter among them; Infinity where there is none. */
  readonly radius: Mm;
}

export function profileBelow(work: CheckedSetUp, part: WantedPart, height: Mm): Profile {
  let first: Stroke | undefined;
  let radius = Infinity;
  for (const s of work.strokes) {
    if (s.rapid || s.low >= height || (first !== undefined && s.tool.shape.radius >= radius)) continue;
    if (!runsBeside(part, s)) continue;
    first ??= s;
    radius = Math.min(radius, s.tool.shape.radius);
  }
  return { first, radius };
}
